#include "intake/heading.h"

#include <algorithm>
#include <set>
#include <unordered_map>

#include "diagnostics/nearest.h"
#include "diagnostics/text.h"
#include "intake/source_file.h"

namespace lagline {
namespace {

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
        : sheet_(sheet), context_(context), report_(report), places_(sheet.source) {}

    ColumnPlan read(const CsvCell& cell, int position) {
        ColumnPlan plan;
        plan.heading = cell.doubled ? undoubled(cell.text) : std::string{trimmed(cell.text)};
        plan.offset = cell.offset;
        const auto mapped = context_.map.headings.find(plan.heading);
        const SplitHeading parts =
            split_heading(mapped != context_.map.headings.end() ? mapped->second : plan.heading);
        const auto field = find_field(sheet_.fields(), parts.key);
        if (!field) {
            // A mapping to nothing has been reported where it stands.
            read_site_column(plan, parts, position, mapped == context_.map.headings.end());
            return plan;
        }
        SheetColumn& column = sheet_.column(*field);
        if (column.file_column >= 0) {
            plan.field = &sheet_.fields()[*field];
            plan.field_index = *field;
            plan.ignored = true;
            refuse_double(plan, column.file_column);
            return plan;
        }
        plan = merged(std::move(plan),
                      plan_of(sheet_.fields()[*field], *field, context_.rules, context_.money));
        column.file_column = position;
        sheet_.make_room(*field);
        read_unit(plan, parts);
        add_site_words(plan, context_.map);
        return plan;
    }

    /// Which of two columns of a name is meant nobody knows: neither is read.
    static void ignore_doubled(std::vector<ColumnPlan>& plans) {
        std::set<std::size_t> doubled;
        for (const ColumnPlan& plan : plans) {
            if (plan.ignored) doubled.insert(plan.field_index);
        }
        for (ColumnPlan& plan : plans) {
            if (plan.field != nullptr) plan.ignored = doubled.contains(plan.field_index);
        }
    }

    void check_needed(const std::vector<ColumnPlan>& plans) {
        std::ranges::sort(misspelt_);
        for (std::size_t i = 0; i < sheet_.fields().size(); ++i) {
            const FieldInfo& field = sheet_.fields()[i];
            if (!field.needed || sheet_.column(i).file_column >= 0) continue;
            // A misspelt heading has been told as such.
            if (!std::ranges::binary_search(misspelt_, i)) report_missing(field, plans);
        }
    }

  private:
    static ColumnPlan merged(ColumnPlan heading, ColumnPlan plan) {
        plan.heading = std::move(heading.heading);
        plan.offset = heading.offset;
        return plan;
    }

    void add(Problem problem, const ColumnPlan& plan, std::string found, std::string expected,
             std::string mend) {
        Diagnostic diagnostic{.problem = problem,
                              .where = {sheet_.source.file, 0, 0},
                              .subject = plan.heading,
                              .found = std::move(found),
                              .expected = std::move(expected),
                              .mend = std::move(mend),
                              .excerpt = {}};
        if (!report_.full()) {
            diagnostic.where = places_.at(plan.offset);
            diagnostic.excerpt = excerpt_at(sheet_.source, plan.offset,
                                            std::max<std::size_t>(1, plan.heading.size()));
        }
        report_.add(std::move(diagnostic));
    }

    void refuse_double(const ColumnPlan& plan, int first) {
        add(Problem::duplicate_column, plan,
            "a second column " + std::string{plan.field->key} + " (the first is column " +
                std::to_string(first + 1) + ")",
            "each column once", "remove or rename one of the two");
    }

    void read_site_column(ColumnPlan& plan, const SplitHeading& heading, int position,
                          bool check_spelling) {
        if (plan.heading.empty()) {
            add(Problem::unknown_column, plan, "a column without a heading",
                "a heading for each column", "name the column, or remove it");
            return;
        }
        if (const auto [first, fresh] = site_positions_.emplace(plan.heading, position); !fresh) {
            add(Problem::duplicate_column, plan,
                "a second column " + printable(plan.heading) + " (the first is column " +
                    std::to_string(first->second + 1) + ")",
                "each column once", "remove or rename one of the two");
            return;
        }
        if (check_spelling) refuse_near_miss(plan, heading.key);
        plan.site_index = sheet_.site_columns.size();
        sheet_.site_columns.push_back({plan.heading, {}, position});
    }

    // A near miss is far more often a slip than a column of the site's own, and a column that is
    // passed over in silence turns into defaults.
    void refuse_near_miss(const ColumnPlan& plan, const std::string& key) {
        const auto known = keys_of(sheet_.fields());
        const auto meant = nearest(key, known);
        if (!meant || context_.map.keep.contains(plan.heading)) return;
        misspelt_.push_back(find_field(sheet_.fields(), *meant).value());
        add(Problem::unknown_column, plan, "a column '" + printable(key) + "'",
            "a column of " + sheet_.source.file,
            did_you_mean(key, known) +
                " If it is a column of your own, list it under `keep` in columns.yaml");
    }

    void read_unit(ColumnPlan& plan, const SplitHeading& heading) {
        const FieldInfo& field = *plan.field;
        if (!heading.unit) return;
        if (!takes_unit(field) && !(field.kind == FieldKind::quantity)) {
            add(Problem::unit_mismatch, plan, "a unit [" + printable(*heading.unit) + "]",
                "no unit: " + std::string{field.key} + " is not a measure",
                "write the heading as " + std::string{field.key});
            plan.unit_refused = true;
            return;
        }
        const UnitLookup looked = find_unit(*heading.unit, field.dimension, context_.money);
        plan.unit = looked.unit;
        plan.unit_refused = !looked.unit;
        if (plan.unit_refused) {
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

    void report_missing(const FieldInfo& field, const std::vector<ColumnPlan>& plans) {
        std::vector<std::string_view> strangers;
        for (const ColumnPlan& plan : plans) {
            if (plan.field == nullptr) strangers.push_back(plan.heading);
        }
        const auto meant = nearest(field.key, strangers);
        std::string mend =
            meant ? "rename the column '" + printable(*meant) + "' to " + heading_of(field)
                  : "add the column, or map your heading in columns.yaml";
        if (!meant && !strangers.empty()) {
            mend += "; headings not known: " + printable(listing(strangers, 6), 200);
        }
        const std::size_t offset = plans.empty() ? 0 : plans.front().offset;
        report_.add({.problem = Problem::missing_column,
                     .where = places_.at(offset),
                     .subject = std::string{field.key},
                     .found = "no column " + std::string{field.key},
                     .expected = heading_of(field) + ": " + std::string{field.meaning},
                     .mend = std::move(mend),
                     .excerpt = {}});
    }

    Sheet& sheet_;
    const SheetContext& context_;
    Report& report_;
    PlaceFinder places_;
    std::unordered_map<std::string, int> site_positions_;
    std::vector<std::size_t> misspelt_;  ///< fields that a refused heading comes near to
};

bool is_ours(const Sheet& sheet, const ColumnMap& map, std::string_view heading) {
    const std::string own{trimmed(heading)};
    return map.headings.contains(own) || map.keep.contains(own) ||
           find_field(sheet.fields(), split_heading(own).key).has_value();
}

std::string_view record_of(const Sheet& sheet, const std::vector<CsvCell>& cells) {
    const std::string_view rest = sheet.source.bytes.substr(cells.front().offset);
    return rest.substr(0, rest.find_first_of("\r\n"));
}

std::size_t count_ours(const Sheet& sheet, const ColumnMap& map, std::string_view record,
                       char separator) {
    std::size_t count = 0;
    while (true) {
        const auto end = std::min(record.find(separator), record.size());
        std::string_view cell = trimmed(record.substr(0, end));
        if (cell.size() > 1 && cell.front() == '"' && cell.back() == '"') {
            cell = cell.substr(1, cell.size() - 2);
        }
        count += is_ours(sheet, map, cell) ? 1U : 0U;
        if (end == record.size()) return count;
        record.remove_prefix(end + 1);
    }
}

Diagnostic heading_fault(const Sheet& sheet, const std::vector<CsvCell>& cells, Problem problem) {
    Diagnostic diagnostic;
    diagnostic.problem = problem;
    diagnostic.where = place_at(sheet.source, cells.front().offset);
    diagnostic.excerpt = excerpt_at(sheet.source, cells.front().offset, 60);
    return diagnostic;
}

void refuse_separator(const Sheet& sheet, const std::vector<CsvCell>& cells, char separator,
                      Report& report) {
    const bool tab = separator == '\t';
    Diagnostic fault = heading_fault(sheet, cells, Problem::csv_field_count);
    fault.found = tab ? "fields apart by tabs" : "fields apart by semicolons";
    fault.expected = "fields apart by commas, and numbers with a decimal point";
    fault.mend =
        tab ? "export it as CSV with commas, not as tab-separated text"
            : "export it as CSV with commas: a spreadsheet set to a European region writes "
              "semicolons and decimal commas; choose \",\" as field separator, or an English "
              "region, when saving";
    report.add(std::move(fault));
}

void refuse_no_heading(const Sheet& sheet, const std::vector<CsvCell>& cells, Report& report) {
    std::vector<std::string_view> needed;
    for (const FieldInfo& field : sheet.fields()) {
        if (field.needed) needed.push_back(field.key);
    }
    Diagnostic fault = heading_fault(sheet, cells, Problem::missing_column);
    fault.found =
        "a first line without any heading that is known here: perhaps the heading row is "
        "missing";
    fault.expected = "a heading row with at least " + listing(needed, 20);
    fault.mend = "put the heading row on top, or map your headings in columns.yaml";
    report.add(std::move(fault));
}

}  // namespace

SplitHeading split_heading(std::string_view heading) {
    const auto open = heading.rfind('[');
    if (open == std::string_view::npos || !heading.ends_with(']')) {
        return {std::string{trimmed(heading)}, std::nullopt};
    }
    return {std::string{trimmed(heading.substr(0, open))},
            std::string{trimmed(heading.substr(open + 1, heading.size() - open - 2))}};
}

void add_site_words(ColumnPlan& plan, const ColumnMap& map) {
    const auto mapped = map.words.find(plan.field->key);
    if (mapped == map.words.end()) return;
    for (const auto& [theirs, ours] : mapped->second) {
        if (const auto at = plan.words.find(ours); at != plan.words.end()) {
            plan.words.emplace(theirs, at->second);
        }
    }
}

bool refuse_heading(const Sheet& sheet, const std::vector<CsvCell>& cells, const ColumnMap& map,
                    Report& report) {
    const auto known = [&](const CsvCell& cell) { return is_ours(sheet, map, cell.text); };
    if (std::ranges::any_of(cells, known)) return false;
    for (const char separator : {';', '\t'}) {
        if (count_ours(sheet, map, record_of(sheet, cells), separator) < 2) continue;
        refuse_separator(sheet, cells, separator, report);
        return true;
    }
    const auto near = [&](const CsvCell& cell) {
        return nearest(split_heading(trimmed(cell.text)).key, keys_of(sheet.fields())).has_value();
    };
    // One column misspelt is told as such; data in place of headings is not worth that.
    if (std::ranges::count_if(cells, near) > 1) return false;
    refuse_no_heading(sheet, cells, report);
    return true;
}

UnitLookup find_unit(std::string_view symbol, Dimension dimension, const PlantMoney& money) {
    // A size in inches is the nominal pipe size.
    if (dimension == Dimension::nominal_size && (symbol == "in" || symbol == "inch"))
        symbol = "NPS";
    UnitLookup looked{parse_unit(symbol, dimension), ""};
    if (!looked.unit || dimension != Dimension::money) return looked;
    const std::string currency = looked.unit->symbol.substr(looked.unit->symbol.size() - 3);
    if (currency == money.currency) return looked;
    if (!money.known) {
        looked.unit->symbol = money.currency;  // told at plant.yaml; the amounts are not used
        return looked;
    }
    const auto rate = money.exchange.find(currency);
    if (rate == money.exchange.end()) {
        return {std::nullopt, "give the price of one " + currency + " in " + money.currency +
                                  " under `exchange` in plant.yaml"};
    }
    looked.unit->scale *= rate->second;
    looked.unit->symbol = money.currency;
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

std::string heading_line(std::span<const FieldInfo> fields) {
    std::string line;
    for (const FieldInfo& field : fields) {
        line.append(line.empty() ? "" : ",").append(heading_of(field));
    }
    return line + "\n";
}

std::vector<ColumnPlan> read_headings(Sheet& sheet, const std::vector<CsvCell>& cells,
                                      const SheetContext& context, Report& report) {
    HeadingReader reader{sheet, context, report};
    std::vector<ColumnPlan> plans;
    plans.reserve(cells.size());
    for (const CsvCell& cell : cells)
        plans.push_back(reader.read(cell, static_cast<int>(plans.size())));
    HeadingReader::ignore_doubled(plans);
    reader.check_needed(plans);
    return plans;
}

}  // namespace lagline
