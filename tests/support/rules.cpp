#include "support/rules.h"

#include <stdexcept>
#include <string>

namespace lagline {

const RuleSet& published_rules() {
    static const RuleSet rules = rules_from(rules_root(), "published");
    return rules;
}

const RuleSet& extended_rules() {
    static const RuleSet rules = rules_from(rules_root(), "extended");
    return rules;
}

RuleSet rules_from(const std::filesystem::path& root, std::string_view name) {
    LoadedRules loaded = load_rules(root, std::string{name});
    if (!loaded.rules) throw std::runtime_error(to_text(loaded.report));
    return std::move(*loaded.rules);
}

std::filesystem::path rules_root() { return std::filesystem::path{LAGLINE_SOURCE_DIR} / "rules"; }

std::uint8_t code_of(const RuleSet& rules, std::string_view vocabulary, std::string_view word) {
    return rules.vocabulary(vocabulary).code(word).value();
}

}  // namespace lagline
