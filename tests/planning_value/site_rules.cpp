#include "site_rules.h"

#include <doctest/doctest.h>

#include "support/rules.h"
#include "support/temp_folder.h"

namespace lagline {

RuleSet rules_with(const std::string& changes) {
    const TempFolder overlay;
    overlay.write("changes.yaml",
                  "ruleset: {name: site, meaning: for this test}\nchanges:\n" + changes);
    LoadedRules loaded = load_rules(rules_root(), "published", overlay.path());
    INFO(to_text(loaded.report));
    REQUIRE(loaded.rules);
    return std::move(*loaded.rules);
}

}  // namespace lagline
