#pragma once

#include <string>
#include <vector>

#include "planning/plan.h"
#include "report/layout.h"

namespace lagline {

/// The parts of a plan as terminal text, each with its heading, empty where there is nothing to
/// say.  Keeps references.
class PlanSections {
  public:
    PlanSections(const Plant& plant, const RuleSet& rules, const Plan& plan, const TextStyle& style)
        : plant_(plant), rules_(rules), plan_(plan), style_(style) {}

    [[nodiscard]] std::string windows() const;
    [[nodiscard]] std::string money() const;
    [[nodiscard]] std::string does_not_fit() const;
    [[nodiscard]] std::string limits() const;
    [[nodiscard]] std::string budget_curve() const;
    [[nodiscard]] std::string work(std::size_t top) const;
    [[nodiscard]] std::string near_misses() const;
    [[nodiscard]] std::string notes() const;

  private:
    [[nodiscard]] std::string title(std::string_view text) const;
    [[nodiscard]] std::string small(const std::string& text) const;
    [[nodiscard]] std::string limit_text(const PlanResource& limit) const;
    [[nodiscard]] std::vector<std::string> work_row(std::size_t row) const;
    [[nodiscard]] std::string coating_of(const Strategy& strategy) const;
    [[nodiscard]] std::string waiting_of(std::size_t row) const;

    const Plant& plant_;
    const RuleSet& rules_;
    const Plan& plan_;
    TextStyle style_;
};

}  // namespace lagline
