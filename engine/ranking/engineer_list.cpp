#include "ranking/engineer_list.h"

#include <algorithm>
#include <cmath>
#include <optional>
#include <tuple>

#include "blocks/number_text.h"
#include "degradation/history.h"
#include "ranking/method.h"

namespace lagline {
namespace {

using I = InspectionField;
using S = SegmentField;

class NeedFinder {
  public:
    NeedFinder(const Plant& plant, const RuleSet& rules, const Ranking& today)
        : plant_(plant), rules_(crack_rules(rules)), today_(today) {}

    std::vector<EngineerNeed> find() {
        for (std::uint32_t row = 0; row < today_.mechanism_rows.wall_loss; ++row) add_thin(row);
        for (std::uint32_t row = 0; row < today_.rows(); ++row) {
            const auto other = today_.other_mechanism(row);
            if (!other || row < *other) add_cracks(today_.segment_rows[row], row);
        }
        for (const NotRanked& left : today_.not_ranked) {
            add_cracks(left.segment_row, std::nullopt);
        }
        const auto names = plant_.segments.texts(S::segment);
        std::ranges::sort(found_, [&](const EngineerNeed& a, const EngineerNeed& b) {
            return std::tuple{-a.risk_per_year, names[a.segment_row], a.reason} <
                   std::tuple{-b.risk_per_year, names[b.segment_row], b.reason};
        });
        return std::move(found_);
    }

  private:
    void add_thin(std::uint32_t row) {
        const auto at = static_cast<Eigen::Index>(row);
        if (today_.likelihood.at_minimum[at] == 0) return;
        const ReadingColumns& readings = today_.wall_loss.readings;
        EngineerNeed need = need_of(today_.segment_rows[row], row, EngineerReason::thin_wall,
                                    static_cast<std::uint32_t>(readings.thinnest[row]));
        need.read_mm = readings.thinnest_mm[at];
        need.minimum_mm = today_.likelihood.minimum_thickness_mm[at];
        found_.push_back(need);
    }

    void add_cracks(std::uint32_t segment, std::optional<std::uint32_t> row) {
        const CrackHistory history =
            read_crack_history(plant_, segment, plant_.today, today_.crack_effectiveness, rules_);
        if (!history.found) return;
        found_.push_back(need_of(segment, row, EngineerReason::cracks,
                                 static_cast<std::uint32_t>(history.found_row)));
    }

    [[nodiscard]] EngineerNeed need_of(std::uint32_t segment, std::optional<std::uint32_t> row,
                                       EngineerReason reason, std::uint32_t inspection) const {
        EngineerNeed need{.segment_row = segment,
                          .reason = reason,
                          .inspection = inspection,
                          .found = Date{plant_.inspections.days(I::date)[inspection]},
                          .read_mm = 0.0,
                          .minimum_mm = 0.0,
                          .risk_per_year = -1.0};
        if (!row) return need;
        const double risk = today_.risk.risk_per_year[static_cast<Eigen::Index>(*row)];
        if (std::isfinite(risk)) need.risk_per_year = risk;
        return need;
    }

    const Plant& plant_;
    CrackRules rules_;
    const Ranking& today_;
    std::vector<EngineerNeed> found_;
};

}  // namespace

std::string_view to_string(EngineerReason reason) {
    switch (reason) {
        case EngineerReason::thin_wall:
            return "thin_wall";
        case EngineerReason::cracks:
            return "cracks";
    }
    return "";
}

std::vector<EngineerNeed> engineer_needs(const Plant& plant, const RuleSet& rules,
                                         const Ranking& today) {
    return NeedFinder{plant, rules, today}.find();
}

std::vector<EngineerNeed> engineer_list(const Plant& plant, const RuleSet& rules) {
    std::vector<std::uint32_t> inspected;
    for (std::uint32_t segment = 0; segment < plant.segments.rows(); ++segment) {
        if (plant.inspection_begin[segment] < plant.inspection_begin[segment + 1]) {
            inspected.push_back(segment);
        }
    }
    const Method method{plant, rules, Method::Wanted::risk};
    Ranking ranking = method.start(inspected);
    ranking.at.date = plant.today;
    for_each_mechanism_block(ranking.mechanism_rows, {},
                             [&](RowRange rows) { method.fill_conditions(rows, ranking); });
    fill_state_and_risk(method, {}, ranking);
    return engineer_needs(plant, rules, ranking);
}

std::string describe(const EngineerNeed& need, const Plant& plant, const RuleSet& rules) {
    if (need.reason == EngineerReason::cracks) {
        return "known cracks: fitness-for-service assessment by a licensed engineer";
    }
    const std::uint8_t technique = plant.inspections.codes(I::technique)[need.inspection];
    return "read " + short_number(need.read_mm, 4) + " mm, minimum " +
           short_number(need.minimum_mm, 4) + " mm, by " +
           rules.vocabulary("technique").words[technique].key;
}

std::vector<EngineerNeed> by_segment(std::vector<EngineerNeed> needs) {
    std::ranges::sort(needs, {}, [](const EngineerNeed& need) {
        return std::pair{need.segment_row, need.reason};
    });
    return needs;
}

std::string reason_words(std::span<const EngineerNeed> needs, std::uint32_t segment_row) {
    std::string words;
    for (const EngineerNeed& need :
         std::ranges::equal_range(needs, segment_row, {}, &EngineerNeed::segment_row)) {
        words += (words.empty() ? "" : " ") + std::string{to_string(need.reason)};
    }
    return words;
}

std::vector<EngineerNeed> needs_of(std::span<const EngineerNeed> needs, std::uint32_t segment_row) {
    std::vector<EngineerNeed> own;
    std::ranges::copy_if(needs, std::back_inserter(own),
                         [&](const EngineerNeed& need) { return need.segment_row == segment_row; });
    return own;
}

}  // namespace lagline
