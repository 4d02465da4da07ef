#include "ruleset/table.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "diagnostics/text.h"

namespace lagline {
namespace {

constexpr double no_value = std::numeric_limits<double>::quiet_NaN();

bool is_below(const TableInfo& info, double at) { return info.valid_from && at < *info.valid_from; }
bool is_above(const TableInfo& info, double at) { return info.valid_to && at > *info.valid_to; }

/// `at` moved to the nearest end of the range.
double held(const TableInfo& info, double at) {
    if (is_below(info, at)) return *info.valid_from;
    if (is_above(info, at)) return *info.valid_to;
    return at;
}

/// Puts what the table says about arguments outside its range in place of the value found at the
/// nearest end.  A refused value is not a number, so that it cannot be used by mistake.
void apply_outside(const TableInfo& info, RuleHit& hit) {
    if (!hit.outside()) return;
    switch (hit.below ? info.below : info.above) {
        case Outside::refuse:
            hit.value = no_value;
            break;
        case Outside::zero:
            hit.value = 0.0;
            break;
        case Outside::clamp:
            break;
    }
}

std::uint32_t index32(std::size_t index) { return static_cast<std::uint32_t>(index); }

}  // namespace

std::string_view to_string(Basis basis) {
    switch (basis) {
        case Basis::published:
            return "published";
        case Basis::recalled:
            return "recalled";
        case Basis::common_practice:
            return "common-practice";
        case Basis::site:
            return "site";
    }
    return {};
}

std::string_view to_string(Outside outside) {
    switch (outside) {
        case Outside::refuse:
            return "refuse";
        case Outside::clamp:
            return "clamp";
        case Outside::zero:
            return "zero";
    }
    return {};
}

RuleHit CurveTable::find(std::uint8_t by, double at) const {
    RuleHit hit;
    const std::size_t first = by * points.size();
    hit.entry = hit.entry_to = index32(first);
    if (std::isnan(at)) {  // on neither side of anything
        hit.value = no_value;
        return hit;
    }
    hit.below = at < points.front() || is_below(info, at);
    hit.above = at > points.back() || is_above(info, at);
    const double x = std::clamp(held(info, at), points.front(), points.back());
    const auto right = std::ranges::lower_bound(points, x);  // first point not left of x
    const auto to = static_cast<std::size_t>(right - points.begin());
    hit.entry = hit.entry_to = index32(first + to);
    hit.value = entries[hit.entry].value;
    if (points[to] != x) {
        hit.entry = index32(first + to - 1);
        const double from = entries[hit.entry].value;
        const double share = (x - points[to - 1]) / (points[to] - points[to - 1]);
        hit.value = from + (hit.value - from) * share;
    }
    apply_outside(info, hit);
    return hit;
}

RuleHit BandTable::find(std::uint8_t by, double at, std::uint8_t column) const {
    RuleHit hit;
    const auto& list = lists[info.by.empty() ? 0 : by];
    const auto holds = [](const Band& band, double x) {
        return x < band.to || (band.inclusive && x == band.to);
    };
    hit.below = is_below(info, at);
    hit.above = is_above(info, at);
    const double x = held(info, at);
    auto band = std::ranges::find_if(list, [&](const Band& b) { return holds(b, x); });
    if (band == list.end()) {
        hit.above = !std::isnan(at);
        --band;
    }
    hit.entry = hit.entry_to = band->entry + column;
    hit.value = std::isnan(at) ? no_value : entries[hit.entry].value;
    hit.code = entries[hit.entry].code;
    apply_outside(info, hit);
    return hit;
}

std::vector<AxisRange> BandTable::ranges_of_words(std::size_t words) const {
    constexpr double endless = std::numeric_limits<double>::infinity();
    std::vector<AxisRange> ranges(words, {endless, -endless});
    double from = -endless;
    for (const Band& band : lists.front()) {
        AxisRange& mine = ranges[entries[band.entry].code];
        mine = {std::min(mine.from, from), std::max(mine.to, band.to)};
        from = band.to;
    }
    return ranges;
}

const RuleEntry& SiteFactorTable::find(std::string_view text) const {
    const auto wanted = trimmed(text);
    const auto at = std::ranges::find_if(entries, [&](const auto& e) { return e.key == wanted; });
    return at == entries.end() ? otherwise : *at;
}

}  // namespace lagline
