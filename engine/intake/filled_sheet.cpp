#include "intake/filled_sheet.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <stdexcept>
#include <tuple>
#include <vector>

#include "diagnostics/text.h"
#include "intake/added_rows.h"
#include "intake/cell_place.h"
#include "intake/csv.h"
#include "intake/sheet_reader.h"
#include "intake/source_file.h"

namespace lagline {
namespace {

using I = InspectionField;

// What may stand in a row before anybody has been there.
constexpr std::array filled_before{I::segment, I::technique, I::coverage, I::report};
// A number that went through another unit may differ by its rounding.
constexpr double rounding = 1e-9;

bool is_filled_before(std::size_t field) {
    return std::ranges::any_of(filled_before, [&](I known) { return index_of(known) == field; });
}

std::string_view name_in(const InspectionSheet& sheet, std::size_t row) {
    return sheet.has(I::segment, row) ? sheet.texts(I::segment)[row] : std::string_view{};
}

bool is_blank(const InspectionSheet& sheet, std::size_t row) {
    for (std::size_t field = 0; field < sheet.fields().size(); ++field) {
        if (is_filled_before(field)) continue;
        if (!trimmed(cell_text(sheet, field, row)).empty()) return false;
    }
    return !name_in(sheet, row).empty();
}

// Takes back the apostrophe that was put before a name a spreadsheet would run (csv_text.h).
void unmask_name(const InspectionSheet& sheet, std::size_t row, std::string& bytes) {
    const std::string_view name = name_in(sheet, row);
    if (name.size() < 2 || name.front() != '\'') return;
    if (std::string_view{"=+-@"}.find(name[1]) == std::string_view::npos) return;
    std::vector<CsvCell> cells;
    std::vector<CsvFault> faults;
    split_record(sheet.source.bytes, sheet.row_offsets[row], cells, faults);
    const CsvCell& cell = cells[static_cast<std::size_t>(sheet.column(I::segment).file_column)];
    bytes[bytes.find('\'', cell.offset)] = ' ';
}

// Blanks out a record; lines and places of the others stay.
void blank_out(const InspectionSheet& sheet, std::size_t row, std::string& bytes) {
    const std::size_t begin = sheet.row_offsets[row];
    const std::size_t end =
        row + 1 < sheet.rows() ? sheet.row_offsets[row + 1] : sheet.source.bytes.size();
    for (std::size_t i = begin; i < end; ++i) {
        if (bytes[i] != '\n' && bytes[i] != '\r') bytes[i] = ' ';
    }
}

class SheetCheck {
  public:
    SheetCheck(const PlantSources& sources, SourceText filled, const RuleSet& rules,
               const LoadOptions& options)
        : sources_(sources), rules_(rules), options_(options), filled_(std::move(filled)) {
        const auto map = sources.maps.find("inspections.csv");
        if (map != sources.maps.end()) map_ = map->second;
        money_ = {sources.file.description.currency, sources.file.description.exchange,
                  sources.file.currency_known};
    }

    FilledSheet check() {
        find_blank_rows();
        read_as_inspections();
        check_days();
        check_doubles();
        add_warnings();
        made_.report.sort();
        if (made_.report.ok() && made_.sheet.rows() > 0) add_rows();
        return std::move(made_);
    }

  private:
    [[nodiscard]] SheetContext context() const { return {rules_, map_, money_, options_.plan}; }

    void find_blank_rows() {
        InspectionSheet raw{inspection_fields()};
        Report ignored;  // the rows that stay are read again
        read_sheet(raw, filled_, context(), ignored);
        std::string bytes{filled_.bytes};
        for (std::size_t row = 0; row < raw.rows(); ++row) {
            unmask_name(raw, row, bytes);
            if (!is_blank(raw, row)) continue;
            made_.blank.push_back({raw.row_lines[row], std::string{name_in(raw, row)}});
            blank_out(raw, row, bytes);
        }
        filled_ = source_of(std::move(bytes), filled_.file);
    }

    // The findings in place of inspections.csv: all that is wrong with them, and what is wrong
    // elsewhere.
    void read_as_inspections() {
        PlantSources alone = sources_;
        alone.inspections = filled_;
        const LoadedPlant loaded = assemble_plant(std::move(alone), rules_, options_, {});
        for (const Diagnostic& each : loaded.report.diagnostics()) {
            if (each.severity == Severity::error)
                made_.report.add(each);
            else if (each.where.file == filled_.file)
                warnings_.push_back(each);
        }
        Report told;
        read_sheet(made_.sheet, filled_, context(), told);
        if (!sources_.inspections) return;
        read_sheet(recorded_, *sources_.inspections, context(), told);
    }

    // What intake warns of in a cell that is refused here has been said already.
    void add_warnings() {
        for (Diagnostic& each : warnings_) {
            const bool refused =
                std::ranges::any_of(made_.report.diagnostics(), [&](const Diagnostic& error) {
                    return error.where == each.where && error.subject == each.subject;
                });
            if (!refused) made_.report.add(std::move(each));
        }
    }

    void check_days() {
        const InspectionSheet& sheet = made_.sheet;
        for (std::size_t row = 0; row < sheet.rows(); ++row) {
            if (!sheet.has(I::date, row)) continue;
            const Date day{sheet.days(I::date)[row]};
            if (day <= options_.today) continue;
            add_at_cell(made_.report, sheet, index_of(I::date), row, Severity::error,
                        Problem::contradiction, to_string(day),
                        "a day up to today, " + to_string(options_.today),
                        "correct the day; --today gives another one to count from");
        }
    }

    struct Recorded {
        const InspectionSheet* sheet = nullptr;
        std::size_t row = 0;
    };
    using Inspection = std::tuple<std::string_view, std::int32_t, std::uint8_t>;

    [[nodiscard]] static std::optional<Inspection> inspection(const InspectionSheet& sheet,
                                                              std::size_t row) {
        for (const I field : {I::segment, I::date, I::technique}) {
            if (!sheet.has(field, row)) return std::nullopt;
        }
        return Inspection{sheet.texts(I::segment)[row], sheet.days(I::date)[row],
                          sheet.codes(I::technique)[row]};
    }

    void check_doubles() {
        std::map<Inspection, Recorded> known;
        for (std::size_t row = 0; row < recorded_.rows(); ++row) {
            if (const auto each = inspection(recorded_, row))
                known.emplace(*each, Recorded{&recorded_, row});
        }
        for (std::size_t row = 0; row < made_.sheet.rows(); ++row) {
            const auto each = inspection(made_.sheet, row);
            if (!each) continue;
            const auto [first, fresh] = known.emplace(*each, Recorded{&made_.sheet, row});
            if (!fresh) refuse_double(row, first->second);
        }
    }

    void refuse_double(std::size_t row, const Recorded& other) {
        const std::string place =
            other.sheet->source.file + ":" + std::to_string(other.sheet->row_lines[other.row]);
        const auto differs = different_field(row, other);
        if (!differs) {
            add_at_cell(made_.report, made_.sheet, index_of(I::segment), row, Severity::error,
                        Problem::duplicate_key, "an inspection that stands already in " + place,
                        "each inspection once", "remove the row, or empty its cells");
            return;
        }
        add_at_cell(made_.report, made_.sheet, *differs, row, Severity::error,
                    Problem::contradiction, value(made_.sheet, *differs, row),
                    value(*other.sheet, *differs, other.row) + ", as in " + place +
                        ", for the same segment, day and technique",
                    "correct one of the two; findings of one day and technique are one row, with "
                    "the least thickness and the whole coverage");
    }

    [[nodiscard]] std::string value(const InspectionSheet& sheet, std::size_t field,
                                    std::size_t row) const {
        std::string_view word;
        const FieldInfo& info = sheet.fields()[field];
        if (sheet.state(field, row) == CellState::absent) return "nothing";
        if (info.kind == FieldKind::word) {
            word = rules_.vocabulary(info.words).words[sheet.column(field).codes[row]].key;
        }
        return printable(value_text(sheet, field, row, word));
    }

    [[nodiscard]] std::optional<std::size_t> different_field(std::size_t row,
                                                             const Recorded& other) const {
        for (std::size_t field = 0; field < made_.sheet.fields().size(); ++field) {
            if (!same_cell(made_.sheet, row, *other.sheet, other.row, field)) return field;
        }
        return std::nullopt;
    }

    [[nodiscard]] static bool same_cell(const InspectionSheet& a, std::size_t row_a,
                                        const InspectionSheet& b, std::size_t row_b,
                                        std::size_t field) {
        const bool there = a.state(field, row_a) != CellState::absent;
        if (there != (b.state(field, row_b) != CellState::absent)) return false;
        if (!there) return true;
        const SheetColumn& of_a = a.Sheet::column(field);
        const SheetColumn& of_b = b.Sheet::column(field);
        switch (a.fields()[field].kind) {
            case FieldKind::text:
                return of_a.texts[row_a] == of_b.texts[row_b];
            case FieldKind::quantity:
                return std::abs(of_a.numbers[row_a] - of_b.numbers[row_b]) <=
                       rounding * std::max(1.0, std::abs(of_a.numbers[row_a]));
            case FieldKind::date:
                return of_a.days[row_a] == of_b.days[row_b];
            case FieldKind::word:
            case FieldKind::flag:
            case FieldKind::pipe_size:
                return of_a.codes[row_a] == of_b.codes[row_b];
        }
        return false;
    }

    // Behind inspections.csv, and read back from there: what is to be written is what was meant.
    void add_rows() {
        auto added = rows_to_add(made_.sheet, sources_.inspections, context(), made_.report);
        if (!added) return;
        made_.added = std::move(*added);
        PlantSources all = sources_;
        const std::string before{all.inspections ? all.inspections->bytes : std::string_view{}};
        const std::string file =
            all.inspections ? all.inspections->file : sources_.folder + "/inspections.csv";
        all.inspections = source_of(before + made_.added, file);
        LoadedPlant loaded = assemble_plant(std::move(all), rules_, options_, {});
        if (!loaded.plant) throw std::runtime_error("the findings cannot be added to " + file);
        const InspectionSheet& together = loaded.plant->inspections;
        const std::size_t first = together.rows() - made_.sheet.rows();
        for (std::size_t row = 0; row < made_.sheet.rows(); ++row) {
            for (std::size_t field = 0; field < together.fields().size(); ++field) {
                if (same_cell(made_.sheet, row, together, first + row, field)) continue;
                throw std::runtime_error("the findings would not read back from " + file);
            }
        }
        made_.plant = std::move(loaded.plant);
    }

    const PlantSources& sources_;
    const RuleSet& rules_;
    const LoadOptions& options_;
    SourceText filled_;
    ColumnMap map_;
    PlantMoney money_;
    std::vector<Diagnostic> warnings_;  ///< of the findings, by intake
    InspectionSheet recorded_{inspection_fields()};
    FilledSheet made_;
};

}  // namespace

Report FilledSheet::of_added(const Report& found) const {
    Report told;
    if (!plant) return told;
    const InspectionSheet& together = plant->inspections;
    const std::size_t first = together.rows() - sheet.rows();
    for (const Diagnostic& each : found.diagnostics()) {
        if (each.where.file != together.source.file) continue;
        const auto line = static_cast<std::uint32_t>(each.where.line);
        const auto at = std::ranges::find(together.row_lines, line);
        const auto field = find_field(sheet.fields(), each.subject);
        const auto row = static_cast<std::size_t>(at - together.row_lines.begin());
        if (at == together.row_lines.end() || row < first || !field) continue;
        add_at_cell(told, sheet, *field, row - first, each.severity, each.problem, each.found,
                    each.expected, each.mend);
    }
    return told;
}

FilledSheet check_filled(const PlantSources& sources, const SourceText& filled,
                         const RuleSet& rules, const LoadOptions& options) {
    return SheetCheck{sources, filled, rules, options}.check();
}

}  // namespace lagline
