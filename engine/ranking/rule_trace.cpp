#include "ranking/rule_trace.h"

#include <algorithm>

namespace lagline {
namespace {

using Codes8 = std::vector<std::uint8_t>;

/// The entries found so far, each once.
class Traced {
  public:
    explicit Traced(const TableInfo& info) : info_(info) {}

    void add(const RuleEntry& entry, bool outside = false) {
        const bool there = std::ranges::any_of(
            found_, [&](const ExplainedRule& rule) { return rule.entry == &entry; });
        if (!there) found_.push_back({&info_, &entry, outside});
    }
    std::vector<ExplainedRule> take() { return std::move(found_); }

  private:
    const TableInfo& info_;
    std::vector<ExplainedRule> found_;
};

Codes8 codes_of_by(const TableInfo& info, const TraceContext& context) {
    return info.by.empty() ? Codes8{0} : context.codes(info.by);
}

void trace(const ValueTable& table, const TraceContext& /*context*/, Traced& traced) {
    traced.add(table.entries.front());
}

void trace(const LookupTable& table, const TraceContext& context, Traced& traced) {
    for (const std::uint8_t code : codes_of_by(table.info, context)) {
        traced.add(table.entries[code]);
    }
}

void trace(const CurveTable& table, const TraceContext& context, Traced& traced) {
    for (const std::uint8_t code : codes_of_by(table.info, context)) {
        for (const double at : context.numbers(table.info.axis)) {
            const RuleHit hit = table.find(code, at);
            traced.add(table.entries[hit.entry], hit.outside());
            traced.add(table.entries[hit.entry_to], hit.outside());
        }
    }
}

void trace(const BandTable& table, const RuleSet& rules, const TraceContext& context,
           Traced& traced) {
    const std::size_t columns =
        table.info.columns.empty() ? 1 : rules.vocabulary(table.info.columns).words.size();
    for (const std::uint8_t code : codes_of_by(table.info, context)) {
        for (const double at : context.numbers(table.info.axis)) {
            for (std::size_t column = 0; column < columns; ++column) {
                const RuleHit hit = table.find(code, at, static_cast<std::uint8_t>(column));
                traced.add(table.entries[hit.entry], hit.outside());
            }
        }
    }
}

void trace(const GridTable& table, const TraceContext& context, Traced& traced) {
    for (const std::uint8_t row : context.codes(table.info.by)) {
        for (const std::uint8_t column : context.codes(table.info.columns)) {
            traced.add(table.at(row, column));
        }
    }
}

}  // namespace

std::vector<ExplainedRule> trace_rules(const RuleSet& rules, std::string_view name,
                                       const TraceContext& context) {
    const auto traced = [&](const auto& table, const auto&... more) {
        Traced found{table.info};
        trace(table, more..., context, found);
        return found.take();
    };
    if (const auto at = rules.values.find(name); at != rules.values.end()) {
        return traced(at->second);
    }
    if (const auto at = rules.lookups.find(name); at != rules.lookups.end()) {
        return traced(at->second);
    }
    if (const auto at = rules.curves.find(name); at != rules.curves.end()) {
        return traced(at->second);
    }
    if (const auto at = rules.bands.find(name); at != rules.bands.end()) {
        return traced(at->second, rules);
    }
    if (const auto at = rules.grids.find(name); at != rules.grids.end()) {
        return traced(at->second);
    }
    return {};
}

}  // namespace lagline
