#pragma once

// For the files of the work pack only.

#include <span>
#include <string>
#include <string_view>

#include "report/scope_sheets.h"

namespace lagline {

/// What the pack is made of.
struct PackContent {
    const Plant& plant;
    const RuleSet& rules;
    const Ranking& ranking;
    const Plan& plan;
    std::span<const ScopeSheet> sheets;
};

/// Windows, sheets, and what holds for all of them.
/// @param version  of Lagline
[[nodiscard]] std::string pack_cover(const PackContent& content, std::string_view version);
/// What each column of the table of findings may hold.
[[nodiscard]] std::string pack_guide(const RuleSet& rules);
/// One sheet: work, cautions, findings, lines to sign.
[[nodiscard]] std::string pack_sheet(const PackContent& content, std::size_t sheet);

/// A square to tick.
inline constexpr std::string_view box = "<span class=\"box\"></span>";
/// A text of the plant or of the rules, made fit for one line and for standing between tags.
[[nodiscard]] std::string told(std::string_view text);
/// @param tag  name of the tag, with its attributes: "td class=\"amount\""
/// @param content  markup
[[nodiscard]] std::string in_tag(std::string_view tag, const std::string& content);
/// A heading, escaped, that may be broken at its underscores and says the same when it is.
[[nodiscard]] std::string breakable(std::string_view heading);
/// An item of a list to tick.  @param text  markup
[[nodiscard]] std::string to_tick(const std::string& text);

/// "TA-2027", escaped.
[[nodiscard]] std::string window_name(const PackContent& content, std::size_t window);
/// "2027-04-05 to 2027-05-09".
[[nodiscard]] std::string days_of(const PlanWindow& window);
[[nodiscard]] std::string_view state_of(const PlanWindow& window);
/// Height of the scaffold of a sheet that needs one.
[[nodiscard]] std::string scaffold_height(const PackContent& content, const ScopeSheet& sheet);

}  // namespace lagline
