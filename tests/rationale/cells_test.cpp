#include <doctest/doctest.h>

#include <algorithm>
#include <functional>
#include <utility>

#include "rationale/exceptions.h"
#include "rationale/world.h"
#include "support/rules.h"

namespace lagline {
namespace {

using Rows = std::vector<Cells>;

std::string cell(const Cells& row, std::string_view key) {
    const auto found = row.find(key);
    return found == row.end() ? std::string{} : found->second;
}

/// Texts to put into one column, each as a function of the row and its place among all.
using NewText = std::function<std::string(const Rows&, std::size_t)>;

std::vector<NewText> new_texts(const FieldInfo& field, const RuleSet& rules) {
    const std::string key{field.key};
    std::vector<NewText> texts;
    for (const std::size_t by : {1U, 7U}) {  // the cell of another row
        texts.emplace_back([key, by](const Rows& rows, std::size_t row) {
            return cell(rows[(row + by) % rows.size()], key);
        });
    }
    if (!field.needed) texts.emplace_back([](const Rows&, std::size_t) { return std::string{}; });
    auto samples = samples_of(field, rules);
    std::ranges::sort(samples);
    samples.erase(std::unique(samples.begin(), samples.end()), samples.end());
    if (field.kind == FieldKind::word || field.kind == FieldKind::flag || samples.size() < 8) {
        for (const std::string& sample : samples) {
            texts.emplace_back([sample](const Rows&, std::size_t) { return sample; });
        }
    }
    return texts;
}

/// Changes the inputs of a plant in turn.  A row stands on its own, so that one column is changed
/// in all of them at once.
class Inputs {
  public:
    explicit Inputs(World& world) : world_(world) {}

    void segments() {
        for (const FieldInfo& field : segment_fields()) {
            if (field.key == "segment") continue;
            for (const NewText& text : new_texts(field, world_.rules())) {
                SmallPlant changed = world_.small();
                for (std::size_t row = 0; row < changed.segments.size(); ++row) {
                    changed.segments[row][std::string{field.key}] =
                        text(world_.small().segments, row);
                }
                compare(std::move(changed), field.key);
            }
        }
    }

    void inspections() {
        for (const FieldInfo& field : inspection_fields()) {
            if (field.key == "segment") continue;
            for (const NewText& text : new_texts(field, world_.rules())) {
                for (std::size_t which = 0; which < 6; ++which) one_each(field, text, which);
            }
        }
    }

    void plant_values() {
        const auto change = [&](std::string_view key, auto&& mend) {
            SmallPlant changed = world_.small();
            mend(changed.description);
            compare(std::move(changed), key);
        };
        for (std::size_t month = 0; month < 12; ++month) {
            for (const double by : {0.7, -9.0, 14.0}) {
                change("mean_temperature", [&](PlantDescription& site) {
                    site.climate->mean_temperature_degc[month] += by;
                });
            }
            for (const double humidity : {20.0, 70.0, 100.0}) {
                change("relative_humidity", [&](PlantDescription& site) {
                    site.climate->relative_humidity_percent[month] = humidity;
                });
            }
            for (const double rain : {0.0, 1500.0}) {
                change("rainfall",
                       [&](PlantDescription& site) { site.climate->rainfall_mm[month] = rain; });
            }
        }
        for (const double km : {0.2, 15.0, 300.0}) {
            change("coast_distance",
                   [&](PlantDescription& site) { site.climate->coast_distance_km = km; });
        }
        change("coast_distance",
               [](PlantDescription& site) { site.climate->coast_distance_km = {}; });
        change("wind_speed",
               [](PlantDescription& site) { site.climate->wind_speed_m_per_s = 1.0; });
        change("wind_speed", [](PlantDescription& site) { site.climate->wind_speed_m_per_s = {}; });
        change("climate", [](PlantDescription& site) { site.climate = {}; });
        change("management_score",
               [](PlantDescription& site) { site.management_score_percent = 80.0; });
        change("management_score",
               [](PlantDescription& site) { site.management_score_percent = {}; });
        change("cooling_tower_drift", [](PlantDescription& site) {
            site.cooling_tower_drift = {"U1", "U4"};
        });
        change("deluge_tests", [](PlantDescription& site) { site.deluge_tests = {"U1", "U4"}; });
        change("replace_run",
               [](PlantDescription& site) { site.unit_costs["replace_run"].amount = 900.0; });
        change("replace_run", [](PlantDescription& site) { site.unit_costs.clear(); });
        change("exchange", [](PlantDescription& site) { site.exchange["USD"] = 1.4; });
        change("outage", [](PlantDescription& site) { site.outages["U1"].days = 9.0; });
        change("lost_margin",
               [](PlantDescription& site) { site.outages["U1"].lost_margin_per_day = 100.0; });
        change("lost_margin",
               [](PlantDescription& site) { site.outages["U2"].lost_margin_per_day = 100.0; });
        change("outage", [](PlantDescription& site) { site.outages.clear(); });
    }

    [[nodiscard]] std::size_t tried() const { return tried_; }
    [[nodiscard]] std::string not_listed() const {
        std::string text;
        for (const auto& [pair, example] : not_listed_) {
            text += pair.first + " changes with " + pair.second + ": segment " + example + "\n";
        }
        return text;
    }
    [[nodiscard]] const std::set<const Exception*>& needed() const { return needed_; }

  private:
    // The inspection number `which` of each segment.
    void one_each(const FieldInfo& field, const NewText& text, std::size_t which) {
        SmallPlant changed = world_.small();
        std::map<std::string, std::size_t> seen;
        for (std::size_t row = 0; row < changed.inspections.size(); ++row) {
            if (seen[changed.inspections[row].at("segment")]++ != which) continue;
            changed.inspections[row][std::string{field.key}] =
                text(world_.small().inspections, row);
        }
        compare(std::move(changed), field.key);
    }

    void compare(SmallPlant changed, std::string_view input) {
        ++tried_;
        const Plant plant = assemble_or_keep(std::move(changed), world_.small(), world_.rules());
        const Ranking ranking = rank(plant, world_.rules(), alone);
        const Numbers2D after{ranking};
        const auto& rows = world_.numbers().rows();
        for (std::size_t row = 0; row < rows.size(); ++row) {
            const auto keys = world_.numbers().changed(row, after);
            std::optional<ToldRow> now;
            for (const std::string_view key : keys) {
                const Told& one = world_.told(row).by_key.at(key);
                if (through_an_input(one, keys)) continue;
                if (!now) now = tell_same(plant, ranking, after, rows[row]);
                const auto found = now->by_key.find(key);
                const bool shown = found == now->by_key.end() || found->second.cells != one.cells;
                if (shown || excepted(inputs_not_listed(), input, key, needed_)) continue;
                not_listed_.try_emplace({std::string{key}, std::string{input}},
                                        world_.told(row).explanation.segment);
            }
        }
    }

    ToldRow tell_same(const Plant& plant, const Ranking& ranking, const Numbers2D& after,
                      const RowName& name) const {
        const auto found = std::ranges::find(after.rows(), name);
        return tell_row(plant, world_.rules(), ranking,
                        static_cast<std::uint32_t>(found - after.rows().begin()));
    }

    World& world_;
    std::size_t tried_ = 0;
    std::map<std::pair<std::string, std::string>, std::string> not_listed_;
    std::set<const Exception*> needed_;
};

TEST_CASE("an input that changes a number is listed with it") {
    std::set<const Exception*> needed;
    for (const RuleSet* rules : {&published_rules(), &extended_rules()}) {
        CAPTURE(rules->name);
        World world{*rules, full_description(), 130};
        Inputs inputs{world};
        inputs.segments();
        inputs.inspections();
        inputs.plant_values();
        CHECK(inputs.not_listed() == "");
        needed.insert(inputs.needed().begin(), inputs.needed().end());
        MESSAGE(inputs.tried() << " changes of inputs, each in " << world.small().segments.size()
                               << " segments");
    }
    CHECK(not_needed(inputs_not_listed(), needed) == "");
}

}  // namespace
}  // namespace lagline
