#include "degradation/coating_life.h"

#include <algorithm>
#include <array>

#include "degradation/coats.h"
#include "exposure/dew_point.h"
#include "exposure/findings.h"
#include "quantity/date.h"

namespace lagline {
namespace {

using S = SegmentField;
using I = InspectionField;

constexpr double um_per_mm = 1e3;
constexpr double months_per_year = 12.0;

constexpr std::array needs{
    TableNeed{.name = "coating_scale",
              .kind = TableKind::grid,
              .dimension = Dimension::time,
              .by = "coating_system",
              .columns = "driver"},
    TableNeed{.name = "coating_shape", .kind = TableKind::lookup, .by = "coating_system"},
    TableNeed{.name = "quality_scale",
              .kind = TableKind::lookup,
              .dimension = Dimension::time,
              .by = "coating_quality"},
    TableNeed{.name = "quality_shape", .kind = TableKind::value},
    TableNeed{.name = "coating_rigidity_of",
              .kind = TableKind::lookup,
              .by = "coating_system",
              .gives = "coating_rigidity"},
    TableNeed{.name = "coating_temperature_most",
              .kind = TableKind::lookup,
              .dimension = Dimension::temperature,
              .by = "coating_system"},
    TableNeed{.name = "coating_temperature_least",
              .kind = TableKind::lookup,
              .dimension = Dimension::temperature,
              .by = "coating_system"},
    TableNeed{
        .name = "over_temperature_factor", .kind = TableKind::bands, .axis = "temperature_excess"},
    TableNeed{.name = "cold_factor", .kind = TableKind::value},
    TableNeed{.name = "film_least",
              .kind = TableKind::lookup,
              .dimension = Dimension::length,
              .by = "coating_system"},
    TableNeed{.name = "film_most",
              .kind = TableKind::lookup,
              .dimension = Dimension::length,
              .by = "coating_system"},
    TableNeed{.name = "coating_thickness",
              .kind = TableKind::lookup,
              .dimension = Dimension::length,
              .by = "coating_system"},
    TableNeed{.name = "thin_film_factor", .kind = TableKind::bands, .axis = "film_ratio"},
    TableNeed{.name = "thick_film_limit",
              .kind = TableKind::lookup,
              .dimension = Dimension::length,
              .by = "coating_rigidity"},
    TableNeed{.name = "cracking_factor",
              .kind = TableKind::curves,
              .by = "coating_rigidity",
              .axis = "metal_temperature"},
    TableNeed{.name = "yard_erosion",
              .kind = TableKind::lookup,
              .dimension = Dimension::corrosion_rate,
              .by = "coating_rigidity"},
    TableNeed{.name = "preparation_factor", .kind = TableKind::lookup, .by = "surface_preparation"},
    TableNeed{.name = "field_factor", .kind = TableKind::lookup, .by = "application_place"},
    TableNeed{.name = "field_after", .kind = TableKind::value, .dimension = Dimension::time},
    TableNeed{.name = "cure_temperature_least",
              .kind = TableKind::lookup,
              .dimension = Dimension::temperature,
              .by = "coating_system"},
    TableNeed{.name = "cold_cure_factor", .kind = TableKind::value},
    TableNeed{.name = "dew_point_margin",
              .kind = TableKind::value,
              .dimension = Dimension::temperature_difference},
    TableNeed{.name = "dew_factor", .kind = TableKind::value},
    TableNeed{.name = "cycling_life_factor",
              .kind = TableKind::bands,
              .by = "coating_rigidity",
              .axis = "cycles_per_year"},
    TableNeed{.name = "wet_life_factor", .kind = TableKind::lookup, .by = "yes_no"},
    TableNeed{.name = "sound_rust_grade", .kind = TableKind::value},
};

/// Works out the factors of one coating.
class LifeReader {
  public:
    LifeReader(const CoatingLifeRules& rules, const CoatingCase& coating)
        : rules_(rules), coating_(coating) {}

    CoatingLife read(std::uint8_t driver, double highest_degc, double lowest_degc) const {
        CoatingLife found;
        if (rules_.unknown_system == coating_.system) {
            found.base_scale_years = rules_.quality_scale->value(coating_.quality);
            found.life.shape = rules_.quality_shape;
        } else {
            found.base_scale_years = rules_.scale->at(coating_.system, driver).value;
            found.life.shape = rules_.shape->value(coating_.system);
        }
        const std::uint8_t rigidity = rules_.rigidity->code(coating_.system);
        found.preparation = rules_.preparation->value(coating_.preparation);
        read_application(found);
        read_film(found, rigidity, highest_degc);
        read_temperature(found, highest_degc, lowest_degc);
        if (coating_.cycles_per_year >= 0.0) {
            found.cycling = rules_.cycling->find(rigidity, coating_.cycles_per_year).value;
        }
        found.wet = rules_.wet->value(coating_.wet ? 1 : 0);
        found.life.scale_years = found.base_scale_years * found.preparation * found.place *
                                 found.application * found.thin_film * found.cracking *
                                 found.temperature * found.cycling * found.wet;  // eq. 33
        return found;
    }

  private:
    void read_application(CoatingLife& found) const {
        found.place = rules_.field->value(coating_.field ? 1 : 0);
        if (!coating_.month || rules_.month_degc.empty()) return;
        const double air = rules_.month_degc[*coating_.month];
        if (air < rules_.cure_least->value(coating_.system)) {
            found.application *= rules_.cold_cure_factor;
        }
        if (air - rules_.month_dew_degc[*coating_.month] < rules_.dew_margin_k) {
            found.application *= rules_.dew_factor;
        }
    }

    void read_film(CoatingLife& found, std::uint8_t rigidity, double highest_degc) const {
        if (coating_.film_um < 0.0) return;
        found.film_um = coating_.film_um;
        const double least_um = rules_.film_least->value(coating_.system) * um_per_mm;
        if (least_um > 0.0) {
            found.thin_film = rules_.thin_film->find(0, found.film_um / least_um).value;
        }
        // Cracking starts in the film as it went into service.
        if (found.film_um > rules_.thick_film_limit->value(rigidity) * um_per_mm) {
            found.cracking = rules_.cracking->find(rigidity, highest_degc).value;
        }
    }

    void read_temperature(CoatingLife& found, double highest_degc, double lowest_degc) const {
        const double excess_k = highest_degc - rules_.temperature_most->value(coating_.system);
        found.temperature = rules_.over_temperature->find(0, excess_k).value;
        if (lowest_degc < rules_.temperature_least->value(coating_.system)) {
            found.temperature *= rules_.cold_factor;
        }
    }

    const CoatingLifeRules& rules_;
    const CoatingCase& coating_;
};

// The film that went into service: less what the yard took.  A coating that was applied at the
// plant never lay in the yard.
double film_in_service_um(const SegmentSheet& segments, const CoatingLifeRules& rules,
                          std::uint32_t segment, std::uint8_t system, bool field) {
    if (!segments.has(S::coating_thickness, segment)) return -1.0;
    const double applied_um = segments.numbers(S::coating_thickness)[segment];
    if (field || !segments.has(S::yard_storage, segment)) return applied_um;
    const double years = segments.numbers(S::yard_storage)[segment] / months_per_year;
    const double erosion_um_per_year =
        rules.yard_erosion->value(rules.rigidity->code(system)) * um_per_mm;
    return std::max(0.0, applied_um - erosion_um_per_year * years);
}

/// A part of the surface and the coating on it.
struct Coat {
    Date applied;
    double share = 1.0;  ///< of the surface, right after it was applied
    const Weibull* life = nullptr;
};

class SurfaceReader {
  public:
    SurfaceReader(const Plant& plant, std::uint32_t segment, Date until, double sound_grade,
                  const HistoryRules& history, const CoatLives& lives)
        : plant_(plant), sound_grade_(sound_grade), failed_grade_(history.failed_rust_grade) {
        const FirstCoat first = first_coat(plant, history, segment, until);
        clock_ = first.applied;
        recoated_ = first.recoated;
        const bool earlier = first.applied != Date{plant.segments.days(S::coating_date)[segment]};
        first_life_ = earlier ? &lives.earlier : &lives.present;
        coats_.push_back({first.applied, 1.0, first_life_});
        for (std::uint32_t i = plant.inspection_begin[segment];
             i < plant.inspection_begin[segment + 1]; ++i) {
            const std::uint32_t row = plant.inspection_order[i];
            const Date day{plant.inspections.days(I::date)[row]};
            if (day > until) break;
            inspections_.push_back(row);
            if (!plant.inspections.has(I::coating_renewed, row)) continue;
            const double share = plant.inspections.numbers(I::coating_renewed)[row] / 100.0;
            if (share <= 0.0 || day <= first.applied) continue;
            const bool of_present = !earlier || (recoated_ && day > *recoated_);
            coats_.push_back({day, share, of_present ? &lives.present : &lives.earlier});
        }
        if (recoated_) {
            const auto later = std::ranges::find_if(
                coats_, [this](const Coat& coat) { return coat.applied > *recoated_; });
            recoat_ = static_cast<std::size_t>(later - coats_.begin());
            coats_.insert(later, {*recoated_, 1.0, &lives.present});
        }
    }

    double unprotected(Date from, Date to) {
        const double found = by_coats(from, to);
        if (!recoated_) return found;
        // A recoat on record never counts against the segment.
        coats_.erase(coats_.begin() + static_cast<std::ptrdiff_t>(recoat_));
        for (Coat& coat : coats_) coat.life = first_life_;
        return std::min(found, by_coats(from, to));
    }

  private:
    double by_coats(Date from, Date to) const {
        double sum = 0.0;
        Date start = from;
        for (const Coat& coat : coats_) {
            if (coat.applied <= start || coat.applied >= to) continue;
            sum += in_interval(start, coat.applied);
            start = coat.applied;
        }
        return sum + in_interval(start, to);
    }

    // Between two renewals the shares of the coats do not change (eq. 37).
    double in_interval(Date from, Date to) const {
        double sum = 0.0;
        double left = 1.0;
        for (std::size_t i = coats_.size(); i-- > 0;) {
            if (i > 0 && coats_[i].applied > from) continue;
            const double share = i == 0 ? left : left * coats_[i].share;
            const double applied = at(coats_[i].applied);
            const double age_from = std::max(0.0, at(from) - applied);
            const double age_to = std::max(0.0, at(to) - applied);
            sum += share * unprotected_time(*coats_[i].life, known_of(coats_[i]), age_from, age_to);
            // Before it was coated for the first time the steel was bare.
            if (i == 0 && coats_[0].applied > from) {
                sum += share * std::max(0.0, years_between(from, std::min(coats_[0].applied, to)));
            }
            left -= share;
        }
        return sum;
    }

    BreakdownKnown known_of(const Coat& coat) const {
        BreakdownKnown known;
        for (const std::uint32_t row : inspections_) {
            if (!plant_.inspections.has(I::rust_grade, row)) continue;
            const Date day{plant_.inspections.days(I::date)[row]};
            // The grade of the day on which a coat was applied is that of the coat before it.
            if (day <= coat.applied) continue;
            const double age = at(day) - at(coat.applied);
            const double grade = plant_.inspections.numbers(I::rust_grade)[row];
            if (grade <= failed_grade_) {
                if (known.before_years < 0.0) known.before_years = age;
            } else if (grade >= sound_grade_ && known.before_years < 0.0) {
                known.after_years = age;
            }
        }
        return known;
    }

    // All days stand on one clock, that of the first coat: the times between them then add up.
    double at(Date day) const { return years_between(clock_, day); }

    const Plant& plant_;
    double sound_grade_;
    double failed_grade_;
    Date clock_;
    std::optional<Date> recoated_;
    std::size_t recoat_ = 0;  ///< index of the coat of `coating_date`, where it is a later one
    const Weibull* first_life_ = nullptr;
    std::vector<Coat> coats_;
    std::vector<std::uint32_t> inspections_;
};

}  // namespace

std::span<const TableNeed> coating_life_needs() { return needs; }

CoatingLifeRules coating_life_rules(const RuleSet& rules, const Plant& plant) {
    CoatingLifeRules taken;
    taken.scale = &rules.grid("coating_scale");
    taken.shape = &rules.lookup("coating_shape");
    taken.quality_scale = &rules.lookup("quality_scale");
    taken.quality_shape = rules.value("quality_shape").value();
    taken.unknown_system = rules.vocabulary("coating_system").code("unknown");
    taken.rigidity = &rules.lookup("coating_rigidity_of");
    taken.temperature_most = &rules.lookup("coating_temperature_most");
    taken.temperature_least = &rules.lookup("coating_temperature_least");
    taken.over_temperature = &rules.band("over_temperature_factor");
    taken.cold_factor = rules.value("cold_factor").value();
    taken.film_least = &rules.lookup("film_least");
    taken.thin_film = &rules.band("thin_film_factor");
    taken.thick_film_limit = &rules.lookup("thick_film_limit");
    taken.cracking = &rules.curve("cracking_factor");
    taken.yard_erosion = &rules.lookup("yard_erosion");
    taken.preparation = &rules.lookup("preparation_factor");
    taken.field = &rules.lookup("field_factor");
    taken.field_after_years = rules.value("field_after").value();
    taken.cure_least = &rules.lookup("cure_temperature_least");
    taken.cold_cure_factor = rules.value("cold_cure_factor").value();
    taken.dew_margin_k = rules.value("dew_point_margin").value();
    taken.dew_factor = rules.value("dew_factor").value();
    taken.cycling = &rules.band("cycling_life_factor");
    taken.wet = &rules.lookup("wet_life_factor");
    taken.sound_rust_grade = rules.value("sound_rust_grade").value();
    if (const auto& climate = plant.description.climate) {
        taken.month_degc.assign(climate->mean_temperature_degc.begin(),
                                climate->mean_temperature_degc.end());
        for (std::size_t month = 0; month < taken.month_degc.size(); ++month) {
            taken.month_dew_degc.push_back(
                dew_point_degc(taken.month_degc[month], climate->relative_humidity_percent[month]));
        }
    }
    return taken;
}

CoatingCase coating_case(const Plant& plant, const CoatingLifeRules& rules, std::uint32_t segment,
                         Date at) {
    const SegmentSheet& segments = plant.segments;
    CoatingCase coating;
    coating.system = segments.codes(S::coating_system)[segment];
    coating.quality = segments.codes(S::coating_quality)[segment];
    coating.preparation = segments.codes(S::coating_substrate_prep)[segment];
    // A coating dated well after the start of service was applied in the field, in that month's
    // weather; one from the shop was not.
    const Date coated{segments.days(S::coating_date)[segment]};
    const Date service{segments.days(S::in_service)[segment]};
    coating.field = years_between(service, coated) > rules.field_after_years;
    const bool day_known = segments.state(S::coating_date, segment) != CellState::imprecise;
    if (coating.field && day_known) coating.month = month_of(coated) - 1;
    coating.film_um = film_in_service_um(segments, rules, segment, coating.system, coating.field);
    if (segments.has(S::cycles_per_year, segment)) {
        coating.cycles_per_year = segments.numbers(S::cycles_per_year)[segment];
    }
    coating.wet = found_wet(plant, segment, at);
    return coating;
}

CoatingLife coating_life(const CoatingLifeRules& rules, const CoatingCase& coating,
                         std::uint8_t driver, double highest_degc, double lowest_degc) {
    return LifeReader{rules, coating}.read(driver, highest_degc, lowest_degc);
}

CoatingLife coating_life(const Plant& plant, const CoatingLifeRules& rules, std::uint32_t segment,
                         std::uint8_t driver, double highest_degc, double lowest_degc, Date at) {
    return coating_life(rules, coating_case(plant, rules, segment, at), driver, highest_degc,
                        lowest_degc);
}

double expected_unprotected(const Plant& plant, const CoatingLifeRules& rules,
                            const CoatLives& lives, const HistoryRules& history,
                            std::uint32_t segment, Date from, Date to) {
    if (to <= from) return 0.0;
    SurfaceReader reader{plant, segment, to, rules.sound_rust_grade, history, lives};
    return reader.unprotected(from, to);
}

}  // namespace lagline
