#include "report/data_dictionary.h"

#include <span>

#include "blocks/number_text.h"
#include "plant/field.h"
#include "ranking/ranking.h"
#include "report/ranking_rows.h"
#include "ruleset/formula.h"

namespace lagline {
namespace {

std::string escaped(std::string_view text) {
    std::string cell;
    for (const char c : text) {
        if (c == '|') cell += '\\';
        cell += c;
    }
    return cell;
}

std::string kind_of(const FieldInfo& field) {
    switch (field.kind) {
        case FieldKind::text:
            return "text";
        case FieldKind::word:
            return "word: [" + std::string{field.words} + "](#" + std::string{field.words} + ")";
        case FieldKind::flag:
            return "yes or no";
        case FieldKind::date:
            return "date, " + std::to_string(first_date_year) + " to " +
                   std::to_string(last_date_year);
        case FieldKind::pipe_size:
            return "nominal size";
        case FieldKind::quantity:
            return "number, " + exact_number(field.least) + " to " + exact_number(field.most);
    }
    return "";
}

void append_fields(std::string& text, std::string_view file, std::span<const FieldInfo> fields) {
    text.append("\n## ").append(file).append("\n\n");
    text += "| column | holds | needed | where empty | meaning | example |\n";
    text += "|---|---|---|---|---|---|\n";
    for (const FieldInfo& field : fields) {
        const std::string heading =
            field.dimension == Dimension::money && field.kind == FieldKind::quantity
                ? std::string{field.key} + " [currency]"
                : heading_of(field);
        text += "| `" + heading + "` | " + kind_of(field) + " | " + (field.needed ? "yes" : "no") +
                " | " + escaped(field.absent) + " | " + escaped(field.meaning) + " | `" +
                escaped(field.example) + "` |\n";
    }
}

void append_outputs(std::string& text, const RuleSet& rules) {
    Ranking one_each;
    one_each.resize({1, 1}, models_of(rules));
    text +=
        "\n## Columns of the ranking\n\n"
        "One row per segment and mechanism, in the order of rank. Besides the columns below the "
        "CSV "
        "has `rank`, `segment`, `line`, `unit`, `mechanism` in front and `assumptions` (count of "
        "assumed inputs) and `currency` (of every amount of money in the row) behind.\n\n"
        "| column | symbol | meaning | equation | formula | source |\n|---|---|---|---|---|---|\n";
    for (const ColumnView& column : one_each.views()) {
        const QuantityInfo& info = *column.info;
        text += "| `" + csv_heading(info) + "` | " + escaped(info.symbol) + " | " +
                escaped(info.meaning) + " | " + std::string{info.equation} + " | " +
                escaped(formula_in_force(info, rules)) + " | " + escaped(info.source) + " |\n";
    }
}

void append_words(std::string& text, const RuleSet& rules) {
    text += "\n## Words\n\nThe words come from the rule set; a site overlay may add to them.\n";
    for (const auto& [name, vocabulary] : rules.vocabularies) {
        text += "\n### " + name + "\n\n";
        for (const Word& word : vocabulary.words) {
            text += "- `" + word.key + "`: " + word.meaning + "\n";
        }
    }
}

}  // namespace

std::string data_dictionary(const RuleSet& rules) {
    std::string text =
        "# Data dictionary\n\n"
        "Made by `lagline dictionary`; a test fails when this page is stale. Do not edit it.\n\n"
        "A heading carries its unit in brackets, and any unit of the same kind will do: "
        "`operating_temperature [degF]`. A cell may carry its own unit: `93 degC`. The unit shown "
        "here is "
        "the one of calculation. An empty cell means: not known.\n";
    append_fields(text, "segments.csv", segment_fields());
    append_fields(text, "inspections.csv", inspection_fields());
    append_fields(text, "turnarounds.csv", turnaround_fields());
    append_fields(text, "overrides.csv", override_fields());
    append_outputs(text, rules);
    append_words(text, rules);
    return text;
}

}  // namespace lagline
