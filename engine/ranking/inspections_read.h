#pragma once

#include <cstdint>
#include <string_view>
#include <vector>

#include "plant/plant.h"
#include "ranking/explain.h"
#include "ranking/ranking.h"
#include "ruleset/ruleset.h"

namespace lagline {

/// Inputs that stand for all inspections that a quantity was worked out from, one by one: a
/// quantity may depend on any of them, not only on the one that gave its value.
///   readings           inspections that read a wall
///   coating_findings   that graded the coating, or renewed it
///   inspections        all of them, by technique and coverage
///   crack_findings     all of them, by technique, coverage and cracks found
[[nodiscard]] bool stands_for_inspections(std::string_view key);

/// The inspections up to the rank date that such an input stands for, each as an input
/// `inspection` that says what was read from it.
[[nodiscard]] std::vector<ExplainedInput> inspections_told(const Plant& plant, const RuleSet& rules,
                                                           const Ranking& ranking,
                                                           std::uint32_t row, std::string_view key);

/// Rows of inspections.csv that the inputs of `of` stand for and that were classed by their
/// effectiveness.
[[nodiscard]] std::vector<std::uint32_t> inspections_classed(const Plant& plant,
                                                             const Ranking& ranking,
                                                             std::uint32_t row,
                                                             const QuantityInfo& of);
/// Their effectiveness, and their techniques.
[[nodiscard]] std::vector<std::uint8_t> effectiveness_read(const Plant& plant,
                                                           const Ranking& ranking,
                                                           std::uint32_t row,
                                                           const QuantityInfo& of);
[[nodiscard]] std::vector<std::uint8_t> techniques_read(const Plant& plant, const Ranking& ranking,
                                                        std::uint32_t row, const QuantityInfo& of);

}  // namespace lagline
