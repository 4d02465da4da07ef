#include "intake/heading.h"

#include <algorithm>

#include "diagnostics/nearest.h"
#include "diagnostics/text.h"
#include "intake/source_file.h"

namespace lagline {
namespace {

struct SplitHeading {
    std::string key;
    std::optional<std::string> unit;
};

SplitHeading split(std::string_view heading) {
    const auto open = heading.rfind('[');
    if (open == std::string_view::npos || !heading.ends_with(']')) {
        return {std::string{trimmed(heading)}, std::nullopt};
    }
    return {std::string{trimmed(heading.substr(0, open))},
            std::string{trimmed(heading.substr(open + 1, heading.size() - open - 2))}};
}

std::vector<std::string_view> keys_of(std::span<const FieldInfo> fields) {
    std::vector<std::string_view> keys;
    for (const FieldInfo& field : fields) keys.push_back(field.key);
    return keys;
}

bool takes_unit(const FieldInfo& field) {
    return field.kind == FieldKind::pipe_size ||
           (field.kind == FieldKind::quantity && field.dimension != Dimension::number) ||
           field.unit == "%";
}

class HeadingReader {
  public:
    HeadingReader(Sheet& sheet, const SheetContext& context, Report& report)
        : sheet_(sheet), context_(context), report_(report) {}

    ColumnPlan read(const CsvCell& cell, int position) {
        ColumnPlan plan;
        plan.heading = cell.doubled ? undoubled(cell.text) : std::string{trimmed(cell.text)};
        plan.offset = cell.offset;
        const auto mapped = context_.map.headings.find(plan.heading);
        const SplitHeading split_heading =
            split(mapped != context_.map.headings.end() ? mapped->second : plan.heading);
        const auto field = find_field(sheet_.fields(), split_heading.key);
        if (!field) {
            read_site_column(plan, split_heading, position);
            return plan;
        }
        plan = merged(std::move(plan),
                      plan_of(sheet_.fields()[*field], *field, context_.rules, context_.money));
        if (sheet_.column(*field).file_column >= 0) {
            refuse_double(plan, sheet_.column(*field).file_column);
        } else {
            sheet_.column(*field).file_column = position;
            sheet_.allocate(*field);
        }
        read_unit(plan, split_heading);
        add_site_words(plan);
        return plan;
    }

    void check_needed(const std::vector<ColumnPlan>& plans) {
        for (std::size_t i = 0; i < sheet_.fields().size(); ++i) {
            const FieldInfo& field = sheet_.fields()[i];
            if (!field.needed || sheet_.column(i).file_column >= 0) continue;
            report_missing(field, plans);
        }
    }

  private:
    static ColumnPlan merged(ColumnPlan heading, ColumnPlan plan) {
        plan.heading = std::move(heading.heading);
        plan.offset = heading.offset;
        return plan;
    }

    void add(Problem problem, const ColumnPlan& plan, std::string found, std::string expected,
             std::string mend, Severity severity = Severity::error) {
        report_.add({.severity = severity,
                     .problem = problem,
                     .where = place_at(sheet_.source, plan.offset),
                     .subject = plan.heading,
                     .found = std::move(found),
                     .expected = std::move(expected),
                     .mend = std::move(mend),
                     .excerpt = excerpt_at(sheet_.source, plan.offset,
                                           std::max<std::size_t>(1, plan.heading.size()))});
    }

    void refuse_double(const ColumnPlan& plan, int first) {
        add(Problem::duplicate_column, plan,
            "a second column " + std::string{plan.field->key} + " (the first is column " +
                std::to_string(first + 1) + ")",
            "each column once", "remove or rename one of the two");
    }

    void read_site_column(ColumnPlan& plan, const SplitHeading& heading, int position) {
        if (plan.heading.empty()) {
            add(Problem::unknown_column, plan, "a column without a heading",
                "a heading for each column", "name the column, or remove it");
            return;
        }
        const auto known = keys_of(sheet_.fields());
        const auto meant = nearest(heading.key, known);
        // A near miss is far more often a slip than a column of the site's own, and a column that
        // is passed over in silence turns into defaults.
        if (meant && !context_.map.keep.contains(plan.heading)) {
            add(Problem::unknown_column, plan, "a column '" + printable(heading.key) + "'",
                "a column of " + sheet_.source.file,
                did_you_mean(heading.key, known) +
                    " If it is a column of your own, list it under `keep` in columns.yaml");
        }
        for (const SiteColumn& other : sheet_.site_columns) {
            if (other.key != plan.heading) continue;
            add(Problem::duplicate_column, plan, "a second column " + printable(plan.heading),
                "each column once", "remove or rename one of the two");
        }
        plan.site_index = sheet_.site_columns.size();
        sheet_.site_columns.push_back(
            {plan.heading, std::vector<std::string_view>(sheet_.rows()), position});
    }

    void read_unit(ColumnPlan& plan, const SplitHeading& heading) {
        const FieldInfo& field = *plan.field;
        if (!heading.unit) return;
        if (!takes_unit(field) && !(field.kind == FieldKind::quantity)) {
            add(Problem::unit_mismatch, plan, "a unit [" + printable(*heading.unit) + "]",
                "no unit: " + std::string{field.key} + " is not a measure",
                "write the heading as " + std::string{field.key});
            return;
        }
        const UnitLookup looked = find_unit(*heading.unit, field.dimension, context_.money);
        plan.unit = looked.unit;
        if (!looked.unit) {
            refuse_unit(plan, *heading.unit, looked.problem);
        } else if (field.kind == FieldKind::pipe_size) {
            plan.size_system = looked.unit->symbol == "DN" ? SizeSystem::dn : SizeSystem::nps;
        }
    }

    void refuse_unit(ColumnPlan& plan, const std::string& unit, const std::string& why) {
        const Dimension wanted = plan.field->dimension;
        const auto others = dimensions_of(unit);
        const std::string found =
            others.empty() ? "an unknown unit [" + printable(unit) + "]"
                           : "[" + printable(unit) + "], " + std::string{describe(others.front())};
        const std::string expected =
            std::string{describe(wanted)} + (wanted == Dimension::money
                                                 ? " in " + context_.money.currency
                                                 : " (" + listing(unit_symbols(wanted)) + ")");
        add(others.empty() ? Problem::unknown_unit : Problem::unit_mismatch, plan, found, expected,
            why.empty() ? "write the heading as " + heading_of(*plan.field) : why);
    }

    void add_site_words(ColumnPlan& plan) {
        const auto mapped = context_.map.words.find(plan.field->key);
        if (mapped == context_.map.words.end()) return;
        for (const auto& [theirs, ours] : mapped->second) {
            if (const auto at = plan.words.find(ours); at != plan.words.end()) {
                plan.words.emplace(theirs, at->second);
            }
        }
    }

    void report_missing(const FieldInfo& field, const std::vector<ColumnPlan>& plans) {
        std::vector<std::string_view> strangers;
        for (const ColumnPlan& plan : plans) {
            if (plan.field == nullptr) strangers.push_back(plan.heading);
        }
        const auto meant = nearest(field.key, strangers);
        report_.add({.problem = Problem::missing_column,
                     .where = {sheet_.source.file, 1, 1},
                     .subject = std::string{field.key},
                     .found = "no column " + std::string{field.key},
                     .expected = heading_of(field) + ": " + std::string{field.meaning},
                     .mend = meant ? "rename the column '" + std::string{*meant} + "' to " +
                                         heading_of(field)
                                   : "add the column, or map your heading in columns.yaml",
                     .excerpt = {}});
    }

    Sheet& sheet_;
    const SheetContext& context_;
    Report& report_;
};

}  // namespace

UnitLookup find_unit(std::string_view symbol, Dimension dimension, const PlantMoney& money) {
    // A size in inches is the nominal pipe size.
    if (dimension == Dimension::nominal_size && (symbol == "in" || symbol == "inch"))
        symbol = "NPS";
    UnitLookup looked{parse_unit(symbol, dimension), ""};
    if (!looked.unit || dimension != Dimension::money) return looked;
    const std::string currency = looked.unit->symbol.substr(looked.unit->symbol.size() - 3);
    if (currency == money.currency) return looked;
    const auto rate = money.exchange.find(currency);
    if (rate == money.exchange.end()) {
        return {std::nullopt, "give the price of one " + currency + " in " + money.currency +
                                  " under `exchange` in plant.yaml"};
    }
    looked.unit->scale *= rate->second;
    return looked;
}

ColumnPlan plan_of(const FieldInfo& field, std::size_t index, const RuleSet& rules,
                   const PlantMoney& money) {
    ColumnPlan plan;
    plan.field = &field;
    plan.field_index = index;
    if (field.kind == FieldKind::quantity) {
        plan.stored = field.dimension == Dimension::money
                          ? Unit{money.currency, Dimension::money, 1.0, 0.0}
                          : parse_unit(field.unit, field.dimension).value();
    } else if (field.kind == FieldKind::flag) {
        plan.words = {{"no", std::uint8_t{0}}, {"yes", std::uint8_t{1}}};
    } else if (field.kind == FieldKind::word) {
        const Vocabulary& words = rules.vocabulary(field.words);
        for (std::size_t i = 0; i < words.words.size(); ++i) {
            plan.words.emplace(words.words[i].key, static_cast<std::uint8_t>(i));
        }
    }
    return plan;
}

std::vector<ColumnPlan> read_headings(Sheet& sheet, const std::vector<CsvCell>& cells,
                                      const SheetContext& context, Report& report) {
    HeadingReader reader{sheet, context, report};
    std::vector<ColumnPlan> plans;
    plans.reserve(cells.size());
    for (const CsvCell& cell : cells)
        plans.push_back(reader.read(cell, static_cast<int>(plans.size())));
    reader.check_needed(plans);
    return plans;
}

}  // namespace lagline
