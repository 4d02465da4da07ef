#include <algorithm>
#include <filesystem>

#include "blocks/number_text.h"
#include "diagnostics/text.h"
#include "report/layout.h"
#include "report/pool_text.h"

namespace lagline {
namespace {

constexpr int written_digits = 4;

// As YAML reads it back, whatever the text holds.
std::string yaml_text(std::string_view text) {
    std::string yaml = "\"";
    for (const char c : text) {
        if (static_cast<unsigned char>(c) < 0x20) {  // a line end within a cell
            constexpr std::string_view digits = "0123456789abcdef";
            yaml += std::string{"\\x"} + digits[static_cast<std::size_t>(c) / 16] +
                    digits[static_cast<std::size_t>(c) % 16];
            continue;
        }
        if (c == '"' || c == '\\') yaml += '\\';
        yaml += c;
    }
    return yaml + "\"";
}

// A layer says its name once, in any of its files.
std::string ruleset_lines(const Plant& plant, const RuleSet& rules) {
    const auto overlay = (std::filesystem::path{plant.folder} / "rules").lexically_normal();
    const bool there = std::ranges::any_of(rules.folders, [&](const std::filesystem::path& each) {
        return each.lexically_normal() == overlay;
    });
    if (there) {
        return "# The folder needs `ruleset: {name: site, meaning: ...}` once, in any of its "
               "files.\n";
    }
    return "ruleset:\n  name: site\n  meaning: \"what the site has learned\"\n";
}

std::string entry_line(const RateFactor& group, TakenFactor taken) {
    const double factor = taken == TakenFactor::upper ? group.interval.high : group.factor;
    return "      " + yaml_text(group.group) + ": {value: " + short_number(factor, written_digits) +
           ", note: \"" + std::to_string(group.readings) + " readings, " +
           std::to_string(group.told) + " with a loss that was told; pooled factor " +
           short_number(group.factor, 3) + ", 90 % interval " +
           short_number(group.interval.low, 3) + " to " + short_number(group.interval.high, 3) +
           "; own factor " + short_number(group.own, 3) + "\"}\n";
}

}  // namespace

std::string pool_overlay(const Plant& plant, const RuleSet& rules, const RateFactors& factors,
                         TakenFactor taken) {
    const std::string by{segment_fields()[factors.field].key};
    std::string yaml =
        "# Factors on the corrosion rate by " + by + ", learned from the readings of\n# " +
        printable(plant.description.name) +
        ".\n#\n"
        "# This file does nothing where it lies. Whoever is responsible for the rules of the site\n"
        "# reads it, and accepts it by putting it into the folder `rules` of the plant folder.\n"
        "#\n# Made from " +
        std::to_string(factors.ratios.size()) + " segments by rules " + layers_text(rules.layers) +
        ", last reading " + to_string(factors.learned) +
        ":\n# logarithm of measured over expected loss of wall since the pipe went into service;\n"
        "# means of the groups, drawn towards the mean of all by empirical Bayes (docs/method.md,\n"
        "# eq. 77 to 84). A loss below " +
        short_number(factors.least_told_mm, 3) +
        " mm counted as half of that. Standard deviation of the\n# logarithms within a group " +
        short_number(factors.spread_within, 3) + ", between groups " +
        short_number(factors.spread_between, 3) + ".\n#\n" +
        (taken == TakenFactor::upper ? "# Values are the upper ends of the 90 % intervals.\n"
                                     : "# Values are middles: half of the segments of a group "
                                       "corrode faster than it says.\n"
                                       "# Factors below 1 lower every risk of their group.\n") +
        "# The segments read were chosen by people, not at random.\n";
    if (const std::string note = untold_note(factors); !note.empty()) yaml += "# " + note + "\n";
    yaml += ruleset_lines(plant, rules);
    yaml += "site_factors:\n  " + learned_name(factors) + ":\n    column: " + by +
            "\n    meaning: \"measured over expected corrosion rate, by " + by +
            "\"\n    entries:\n";
    for (const RateFactor& group : factors.groups) yaml += entry_line(group, taken);
    yaml += "    otherwise: " + short_number(factors.common, written_digits) +
            "   # all groups together: no readings of these\n";
    yaml += "    learned: " + to_string(factors.learned) + "\n    basis: site\n    reason: " +
            yaml_text("learned from " + std::to_string(factors.ratios.size()) +
                      " segments with readings up to " + to_string(factors.learned)) +
            "\n";
    return yaml;
}

}  // namespace lagline
