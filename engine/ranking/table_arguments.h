#pragma once

#include <cstdint>
#include <optional>
#include <string_view>
#include <vector>

#include "exposure/exposure.h"
#include "plant/plant.h"
#include "ranking/ranking.h"
#include "ruleset/ruleset.h"

namespace lagline {

/// What the steps asked the rule tables with for one ranked row.  Numbers and words are read from
/// the columns and cells; what the columns hold only in sum, such as the temperatures of the cycle,
/// comes from the functions that filled them.
class TableArguments {
  public:
    TableArguments(const Plant& plant, const RuleSet& rules, const Ranking& ranking,
                   std::uint32_t row);

    /// Words of a vocabulary by which `table` was asked for the quantity `of`, as codes.
    [[nodiscard]] std::vector<std::uint8_t> codes(std::string_view vocabulary,
                                                  std::string_view table,
                                                  const QuantityInfo& of) const;
    /// Arguments of an axis, in its base unit.
    [[nodiscard]] std::vector<double> numbers(std::string_view axis, std::string_view table,
                                              const QuantityInfo& of) const;
    /// False where what is known of the row made `table` idle for the quantity `of`.
    [[nodiscard]] bool asked(std::string_view table, const QuantityInfo& of) const;

    /// The column of this key where it has a value in the row; null otherwise.
    [[nodiscard]] const ColumnView* find_quantity(std::string_view key) const;
    /// Levels of the service cycle; one at the operating temperature without the model.
    [[nodiscard]] const std::vector<ServiceLevel>& levels() const { return levels_; }
    [[nodiscard]] bool is_vertical() const;

  private:
    [[nodiscard]] std::optional<double> quantity(std::string_view key) const;
    [[nodiscard]] std::optional<std::uint8_t> code_of_inputs(std::string_view words,
                                                             const QuantityInfo& of) const;
    [[nodiscard]] std::optional<double> axis_value(std::string_view axis) const;
    [[nodiscard]] std::vector<double> metal_temperatures(const QuantityInfo& of) const;
    [[nodiscard]] std::vector<double> insulation_temperatures(const QuantityInfo& of) const;
    [[nodiscard]] bool coating_asked(std::string_view table, const QuantityInfo& of) const;
    [[nodiscard]] bool weather_asked(std::string_view table) const;
    [[nodiscard]] bool exposure_asked(std::string_view table) const;
    [[nodiscard]] bool history_asked(std::string_view table, const QuantityInfo& of) const;
    [[nodiscard]] double driver_level() const;
    [[nodiscard]] std::uint8_t coating_system() const;
    [[nodiscard]] bool has_dead_leg() const;

    const Plant& plant_;
    const RuleSet& rules_;
    const Ranking& ranking_;
    std::uint32_t row_;
    std::uint32_t segment_;
    std::vector<ColumnView> columns_;
    std::vector<ServiceLevel> levels_;
    std::vector<ServiceLevel> header_;  ///< before a dead leg; equal to levels_ without one
};

}  // namespace lagline
