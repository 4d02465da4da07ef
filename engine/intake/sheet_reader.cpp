#include "intake/sheet_reader.h"

#include <algorithm>
#include <map>
#include <memory>
#include <mutex>
#include <optional>

#include "diagnostics/nearest.h"
#include "diagnostics/text.h"
#include "intake/cell.h"
#include "intake/csv.h"
#include "intake/heading.h"
#include "intake/source_file.h"
#include "plant/field.h"
#include "quantity/pipe_size.h"

namespace lagline {
namespace {

// Blocks of rows are read on several threads but their findings are told in the order of the file.
class InOrder {
  public:
    explicit InOrder(Report& into) : into_(into) {}
    void add(std::size_t block, Report found) {
        const std::lock_guard lock{mutex_};
        waiting_.emplace(block, std::move(found));
        while (!waiting_.empty() && waiting_.begin()->first == next_) {
            into_.merge(std::move(waiting_.begin()->second));
            waiting_.erase(waiting_.begin());
            ++next_;
        }
    }

  private:
    Report& into_;
    std::mutex mutex_;
    std::map<std::size_t, Report> waiting_;
    std::size_t next_ = 0;
};

struct BareNumbers {
    std::size_t count = 0;
    std::uint32_t first_line = 0;
};

class BlockReader {
  public:
    BlockReader(Sheet& sheet, const SheetContext& context, const std::vector<ColumnPlan>& plans,
                Report& report)
        : sheet_(sheet), context_(context), plans_(plans), report_(report), bare_(plans.size()) {
        filled_.resize(sheet.fields().size());
    }

    void read_row(std::size_t row) {
        row_ = row;
        cells_.clear();
        faults_.clear();
        split_record(sheet_.source.bytes, sheet_.row_offsets[row], cells_, faults_);
        for (const CsvFault& fault : faults_) {
            add(Problem::csv_quote, "", fault.offset, 1, fault.found, "fields as RFC 4180 has them",
                fault.mend);
        }
        if (!check_count()) return;
        filled_.assign(filled_.size(), false);
        schedule_ = {};
        for (std::size_t i = 0; i < plans_.size(); ++i) read_column(plans_[i], i);
        look_up_schedule();
        check_needed();
    }

    [[nodiscard]] const std::vector<BareNumbers>& bare() const { return bare_; }
    [[nodiscard]] std::vector<std::shared_ptr<const std::string>>& arena() { return arena_; }

  private:
    bool check_count() {
        // Spreadsheets leave commas behind the last column: cells without content do no harm.
        while (cells_.size() > plans_.size() && cells_.back().text.empty()) cells_.pop_back();
        if (cells_.size() == plans_.size()) return true;
        const bool more = cells_.size() > plans_.size();
        const std::size_t at = more ? cells_[plans_.size()].offset : cells_.back().offset;
        add(Problem::csv_field_count, "", at, 1, std::to_string(cells_.size()) + " fields",
            std::to_string(plans_.size()) + " fields, as in the heading",
            more ? "put texts that hold a comma in quotes, or remove what is too much"
                 : "add the missing fields; an unknown value is an empty field");
        return false;
    }

    void read_column(const ColumnPlan& plan, std::size_t i) {
        const CsvCell& cell = cells_[i];
        std::string_view text = trimmed(cell.text);
        if (cell.doubled) text = kept(undoubled(text));
        if (plan.field == nullptr) {
            if (plan.site_index < sheet_.site_columns.size()) {
                sheet_.site_columns[plan.site_index].texts[row_] = text;
            }
            return;
        }
        if (plan.field_index == index_of(SegmentField::nominal_wall) && is_segments() &&
            looks_like_schedule(text)) {
            schedule_ = {text, cell.offset, plan.field_index};
            filled_[plan.field_index] = true;
            return;
        }
        const CellReading reading = read_cell(plan, text, context_.money);
        switch (reading.outcome) {
            case CellReading::Outcome::empty:
                return;
            case CellReading::Outcome::value:
                store_reading(sheet_.column(plan.field_index), *plan.field, reading, text, row_,
                              reading.imprecise ? CellState::imprecise : CellState::given);
                break;
            case CellReading::Outcome::bare_number:
                count_bare(i);
                break;
            case CellReading::Outcome::fault:
                add(reading.problem, plan.field->key, cell.offset,
                    std::max<std::size_t>(1, cell.text.size() + (cell.quoted ? 2 : 0)),
                    reading.found, reading.expected, reading.mend);
                break;
        }
        filled_[plan.field_index] = true;
    }

    void count_bare(std::size_t i) {
        if (bare_[i].count++ == 0) bare_[i].first_line = sheet_.row_lines[row_];
    }

    // A wall given as a schedule needs the size of the same row, whichever comes first.
    void look_up_schedule() {
        if (schedule_.text.empty()) return;
        const auto size_field = index_of(SegmentField::nominal_size);
        if (sheet_.state(size_field, row_) == CellState::absent) return;  // reported on its own
        const std::uint8_t size = sheet_.column(size_field).codes[row_];
        const auto wall = schedule_wall_mm(size, schedule_.text);
        if (!wall) {
            add(Problem::unknown_word, "nominal_wall", schedule_.offset, schedule_.text.size(),
                "'" + printable(schedule_.text) + "' at " + to_string(pipe_sizes()[size]),
                "a schedule that ASME B36.10 or B36.19 has for this size",
                "correct the schedule, or give the wall in mm");
            return;
        }
        SheetColumn& column = sheet_.column(schedule_.field);
        column.numbers[row_] = *wall;
        column.states[row_] = CellState::given;
    }

    void check_needed() {
        for (std::size_t i = 0; i < plans_.size(); ++i) {
            const FieldInfo* field = plans_[i].field;
            if (field == nullptr || !field->needed || filled_[plans_[i].field_index]) continue;
            add(Problem::missing_value, field->key, cells_[i].offset, 1, "an empty cell",
                std::string{field->meaning} + ", e.g. " + std::string{field->example},
                "fill the cell");
        }
    }

    [[nodiscard]] bool is_segments() const {
        return sheet_.fields().data() == segment_fields().data();
    }

    std::string_view kept(std::string text) {
        arena_.push_back(std::make_shared<const std::string>(std::move(text)));
        return *arena_.back();
    }

    void add(Problem problem, std::string_view subject, std::size_t offset, std::size_t width,
             std::string found, std::string expected, std::string mend) {
        Diagnostic diagnostic{.problem = problem,
                              .where = {sheet_.source.file, 0, 0},
                              .subject = std::string{subject},
                              .found = std::move(found),
                              .expected = std::move(expected),
                              .mend = std::move(mend),
                              .excerpt = {}};
        if (!report_.full()) {
            diagnostic.where = place_from(sheet_.source, sheet_.row_offsets[row_],
                                          static_cast<int>(sheet_.row_lines[row_]), offset);
            diagnostic.excerpt = excerpt_at(sheet_.source, offset, width);
        }
        report_.add(std::move(diagnostic));
    }

    struct Schedule {
        std::string_view text;
        std::size_t offset = 0;
        std::size_t field = 0;
    };

    Sheet& sheet_;
    const SheetContext& context_;
    const std::vector<ColumnPlan>& plans_;
    Report& report_;
    std::vector<BareNumbers> bare_;
    std::vector<CsvCell> cells_;
    std::vector<CsvFault> faults_;
    std::vector<bool> filled_;
    std::vector<std::shared_ptr<const std::string>> arena_;
    Schedule schedule_;
    std::size_t row_ = 0;
};

void report_bare(const Sheet& sheet, const ColumnPlan& plan, const BareNumbers& bare,
                 Report& report) {
    report.add({.problem = Problem::missing_unit,
                .where = place_at(sheet.source, plan.offset),
                .subject = std::string{plan.field->key},
                .found = std::to_string(bare.count) + " number" + (bare.count == 1 ? "" : "s") +
                         " without a unit, the first in line " + std::to_string(bare.first_line),
                .expected = "a unit in the heading or in each cell (" +
                            listing(unit_symbols(plan.field->dimension)) + ")",
                .mend = "write the heading as " +
                        (plan.field->dimension == Dimension::money
                             ? std::string{plan.field->key} + " [" + plan.stored.symbol + "]"
                             : heading_of(*plan.field)) +
                        " if that is the unit of the numbers",
                .excerpt = excerpt_at(sheet.source, plan.offset,
                                      std::max<std::size_t>(1, plan.heading.size()))});
}

struct BlockResult {
    std::vector<BareNumbers> bare;
    std::vector<std::shared_ptr<const std::string>> arena;
};

void read_rows(Sheet& sheet, const SheetContext& context, const std::vector<ColumnPlan>& plans,
               Report& report) {
    InOrder findings{report};
    std::vector<BlockResult> results;
    const std::size_t step = std::max<std::size_t>(1, context.plan.block_rows);
    results.resize((sheet.rows() + step - 1) / step);
    for_each_block(sheet.rows(), context.plan, [&](std::size_t block, RowRange range) {
        Report found;
        BlockReader reader{sheet, context, plans, found};
        for (std::size_t row = range.begin; row < range.end; ++row) reader.read_row(row);
        results[block] = {reader.bare(), std::move(reader.arena())};
        findings.add(block, std::move(found));
    });
    for (std::size_t i = 0; i < plans.size(); ++i) {
        BareNumbers all;
        for (const BlockResult& result : results) {
            if (all.count == 0) all.first_line = result.bare[i].first_line;
            all.count += result.bare[i].count;
        }
        if (all.count > 0) report_bare(sheet, plans[i], all, report);
    }
    for (BlockResult& result : results) {
        std::ranges::move(result.arena, std::back_inserter(sheet.arena));
    }
}

}  // namespace

void read_sheet(Sheet& sheet, SourceText source, const SheetContext& context, Report& report) {
    sheet.source = std::move(source);
    CsvRecords records = find_records(sheet.source, report);
    if (records.offsets.empty()) return;  // commas and blanks only: nothing was said
    std::vector<CsvCell> heading;
    std::vector<CsvFault> faults;
    split_record(sheet.source.bytes, records.offsets.front(), heading, faults);
    for (const CsvFault& fault : faults) {
        report.add({.problem = Problem::csv_quote,
                    .where = place_at(sheet.source, fault.offset),
                    .subject = "",
                    .found = fault.found,
                    .expected = "fields as RFC 4180 has them",
                    .mend = fault.mend,
                    .excerpt = excerpt_at(sheet.source, fault.offset, 1)});
    }
    sheet.row_offsets.assign(records.offsets.begin() + 1, records.offsets.end());
    sheet.row_lines.assign(records.lines.begin() + 1, records.lines.end());
    sheet.set_rows(sheet.row_offsets.size());
    const auto plans = read_headings(sheet, heading, context, report);
    read_rows(sheet, context, plans, report);
}

}  // namespace lagline
