#include <doctest/doctest.h>
#include <rapidjson/document.h>
#include <rapidjson/error/en.h>

#include <bit>
#include <cstdint>
#include <string>

#include "intake/gaps.h"
#include "ranking/explain.h"
#include "report/explain_text.h"
#include "report/gaps_text.h"
#include "report/ranking_json.h"
#include "support/rules.h"
#include "support/small_plant.h"

namespace lagline {
namespace {

// rapidjson rounds decimal numbers correctly only when it is told to.
rapidjson::Document parsed(const std::string& json) {
    rapidjson::Document document;
    document.Parse<rapidjson::kParseFullPrecisionFlag>(json.c_str(), json.size());
    INFO(rapidjson::GetParseError_En(document.GetParseError()));
    REQUIRE_FALSE(document.HasParseError());
    REQUIRE(document.IsObject());
    return document;
}

rapidjson::Value::ConstMemberIterator member(const rapidjson::Value& object, std::string_view key) {
    const auto at = object.FindMember(
        rapidjson::StringRef(key.data(), static_cast<rapidjson::SizeType>(key.size())));
    CAPTURE(key);
    REQUIRE(at != object.MemberEnd());
    return at;
}

std::string text_of(const rapidjson::Value& object, std::string_view key) {
    return member(object, key)->value.GetString();
}

void require_same(const rapidjson::Value& value, double number) {
    REQUIRE(value.IsNumber());
    REQUIRE(std::bit_cast<std::uint64_t>(value.GetDouble()) ==
            std::bit_cast<std::uint64_t>(number));
}

TEST_CASE("ranking JSON of the sample plant: parses, and its numbers are the columns' to the bit") {
    const Plant plant = sample_plant(published_rules());
    const Ranking ranking = rank(plant, published_rules());
    const auto document = parsed(ranking_json(plant, published_rules(), ranking, 0));
    CHECK(text_of(document, "ranked_at") == "2027-04-05");
    CHECK(text_of(document, "currency") == "EUR");
    CHECK(member(document, "ranked")->value.GetUint64() == ranking.rows());
    CHECK(member(document, "not_ranked")->value.Size() == ranking.not_ranked.size());
    CHECK(member(document, "cautions")->value.Size() > 0);
    const auto columns = ranking.views();
    CHECK(member(document, "columns")->value.Size() == columns.size());
    const auto& rows = member(document, "rows")->value;
    REQUIRE(rows.Size() == ranking.rows());
    const auto names = plant.segments.texts(SegmentField::segment);
    for (rapidjson::SizeType rank = 0; rank < rows.Size(); ++rank) {
        const std::uint32_t row = ranking.order[rank];
        REQUIRE(member(rows[rank], "rank")->value.GetUint64() == rank + 1);
        REQUIRE(text_of(rows[rank], "segment") == names[ranking.segment_rows[row]]);
        REQUIRE(member(rows[rank], "assumptions")->value.GetUint64() == ranking.assumptions[row]);
        for (const ColumnView& column : columns) {
            REQUIRE(rows[rank].HasMember(std::string{column.info->key}.c_str()) ==
                    column.covers(row));
            if (!column.covers(row)) continue;
            const auto& value = member(rows[rank], column.info->key)->value;
            if (column.codes.empty()) {
                require_same(value, column.number(row));
            } else {
                REQUIRE(
                    value.GetString() ==
                    published_rules().vocabulary(column.info->words).words[column.code(row)].key);
            }
        }
    }
}

TEST_CASE("no key stands twice in a row of the ranking JSON") {
    const Plant plant = assemble({.segments = {segment_cells("S-1")}}, published_rules());
    const auto document =
        parsed(ranking_json(plant, published_rules(), rank(plant, published_rules()), 0));
    const auto& row = member(document, "rows")->value[0];
    for (auto a = row.MemberBegin(); a != row.MemberEnd(); ++a) {
        for (auto b = a + 1; b != row.MemberEnd(); ++b) CHECK(a->name != b->name);
    }
}

TEST_CASE("ranking JSON holds the first rows when asked, and an empty ranking is a document too") {
    const Plant plant = sample_plant(published_rules());
    const Ranking ranking = rank(plant, published_rules());
    const auto ten = parsed(ranking_json(plant, published_rules(), ranking, 10));
    CHECK(member(ten, "rows")->value.Size() == 10);
    CHECK(member(ten, "ranked")->value.GetUint64() == ranking.rows());
    const Plant stainless =
        assemble({.segments = {segment_cells("A-1", {{"material", "duplex_stainless"}})}},
                 published_rules());
    const auto none =
        parsed(ranking_json(stainless, published_rules(), rank(stainless, published_rules()), 0));
    CHECK(member(none, "rows")->value.Empty());
    CHECK(text_of(member(none, "not_ranked")->value[0], "segment") == "A-1");
}

TEST_CASE("texts that JSON must escape come back as they were") {
    const std::string name = "a\"b\\c\t\x01\u00e9";
    const Plant plant = assemble({.segments = {segment_cells(name)}}, published_rules());
    const Ranking ranking = rank(plant, published_rules());
    const auto ranked = parsed(ranking_json(plant, published_rules(), ranking, 0));
    CHECK(text_of(member(ranked, "rows")->value[0], "segment") == name);
    const auto told = parsed(explain_json(explain(plant, published_rules(), ranking, 0)));
    CHECK(text_of(told, "segment") == name);
}

TEST_CASE("explanation JSON: parses for every row of the sample plant, numbers are the columns'") {
    const Plant plant = sample_plant(published_rules());
    const Ranking ranking = rank(plant, published_rules());
    for (std::uint32_t row = 0; row < ranking.rows(); ++row) {
        const Explanation told = explain(plant, published_rules(), ranking, row);
        CAPTURE(told.segment);
        const auto document = parsed(explain_json(told));
        REQUIRE(text_of(document, "segment") == told.segment);
        REQUIRE(member(document, "rank")->value.GetUint64() == told.rank);
        REQUIRE(member(document, "assumptions")->value.GetUint64() == ranking.assumptions[row]);
        REQUIRE(member(document, "inspections")->value.Size() == told.inspections.size());
        const auto& quantities = member(document, "quantities")->value;
        std::vector<ColumnView> columns = ranking.views();
        std::erase_if(columns, [&](const ColumnView& column) { return !column.covers(row); });
        REQUIRE(quantities.Size() == columns.size());
        for (rapidjson::SizeType i = 0; i < quantities.Size(); ++i) {
            const auto& quantity = quantities[i];
            REQUIRE(text_of(quantity, "key") == columns[i].info->key);
            if (columns[i].codes.empty()) {
                require_same(member(quantity, "value")->value, columns[i].number(row));
            } else {
                REQUIRE(text_of(quantity, "word") == told.quantities[i].word);
            }
            REQUIRE(member(quantity, "inputs")->value.Size() == told.quantities[i].inputs.size());
            REQUIRE(member(quantity, "rules")->value.Size() == told.quantities[i].rules.size());
        }
    }
}

TEST_CASE("check JSON parses and counts the gaps") {
    const Plant plant = sample_plant(published_rules());
    const auto gaps = find_gaps(plant, published_rules(), fields_read(published_rules()));
    const auto document = parsed(check_json(Report{}, gaps, plant.segments.rows()));
    CHECK(member(document, "segments")->value.GetUint64() == plant.segments.rows());
    CHECK(member(document, "gaps")->value.Size() == gaps.size());
}

}  // namespace
}  // namespace lagline
