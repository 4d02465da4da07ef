#include "ranking/draw_cell.h"

#include <algorithm>
#include <boost/math/special_functions/erf.hpp>
#include <cmath>
#include <numbers>

namespace lagline {
namespace {

bool is_asked(const Distribution& from, const Sheet& sheet, std::size_t row) {
    if (!from.asked_by) return true;
    if (sheet.state(*from.asked_by, row) == CellState::absent) return false;
    const std::uint8_t word = sheet.column(*from.asked_by).codes[row];
    return std::ranges::find(from.asked_words, word) != from.asked_words.end();
}

std::size_t code_of(const InputDraw& draw, const Sheet& sheet, std::size_t row) {
    if (!draw.by_field || sheet.column(*draw.by_field).codes.empty()) return 0;
    return sheet.column(*draw.by_field).codes[row];
}

// The first of the date columns that has a value; without any, the latest years.
EntryRange band_of(const Distribution& from, const Sheet& sheet, std::size_t row) {
    for (const std::size_t field : from.year_of) {
        if (sheet.state(field, row) == CellState::absent) continue;
        const int year = year_of(Date{sheet.column(field).days[row]});
        const auto band = std::ranges::find_if(
            from.bands, [year](const Distribution::Band& each) { return year < each.before_year; });
        return band->entries;
    }
    return from.bands.back().entries;
}

std::uint8_t word_at(const InputDraw& draw, EntryRange range, double uniform) {
    double sum = 0.0;
    const std::size_t last = range.first + range.count - 1;
    for (std::size_t i = range.first; i < last; ++i) {
        sum += draw.stored[i];
        if (uniform < sum) return draw.from->entries[i].code;
    }
    return draw.from->entries[last].code;
}

double quantile(const InputDraw& draw, EntryRange range, double uniform) {
    const auto& at = draw.from->probabilities;
    std::size_t to = range.first + 1;
    while (to + 1 < range.first + range.count && uniform > at[to]) ++to;
    const double share = (uniform - at[to - 1]) / (at[to] - at[to - 1]);
    return draw.stored[to - 1] + (draw.stored[to] - draw.stored[to - 1]) * share;
}

class CellDrawer {
  public:
    CellDrawer(const InputDraw& draw, CellSamples& samples)
        : draw_(draw), samples_(samples), column_(samples.sheet.column(draw.from->field)) {}

    void run() {
        for (std::size_t s = 0; s < samples_.uniform.size(); ++s) {
            const std::size_t row = samples_.first + s * samples_.step;
            samples_.classes[s] = not_asked;
            if (!is_asked(*draw_.from, samples_.sheet, row)) continue;
            const double uniform = samples_.uniform[s];
            samples_.classes[s] =
                static_cast<std::uint8_t>(uniform * static_cast<double>(samples_.intervals));
            write(row, uniform, samples_.classes[s]);
        }
    }

  private:
    void write(std::size_t row, double uniform, std::uint8_t& cell_class) {
        switch (draw_.from->kind) {
            case DistributionKind::point:
                return;
            case DistributionKind::shares:
                column_.codes[row] = word_at(draw_, share_range(row), uniform);
                cell_class = column_.codes[row];
                break;
            case DistributionKind::points:
                column_.numbers[row] = quantile(
                    draw_, draw_.from->lists[code_of(draw_, samples_.sheet, row)], uniform);
                break;
            case DistributionKind::between:
                if (!write_between(row, uniform)) return;
                break;
            case DistributionKind::period:
                column_.days[row] += static_cast<std::int32_t>(uniform * samples_.period_days);
                break;
            case DistributionKind::normal:
                column_.numbers[row] = std::clamp(
                    column_.numbers[row] + draw_.stored[code_of(draw_, samples_.sheet, row)] *
                                               normal_quantile(uniform),
                    draw_.info->least, draw_.info->most);
                break;
        }
        column_.states[row] = CellState::given;
    }

    EntryRange share_range(std::size_t row) const {
        if (draw_.from->lists.empty()) return band_of(*draw_.from, samples_.sheet, row);
        return draw_.from->lists[code_of(draw_, samples_.sheet, row)];
    }

    // Without a later day the first one stands, as a value that was derived from it.
    bool write_between(std::size_t row, double uniform) {
        const Sheet& sheet = samples_.sheet;
        const std::int32_t from = sheet.column(draw_.from->from).days[row];
        const bool ends = sheet.state(draw_.from->to, row) != CellState::absent;
        const std::int32_t to = ends ? sheet.column(draw_.from->to).days[row] : from;
        const std::int32_t days = std::max(0, to - from);
        column_.days[row] = from + static_cast<std::int32_t>(uniform * (days + 1));
        return days > 0;
    }

    const InputDraw& draw_;
    CellSamples& samples_;
    SheetColumn& column_;
};

}  // namespace

double normal_quantile(double probability) {
    using InDoubles = boost::math::policies::policy<boost::math::policies::promote_double<false>>;
    return -std::numbers::sqrt2 * boost::math::erfc_inv(2.0 * probability, InDoubles{});
}

void draw_cell(const InputDraw& draw, CellSamples& samples) { CellDrawer{draw, samples}.run(); }

}  // namespace lagline
