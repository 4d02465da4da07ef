// Knowing less never ranks better: what an empty cell takes stands at the median of what may stand
// there, or on the cautious side of it, weighed by how common that is.
#include <doctest/doctest.h>

#include <algorithm>
#include <array>
#include <map>
#include <set>
#include <string>
#include <utility>
#include <vector>

#include "plant/field.h"
#include "ranking/empty_cells.h"
#include "ranking/ranking.h"
#include "support/rules.h"

namespace lagline {
namespace {

using Cells = std::map<std::string, std::string, std::less<>>;
using Fields = std::set<std::size_t>;

/// Columns of which an empty cell says something: that there is none, or that it is worked out
/// from other columns.  Of every other column that the method reads the rules say how common its
/// values are.
const std::set<std::string_view> an_answer{
    "outside_diameter",    "temperature_low",   "temperature_high",     "dead_leg_length",
    "insulation_purpose",  "allowable_stress",  "yield_strength",       "tensile_strength",
    "corrosion_allowance", "minimum_thickness", "insulation_installed", "leak_cost"};

std::string key_of(std::size_t field) { return std::string{segment_fields()[field].key}; }

std::vector<TriedSegment> contexts() {
    std::vector<TriedSegment> all;
    for (const char* material : {"carbon_steel", "austenitic_stainless"}) {
        for (const char* degc : {"5 degC", "70 degC", "110 degC", "160 degC"}) {
            for (const char* service : {"1982-01-01", "2001-01-01", "2017-01-01"}) {
                TriedSegment segment = reference_segment();
                segment.cells["material"] = material;
                segment.cells["operating_temperature"] = degc;
                segment.cells["in_service"] = service;
                all.push_back(segment);
                segment.cells.erase("coating_system");
                segment.cells.erase("coating_quality");
                all.push_back(segment);
            }
        }
    }
    return all;
}

void check(const RuleSet& rules, const TriedSegment& segment, std::span<const std::size_t> fields) {
    const WeighedCells weighed = weigh_empty(rules, segment, fields);
    CHECK(weighed.report.ok());
    if (weighed.cautious()) return;
    std::string what;
    for (const std::size_t field : fields) what += key_of(field) + " ";
    CAPTURE(rules.name);
    CAPTURE(what);
    CAPTURE(segment.cells.at("material"));
    CAPTURE(segment.cells.at("operating_temperature"));
    CAPTURE(segment.cells.at("in_service"));
    std::string values;
    for (const TriedCells& value : weighed.values) {
        values += value.text + " x" + std::to_string(value.effect) + " (" +
                  std::to_string(value.share) + ")  ";
    }
    CAPTURE(values);
    CHECK(weighed.worse <= 0.5);
}

/// Every optional column that a quantity is made of, through the quantities among its inputs.
void add_columns(const std::vector<ColumnView>& views, const QuantityInfo& quantity,
                 Fields& fields) {
    for (const std::string_view input : quantity.inputs) {
        if (const auto field = find_field(segment_fields(), input)) fields.insert(*field);
        const auto made = std::ranges::find_if(
            views, [&](const ColumnView& each) { return each.info->key == input; });
        if (made != views.end() && made->info != &quantity) add_columns(views, *made->info, fields);
    }
}

TEST_CASE("every optional column that the method reads says how common its values are") {
    for (const RuleSet* rules : {&published_rules(), &extended_rules()}) {
        std::set<std::string_view> weighed;
        for (const EmptyColumn& column : empty_columns(*rules)) {
            if (!column.weighed.values.empty()) weighed.insert(segment_fields()[column.field].key);
        }
        for (const std::size_t field : fields_read(*rules)) {
            const FieldInfo& info = segment_fields()[field];
            const bool can_miss = !info.needed || (!info.words.empty() &&
                                                   rules->vocabulary(info.words).code("unknown"));
            if (!can_miss || info.key == "coating_date") continue;
            CAPTURE(rules->name);
            CAPTURE(std::string{info.key});
            CHECK(weighed.contains(info.key) != an_answer.contains(info.key));
        }
    }
}

TEST_CASE("an empty cell stands at the median of what may stand there, or is cautious") {
    for (const RuleSet* rules : {&published_rules(), &extended_rules()}) {
        for (TriedSegment segment : contexts()) {
            segment.cells["insulation_installed"] = "2020-01-01";  // room for a later coating_date
            for (const std::size_t field : fields_read(*rules)) {
                check(*rules, segment, std::array{field});
            }
        }
    }
}

bool is_model(std::string_view key) {
    constexpr std::array keys{"base_rate",       "coating_scale",        "coating_life",
                              "film_in_service", "susceptibility_steps", "strength_ratio",
                              "money_cost"};
    return std::ranges::find(keys, key) != keys.end();
}

TEST_CASE("so do two empty cells that one model reads together") {
    for (const RuleSet* rules : {&published_rules(), &extended_rules()}) {
        std::set<std::pair<std::size_t, std::size_t>> pairs{
            {index_of(SegmentField::coating_system), index_of(SegmentField::coating_quality)}};
        Ranking one_each;
        one_each.resize({1, 1}, models_of(*rules));
        const auto views = one_each.views();
        std::vector<Fields> models;
        for (const ColumnView& view : views) {
            // The factors of a rate are one model, its base rate another.
            Fields fields;
            if (view.info->key == "table_rate") {
                for (const std::string_view input : view.info->inputs) {
                    if (input == "base_rate") continue;
                    for (const ColumnView& factor : views) {
                        if (factor.info->key != input) continue;
                        for (const std::string_view cell : factor.info->inputs) {
                            const auto field = find_field(segment_fields(), cell);
                            if (field) fields.insert(*field);
                        }
                    }
                }
            } else if (is_model(view.info->key)) {
                add_columns(views, *view.info, fields);
            }
            models.push_back(fields);
        }
        for (const Fields& fields : models) {
            for (const std::size_t one : fields) {
                for (const std::size_t other : fields) {
                    if (one < other) pairs.emplace(one, other);
                }
            }
        }
        CHECK(pairs.size() > 10);
        const auto all = contexts();
        for (const auto& [one, other] : pairs) {
            for (std::size_t i = 0; i < all.size(); i += 5) {
                check(*rules, all[i], std::array{one, other});
            }
        }
    }
}

TEST_CASE("what is not known of a coating does not rank better than what is") {
    const auto worse = [](const RuleSet& rules, SegmentField field, const Cells& known) {
        TriedSegment segment = reference_segment();
        for (const auto& [key, text] : known) segment.cells[key] = text;
        return weigh_empty(rules, segment, std::array{index_of(field)}).worse;
    };
    for (const char* quality : {"none", "medium", "high"}) {
        CAPTURE(std::string{quality});
        CHECK(worse(extended_rules(), SegmentField::coating_system,
                    {{"coating_quality", quality}}) <= 0.5);
    }
    // A known system is not bare steel.
    TriedSegment sprayed = reference_segment();
    sprayed.cells["coating_system"] = "sprayed_aluminium";
    const WeighedCells weighed = weigh_empty(published_rules(), sprayed,
                                             std::array{index_of(SegmentField::coating_quality)});
    for (const Word& system : published_rules().vocabulary("coating_system").words) {
        CAPTURE(system.key);
        CHECK(worse(published_rules(), SegmentField::coating_quality,
                    {{"coating_system", system.key}}) <= 0.5);
    }
    REQUIRE(weighed.values.size() == 1);
    CHECK(weighed.values.front().text == "high");
    CHECK(weighed.values.front().effect == doctest::Approx(1.0).epsilon(1e-12));
}

TEST_CASE("of no coating system does an empty film, preparation or time in the yard flatter") {
    const std::array columns{index_of(SegmentField::coating_thickness),
                             index_of(SegmentField::coating_substrate_prep),
                             index_of(SegmentField::yard_storage)};
    for (const Word& system : extended_rules().vocabulary("coating_system").words) {
        for (const char* degc : {"70 degC", "160 degC"}) {
            for (const char* quality : {"medium", "high"}) {
                TriedSegment segment = reference_segment();
                segment.cells["coating_system"] = system.key;
                segment.cells["coating_quality"] = quality;
                segment.cells["operating_temperature"] = degc;
                for (const std::size_t one : columns) {
                    check(extended_rules(), segment, std::array{one});
                    for (const std::size_t other : columns) {
                        if (one < other) check(extended_rules(), segment, std::array{one, other});
                    }
                }
            }
        }
    }
}

TEST_CASE("weights: what is worse, and the middle of the shares") {
    const WeighedCells driver = weigh_empty(published_rules(), reference_segment(),
                                            std::array{index_of(SegmentField::driver)});
    CHECK(driver.values.size() == 4);
    CHECK(driver.worse == doctest::Approx(0.20));
    CHECK(driver.median == doctest::Approx(1.0));
    double sum = 0.0;
    for (const TriedCells& value : driver.values) sum += value.share;
    CHECK(sum == doctest::Approx(1.0));
}

}  // namespace
}  // namespace lagline
