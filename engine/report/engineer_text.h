#pragma once

#include <cstddef>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "plant/plant.h"
#include "ranking/engineer_list.h"
#include "report/layout.h"
#include "report/output_table.h"
#include "ruleset/ruleset.h"

namespace lagline {

/// Title of the list wherever it is shown.
inline constexpr std::string_view engineer_title = "Needs an engineer now";
/// What the list is and what clears it.
inline constexpr std::string_view engineer_note =
    "A wall read at or below the minimum thickness and known cracks stand above any ranking. A "
    "later accepted reading above the minimum (effectiveness A to C), or a replaced pipe with its "
    "new day in service, clears a thin wall.";

/// The list for a terminal, before the ranking: the first ten and a count of the others; empty
/// without any.
[[nodiscard]] std::string engineer_block(const Plant& plant, const RuleSet& rules,
                                         std::span<const EngineerNeed> needs,
                                         const TextStyle& style);

/// A need as outputs show it.
struct EngineerText {
    std::string segment;
    EngineerNeed need;
    std::string what;
    std::string place;  ///< file and line, without a folder
};
[[nodiscard]] std::vector<EngineerText> engineer_texts(const Plant& plant, const RuleSet& rules,
                                                       std::span<const EngineerNeed> needs);

/// Member `needs_engineer_now` of the object that is open: an array, empty without any.
template <class Json>
void write_engineer_list(Json& json, std::span<const EngineerText> texts) {
    json.key("needs_engineer_now");
    json.begin_array();
    for (const EngineerText& text : texts) {
        json.begin_object();
        json.member("segment", text.segment);
        json.member("reason", to_string(text.need.reason));
        json.member("what", text.what);
        json.member("found", to_string(text.need.found));
        if (text.need.reason == EngineerReason::thin_wall) {
            json.member("reading", text.need.read_mm);
            json.member("minimum_thickness", text.need.minimum_mm);
        }
        json.member("place", text.place);
        json.end_object();
    }
    json.end_array();
}

/// The whole list as a table.
class EngineerRows : public OutputTable {
  public:
    EngineerRows(const Plant& plant, const RuleSet& rules, std::span<const EngineerNeed> needs)
        : plant_(plant), rules_(rules), needs_(needs) {}

    [[nodiscard]] std::vector<OutputColumn> columns() const override;
    [[nodiscard]] std::size_t rows() const override { return needs_.size(); }
    void write_row(std::size_t row, TableCells& cells) const override;

  private:
    const Plant& plant_;
    const RuleSet& rules_;
    std::span<const EngineerNeed> needs_;
};

}  // namespace lagline
