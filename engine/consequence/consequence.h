#pragma once

#include <cstdint>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "blocks/column.h"
#include "blocks/parallel.h"
#include "exposure/exposure_rules.h"
#include "plant/plant.h"
#include "ruleset/ruleset.h"

namespace lagline {

/// What a leak costs.  One row per ranked row.  Money is in the plant's currency.
struct ConsequenceColumns {
    Codes consequence_category;  ///< vocabulary `consequence_category`
    Numbers leak_cost;
    // With the money model only; the parts of the sum have values where `priced` is 1.
    Codes consequence_basis;  ///< vocabulary `consequence_basis`
    Codes priced;
    Numbers repair_cost;
    Numbers outage_cost;
    Codes release_size;  ///< vocabulary `release_size`
    Numbers release_cost;
    Codes injury_class;  ///< vocabulary `injury_class`
    Numbers injury_cost;
    Numbers money_cost;  ///< their sum

    void resize(Eigen::Index rows, bool money);
    [[nodiscard]] std::vector<ColumnView> views(bool money) const;
    /// True where an outage of `row`, of segment `segment`, is priced with the margin of the rules.
    [[nodiscard]] bool assumes_margin(const Plant& plant, std::uint32_t segment,
                                      std::size_t row) const;
};

/// The tables of the money model, amounts in the plant's currency.
struct MoneyRules {
    double lost_margin_per_day = 0.0;  ///< of a unit that plant.yaml gives none for
    double repair_fixed = 0.0;
    double repair_length_m = 0.0;
    std::optional<double> replace_run_per_m;  ///< of plant.yaml; stands before replace_cost
    const BandTable* replace_cost = nullptr;
    const BandTable* release_size = nullptr;
    const GridTable* release_cost = nullptr;
    const LookupTable* injury_class = nullptr;
    const LookupTable* injury_chance = nullptr;
    const LookupTable* injury_value = nullptr;
    struct Words {
        std::uint8_t leak_cost = 0;
        std::uint8_t money = 0;
        std::uint8_t money_held = 0;
        std::uint8_t category = 0;
    } basis;
};

struct ConsequenceRules {
    const BandTable* category_of_cost = nullptr;
    const LookupTable* cost_of_category = nullptr;
    double plant_per_usd = 1.0;       ///< price of one US dollar in the plant's currency
    std::optional<MoneyRules> money;  ///< with the money model only
    std::vector<AxisRange> limits;    ///< costs [US dollar] by code of `consequence_category`
};
[[nodiscard]] ConsequenceRules consequence_rules(const RuleSet& rules, const Plant& plant);
/// Tables this step needs under these models.
[[nodiscard]] std::vector<TableNeed> consequence_needs(const MethodModels& models);

/// Price of one US dollar, in which rule tables give money, in the plant's currency; 1 where
/// plant.yaml has no rate.
[[nodiscard]] double plant_per_usd(const PlantDescription& plant);

/// `unit_costs -> replace_run` of plant.yaml, if it is an amount per metre.
[[nodiscard]] const UnitCost* replace_run_per_m(const PlantDescription& plant);

/// Margin lost in a day that the unit of a segment is down [plant currency]; nothing where
/// plant.yaml gives none.
[[nodiscard]] std::optional<double> lost_margin_per_day(const Plant& plant, std::size_t segment);

/// Segments of a unit whose outage is priced with the margin of the rules.
struct MarginGap {
    std::string unit;
    std::size_t count = 0;
};
/// Units without a lost margin in plant.yaml that have segments whose outage the rules price, by
/// name.
[[nodiscard]] std::vector<MarginGap> margin_gaps(const Plant& plant, const RuleSet& rules);

/// The word of `service_hazard` that calls for no caution.
inline constexpr std::string_view no_hazard = "none";

/// What a release of a segment's fluid threatens, a word of `service_hazard`; null where the fluid
/// class is not recorded.
[[nodiscard]] const Word* service_hazard(const Plant& plant, const RuleSet& rules,
                                         std::size_t segment);

/// Fills rows [range) of `out`.  By category (eq. 21): the category as given, else that of the
/// money; the money as given, else what stands for the category.  With the money model (eq. 50 to
/// 55) segments of which can_be_priced() get the sum of repair, outage, release and injury, held
/// within the limits of the category where the site gives one.
void fill_consequence(const Plant& plant, const ConsequenceRules& rules,
                      std::span<const std::uint32_t> rows, RowRange range, ConsequenceColumns& out);

}  // namespace lagline
