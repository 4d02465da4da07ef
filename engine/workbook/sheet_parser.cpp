#include "workbook/sheet_parser.h"

#include <algorithm>
#include <utility>

#include "diagnostics/text.h"

namespace lagline {
namespace {

class SheetHandler : public XmlHandler {
  public:
    SheetHandler(const WorkbookLimits& limits, const CellContext& context, const TakeRow& take_row,
                 const TakeProblem& take_problem, SheetFacts& facts)
        : limits_(limits),
          context_(context),
          take_row_(take_row),
          take_problem_(take_problem),
          facts_(facts) {}

    void start(std::string_view name, const XmlAttributes& attributes) override {
        if (in_cell_) return start_in_cell(name);
        if (name == "sheetData") in_data_ = true;
        if (name == "row" && in_data_) return start_row(attributes);
        if (name == "c" && in_row_) return start_cell(attributes);
        if (name == "col") return see_column(attributes);
        if (name == "mergeCell") return see_merged(attributes.value("ref"));
    }
    void end(std::string_view name) override {
        if (in_cell_) return end_in_cell(name);
        if (name == "row" && in_row_) end_row();
        if (name == "sheetData") end_data();
    }
    void text(std::string_view piece) override {
        if (!in_cell_) return;
        if (in_value_) cell_.value += piece;
        item_.text(piece);
        if (cell_.value.size() + item_.bytes() > limits_.text_bytes) {
            refuse(too_much_text(limits_));
        }
    }

  private:
    struct Mark {
        std::uint32_t column = 0;
        std::size_t begin = 0;
        std::size_t size = 0;
    };

    void start_row(const XmlAttributes& attributes) {
        std::uint32_t row = row_ + 1;
        if (const auto given = attributes.find("r")) {
            const auto number = parse_count(*given);
            if (!number || *number > last_sheet_row || *number <= row_) {
                return refuse(damaged("a row numbered '" + printable(*given) + "' behind row " +
                                      std::to_string(row_)));
            }
            row = *number;
        }
        if (row > last_sheet_row) return refuse(damaged("more rows than a sheet has"));
        row_ = row;
        column_ = 0;
        in_row_ = true;
        row_hidden_ = attributes.flag("hidden");
        row_text_.clear();
        marks_.clear();
    }

    void end_row() {
        in_row_ = false;
        if (marks_.empty()) return;
        if (row_hidden_) {
            if (facts_.hidden_rows++ == 0) facts_.first_hidden_row = row_;
        }
        last_row_ = row_;
        last_column_ = std::max(last_column_, marks_.back().column);
        cells_.clear();
        for (const Mark& mark : marks_) {
            cells_.push_back(
                {mark.column, std::string_view{row_text_}.substr(mark.begin, mark.size)});
        }
        if (!take_row_(row_, cells_)) refuse(too_much_text(limits_));
    }

    void start_cell(const XmlAttributes& attributes) {
        std::uint32_t column = column_ + 1;
        if (const auto given = attributes.find("r")) {
            const auto cell = parse_cell_reference(*given);
            if (!cell || cell->row != row_ || cell->column <= column_) {
                return refuse(damaged("a cell named '" + printable(*given) + "' in row " +
                                      std::to_string(row_)));
            }
            column = cell->column;
        }
        if (column > last_sheet_column) return refuse(damaged("more columns than a sheet has"));
        column_ = column;
        in_cell_ = true;
        in_value_ = false;
        cell_.type = attributes.value("t");
        cell_.style = parse_count(attributes.value("s")).value_or(0);
        cell_.value.clear();
        cell_.own_text.clear();
        cell_.formula = false;
        item_.clear();
    }

    void start_in_cell(std::string_view name) {
        if (name == "v") in_value_ = true;
        if (name == "f") cell_.formula = true;
        item_.start(name);
    }

    void end_in_cell(std::string_view name) {
        item_.end(name);
        if (name == "v") in_value_ = false;
        if (name == "is") cell_.own_text = item_.take();
        if (name == "c") end_cell();
    }

    void end_cell() {
        in_cell_ = false;
        CellText told = text_of(cell_, context_);
        if (!told.problem.empty()) {
            take_problem_({row_, column_}, std::move(told));
            return;
        }
        if (trimmed(told.text).empty()) return;
        marks_.push_back({column_, row_text_.size(), told.text.size()});
        row_text_ += told.text;
        if (row_text_.size() > limits_.text_bytes) refuse(too_much_text(limits_));
    }

    void see_column(const XmlAttributes& attributes) {
        const auto first = parse_count(attributes.value("min"));
        const auto last = parse_count(attributes.value("max"));
        if (!attributes.flag("hidden") || !first || !last || *last < *first) return;
        if (hidden_columns_.size() < last_sheet_column) hidden_columns_.emplace_back(*first, *last);
    }

    // Columns behind the last one that holds something are often hidden for looks.
    void end_data() {
        in_data_ = false;
        for (const auto& [first, last] : hidden_columns_) {
            if (first > last_column_) continue;
            if (facts_.hidden_columns == 0) facts_.first_hidden_column = first;
            facts_.hidden_columns += std::min(last, last_column_) - first + 1;
        }
    }

    // Merged cells come behind all rows: what holds something is known.
    void see_merged(std::string_view ref) {
        const auto range = parse_cell_range(ref);
        if (!range) return refuse(damaged("merged cells '" + printable(ref) + "'"));
        const bool outside = range->first.row > last_row_ || range->first.column > last_column_;
        if (outside || range->first == range->last) return;
        if (facts_.merged.size() >= limits_.entries) {
            return refuse(
                too_much("more than " + std::to_string(limits_.entries) + " ranges of merged cells",
                         "none"));
        }
        facts_.merged.push_back(*range);
    }

    const WorkbookLimits& limits_;
    const CellContext& context_;
    const TakeRow& take_row_;
    const TakeProblem& take_problem_;
    SheetFacts& facts_;
    RawCell cell_;
    StringItem item_;
    std::string row_text_;
    std::vector<Mark> marks_;
    std::vector<SheetCell> cells_;
    std::vector<std::pair<std::uint32_t, std::uint32_t>> hidden_columns_;
    std::uint32_t row_ = 0;
    std::uint32_t column_ = 0;
    std::uint32_t last_row_ = 0;
    std::uint32_t last_column_ = 0;
    bool in_data_ = false;
    bool in_row_ = false;
    bool row_hidden_ = false;
    bool in_cell_ = false;
    bool in_value_ = false;
};

}  // namespace

std::optional<WorkbookFault> read_sheet_part(const PartReading& with, const std::string& part,
                                             const CellContext& context, const TakeRow& take_row,
                                             const TakeProblem& take_problem, SheetFacts& facts) {
    SheetHandler handler{with.limits, context, take_row, take_problem, facts};
    return parse_part(with.archive, part, with.limits, handler);
}

}  // namespace lagline
