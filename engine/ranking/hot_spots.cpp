#include "ranking/hot_spots.h"

#include <optional>

#include "blocks/number_text.h"

namespace lagline {
namespace {

using S = SegmentField;
using I = InspectionField;

class SpotFinder {
  public:
    SpotFinder(const Plant& plant, const RuleSet& rules, const Ranking& ranking, std::uint32_t row)
        : plant_(plant),
          rules_(rules),
          ranking_(ranking),
          at_(static_cast<Eigen::Index>(row)),
          segment_(ranking.segment_rows[row]) {}

    std::vector<HotSpot> find() {
        dead_leg();
        findings();
        if (flag(S::ground_or_water_interface)) {
            add("where the line enters soil or water, 150 mm either side",
                "ground_or_water_interface is yes");
        }
        if (flag(S::pooling)) {
            add("supports, stiffeners and flats that hold water", "pooling is yes");
        }
        if (word_is(S::complexity, "complexity", "above_average")) {
            add("penetrations of the jacket: branches, hangers, instruments, tracing outlets",
                "complexity is above_average");
        }
        const std::uint8_t condition = insulation_condition(
            plant_, ranking_.exposure, static_cast<std::size_t>(at_), segment_);
        if (rules_.vocabulary("insulation_condition").words[condition].key == "below_average") {
            add("jacket seams that lie on top, terminations, gaps and missing plugs",
                "insulation_condition is below_average");
        }
        if (word_is(S::heat_tracing, "heat_tracing", "steam")) {
            add("tracer fittings under the insulation", "steam tracing can leak");
        }
        water();
        add("low points and the bottom of horizontal runs", "water drains there on every line");
        return std::move(spots_);
    }

  private:
    void add(std::string place, std::string reason) {
        spots_.push_back({std::move(place), std::move(reason)});
    }

    [[nodiscard]] bool flag(S field) const {
        return plant_.segments.has(field, segment_) && plant_.segments.codes(field)[segment_] != 0;
    }

    [[nodiscard]] bool word_is(S field, std::string_view words, std::string_view word) const {
        return plant_.segments.has(field, segment_) &&
               rules_.vocabulary(words).words[plant_.segments.codes(field)[segment_]].key == word;
    }

    void dead_leg() {
        if (!plant_.segments.has(S::dead_leg_length, segment_)) return;
        if (plant_.segments.numbers(S::dead_leg_length)[segment_] <= 0.0) return;
        if (ranking_.exposure.dead_leg_station_m.size() == 0) {
            add("along the dead leg", "dead_leg_length is given");
            return;
        }
        add(short_number(ranking_.exposure.dead_leg_station_m[at_], 3) +
                " m from the header on the dead leg",
            "the metal is at " + short_number(ranking_.exposure.metal_temperature_degc[at_], 3) +
                " degC there, where it corrodes fastest");
    }

    void findings() {
        std::optional<std::uint32_t> wet;
        std::optional<std::uint32_t> rusted;
        for (std::uint32_t i = plant_.inspection_begin[segment_];
             i < plant_.inspection_begin[segment_ + 1]; ++i) {
            const std::uint32_t row = plant_.inspection_order[i];
            if (Date{plant_.inspections.days(I::date)[row]} > ranking_.at.date) break;
            if (plant_.inspections.has(I::insulation_wet, row)) {
                const bool is_wet = plant_.inspections.codes(I::insulation_wet)[row] != 0;
                wet = is_wet ? std::optional{row} : std::nullopt;
            }
            if (plant_.inspections.has(I::pit_depth, row) &&
                plant_.inspections.numbers(I::pit_depth)[row] > 0.0) {
                rusted = row;
            }
        }
        if (rusted) add("the pits that were found", "inspection of " + told(*rusted));
        if (wet) add("the insulation that was found wet", "inspection of " + told(*wet));
    }

    [[nodiscard]] std::string told(std::uint32_t row) const {
        std::string text = to_string(Date{plant_.inspections.days(I::date)[row]});
        if (plant_.inspections.has(I::report, row)) {
            text += ", report " + std::string{plant_.inspections.texts(I::report)[row]};
        }
        return text;
    }

    void water() {
        const ExposureColumns& exposure = ranking_.exposure;
        if (exposure.steel_sweating_months.size() == 0) return;
        const double months = exposure.steel_sweating_months[at_];
        if (months > 0.0) {
            add("breaks of the vapour barrier and the bottom of the pipe",
                "the steel is below the dew point in " + short_number(months, 2) + " months");
        }
        const bool cycles = ranking_.wall_loss.cycling_factor.size() > at_ &&
                            ranking_.wall_loss.cycling_factor[at_] > 1.0;
        if (cycles) {
            add("supports and other places that stay cool",
                "water boils off and comes back with every cycle");
        }
    }

    const Plant& plant_;
    const RuleSet& rules_;
    const Ranking& ranking_;
    Eigen::Index at_;
    std::uint32_t segment_;
    std::vector<HotSpot> spots_;
};

}  // namespace

std::vector<HotSpot> find_hot_spots(const Plant& plant, const RuleSet& rules,
                                    const Ranking& ranking, std::uint32_t row) {
    return SpotFinder{plant, rules, ranking, row}.find();
}

}  // namespace lagline
