#include <algorithm>
#include <array>
#include <span>
#include <unordered_map>

#include "report/html/page_parts.h"
#include "report/uncertainty_text.h"

namespace lagline {
namespace {

using S = SegmentField;

constexpr int curve_digits = 4;
constexpr std::size_t most_records = 50;

class SegmentWriter {
  public:
    SegmentWriter(PageJson& json, const ReportContent& content)
        : json_(json), content_(content), count_(segments_in_page(content)) {
        for (const ForecastCurve& curve : content.ahead.curves) {
            curves_.emplace(curve.segment_row, &curve);
        }
    }

    void write() {
        json_.key("segments");
        json_.begin_object();
        for (const S field :
             {S::segment, S::line, S::unit, S::area, S::drawing, S::scaffold_group, S::fluid}) {
            write_text(field);
        }
        write_numbers("x", S::x);
        write_numbers("y", S::y);
        write_ranks();
        write_due();
        json_.end_object();
        write_ahead();
    }

  private:
    [[nodiscard]] std::uint32_t row(std::size_t rank) const { return content_.ranking.order[rank]; }
    [[nodiscard]] std::uint32_t segment(std::size_t rank) const {
        return content_.ranking.segment_rows[row(rank)];
    }
    // Null for a segment that today's date keeps out of the order.
    [[nodiscard]] const ForecastCurve* curve(std::size_t rank) const {
        const auto found = curves_.find(segment(rank));
        return found == curves_.end() ? nullptr : found->second;
    }

    template <class CellOf>
    void column(std::string_view key, CellOf cell_of) {
        std::vector<std::string> cells;
        cells.reserve(count_);
        for (std::size_t rank = 0; rank < count_; ++rank) cells.push_back(cell_of(rank));
        write_column(json_, key, cells);
    }

    void write_text(S field) {
        const auto texts = content_.plant.segments.texts(field);
        std::vector<std::string_view> shown;
        for (std::size_t rank = 0; rank < count_; ++rank) {
            shown.push_back(texts.empty() ? std::string_view{} : texts[segment(rank)]);
        }
        write_texts(json_, info(field).key, shown);
    }

    void write_numbers(std::string_view key, S field) {
        column(key, [&](std::size_t rank) {
            const SegmentSheet& segments = content_.plant.segments;
            if (!segments.has(field, segment(rank))) return std::string{"null"};
            return number_cell(segments.numbers(field)[segment(rank)]);
        });
    }

    void write_ranks() {
        const Outlook& outlook = content_.ranking.outlook.value();
        column("rank_today",
               [&](std::size_t rank) { return std::to_string(outlook.rank_today[row(rank)]); });
        column("risk_today", [&](std::size_t rank) {
            return number_cell(outlook.risk_today_per_year[row(rank)]);
        });
        column("mechanism",
               [&](std::size_t rank) { return text_cell(content_.ranking.mechanism(row(rank))); });
        column("assumptions", [&](std::size_t rank) {
            return std::to_string(content_.ranking.assumptions[row(rank)]);
        });
    }

    void write_due() {
        for (const Criterion criterion : all_criteria) {
            column("due_by_" + std::string{to_string(criterion)}, [&](std::size_t rank) {
                const ForecastCurve* each = curve(rank);
                if (each == nullptr) return std::string{"null"};
                const auto& day = each->due.reached[static_cast<std::size_t>(criterion)];
                return day ? std::to_string(day->days) : "null";
            });
        }
    }

    template <class ValueOf>
    void curves(std::string_view key, int digits, bool of_wall, ValueOf value_of) {
        column(key, [&](std::size_t rank) {
            const ForecastCurve* each = curve(rank);
            if (each == nullptr || (of_wall && !each->loses_wall)) return std::string{"null"};
            std::string cell = "[";
            for (const ForecastPoint& point : each->points) {
                if (cell.size() > 1) cell += ',';
                cell += number_cell(value_of(point), digits);
            }
            return cell + "]";
        });
    }

    void write_ahead() {
        json_.key("ahead");
        json_.begin_object();
        json_.key("dates");
        json_.begin_array();
        for (const Date date : content_.ahead.dates) json_.text(to_string(date));
        json_.end_array();
        curves("probability", curve_digits, false,
               [](const ForecastPoint& point) { return point.probability_per_year; });
        curves("risk", curve_digits, false,
               [](const ForecastPoint& point) { return point.risk_per_year; });
        curves("wall", curve_digits, true,
               [](const ForecastPoint& point) { return point.expected_wall_mm; });
        curves("below_minimum", 3, true,
               [](const ForecastPoint& point) { return point.below_minimum; });
        column("minimum_thickness", [&](std::size_t rank) {
            const ForecastCurve* each = curve(rank);
            if (each == nullptr || !each->loses_wall) return std::string{"null"};
            return number_cell(each->minimum_thickness_mm);
        });
        json_.end_object();
    }

    PageJson& json_;
    const ReportContent& content_;
    std::size_t count_;
    std::unordered_map<std::uint32_t, const ForecastCurve*> curves_;
};

class DoubtWriter {
  public:
    DoubtWriter(PageJson& json, const ReportContent& content)
        : json_(json),
          plant_(content.plant),
          sure_(*content.sure),
          ranges_(content.ranges),
          count_(segments_in_page(content)) {}

    void write() {
        json_.begin_object();
        json_.member_count("samples", sure_.options.samples);
        json_.member_count("top", sure_.options.top);
        column("top_probability", &SegmentUncertainty::top_probability);
        column("rank_low", &SegmentUncertainty::rank_low);
        column("rank_high", &SegmentUncertainty::rank_high);
        column("expected_risk", &SegmentUncertainty::expected_risk_per_year);
        write_gaps();
        write_records();
        if (ranges_ != nullptr) write_ranges();
        json_.end_object();
    }

  private:
    void column(std::string_view key, double SegmentUncertainty::*member) {
        std::vector<std::string> cells;
        for (std::size_t rank = 0; rank < count_; ++rank) {
            cells.push_back(number_cell(sure_.segments[rank].*member, curve_digits));
        }
        write_column(json_, key, cells);
    }

    void write_gaps() {
        SharedPieces names;
        std::vector<std::string> cells;
        for (std::size_t rank = 0; rank < count_; ++rank) {
            const SegmentUncertainty& each = sure_.segments[rank];
            std::string cell = "[";
            for (std::size_t g = each.first_gap; g < each.first_gap + each.gap_count; ++g) {
                if (cell.size() > 1) cell += ',';
                const auto name = names.number_of(text_cell(gap_name(plant_, sure_.gaps[g])));
                cell += "[" + std::to_string(name) + "," +
                        number_cell(sure_.gaps[g].rank_share, 2) + "]";
            }
            cells.push_back(cell + "]");
        }
        write_column(json_, "gaps", cells);
        names.write(json_, "gap_names");
    }

    void write_records() {
        json_.key("find_first");
        json_.begin_array();
        const std::size_t records = std::min(most_records, sure_.find_first.size());
        for (const std::uint32_t index : std::span{sure_.find_first}.first(records)) {
            const GapEffect& gap = sure_.gaps[index];
            const SegmentUncertainty& each = sure_.segments[gap.segment];
            json_.begin_object();
            json_.member("segment", plant_.segments.texts(S::segment)[each.segment_row]);
            json_.member_count("rank", gap.segment + std::size_t{1});
            json_.member("record", gap_name(plant_, gap));
            json_.key("top_probability");
            json_.raw(number_cell(each.top_probability, curve_digits));
            json_.key("doubt_removed");
            json_.raw(number_cell(gap.doubt_removed, 3));
            json_.end_object();
        }
        json_.end_array();
    }

    void write_ranges() {
        json_.key("range_dates");
        json_.begin_array();
        for (const Date date : ranges_->dates) json_.text(to_string(date));
        json_.end_array();
        range_column("low", &ProbabilityRange::low_per_year);
        range_column("middle", &ProbabilityRange::middle_per_year);
        range_column("high", &ProbabilityRange::high_per_year);
    }

    void range_column(std::string_view key, double ProbabilityRange::*member) {
        std::vector<std::string> cells;
        for (const auto& ranges : ranges_->segments) {
            std::string cell = "[";
            for (const ProbabilityRange& range : ranges) {
                if (cell.size() > 1) cell += ',';
                cell += number_cell(range.*member, curve_digits);
            }
            cells.push_back(cell + "]");
        }
        write_column(json_, key, cells);
    }

    PageJson& json_;
    const Plant& plant_;
    const Uncertainty& sure_;
    const ForecastRanges* ranges_;
    std::size_t count_;
};

}  // namespace

void write_page_segments(PageJson& json, const ReportContent& content) {
    SegmentWriter{json, content}.write();
}

void write_page_doubt(PageJson& json, const ReportContent& content) {
    json.key("doubt");
    if (content.sure == nullptr) {
        json.raw("null");
        return;
    }
    DoubtWriter{json, content}.write();
}

}  // namespace lagline
