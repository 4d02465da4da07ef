#include "planning/recoat.h"

#include <algorithm>
#include <cmath>

#include "planning/recoat_option.h"

namespace lagline {
namespace {

using S = SegmentField;

constexpr std::size_t months = 12;
constexpr std::uint8_t ferritic = 0;  // first word of material_family

bool yes(const LookupTable& table, std::uint8_t by) { return table.code(by) != 0; }

NewLife life_of(const Plant& plant, const RecoatRules& rules, std::uint32_t segment,
                const SegmentService& service, std::uint8_t system, std::uint8_t preparation,
                const SpecifiedFilms& films) {
    NewLife found;
    found.system = system;
    found.preparation = preparation;
    found.quality = rules.quality->at(system, preparation).code;
    if (!rules.life) {
        found.credit_years = rules.credit->value(found.quality);
        found.expected_years = found.credit_years;
        return found;
    }
    CoatingCase coating;
    coating.system = system;
    coating.quality = found.quality;
    coating.preparation = preparation;
    coating.field = true;
    coating.film_um = films.target_um();
    if (plant.segments.has(S::cycles_per_year, segment)) {
        coating.cycles_per_year = plant.segments.numbers(S::cycles_per_year)[segment];
    }
    found.life = coating_life(*rules.life, coating, service.driver, service.highest_degc,
                              service.lowest_degc)
                     .life;
    found.expected_years = found.life->scale_years * rules.mean_over_scale[system];
    return found;
}

/// Puts the options of one segment in one state of the line together.
class OptionMaker {
  public:
    OptionMaker(const Plant& plant, const RecoatRules& rules, const SurfaceRules& surface_rules,
                std::uint32_t segment, const SegmentService& service, WorkState state)
        : plant_(plant),
          rules_(rules),
          segment_(segment),
          service_(service),
          state_(state),
          family_(rules.material_family->code(plant.segments.codes(S::material)[segment])),
          surface_(segment_surface(plant, surface_rules, segment)),
          access_cost_(access_cost(plant, surface_rules, segment, surface_)) {
        for (std::size_t month = 0; month < months; ++month) {
            steel_[month] = steel_while_worked(plant, rules, segment, state, month);
        }
        air_matters_ = follows_air(plant, rules, segment, state);
    }

    [[nodiscard]] RecoatOption make(std::uint8_t system) const {
        RecoatOption option;
        option.system = system;
        option.state = state_;
        if (!suits_steel(option) || !suits_service(option)) return option;
        const auto films = specified_films(
            rules_, system, DegCelsius{std::max(service_.hottest_degc, service_.highest_degc)});
        if (!films) {
            const std::uint8_t rigidity = rules_.rigidity->code(system);
            refuse(option, RecoatRefusal::film_too_thick,
                   rules_.thick_film_limit->entries[rigidity]);
            return option;
        }
        option.films = films->films;
        option.coats = films->coats;
        option.form = static_cast<CoatingForm>(rules_.form->code(system));
        if (!suits_weather(option)) return option;
        choose_preparation(option, *films);
        return option;
    }

  private:
    static void refuse(RecoatOption& option, RecoatRefusal why, const RuleEntry& rule,
                       double limit = 0.0, double found = 0.0) {
        option.refusal = why;
        option.rule = &rule;
        option.limit = limit;
        option.found = found;
    }

    bool suits_steel(RecoatOption& option) const {
        const std::uint8_t system = option.system;
        const RuleEntry& offered = rules_.specifiable->entries[system];
        const RuleEntry& substrate = rules_.substrate->at(system, family_);
        if (offered.code == 0) {
            refuse(option, RecoatRefusal::not_specified, offered);
        } else if (substrate.code == 0) {
            const bool zinc = family_ != ferritic && yes(*rules_.holds_zinc, system);
            refuse(option, zinc ? RecoatRefusal::zinc_on_stainless : RecoatRefusal::substrate,
                   substrate);
        }
        return option.allowed();
    }

    bool suits_service(RecoatOption& option) const {
        const std::uint8_t system = option.system;
        const double hottest = std::max(service_.hottest_degc, service_.highest_degc);
        const double most = rules_.temperature_most->value(system);
        const double least = rules_.temperature_least->value(system);
        const bool in_wet_heat =
            service_.lowest_degc <= rules_.zinc_wet_to_degc && hottest >= rules_.zinc_wet_from_degc;
        if (yes(*rules_.holds_zinc, system) && in_wet_heat) {
            refuse(option, RecoatRefusal::zinc_in_wet_heat, rules_.holds_zinc->entries[system]);
        } else if (family_ == ferritic && yes(*rules_.dry_heat_only, system) &&
                   service_.lowest_degc < rules_.dry_heat_from_degc) {
            refuse(option, RecoatRefusal::dry_heat, rules_.dry_heat_only->entries[system],
                   rules_.dry_heat_from_degc, service_.lowest_degc);
        } else if (hottest > most) {
            refuse(option, RecoatRefusal::service_too_hot, rules_.temperature_most->entries[system],
                   most, hottest);
        } else if (service_.lowest_degc < least) {
            refuse(option, RecoatRefusal::service_too_cold,
                   rules_.temperature_least->entries[system], least, service_.lowest_degc);
        } else if (cycles() && !yes(*rules_.cyclic, system)) {
            refuse(option, RecoatRefusal::cyclic, rules_.cyclic->entries[system]);
        }
        return option.allowed();
    }

    [[nodiscard]] bool cycles() const {
        return plant_.segments.has(S::service, segment_) &&
               plant_.segments.codes(S::service)[segment_] == rules_.cyclic_service;
    }

    bool suits_weather(RecoatOption& option) const {
        const std::uint8_t system = option.system;
        const double most = rules_.application_most->value(system);
        const double cure = rules_.cure_least->value(system);
        option.months_known = !rules_.month_degc.empty();
        double coolest = steel_.front().most_degc;
        double warmest = steel_.front().least_degc;
        for (std::size_t month = 0; month < months; ++month) {
            const SteelWhileWorked& steel = steel_[month];
            coolest = std::min(coolest, steel.most_degc);
            warmest = std::max(warmest, steel.least_degc);
            if (fits(steel, month, cure, most)) {
                option.months |= static_cast<std::uint16_t>(1U << month);
            }
        }
        if (option.months != 0) return true;
        if (coolest > most) {
            refuse(option, RecoatRefusal::steel_too_hot, rules_.application_most->entries[system],
                   most, coolest);
        } else {
            refuse(option, RecoatRefusal::no_month, rules_.cure_least->entries[system], cure,
                   warmest);
        }
        return false;
    }

    // Without a climate only what does not hang on it is compared.
    [[nodiscard]] bool fits(const SteelWhileWorked& steel, std::size_t month, double cure_degc,
                            double most_degc) const {
        if (rules_.month_degc.empty() && air_matters_) return !(steel.most_degc > most_degc);
        if (steel.most_degc > most_degc || steel.least_degc < cure_degc) return false;
        return rules_.month_degc.empty() ||
               steel.least_degc - rules_.month_dew_degc[month] >= rules_.dew_margin_k;
    }

    // Of what can be had and is good enough, what costs least over the life.
    void choose_preparation(RecoatOption& option, const SpecifiedFilms& films) const {
        const std::uint8_t needed = rules_.preparation_least->code(option.system);
        const double needed_rank = rules_.cleanliness->value(needed);
        const auto all = static_cast<std::uint8_t>(rules_.cleanliness->entries.size());
        RecoatOption best = option;
        bool possible = false;
        for (std::uint8_t each = 0; each < all; ++each) {
            if (rules_.cleanliness->value(each) < needed_rank) continue;
            if (rules_.preparation_possible->at(each, static_cast<std::uint8_t>(state_)).code ==
                0) {
                continue;
            }
            RecoatOption tried = option;
            price(tried, films, each);
            if (!possible || tried.life_cycle_cost < best.life_cycle_cost) best = tried;
            possible = true;
        }
        if (!possible) {
            option.preparation = needed;
            refuse(option, RecoatRefusal::preparation,
                   rules_.preparation_possible->at(needed, static_cast<std::uint8_t>(state_)));
            return;
        }
        option = best;
        if (!std::isfinite(option.life_cycle_cost)) {
            refuse(option, RecoatRefusal::no_life,
                   rules_.quality->at(option.system, option.preparation));
        }
    }

    void price(RecoatOption& option, const SpecifiedFilms& films, std::uint8_t preparation) const {
        const std::uint8_t system = option.system;
        option.preparation = preparation;
        option.life = life_of(plant_, rules_, segment_, service_, system, preparation, films);
        option.coating_cost_per_m2 = coating_usd_per_m2(rules_, system, preparation, films) *
                                     rules_.plant_per_usd * rules_.price_level;
        option.coating_cost = option.coating_cost_per_m2 * surface_.steel_m2;
        option.access_cost = access_cost_;
        option.life_cycle_cost =
            option.job_cost() *
            life_cycle_factor(rules_.sequence, rules_.terms, option.life.expected_years);
        option.material = coat_material(rules_, system, films, surface_.steel_m2);
        option.coating_hours_per_m2 = rules_.preparation_hours->value(preparation) +
                                      films.coats * rules_.application_hours->value(system);
    }

    const Plant& plant_;
    const RecoatRules& rules_;
    std::uint32_t segment_;
    const SegmentService& service_;
    WorkState state_;
    std::uint8_t family_;
    SegmentSurface surface_;
    double access_cost_;
    std::array<SteelWhileWorked, months> steel_{};
    bool air_matters_ = false;
};

}  // namespace

SegmentService segment_service(const Plant& plant, const Ranking& ranking, std::uint32_t row) {
    const std::uint32_t segment = ranking.segment_rows[row];
    const auto at = static_cast<Eigen::Index>(row);
    const ExposureColumns& seen = ranking.exposure;
    SegmentService service;
    service.driver = seen.driver[at];
    const bool cycle = ranking.models.service_cycle;
    service.highest_degc = cycle ? seen.highest_degc[at] : seen.metal_temperature_degc[at];
    service.lowest_degc = cycle ? seen.lowest_degc[at] : seen.metal_temperature_degc[at];
    service.hottest_degc = service.highest_degc;
    const SegmentSheet& segments = plant.segments;
    const bool dead_leg = segments.has(S::dead_leg_length, segment) &&
                          segments.numbers(S::dead_leg_length)[segment] > 0.0;
    if (dead_leg) {
        service.hottest_degc =
            std::max(service.hottest_degc, segments.numbers(S::operating_temperature)[segment]);
    }
    return service;
}

RecoatPlanner::RecoatPlanner(const Plant& plant, const RuleSet& rules)
    : plant_(plant),
      rule_set_(rules),
      rules_(recoat_rules(rules, plant)),
      surface_(lagline::surface_rules(rules, plant)) {}

void RecoatPlanner::options(std::uint32_t segment, const SegmentService& service, WorkState state,
                            std::vector<RecoatOption>& into) const {
    const OptionMaker maker{plant_, rules_, surface_, segment, service, state};
    into.clear();
    const auto systems = static_cast<std::uint8_t>(rules_.specifiable->entries.size());
    for (std::uint8_t system = 0; system < systems; ++system) into.push_back(maker.make(system));
    // The system breaks ties, so that the order is the same everywhere.
    std::ranges::sort(into, [](const RecoatOption& a, const RecoatOption& b) {
        if (a.allowed() != b.allowed()) return a.allowed();
        if (a.allowed() && a.life_cycle_cost != b.life_cycle_cost) {
            return a.life_cycle_cost < b.life_cycle_cost;
        }
        return a.system < b.system;
    });
}

RecoatOption RecoatPlanner::option(std::uint32_t segment, const SegmentService& service,
                                   WorkState state, std::uint8_t system) const {
    return OptionMaker{plant_, rules_, surface_, segment, service, state}.make(system);
}

std::optional<RecoatOption> RecoatPlanner::best(std::uint32_t segment,
                                                const SegmentService& service, WorkState state,
                                                std::uint16_t in_months) const {
    const OptionMaker maker{plant_, rules_, surface_, segment, service, state};
    std::optional<RecoatOption> least;
    const auto systems = static_cast<std::uint8_t>(rules_.specifiable->entries.size());
    for (std::uint8_t system = 0; system < systems; ++system) {
        const RecoatOption option = maker.make(system);
        if (!option.allowed() || (option.months_known && (option.months & in_months) == 0))
            continue;
        if (!least || option.life_cycle_cost < least->life_cycle_cost) least = option;
    }
    return least;
}

NewLife RecoatPlanner::new_life(std::uint32_t segment, const SegmentService& service,
                                std::uint8_t system, std::uint8_t preparation) const {
    const DegCelsius hottest{std::max(service.hottest_degc, service.highest_degc)};
    const auto films = specified_films(rules_, system, hottest);
    return life_of(plant_, rules_, segment, service, system, preparation,
                   films.value_or(SpecifiedFilms{}));
}

}  // namespace lagline
