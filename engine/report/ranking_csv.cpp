#include "report/ranking_csv.h"

#include <algorithm>
#include <vector>

#include "blocks/number_text.h"
#include "report/csv_text.h"

namespace lagline {
namespace {

using S = SegmentField;

class RowWriter {
  public:
    RowWriter(const Plant& plant, const RuleSet& rules, const Ranking& ranking)
        : plant_(plant), ranking_(ranking), columns_(ranking.views()) {
        for (const ColumnView& column : columns_) {
            vocabularies_.push_back(
                column.info->words.empty() ? nullptr : &rules.vocabulary(column.info->words));
        }
    }

    [[nodiscard]] std::string heading() const {
        std::string csv = "rank,segment,line,unit,mechanism";
        if (ranking_.outlook) csv += ",rank_today,risk_today,due_date,due_by";
        for (const ColumnView& column : columns_) csv += "," + csv_heading(*column.info);
        return csv + ",assumptions,currency\n";
    }

    void append(std::string& csv, std::size_t rank) const {
        const std::uint32_t row = ranking_.order[rank];
        const std::uint32_t segment = ranking_.segment_rows[row];
        append_number(csv, static_cast<double>(rank + 1));
        for (const S field : {S::segment, S::line, S::unit}) {
            csv += ',';
            append_csv_text(csv, plant_.segments.texts(field)[segment]);
        }
        csv += ',';
        csv += ranking_.mechanism(row);
        if (ranking_.outlook) append_outlook(csv, *ranking_.outlook, rank, row);
        for (std::size_t i = 0; i < columns_.size(); ++i) {
            csv += ',';
            if (!columns_[i].covers(row)) continue;  // of the other mechanism
            if (vocabularies_[i] == nullptr) {
                append_number(csv, columns_[i].number(row));
            } else {
                csv += vocabularies_[i]->words[columns_[i].code(row)].key;
            }
        }
        csv += ',';
        append_number(csv, ranking_.assumptions[row]);
        csv += ',';
        csv += plant_.description.currency;
        csv += '\n';
    }

  private:
    static void append_outlook(std::string& csv, const Outlook& outlook, std::size_t rank,
                               std::uint32_t row) {
        csv += ',';
        if (outlook.rank_today[row] > 0) append_number(csv, outlook.rank_today[row]);
        csv += ',';
        if (outlook.rank_today[row] > 0) append_number(csv, outlook.risk_today_per_year[row]);
        const auto criterion = rank < outlook.due.size() ? outlook.due[rank].first() : std::nullopt;
        csv += ',';
        if (criterion) csv += to_string(*outlook.due[rank].date());
        csv += ',';
        if (criterion) csv += to_string(*criterion);
    }

    const Plant& plant_;
    const Ranking& ranking_;
    std::vector<ColumnView> columns_;
    std::vector<const Vocabulary*> vocabularies_;
};

}  // namespace

std::string csv_heading(const QuantityInfo& info) {
    std::string heading{info.key};
    const bool money = info.unit.find(currency_sign) != std::string_view::npos;
    if (!info.unit.empty() && !money) heading.append(" [").append(info.unit).append("]");
    return heading;
}

std::string ranking_csv(const Plant& plant, const RuleSet& rules, const Ranking& ranking,
                        std::size_t top, const WorkPlan& plan) {
    const RowWriter writer{plant, rules, ranking};
    const std::size_t rows = top == 0 ? ranking.order.size() : std::min(top, ranking.order.size());
    const std::size_t step = std::max<std::size_t>(1, plan.block_rows);
    std::vector<std::string> blocks((rows + step - 1) / step);
    for_each_block(rows, plan, [&](std::size_t block, RowRange range) {
        for (std::size_t rank = range.begin; rank < range.end; ++rank) {
            writer.append(blocks[block], rank);
        }
    });
    std::string csv = writer.heading();
    for (const std::string& block : blocks) csv += block;
    return csv;
}

}  // namespace lagline
