#include "ranking/rule_trace.h"

namespace lagline {
namespace {

using Traced = std::vector<ExplainedRule>;

std::optional<std::uint8_t> code_of_by(const TableInfo& info, const TraceContext& context) {
    if (info.by.empty()) return std::uint8_t{0};
    if (info.by == "damage_state") return context.state;
    return context.code(info.by);
}

Traced trace(const ValueTable& table, const TraceContext& /*context*/) {
    return {{&table.info, &table.entries.front(), false}};
}

Traced trace(const LookupTable& table, const TraceContext& context) {
    const auto code = code_of_by(table.info, context);
    if (!code) return {};
    return {{&table.info, &table.entries[*code], false}};
}

Traced trace(const CurveTable& table, const TraceContext& context) {
    const auto code = code_of_by(table.info, context);
    const auto at = context.number(table.info.axis);
    if (!code || !at) return {};
    const RuleHit hit = table.find(*code, *at);
    Traced traced{{&table.info, &table.entries[hit.entry], hit.outside()}};
    if (hit.entry_to != hit.entry) {
        traced.push_back({&table.info, &table.entries[hit.entry_to], hit.outside()});
    }
    return traced;
}

Traced trace(const BandTable& table, const RuleSet& rules, const TraceContext& context) {
    const auto code = code_of_by(table.info, context);
    const auto at = context.number(table.info.axis);
    if (!code || !at) return {};
    Traced traced;
    const std::size_t columns =
        table.info.columns.empty() ? 1 : rules.vocabulary(table.info.columns).words.size();
    for (std::size_t column = 0; column < columns; ++column) {
        const RuleHit hit = table.find(*code, *at, static_cast<std::uint8_t>(column));
        traced.push_back({&table.info, &table.entries[hit.entry], hit.outside()});
    }
    return traced;
}

Traced trace(const GridTable& table, const TraceContext& context) {
    const bool by_state = table.info.columns == "damage_state";
    const auto column = by_state ? context.state : context.code(table.info.columns);
    if (!column) return {};
    Traced traced;
    if (table.info.by == "effectiveness") {
        for (const std::uint8_t row : context.effectiveness) {
            traced.push_back({&table.info, &table.at(row, *column), false});
        }
    } else if (const auto row = context.code(table.info.by)) {
        traced.push_back({&table.info, &table.at(*row, *column), false});
    }
    return traced;
}

}  // namespace

Traced trace_rules(const RuleSet& rules, std::string_view name, const TraceContext& context) {
    if (const auto at = rules.values.find(name); at != rules.values.end()) {
        return trace(at->second, context);
    }
    if (const auto at = rules.lookups.find(name); at != rules.lookups.end()) {
        return trace(at->second, context);
    }
    if (const auto at = rules.curves.find(name); at != rules.curves.end()) {
        return trace(at->second, context);
    }
    if (const auto at = rules.bands.find(name); at != rules.bands.end()) {
        return trace(at->second, rules, context);
    }
    if (const auto at = rules.grids.find(name); at != rules.grids.end()) {
        return trace(at->second, context);
    }
    return {};
}

}  // namespace lagline
