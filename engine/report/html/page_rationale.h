#pragma once

#include <cstdint>
#include <map>
#include <string>
#include <unordered_map>
#include <vector>

#include "ranking/explain.h"
#include "report/html/page_json.h"

namespace lagline {

/// The rationale of many segments, column by column, so that what they share is written once: the
/// descriptions of the quantities, the rule entries, the defaults.  Fed with explanations in the
/// order of rank; page/data.js reads it back.
class PageRationale {
  public:
    explicit PageRationale(const Ranking& ranking);

    void add(const Explanation& told, std::uint32_t row);
    /// Writes the members quantities, inputs, ... of the object that is open.
    void write(PageJson& json, const RuleSet& rules, std::string_view currency) const;

  private:
    using Ids = std::vector<std::int32_t>;
    struct Quantity {
        ColumnView column;
        std::string_view section;
        Ids rules;  ///< by rank, list of rule entries; -1 for none
        std::optional<double> median;
    };

    void add_quantity(const ExplainedQuantity& told, const Explanation& segment, Quantity& into);
    void add_inputs(const ExplainedQuantity& told, const Explanation& segment);
    void add_lists(const Explanation& told);
    void write_quantity(PageJson& json, const Quantity& quantity, const RuleSet& rules,
                        std::string_view currency) const;
    [[nodiscard]] std::string inspection_piece(const ExplainedInspection& inspection);

    std::size_t rank_ = 0;  ///< of the explanation that is being added, from 0
    std::vector<std::uint32_t> rows_;
    std::vector<Quantity> quantities_;
    std::unordered_map<const QuantityInfo*, std::size_t> index_;
    std::map<std::string, Ids, std::less<>> slots_;  ///< inputs by rank, by key
    SharedPieces inputs_;
    SharedPieces entries_;
    SharedPieces entry_lists_;
    SharedPieces spots_;
    SharedPieces cautions_;
    std::vector<std::string> lines_;
    std::vector<std::string> drivers_;
    std::vector<std::string> levels_;
    std::vector<std::string> sweating_;
    std::vector<std::string> spot_lists_;
    std::vector<std::string> caution_lists_;
    std::vector<std::string> inspections_;
};

}  // namespace lagline
