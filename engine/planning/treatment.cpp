#include "planning/treatment.h"

namespace lagline {
namespace {

// A shape from which a Weibull life counts as the same for all (degradation/weibull.h).
constexpr double no_spread = 1e6;

}  // namespace

Weibull one_life(double years) { return {years, no_spread}; }

Treatments::Treatments(const RuleSet& rules, const Futures& futures)
    : insulation_factor_(rules.lookup("insulation_factor")),
      insulation_step_(rules.lookup("scc_insulation_step")),
      open_air_rate_(rules.lookup("open_air_rate")),
      open_step_(rules.value("open_susceptibility_step").value()),
      seal_life_years_(rules.value("jacket_seal_life").value()),
      futures_(futures) {
    const std::uint8_t renewed = rules.value("renewed_condition").code();
    renewed_condition_factor_ = rules.lookup("condition_factor").value(renewed);
    renewed_condition_step_ = rules.lookup("scc_condition_step").value(renewed);
}

Treatment Treatments::renew_insulation(std::size_t row, std::uint8_t insulation_type) const {
    const auto own = static_cast<Eigen::Index>(row);
    WaterKeptOut water{.years = seal_life_years_};
    if (futures_.cracks[own] != 0) {
        water.susceptibility_steps = renewed_condition_step_ +
                                     insulation_step_.value(insulation_type) -
                                     futures_.water_steps[own];
    } else if (futures_.water_factor[own] > 0.0) {
        water.rate_factor = insulation_factor_.value(insulation_type) * renewed_condition_factor_ /
                            futures_.water_factor[own];  // eq. 86
    }
    Treatment treatment;
    treatment.water = water;
    return treatment;
}

Treatment Treatments::remove_insulation(std::size_t row) const {
    const auto own = static_cast<Eigen::Index>(row);
    Treatment treatment;
    if (futures_.cracks[own] != 0) {
        treatment.water =
            WaterKeptOut{.susceptibility_steps = open_step_ - futures_.water_steps[own]};
    } else {
        treatment.rate_mm_per_year = open_air_rate_.value(futures_.driver[own]);
    }
    return treatment;
}

Treatment Treatments::replace_run(double wall_mm, const Weibull& coat) {
    Treatment treatment;
    treatment.coat = coat;
    treatment.new_wall_mm = wall_mm;
    return treatment;
}

}  // namespace lagline
