#include "ruleset/ranges.h"

#include "diagnostics/text.h"
#include "ruleset/units.h"

namespace lagline {
namespace {

// All that a number of a dimension can be in a rule of this trade, in base unit.  It catches a slip
// of the pen in a table that states no range of its own; every shipped table states one.
ValueRange widest(Dimension dimension) {
    switch (dimension) {
        case Dimension::number:
            return {-1e6, 1e6, {}};
        case Dimension::temperature:
            return {-273.15, 2000.0, {}};
        case Dimension::temperature_difference:
            return {0.0, 2000.0, {}};
        case Dimension::length:
            return {0.0, 1e9, {}};
        case Dimension::area:
            return {0.0, 1e9, {}};
        case Dimension::corrosion_rate:
            return {0.0, 50.0, {}};
        case Dimension::pressure:
            return {-0.1, 1000.0, {}};
        case Dimension::stress:
            return {0.0, 1e5, {}};
        case Dimension::time:
            return {0.0, 1000.0, {}};
        case Dimension::frequency:
            return {0.0, 1e6, {}};
        case Dimension::money:
            return {0.0, 1e12, {}};
        case Dimension::nominal_size:
            return {0.0, 200.0, {}};
        case Dimension::work:
            return {0.0, 1e9, {}};
        case Dimension::deposition:
            return {0.0, 1e9, {}};
        case Dimension::conductivity:
            return {0.0, 1e4, {}};
        case Dimension::speed:
            return {0.0, 1e3, {}};
    }
    return {};
}

// "0.01 to 100", "0 to 2000 mpy".
std::string ends(double least, double most, std::string_view unit) {
    return number_text(least) + " to " + quantity_text(most, unit);
}

ValueRange widest_of(Dimension dimension) {
    ValueRange range = widest(dimension);
    range.text = ends(range.least, range.most, base_unit(dimension).symbol);
    return range;
}

std::optional<ValueRange> stated_range(TableReading& r, const YamlNode& node) {
    const auto& info = r.draft.info;
    const auto scope = r.scope.at("range");
    if (!node.is_list() || node.items.size() != 2) {
        scope.error(Problem::yaml_shape, node, "something other than two ends", "[least, most]",
                    "write range: [least, most], in the unit of the table");
        return std::nullopt;
    }
    const auto least = read_in_unit(node.items[0], info.unit, info.dimension, scope);
    const auto most = read_in_unit(node.items[1], info.unit, info.dimension, scope);
    if (!least || !most) return std::nullopt;
    if (least->base < most->base) {
        return ValueRange{least->base, most->base, ends(least->printed, most->printed, info.unit)};
    }
    scope.error(Problem::out_of_range, node, "a range whose end is not above its start",
                "[least, most] with least below most", "swap the two");
    return std::nullopt;
}

}  // namespace

void read_range(TableReading& r) {
    auto& info = r.draft.info;
    const auto* node = r.node.find("range");
    if (!info.gives.empty()) {
        if (node == nullptr) return;
        r.scope.error(Problem::contradiction, *node, "a 'range' of a table that gives words",
                      "no 'range'", "drop it");
        return;
    }
    const bool same_kind =
        r.replaced != nullptr && r.replaced->range && r.replaced->dimension == info.dimension;
    if (same_kind) {
        info.range = r.replaced->range;
        info.range_stated = r.replaced->range_stated;
        if (node == nullptr) return;
        r.scope.error(Problem::contradiction, *node, "a 'range' of a table that replaces another",
                      "no 'range': that of the replaced table holds, " + info.range->text,
                      "drop it");
        return;
    }
    info.range = widest_of(info.dimension);
    if (node == nullptr) return;
    const auto stated = stated_range(r, *node);
    if (!stated) return;
    info.range = stated;
    info.range_stated = true;
}

bool check_range(const YamlNode& node, double value, const TableInfo& info, const Scope& scope) {
    if (!info.range || info.range->holds(value)) return true;
    scope.error(Problem::out_of_range, node, "'" + printable(node.text) + "'", info.range->text,
                "correct the number, or its unit");
    return false;
}

}  // namespace lagline
