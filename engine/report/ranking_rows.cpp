#include "report/ranking_rows.h"

#include <algorithm>

namespace lagline {
namespace {

using S = SegmentField;

bool is_money(const QuantityInfo& info) {
    return info.unit.find(currency_sign) != std::string_view::npos;
}

CellKind kind_of(const QuantityInfo& info) {
    if (!info.words.empty()) return CellKind::text;
    return is_money(info) ? CellKind::money : CellKind::number;
}

void write_outlook(TableCells& cells, const Outlook& outlook, std::size_t rank, std::uint32_t row) {
    if (outlook.rank_today[row] > 0) {
        cells.count(outlook.rank_today[row]);
        cells.number(outlook.risk_today_per_year[row]);
    } else {
        cells.empty();
        cells.empty();
    }
    const auto criterion = rank < outlook.due.size() ? outlook.due[rank].first() : std::nullopt;
    if (criterion) {
        cells.date(*outlook.due[rank].date());
        cells.text(to_string(*criterion));
    } else {
        cells.empty();
        cells.empty();
    }
}

}  // namespace

RankingRows::RankingRows(const Plant& plant, const RuleSet& rules, const Ranking& ranking,
                         std::size_t top)
    : plant_(plant),
      ranking_(ranking),
      columns_(ranking.views()),
      rows_(top == 0 ? ranking.order.size() : std::min(top, ranking.order.size())) {
    if (ranking.outlook) engineer_now_ = by_segment(ranking.outlook->engineer_now);
    for (const ColumnView& column : columns_) {
        vocabularies_.push_back(column.is_words() ? &rules.vocabulary(column.info->words)
                                                  : nullptr);
    }
}

std::vector<OutputColumn> RankingRows::columns() const {
    std::vector<OutputColumn> all{
        {"rank", CellKind::count}, {"segment"}, {"line"}, {"unit"}, {"mechanism"}};
    if (ranking_.outlook) {
        all.push_back({"rank_today", CellKind::count});
        all.push_back({"risk_today", CellKind::money});
        all.push_back({"due_date", CellKind::date});
        all.push_back({"due_by"});
        all.push_back({"engineer_now"});
    }
    for (const ColumnView& column : columns_) {
        all.push_back(
            {csv_heading(*column.info), kind_of(*column.info), std::string{column.info->unit}});
    }
    all.push_back({"assumptions", CellKind::count});
    all.push_back({"currency"});
    return all;
}

void RankingRows::write_row(std::size_t rank, TableCells& cells) const {
    const std::uint32_t row = ranking_.order[rank];
    const std::uint32_t segment = ranking_.segment_rows[row];
    cells.count(rank + 1);
    for (const S field : {S::segment, S::line, S::unit}) {
        cells.text(plant_.segments.texts(field)[segment]);
    }
    cells.text(ranking_.mechanism(row));
    if (ranking_.outlook) {
        write_outlook(cells, *ranking_.outlook, rank, row);
        cells.text(reason_words(engineer_now_, segment));
    }
    for (std::size_t i = 0; i < columns_.size(); ++i) {
        if (!columns_[i].covers(row)) {  // of the other mechanism
            cells.empty();
        } else if (vocabularies_[i] == nullptr) {
            cells.number(columns_[i].number(row));
        } else {
            cells.text(vocabularies_[i]->words[columns_[i].code(row)].key);
        }
    }
    cells.count(ranking_.assumptions[row]);
    cells.text(plant_.description.currency);
}

// Rows by rank lie anywhere in columns of millions: to wait for each cell would take longer than to
// print it.
void RankingRows::expect_row(std::size_t rank) const {
    const std::uint32_t row = ranking_.order[rank];
    for (const ColumnView& column : columns_) {
        if (!column.spans(row)) continue;
        const std::size_t at = row - column.first;
        __builtin_prefetch(column.is_words() ? static_cast<const void*>(&column.codes[at])
                                             : static_cast<const void*>(&column.numbers[at]));
    }
}

std::string csv_heading(const QuantityInfo& info) {
    std::string heading{info.key};
    if (!info.unit.empty() && !is_money(info)) heading.append(" [").append(info.unit).append("]");
    return heading;
}

}  // namespace lagline
