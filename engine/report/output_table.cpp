#include "report/output_table.h"

#include <algorithm>

#include "blocks/number_text.h"
#include "report/csv_text.h"

namespace lagline {
namespace {

class CsvCells : public TableCells {
  public:
    void text(std::string_view text) override {
        begin();
        append_csv_text(csv_, text);
    }
    void count(std::size_t count) override {
        begin();
        csv_ += std::to_string(count);
    }
    void number(double number) override {
        begin();
        append_number(csv_, number);
    }
    void date(Date date) override {
        begin();
        csv_ += to_string(date);
    }
    void empty() override { begin(); }

    void end_row() {
        csv_ += '\n';
        first_ = true;
    }
    [[nodiscard]] std::string take() { return std::move(csv_); }

  private:
    void begin() {
        if (!first_) csv_ += ',';
        first_ = false;
    }

    std::string csv_;
    bool first_ = true;
};

}  // namespace

std::string csv_of(const OutputTable& table, const WorkPlan& plan) {
    const std::size_t step = std::max<std::size_t>(1, plan.block_rows);
    std::vector<std::string> blocks((table.rows() + step - 1) / step);
    for_each_block(table.rows(), plan, [&](std::size_t block, RowRange range) {
        CsvCells cells;
        constexpr std::size_t ahead = 4;
        for (std::size_t row = range.begin; row < range.end; ++row) {
            if (row + ahead < range.end) table.expect_row(row + ahead);
            table.write_row(row, cells);
            cells.end_row();
        }
        blocks[block] = cells.take();
    });
    CsvCells heading;
    for (const OutputColumn& column : table.columns()) heading.text(column.heading);
    heading.end_row();
    std::string csv = heading.take();
    for (const std::string& block : blocks) csv += block;
    return csv;
}

}  // namespace lagline
