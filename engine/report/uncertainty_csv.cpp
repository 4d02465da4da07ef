#include "report/uncertainty_csv.h"

#include <algorithm>
#include <array>

#include "blocks/number_text.h"
#include "report/csv_text.h"
#include "report/uncertainty_text.h"

namespace lagline {
namespace {

using S = SegmentField;

constexpr std::string_view heading =
    "rank,segment,line,unit,risk,expected_risk,expected_damage_factor,top_probability,"
    "top_standard_error,rank_10,rank_90,rank_variance,refused_samples,currency,gap,distribution,"
    "rank_share,rank_variance_removed,doubt_removed,find_first\n";

std::string segment_part(const Plant& plant, const Uncertainty& sure, std::size_t i) {
    const SegmentUncertainty& each = sure.segments[i];
    std::string csv = std::to_string(i + 1);
    for (const S field : {S::segment, S::line, S::unit}) {
        csv += ',';
        append_csv_text(csv, plant.segments.texts(field)[each.segment_row]);
    }
    const std::array numbers{each.risk_per_year,
                             each.expected_risk_per_year,
                             each.expected_damage_factor,
                             each.top_probability,
                             each.top_error,
                             each.rank_low,
                             each.rank_high,
                             each.rank_variance,
                             static_cast<double>(each.refused)};
    for (const double number : numbers) {
        csv += ',';
        append_number(csv, number);
    }
    return csv + "," + plant.description.currency;
}

}  // namespace

std::string uncertainty_csv(const Plant& plant, const Uncertainty& sure, std::size_t rows) {
    std::vector<std::size_t> place(sure.gaps.size(), 0);  // in find_first, from 1
    for (std::size_t k = 0; k < sure.find_first.size(); ++k) place[sure.find_first[k]] = k + 1;
    const std::size_t all = sure.segments.size();
    const std::size_t shown = rows == 0 ? all : std::min(rows, all);
    std::string csv{heading};
    for (std::size_t i = 0; i < shown; ++i) {
        const SegmentUncertainty& each = sure.segments[i];
        const std::string start = segment_part(plant, sure, i);
        if (each.gap_count == 0) csv += start + ",,,,,,\n";
        for (std::size_t g = each.first_gap; g < each.first_gap + each.gap_count; ++g) {
            const GapEffect& gap = sure.gaps[g];
            csv += start + ',';
            append_csv_text(csv, gap_name(plant, gap));
            csv += ',';
            append_csv_text(csv, gap.distribution->info.name);
            for (const double number :
                 {gap.rank_share, gap.rank_variance_removed, gap.doubt_removed}) {
                csv += ',';
                append_number(csv, number);
            }
            csv += ',';
            if (place[g] > 0) csv += std::to_string(place[g]);
            csv += '\n';
        }
    }
    return csv;
}

}  // namespace lagline
