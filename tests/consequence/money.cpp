#include <doctest/doctest.h>

#include <algorithm>
#include <stdexcept>
#include <string>
#include <vector>

#include "consequence/consequence.h"
#include "intake/gaps.h"
#include "ranking/explain.h"
#include "ranking/ranking.h"
#include "support/rules.h"
#include "support/small_plant.h"
#include "support/temp_folder.h"

namespace lagline {
namespace {

using S = SegmentField;

const RuleSet& extended_rules() {
    static const RuleSet rules = rules_from(rules_root(), "extended");
    return rules;
}

PlantDescription with_margin(double per_day) {
    PlantDescription plant;
    plant.management_score_percent = 50.0;
    plant.outages["U-1"].lost_margin_per_day = per_day;
    return plant;
}

// Category and cost of the small plant's segment are left open, the rest as it stands.
Cells leaking(const Cells& changes) {
    Cells cells{{"unit", "U-1"}, {"consequence_category", ""}};
    for (const auto& [key, text] : changes) cells[key] = text;
    return segment_cells("S-1", cells);
}

struct Ranked {
    Plant plant;
    Ranking ranking;

    explicit Ranked(const SmallPlant& small, const RuleSet& rules = extended_rules())
        : plant(assemble(small, rules)), ranking(rank(plant, rules)) {}
    explicit Ranked(const Cells& changes, const PlantDescription& description)
        : Ranked(SmallPlant{.segments = {leaking(changes)}, .description = description}) {}

    [[nodiscard]] const ConsequenceColumns& cost() const { return ranking.consequence; }
    [[nodiscard]] std::string basis() const {
        return extended_rules()
            .vocabulary("consequence_basis")
            .words[cost().consequence_basis[0]]
            .key;
    }
    [[nodiscard]] std::string category() const {
        return extended_rules()
            .vocabulary("consequence_category")
            .words[cost().consequence_category[0]]
            .key;
    }
};

const Cells worked{{"fluid_class", "light_hydrocarbon"}, {"outage", "3 day"}};

TEST_CASE("hand-worked example of docs/method.md, eq. 50 to 55") {
    const Ranked leak{worked, with_margin(120000)};
    CHECK(leak.cost().repair_cost[0] == 22200.0);    // 15 000 + 6 x 1 200
    CHECK(leak.cost().outage_cost[0] == 360000.0);   // 3 x 120 000
    CHECK(leak.cost().release_cost[0] == 400000.0);  // light hydrocarbon, NPS 6
    CHECK(leak.cost().injury_cost[0] == 100000.0);   // 0.01 x 10 000 000
    CHECK(leak.cost().money_cost[0] == 882200.0);
    CHECK(leak.cost().leak_cost[0] == 882200.0);
    CHECK(leak.basis() == "money");
    CHECK(leak.category() == "C");
    CHECK(leak.ranking.risk.risk_per_year[0] ==
          leak.ranking.likelihood.probability_of_failure_per_year[0] * 882200.0);
}

TEST_CASE("a category that the site gives holds the money within its limits") {
    const auto held = [](const std::string& category) {
        Cells cells = worked;
        cells["consequence_category"] = category;
        return Ranked{cells, with_margin(120000)};
    };
    struct Row {
        const char *category, *basis;
        double cost;
    };
    for (const Row& row :
         {Row{"A", "money_held", 1e4}, Row{"B", "money_held", 1e5}, Row{"C", "money", 882200.0},
          Row{"D", "money_held", 1e6}, Row{"E", "money_held", 1e7}}) {
        CAPTURE(std::string{row.category});
        const Ranked leak = held(row.category);
        CHECK(leak.category() == row.category);
        CHECK(leak.basis() == row.basis);
        CHECK(leak.cost().leak_cost[0] == row.cost);
        CHECK(leak.cost().money_cost[0] == 882200.0);
    }
}

TEST_CASE("a cost that is given stands above all; the parts have no value then") {
    Cells cells = worked;
    cells["leak_cost"] = "125000 USD";
    const Ranked leak{cells, with_margin(120000)};
    CHECK(leak.basis() == "leak_cost");
    CHECK(leak.category() == "C");
    CHECK(leak.cost().leak_cost[0] == 125000.0);
    for (const ColumnView& column : leak.cost().views(leak.ranking.models.money)) {
        const bool is_part = column.info->equation != "eq. 55" && column.info->equation != "eq. 21";
        CAPTURE(column.info->key);
        CHECK(column.spans(0));
        CHECK(column.covers(0) == !is_part);
    }
}

TEST_CASE("without a fluid class nothing is priced: the category, given or default") {
    const Ranked given{{{"fluid_class", ""}, {"consequence_category", "B"}, {"outage", "3 day"}},
                       with_margin(120000)};
    CHECK(given.basis() == "category");
    CHECK(given.cost().leak_cost[0] == 1e5);
    const Ranked open{{{"fluid_class", ""}, {"outage", "3 day"}}, with_margin(120000)};
    CHECK(open.basis() == "category");
    CHECK(open.category() == "C");
    CHECK(open.cost().leak_cost[0] == 1e6);
    // The category is a gap then, and only then.
    const Ranked priced{worked, with_margin(120000)};
    CHECK(open.ranking.assumptions[0] == priced.ranking.assumptions[0] + 1);
}

TEST_CASE("a default category of the plant gives way to money, a default fluid class brings it") {
    SmallPlant small{.segments = {leaking({{"outage", "3 day"}})},
                     .description = with_margin(120000),
                     .defaults = {{"consequence_category", {"E", {}}},
                                  {"fluid_class", {"light_hydrocarbon", {}}}}};
    const Ranked leak{small};
    CHECK(leak.basis() == "money");
    CHECK(leak.cost().leak_cost[0] == 882200.0);
    small.defaults.erase("fluid_class");
    CHECK(Ranked{small}.basis() == "category");
    CHECK(Ranked{small}.category() == "E");
}

TEST_CASE("days down: of the segment, else of the unit, else of the plant, else by fluid class") {
    struct Row {
        const char* cell;
        bool unit, plant;
        double days;
        CellState state;
        int gaps;
    };
    for (const Row& row : {Row{"3 day", true, true, 3.0, CellState::given, 0},
                           Row{"0 day", true, true, 0.0, CellState::given, 0},
                           Row{"", true, true, 7.0, CellState::plant_default, 1},
                           Row{"", false, true, 9.0, CellState::plant_default, 1},
                           Row{"", false, false, 5.0, CellState::rule_default, 1}}) {
        CAPTURE(std::string{row.cell});
        CAPTURE(row.days);
        SmallPlant small{
            .segments = {leaking({{"fluid_class", "light_hydrocarbon"}, {"outage", row.cell}})},
            .description = with_margin(1000)};
        if (row.unit) small.description.outages["U-1"].days = 7.0;
        if (row.plant) small.defaults["outage"] = {"9 day", {}};
        const Ranked leak{small};
        CHECK(leak.plant.segments.numbers(S::outage)[0] == row.days);
        CHECK(leak.plant.segments.state(S::outage, 0) == row.state);
        CHECK(leak.cost().outage_cost[0] == row.days * 1000.0);
        const Ranked given{worked, with_margin(1000)};
        CHECK(leak.ranking.assumptions[0] == given.ranking.assumptions[0] + row.gaps);
        const auto gaps = find_gaps(leak.plant, extended_rules(), fields_read(extended_rules()));
        const bool listed = std::ranges::any_of(
            gaps, [](const Gap& gap) { return gap.field == index_of(S::outage); });
        CHECK(listed == (row.gaps == 1));
    }
}

TEST_CASE("a unit without a lost margin takes that of the rules, and it counts as a gap") {
    const Ranked given{worked, with_margin(120000)};
    PlantDescription none;
    none.management_score_percent = 50.0;
    const Ranked assumed{worked, none};
    CHECK(assumed.cost().outage_cost[0] == 150000.0);  // 3 x 50 000
    CHECK(assumed.ranking.assumptions[0] == given.ranking.assumptions[0] + 1);
    CHECK(margin_gaps(given.plant, extended_rules()).empty());
    const auto gaps = margin_gaps(assumed.plant, extended_rules());
    REQUIRE(gaps.size() == 1);
    CHECK(gaps[0].unit == "U-1");
    CHECK(gaps[0].count == 1);
    // Nothing is lost in no time.
    Cells no_time = worked;
    no_time["outage"] = "0 day";
    const Ranked free{no_time, none};
    CHECK(free.ranking.assumptions[0] == given.ranking.assumptions[0]);
    CHECK(margin_gaps(free.plant, extended_rules()).empty());
    CHECK(margin_gaps(assumed.plant, published_rules()).empty());
}

TEST_CASE("money of the rules is exchanged, money of the plant is not") {
    PlantDescription euro = with_margin(100000);  // EUR
    euro.currency = "EUR";
    euro.exchange["USD"] = 0.8;  // invented
    euro.unit_costs["replace_run"] = {1450.0, "m", {}};
    const Ranked leak{worked, euro};
    CHECK(leak.cost().repair_cost[0] == 0.8 * 15000.0 + 6.0 * 1450.0);
    CHECK(leak.cost().outage_cost[0] == 300000.0);
    CHECK(leak.cost().release_cost[0] == 0.8 * 400000.0);
    CHECK(leak.cost().injury_cost[0] == doctest::Approx(80000.0).epsilon(1e-15));
    // An amount each prices no metre.
    euro.unit_costs["replace_run"] = {1450.0, "each", {}};
    CHECK(Ranked{worked, euro}.cost().repair_cost[0] ==
          doctest::Approx(0.8 * 22200.0).epsilon(1e-15));
    // Category B ends at 100 000 USD.
    Cells small = worked;
    small["consequence_category"] = "B";
    CHECK(Ranked{small, euro}.cost().leak_cost[0] == doctest::Approx(80000.0).epsilon(1e-15));
}

TEST_CASE("the larger the pipe and the longer the outage, the more a leak costs") {
    double before = 0.0;
    for (const char* size : {"NPS 2", "NPS 6", "NPS 12", "NPS 24"}) {
        CAPTURE(std::string{size});
        const Ranked leak{{{"fluid_class", "toxic"},
                           {"outage", "1 day"},
                           {"nominal_size", size},
                           {"outside_diameter", ""},
                           {"nominal_wall", "6 mm"}},
                          with_margin(1000)};
        CHECK(leak.cost().money_cost[0] > before);
        before = leak.cost().money_cost[0];
    }
    const Ranked longer{{{"fluid_class", "toxic"},
                         {"outage", "2 day"},
                         {"nominal_size", "NPS 24"},
                         {"outside_diameter", ""},
                         {"nominal_wall", "6 mm"}},
                        with_margin(1000)};
    CHECK(longer.cost().money_cost[0] == before + 1000.0);
}

TEST_CASE("every class of fluid has a price, and none is free") {
    for (const Word& word : extended_rules().vocabulary("fluid_class").words) {
        CAPTURE(word.key);
        const Ranked leak{{{"fluid_class", word.key}}, with_margin(1000)};
        CHECK(leak.basis() == "money");
        CHECK(leak.cost().release_cost[0] > 0.0);
        CHECK(leak.cost().injury_cost[0] > 0.0);
        CHECK(leak.cost().outage_cost[0] > 0.0);
    }
}

TEST_CASE("published: outage, criteria and fluid class change nothing, and there are two columns") {
    const Plant bare = assemble({.segments = {leaking(worked)}}, published_rules());
    SmallPlant rich{.segments = {leaking(worked)}};
    rich.description.outages["U-1"].days = 7.0;
    rich.description.outages["U-1"].lost_margin_per_day = 1e6;
    rich.description.criteria.risk_per_year = 1.0;
    rich.description.unit_costs["replace_run"] = {1450.0, "m", {}};
    const Plant told = assemble(rich, published_rules());
    const Ranking before = rank(bare, published_rules());
    const Ranking after = rank(told, published_rules());
    REQUIRE(before.consequence.views(before.models.money).size() == 2);
    REQUIRE(after.views().size() == before.views().size());
    for (std::size_t i = 0; i < before.views().size(); ++i) {
        const ColumnView a = before.views()[i];
        const ColumnView b = after.views()[i];
        CAPTURE(a.info->key);
        CHECK(std::ranges::equal(a.numbers, b.numbers));
        CHECK(std::ranges::equal(a.codes, b.codes));
    }
    CHECK(before.assumptions == after.assumptions);
    CHECK(before.consequence.leak_cost[0] == 1e6);  // the default category
}

TEST_CASE("a site may go back to the cost of the category") {
    const TempFolder folder;
    folder.write("site.yaml",
                 "ruleset: {name: site, meaning: an invented plant, based_on: extended}\n"
                 "changes:\n  - {table: consequence_model, to: category, reason: as before}\n");
    LoadedRules loaded = load_rules(rules_root(), "extended", folder.path());
    INFO(to_text(loaded.report));
    REQUIRE(loaded.rules);
    const Report told = check_rules(*loaded.rules);
    CHECK(told.ok());
    // Tables of the model that is not chosen are idle, not mistaken.
    CHECK(std::ranges::none_of(told.diagnostics(), [](const Diagnostic& each) {
        return each.subject.find("release_cost") != std::string::npos ||
               each.subject.find("lost_margin") != std::string::npos ||
               each.subject.find("injury") != std::string::npos;
    }));
    const Ranked back{SmallPlant{.segments = {leaking(worked)}}, *loaded.rules};
    CHECK(back.cost().views(back.ranking.models.money).size() == 2);
    CHECK(back.cost().leak_cost[0] == 1e6);
}

TEST_CASE("explain tells each part with its tables, and where a value of the plant stands") {
    PlantDescription described = with_margin(120000);
    described.outages["U-1"].lost_margin_place = {"plant.yaml", 7, 9};
    described.outages["U-1"].days = 4.0;
    described.outages["U-1"].days_place = {"plant.yaml", 6, 3};
    described.unit_costs["replace_run"] = {1450.0, "m", {"plant.yaml", 9, 5}};
    const Ranked leak{{{"fluid_class", "light_hydrocarbon"}}, described};
    const Explanation told = explain(leak.plant, extended_rules(), leak.ranking, 0);
    const auto quantity = [&](std::string_view key) -> const ExplainedQuantity& {
        const auto found = std::ranges::find_if(
            told.quantities, [&](const ExplainedQuantity& each) { return each.info->key == key; });
        if (found == told.quantities.end()) throw std::runtime_error("not told");
        return *found;
    };
    const auto input = [&](std::string_view of, std::string_view key) {
        const auto& inputs = quantity(of).inputs;
        return *std::ranges::find(inputs, key, &ExplainedInput::key);
    };
    const auto tables = [&](std::string_view of) {
        std::vector<std::string> names;
        for (const ExplainedRule& rule : quantity(of).rules) names.push_back(rule.table->name);
        return names;
    };
    using Names = std::vector<std::string>;
    CHECK(tables("repair_cost") == Names{"repair_fixed", "repair_length"});
    CHECK(input("repair_cost", "replace_run").value == "1450 USD/m");
    CHECK(input("repair_cost", "replace_run").place.line == 9);
    CHECK(tables("outage_cost").empty());
    CHECK(input("outage_cost", "lost_margin").value == "120000 USD/day");
    CHECK(input("outage_cost", "lost_margin").place.line == 7);
    CHECK(input("outage_cost", "outage").place.line == 6);
    CHECK(is_assumption(input("outage_cost", "outage").state));
    CHECK(tables("release_cost") == Names{"release_cost"});
    CHECK(quantity("release_cost").rules[0].entry->printed == 400000.0);
    CHECK(quantity("injury_class").word == "fatal");
    CHECK(tables("injury_cost") == Names{"injury_chance", "injury_value"});
    CHECK(tables("leak_cost") == Names{"consequence_model"});
    CHECK(tables("consequence_category") == Names{"consequence_category_of_cost"});
    CHECK(told.hazard == "flammable");
    CHECK(told.fluid_class == "light_hydrocarbon");

    PlantDescription none;
    const Ranked assumed{{{"fluid_class", "steam"}, {"consequence_category", "A"}}, none};
    const Explanation other = explain(assumed.plant, extended_rules(), assumed.ranking, 0);
    for (const ExplainedQuantity& each : other.quantities) {
        if (each.info->key == "outage_cost") {
            REQUIRE(each.rules.size() == 1);
            CHECK(each.rules[0].table->name == "lost_margin");
            for (const ExplainedInput& from : each.inputs) {
                CAPTURE(from.key);
                CHECK(from.state == CellState::rule_default);
                CHECK(from.place.file.ends_with("consequence.yaml"));
            }
        }
        if (each.info->key == "leak_cost") {
            REQUIRE(each.rules.size() == 2);  // held: the limit of category A
            CHECK(each.rules[1].table->name == "consequence_category_of_cost");
            CHECK(each.rules[1].entry->word == "A");
        }
    }
}

}  // namespace
}  // namespace lagline
