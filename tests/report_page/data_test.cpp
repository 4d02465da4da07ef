// The data of the page against the ranking and the explanations it is made of.
#include <doctest/doctest.h>
#include <rapidjson/document.h>

#include <cmath>
#include <map>
#include <string>

#include "ranking/explain.h"
#include "report/html/page_assets.h"
#include "report/html/page_json.h"
#include "report_page/page_content.h"

namespace lagline {
namespace {

using Json = rapidjson::Value;

const PageContent& sample_page() {
    static const PageContent page = page_content(sample_plant(extended_rules()), extended_rules());
    return page;
}

rapidjson::Document parsed(const std::string& json) {
    rapidjson::Document document;
    document.Parse(json.data(), json.size());
    REQUIRE_FALSE(document.HasParseError());
    return document;
}

const rapidjson::Document& sample_data() {
    static const rapidjson::Document data = parsed(report_data(sample_page().content()));
    return data;
}

// The cell of a column as page/10-data.js reads it.
const Json& cell(const Json& column, std::size_t rank) {
    if (column.IsArray()) return column[static_cast<rapidjson::SizeType>(rank)];
    if (column.HasMember("all")) return column["all"];
    return column["words"][column["codes"][static_cast<rapidjson::SizeType>(rank)].GetUint()];
}

const Json& at(const Json& array, std::size_t index) {
    return array[static_cast<rapidjson::SizeType>(index)];
}

std::map<std::string, std::vector<const Json*>> by_key(const Json& data) {
    std::map<std::string, std::vector<const Json*>> all;
    for (const Json& each : data["quantities"].GetArray())
        all[each["key"].GetString()].push_back(&each);
    return all;
}

const Json& quantity_of(const std::map<std::string, std::vector<const Json*>>& all,
                        std::string_view key, std::size_t rank) {
    for (const Json* each : all.at(std::string{key})) {
        if (!cell((*each)["values"], rank).IsNull()) return *each;
    }
    throw std::out_of_range{std::string{key}};
}

struct Compared {
    std::size_t inputs = 0;
    std::size_t rules = 0;
};

// Compares every `step`th segment of the page with its explanation.
Compared compare_rationale(const PageContent& page, const Json& data, std::size_t step) {
    const auto quantities = by_key(data);
    Compared compared;
    for (std::size_t rank = 0; rank < page.ranking.order.size(); rank += step) {
        const Explanation told =
            explain(page.plant, page.rules, page.ranking, page.ranking.order[rank]);
        CHECK(cell(data["segments"]["segment"], rank).GetString() == told.segment);
        CHECK(cell(data["row_lines"], rank).GetInt() == told.place.line);
        for (const ExplainedQuantity& each : told.quantities) {
            CAPTURE(each.info->key);
            const Json& shown = quantity_of(quantities, each.info->key, rank);
            const int list = cell(shown["rules"], rank).GetInt();
            CHECK((list < 0) == each.rules.empty());
            for (std::size_t k = 0; k < each.rules.size(); ++k) {
                ++compared.rules;
                const Json& ids = at(data["entry_lists"], static_cast<std::size_t>(list));
                REQUIRE(ids.Size() == each.rules.size());
                const Json& entry = data["entries"][at(ids, k).GetUint()];
                CHECK(entry[0].GetString() == each.rules[k].table->name);
                CHECK(entry[1].GetString() == each.rules[k].entry->key);
                CHECK(entry[6].GetString() == to_string(each.rules[k].entry->place));
                CHECK(entry[7].GetBool() == each.rules[k].outside);
            }
            for (const ExplainedInput& input : each.inputs) {
                if (input.is_quantity || input.key == "inspection" ||
                    input.state == CellState::absent) {
                    continue;
                }
                ++compared.inputs;
                CAPTURE(input.key);
                const std::string of_finding = input.key + "@" + std::string{each.info->key};
                const Json& slots = data["slots"];
                const Json& slot = slots.HasMember(of_finding.c_str()) ? slots[of_finding.c_str()]
                                                                       : slots[input.key.c_str()];
                const Json& piece = data["inputs"][cell(slot, rank).GetUint()];
                CHECK(piece[0].GetString() == input.shown);
                CHECK(piece[2].GetBool() == is_assumption(input.state));
                const std::string place = piece[3].GetString();
                if (place.empty()) {
                    CHECK(input.place.line == told.place.line);
                } else {
                    CHECK(place == to_string(input.place));
                }
            }
        }
        CHECK(cell(data["spot_lists"], rank).Size() == told.hot_spots.size());
        CHECK(cell(data["inspections"], rank).Size() == told.inspections.size());
        REQUIRE(cell(data["drivers"], rank).Size() == told.drivers.size());
        for (std::size_t k = 0; k < told.drivers.size(); ++k) {
            const Json& driver = data["quantities"][at(cell(data["drivers"], rank), k).GetUint()];
            CHECK(driver["key"].GetString() == std::string{told.drivers[k].info->key});
        }
    }
    return compared;
}

}  // namespace

TEST_CASE("every number of the page is that of the ranking to six digits") {
    const Ranking& ranking = sample_page().ranking;
    const Json& quantities = sample_data()["quantities"];
    const auto views = ranking.views();
    REQUIRE(quantities.Size() == views.size());
    std::size_t compared = 0;
    for (std::size_t q = 0; q < views.size(); ++q) {
        CAPTURE(views[q].info->key);
        CHECK(at(quantities, q)["key"].GetString() == std::string{views[q].info->key});
        for (std::size_t rank = 0; rank < ranking.order.size(); ++rank) {
            const std::uint32_t row = ranking.order[rank];
            const Json& value = cell(at(quantities, q)["values"], rank);
            const bool covered = views[q].covers(row);
            if (!covered || (!views[q].is_words() && !std::isfinite(views[q].number(row)))) {
                CHECK(value.IsNull());
                continue;
            }
            ++compared;
            if (views[q].is_words()) {
                CHECK(value.GetUint() == views[q].code(row));
            } else {
                const double number = views[q].number(row);
                CHECK(std::abs(value.GetDouble() - number) <= 5.1e-6 * std::abs(number));
            }
        }
    }
    CHECK(compared > 20 * ranking.order.size());
}

TEST_CASE("the rationale of the page is that of explain") {
    const Compared compared = compare_rationale(sample_page(), sample_data(), 5);
    CHECK(compared.inputs > 2000);
    CHECK(compared.rules > 2000);
}

TEST_CASE("a reading that was set aside and the one that gave the wall are told apart") {
    const PageContent page = page_content(
        assemble(
            {.segments = {segment_cells("S-1"), segment_cells("S-2")},
             .inspections = {inspection_cells("S-1", "2012-03-01", {{"least_thickness", "5.0 mm"}}),
                             inspection_cells("S-1", "2017-03-01",
                                              {{"least_thickness", "7.0 mm"}})}},
            extended_rules()),
        extended_rules());
    const auto data = parsed(report_data(page.content()));
    CHECK(compare_rationale(page, data, 1).inputs > 40);
    REQUIRE(data["slots"].HasMember("least_thickness@conflicting_readings"));
    REQUIRE(data["slots"].HasMember("least_thickness@wall_thickness"));
}

TEST_CASE("a page of fewer segments holds the first of the ranking and says so") {
    ReportContent content = sample_page().content();
    content.top = 5;
    const auto data = parsed(report_data(content));
    CHECK(data["shown"].GetUint() == 5);
    CHECK(data["ranked"].GetUint() == sample_page().ranking.order.size());
    CHECK(data["segments"]["segment"].Size() == 5);
    CHECK(data["ahead"]["probability"].Size() == 5);
    // The overview stays that of all.
    CHECK(data["overview"]["risk"] == sample_data()["overview"]["risk"]);
}

TEST_CASE("what was not asked for is null") {
    CHECK(sample_data()["doubt"].IsNull());
    CHECK(sample_data()["plan"].IsNull());
}

TEST_CASE("ranks of the doubt and of the page are the same segments") {
    const PageContent& page = sample_page();
    const Uncertainty sure = rank_uncertainty(page.plant, page.rules, {16, 20});
    ReportContent content = page.content();
    content.sure = &sure;
    const auto data = parsed(report_data(content));
    for (std::size_t rank = 0; rank < page.ranking.order.size(); ++rank) {
        REQUIRE(sure.segments[rank].segment_row ==
                page.ranking.segment_rows[page.ranking.order[rank]]);
        CHECK(cell(data["doubt"]["rank_low"], rank).GetDouble() ==
              doctest::Approx(sure.segments[rank].rank_low).epsilon(1e-3));
    }
}

TEST_CASE("a plan stands in the page as it was given") {
    const ReportPlan plan = invented_plan(sample_page());
    ReportContent content = sample_page().content();
    content.plan = &plan;
    const auto data = parsed(report_data(content));
    CHECK(data["plan"]["courses"].Size() == 2);
    CHECK(data["plan"]["courses"][0]["risk"].Size() == sample_page().ahead.dates.size());
    CHECK(data["plan"]["windows"][0]["budget"].GetDouble() == 5e5);
    CHECK_FALSE(data["plan"]["windows"][1].HasMember("budget"));
    CHECK(data["plan"]["actions"][0]["segment"].GetString() == plan.actions[0].segment);
    CHECK(data["plan"]["by_budget"].Size() == 3);
}

TEST_CASE("nothing in the data can end the script element or is lost by keeping it from that") {
    const std::string hostile = "[\"</script><!-- & \u2028\u2029 \u00e9 \u20ac\"]";
    const std::string safe = script_safe(hostile);
    for (const std::string_view bad : {"<", ">", "&", "\u2028", "\u2029"}) {
        CHECK(safe.find(bad) == std::string::npos);
    }
    CHECK(parsed(safe)[0] == parsed(hostile)[0]);
    CHECK(safe.find("\u00e9 \u20ac") != std::string::npos);
}

TEST_CASE("a hostile plant name is text in the title and in the data") {
    PlantDescription description;
    description.name = "</title><script>alert(1)</script>";
    const PageContent page = page_content(
        assemble(
            {.segments = {segment_cells("<b>"), segment_cells("S-2")}, .description = description},
            extended_rules()),
        extended_rules());
    const std::string text = report_page(page.content());
    CHECK(text.find("<script>alert") == std::string::npos);
    CHECK(text.find("&lt;/title&gt;") != std::string::npos);
    CHECK(text.find("</title") == text.rfind("</title"));
    CHECK(text.find("<b>") == std::string::npos);
}

TEST_CASE("the page carries no address to load from and the licences of what it contains") {
    const std::string text = report_page(sample_page().content());
    for (const std::string_view bad : {" src=", "@import", "url(", "sourceMappingURL", "<link"}) {
        CAPTURE(bad);
        CHECK(text.find(bad) == std::string::npos);
    }
    CHECK(text.find("default-src 'none'") != std::string::npos);
    CHECK(text.find("Chart.js Contributors") != std::string::npos);
    CHECK(page_assets().licences.find("Jukka Kurkela") != std::string_view::npos);
}

TEST_CASE("columns that hold the same throughout, or repeat, are written short") {
    PageJson json;
    json.begin_object();
    write_column(json, "same", {"1", "1", "1"});
    write_column(json, "differ", {"1", "null"});
    write_column(json, "single", {"1"});
    write_texts(json, "words", {"b", "a", "b", "b", "a"});
    write_texts(json, "names", {"b", "a"});
    json.end_object();
    CHECK(json.take() == R"({"same":{"all":1},"differ":[1,null],"single":[1],)"
                         R"("words":{"words":["a","b"],"codes":[1,0,1,1,0]},"names":["b","a"]})");
}

}  // namespace lagline
