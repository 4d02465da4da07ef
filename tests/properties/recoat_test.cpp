// A recoat on record lowers the risk or leaves it, in whichever of the three natural ways it is
// entered: as `coating_date`, as `coating_renewed` of an inspection, or as both.
#include <doctest/doctest.h>

#include <array>
#include <cstdint>
#include <map>
#include <string>
#include <vector>

#include "random_plant.h"
#include "support/rules.h"

namespace lagline {
namespace {

// Years between two days are whole anniversaries and days: sums of them may differ in the last bit.
constexpr double rounding = 1e-9;

enum class Way : std::uint8_t { date, renewal, renewal_with_wall, renewal_in_part, both };
constexpr std::array ways{Way::date, Way::renewal, Way::renewal_with_wall, Way::renewal_in_part,
                          Way::both};

/// Pairs of segments that differ in the record of a recoat only: B-n without it, R-n with it.
class Pairs {
  public:
    void add(const Cells& segment, const std::string& recoated, Way way, bool failed_before,
             const Cells& as_recoated = {}) {
        const std::string number = std::to_string(count_++);
        for (const std::string side : {"B-", "R-"}) {
            const bool on_record = side == "R-";
            const std::string name = side + number;
            Cells cells = segment_cells(name, segment);
            cells["coating_date"] = "";
            if (failed_before) {
                plant.inspections.push_back(
                    inspection_cells(name, "2006-06-15", {{"rust_grade", "2"}}));
            }
            if (way == Way::renewal_with_wall) {
                Cells seen = inspection_cells(name, recoated, {{"least_thickness", "6.2 mm"}});
                if (on_record) seen["coating_renewed"] = "100 %";
                plant.inspections.push_back(seen);
            } else if (on_record && way != Way::date) {
                const char* share = way == Way::renewal_in_part ? "30 %" : "100 %";
                plant.inspections.push_back(
                    inspection_cells(name, recoated, {{"coating_renewed", share}}));
            }
            if (on_record && (way == Way::date || way == Way::both)) {
                cells["coating_date"] = recoated;
                for (const auto& [key, text] : as_recoated) cells[key] = text;
            }
            plant.segments.push_back(cells);
        }
    }

    SmallPlant plant;
    [[nodiscard]] int count() const { return count_; }

  private:
    int count_ = 0;
};

void check(Pairs& pairs, const RuleSet& rules) {
    int lower = 0;
    for (const int year : {2025, 2031, 2050}) {
        pairs.plant.at = make_date(year, 1, 1);
        const auto found = ranked(pairs.plant, rules);
        std::map<std::string, const Ranked*> by_name;
        for (const Ranked& each : found) by_name[each.segment] = &each;
        for (int i = 0; i < pairs.count(); ++i) {
            const auto before = by_name.find("B-" + std::to_string(i));
            if (before == by_name.end()) continue;  // no mechanism in these rules
            const Ranked& after = *by_name.at("R-" + std::to_string(i));
            const double least = before->second->damage_factor;
            if (after.damage_factor > least * (1.0 + rounding) ||
                after.risk_per_year > before->second->risk_per_year * (1.0 + rounding)) {
                CAPTURE(rules.name);
                CAPTURE(year);
                CAPTURE(csv_of({pairs.plant.segments[2 * static_cast<std::size_t>(i) + 1]}));
                CHECK(after.damage_factor <= least * (1.0 + rounding));
                CHECK(after.risk_per_year <= before->second->risk_per_year * (1.0 + rounding));
            }
            if (after.damage_factor < 0.9 * least) ++lower;
        }
    }
    CHECK(lower * 10 > pairs.count());
}

Climate cold_climate() {
    Climate climate;
    climate.mean_temperature_degc.fill(4.0);
    climate.relative_humidity_percent.fill(90.0);
    climate.rainfall_mm.fill(60.0);
    return climate;
}

TEST_CASE("each way to record a recoat lowers the risk or leaves it") {
    for (const RuleSet* rules : {&published_rules(), &extended_rules()}) {
        for (const char* material : {"carbon_steel", "austenitic_stainless"}) {
            Pairs pairs;
            // Field application in a cold wet month, which is hard on the new coat.
            pairs.plant.description.climate = cold_climate();
            for (const Word& system : rules->vocabulary("coating_system").words) {
                for (const char* quality : {"none", "medium", "high", ""}) {
                    for (const char* day :
                         {"2005-03-01", "2005-11-02", "2012-02-29", "2019-07-01", "2024-12-31"}) {
                        for (const Way way : ways) {
                            for (const bool failed : {false, true}) {
                                pairs.add({{"material", material},
                                           {"coating_system", system.key},
                                           {"coating_quality", quality}},
                                          day, way, failed);
                            }
                        }
                    }
                }
            }
            check(pairs, *rules);
        }
    }
}

TEST_CASE(
    "a recoat entered with its system and quality lowers the risk of a coating not on record") {
    for (const RuleSet* rules : {&published_rules(), &extended_rules()}) {
        Pairs pairs;
        for (const char* system :
             {"epoxy", "epoxy_phenolic", "epoxy_novolac", "sprayed_aluminium"}) {
            for (const char* quality : {"medium", "high", ""}) {
                for (const char* day : {"2005-11-02", "2012-02-29", "2024-12-31"}) {
                    for (const Way way : {Way::date, Way::both}) {
                        for (const char* degc : {"30 degC", "90 degC", "110 degC"}) {
                            pairs.add({{"coating_system", ""},
                                       {"coating_quality", ""},
                                       {"operating_temperature", degc}},
                                      day, way, false,
                                      {{"coating_system", system}, {"coating_quality", quality}});
                        }
                    }
                }
            }
        }
        check(pairs, *rules);
    }
}

}  // namespace
}  // namespace lagline
