#include "ruleset/formula.h"

#include "blocks/number_text.h"

namespace lagline {
namespace {

constexpr int digits = 9;

}  // namespace

std::string formula_in_force(const QuantityInfo& info, const RuleSet& rules) {
    std::string text;
    std::string_view left = info.formula;
    for (auto open = left.find('{'); open != std::string_view::npos; open = left.find('{')) {
        const auto close = left.find('}', open);
        const std::string_view name = left.substr(open + 1, close - open - 1);
        text += std::string{left.substr(0, open)} +
                short_number(rules.value(std::string{name}).value(), digits);
        left.remove_prefix(close + 1);
    }
    return text + std::string{left};
}

}  // namespace lagline
