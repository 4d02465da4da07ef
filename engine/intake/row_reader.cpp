#include "intake/row_reader.h"

#include <algorithm>
#include <utility>

#include "diagnostics/text.h"
#include "intake/cell.h"
#include "intake/csv.h"
#include "intake/source_file.h"
#include "plant/field.h"
#include "quantity/pipe_size.h"

namespace lagline {
namespace {

class RowReader {
  public:
    RowReader(Sheet& sheet, const SheetContext& context, const std::vector<ColumnPlan>& plans,
              CellCache& cache, bool only_count, RowFindings& found)
        : sheet_(sheet),
          context_(context),
          plans_(plans),
          cache_(cache),
          only_count_(only_count),
          found_(found),
          places_(sheet.source),
          filled_(sheet.fields().size(), nowhere) {
        for (std::size_t i = 0; i < plans.size(); ++i) {
            if (plans[i].field != nullptr && plans[i].field->needed) needed_.push_back(i);
        }
    }

    void read_row(std::size_t row) {
        row_ = row;
        places_.start(sheet_.row_offsets[row], static_cast<int>(sheet_.row_lines[row]));
        if (!split_plain_record(sheet_.source.bytes, sheet_.row_offsets[row], cells_)) split();
        if (!check_count()) return;
        schedule_ = {};
        for (std::size_t i = 0; i < plans_.size(); ++i) {
            if (!read_again(plans_[i], i)) read_column(plans_[i], i);
        }
        look_up_schedule();
        check_needed();
    }

  private:
    static constexpr std::size_t nowhere = ~std::size_t{0};

    void split() {
        faults_.clear();
        split_record(sheet_.source.bytes, sheet_.row_offsets[row_], cells_, faults_);
        for (const CsvFault& fault : faults_) {
            add(Problem::csv_quote, "", fault.offset, 1, fault.found, "fields as RFC 4180 has them",
                fault.mend);
        }
    }

    bool check_count() {
        // Spreadsheets leave commas behind the last column: cells without content do no harm.
        while (cells_.size() > plans_.size() && cells_.back().text.empty()) cells_.pop_back();
        if (cells_.size() == plans_.size()) return true;
        const bool more = cells_.size() > plans_.size();
        const std::size_t at = more ? first_too_many().offset : cells_.back().offset;
        add(Problem::csv_field_count, "", at, 1, std::to_string(cells_.size()) + " fields",
            std::to_string(plans_.size()) + " fields, as in the heading",
            more ? "write decimals with a point, put texts that hold a comma in quotes, or "
                   "remove what is too much"
                 : "add the missing fields; an unknown value is an empty field");
        keep_name();
        return false;
    }

    [[nodiscard]] const CsvCell& first_too_many() const {
        std::size_t at = plans_.size();
        while (cells_[at].text.empty()) ++at;  // the last has content
        return cells_[at];
    }

    // The row is refused, but its segment is not unknown to the other files.
    void keep_name() {
        if (!is_segments()) return;
        const int at = sheet_.column(index_of(SegmentField::segment)).file_column;
        if (at >= 0 && static_cast<std::size_t>(at) < std::min(cells_.size(), plans_.size())) {
            read_column(plans_[static_cast<std::size_t>(at)], static_cast<std::size_t>(at));
        }
    }

    // Takes a cell that says nothing, or what one before it said; false when it is to be read.
    bool read_again(const ColumnPlan& plan, std::size_t i) {
        const CsvCell& cell = cells_[i];
        if (plan.field == nullptr || plan.ignored || cell.quoted) return false;
        if (cell.text.empty()) return true;
        const FieldKind kind = plan.field->kind;
        CellValue nothing;
        const CellValue* value = &nothing;
        if (kind != FieldKind::text) {
            value = cache_.find(i, key_of(cell));
            if (value == nullptr) return false;
        }
        store_value(sheet_.column(plan.field_index), kind, *value, cell.text, row_,
                    value->imprecise ? CellState::imprecise : CellState::given);
        filled_[plan.field_index] = row_;
        return true;
    }

    [[nodiscard]] CellCache::Key key_of(const CsvCell& cell) const {
        const std::string_view bytes = sheet_.source.bytes;
        const auto at = static_cast<std::size_t>(cell.text.data() - bytes.data());
        return CellCache::key_of(cell.text, bytes.size() - at);
    }

    void read_column(const ColumnPlan& plan, std::size_t i) {
        if (plan.ignored) {
            if (plan.field != nullptr) filled_[plan.field_index] = row_;
            return;
        }
        const CsvCell& cell = cells_[i];
        std::string_view text = trimmed(cell.text);
        if (cell.doubled) text = kept(undoubled(text));
        if (plan.field == nullptr) {
            store_site_text(plan, text);
            return;
        }
        if (plan.field_index == index_of(SegmentField::nominal_wall) && is_segments() &&
            looks_like_schedule(text)) {
            schedule_ = {text, cell.offset, plan.field_index};
            filled_[plan.field_index] = row_;
            return;
        }
        const CellReading reading = read_cell(plan, text, context_.money);
        switch (reading.outcome) {
            case CellReading::Outcome::empty:
                return;
            case CellReading::Outcome::value:
                store_value(sheet_.column(plan.field_index), plan.field->kind, reading.value, text,
                            row_,
                            reading.value.imprecise ? CellState::imprecise : CellState::given);
                if (!cell.quoted) cache_.keep(i, key_of(cell), reading.value);
                break;
            case CellReading::Outcome::bare_number:
                count_bare(i);
                break;
            case CellReading::Outcome::fault:
                add(reading.fault->problem, plan.field->key, cell.offset,
                    std::max<std::size_t>(1, cell.text.size() + (cell.quoted ? 2 : 0)),
                    reading.fault->found, reading.fault->expected, reading.fault->mend);
                break;
        }
        filled_[plan.field_index] = row_;
    }

    void store_site_text(const ColumnPlan& plan, std::string_view text) {
        if (!plan.site_index) return;
        auto& texts = sheet_.site_columns[*plan.site_index].texts;
        if (!texts.empty()) texts[row_] = text;
    }

    // A unit that was refused has been told: its numbers are not bare.
    void count_bare(std::size_t i) {
        if (!plans_[i].unit_refused) found_.bare[i].add({1, sheet_.row_lines[row_]});
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
        for (const std::size_t i : needed_) {
            const FieldInfo& field = *plans_[i].field;
            if (filled_[plans_[i].field_index] == row_) continue;
            add(Problem::missing_value, field.key, cells_[i].offset, 1, "an empty cell",
                std::string{field.meaning} + ", e.g. " + std::string{field.example},
                "fill the cell");
        }
    }

    [[nodiscard]] bool is_segments() const {
        return sheet_.fields().data() == segment_fields().data();
    }

    std::string_view kept(std::string text) {
        found_.arena.push_back(std::make_shared<const std::string>(std::move(text)));
        return *found_.arena.back();
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
        if (!only_count_ && !found_.report.full()) {
            diagnostic.where = places_.at(offset);
            diagnostic.excerpt = excerpt_at(sheet_.source, offset, width);
        }
        found_.report.add(std::move(diagnostic));
    }

    struct Schedule {
        std::string_view text;
        std::size_t offset = 0;
        std::size_t field = 0;
    };

    Sheet& sheet_;
    const SheetContext& context_;
    const std::vector<ColumnPlan>& plans_;
    CellCache& cache_;
    bool only_count_;
    RowFindings& found_;
    PlaceFinder places_;
    std::vector<CsvCell> cells_;
    std::vector<CsvFault> faults_;
    std::vector<std::size_t> needed_;  ///< plans whose cells must be filled
    std::vector<std::size_t> filled_;  ///< by field: the last row in which it was
    Schedule schedule_;
    std::size_t row_ = 0;
};

}  // namespace

void BareNumbers::add(const BareNumbers& other) {
    if (other.count == 0) return;
    first_line = count == 0 ? other.first_line : std::min(first_line, other.first_line);
    count += other.count;
}

void read_block(Sheet& sheet, const SheetContext& context, const std::vector<ColumnPlan>& plans,
                RowRange range, CellCache& cache, bool only_count, RowFindings& found) {
    for (const ColumnPlan& plan : plans) {
        if (plan.field != nullptr) sheet.clear(plan.field_index, range);
    }
    RowReader reader{sheet, context, plans, cache, only_count, found};
    for (std::size_t row = range.begin; row < range.end; ++row) reader.read_row(row);
}

}  // namespace lagline
