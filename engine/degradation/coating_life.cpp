#include "degradation/coating_life.h"

#include <algorithm>
#include <array>

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

/// Reads one segment's coating and its factors.
class LifeReader {
  public:
    LifeReader(const Plant& plant, const CoatingLifeRules& rules, std::uint32_t segment)
        : plant_(plant), segments_(plant.segments), rules_(rules), segment_(segment) {}

    CoatingLife read(std::uint8_t driver, double highest_degc, double lowest_degc, Date at) {
        CoatingLife found;
        const std::uint8_t system = segments_.codes(S::coating_system)[segment_];
        if (rules_.unknown_system == system) {
            const std::uint8_t quality = segments_.codes(S::coating_quality)[segment_];
            found.base_scale_years = rules_.quality_scale->value(quality);
            found.life.shape = rules_.quality_shape;
        } else {
            found.base_scale_years = rules_.scale->at(system, driver).value;
            found.life.shape = rules_.shape->value(system);
        }
        const std::uint8_t rigidity = rules_.rigidity->code(system);
        found.preparation =
            rules_.preparation->value(segments_.codes(S::coating_substrate_prep)[segment_]);
        read_application(found, system);
        read_film(found, system, rigidity, highest_degc);
        read_temperature(found, system, highest_degc, lowest_degc);
        if (segments_.has(S::cycles_per_year, segment_)) {
            found.cycling =
                rules_.cycling->find(rigidity, segments_.numbers(S::cycles_per_year)[segment_])
                    .value;
        }
        found.wet = rules_.wet->value(found_wet(plant_, segment_, at) ? 1 : 0);
        found.life.scale_years = found.base_scale_years * found.preparation * found.place *
                                 found.application * found.thin_film * found.cracking *
                                 found.temperature * found.cycling * found.wet;  // eq. 33
        return found;
    }

  private:
    // A coating dated well after the start of service was applied in the field, in that month's
    // weather; one from the shop was not.
    void read_application(CoatingLife& found, std::uint8_t system) const {
        const Date coated{segments_.days(S::coating_date)[segment_]};
        const Date service{segments_.days(S::in_service)[segment_]};
        const bool field = years_between(service, coated) > rules_.field_after_years;
        found.place = rules_.field->value(field ? 1 : 0);
        const bool day_known = segments_.state(S::coating_date, segment_) != CellState::imprecise;
        if (!field || !day_known || rules_.month_degc.empty()) return;
        const std::size_t month = month_of(coated) - 1;
        const double air = rules_.month_degc[month];
        if (air < rules_.cure_least->value(system)) found.application *= rules_.cold_cure_factor;
        if (air - rules_.month_dew_degc[month] < rules_.dew_margin_k) {
            found.application *= rules_.dew_factor;
        }
    }

    void read_film(CoatingLife& found, std::uint8_t system, std::uint8_t rigidity,
                   double highest_degc) const {
        if (!segments_.has(S::coating_thickness, segment_)) return;
        const double applied_um = segments_.numbers(S::coating_thickness)[segment_];
        double lost_um = 0.0;
        if (segments_.has(S::yard_storage, segment_)) {
            const double years = segments_.numbers(S::yard_storage)[segment_] / months_per_year;
            lost_um = rules_.yard_erosion->value(rigidity) * um_per_mm * years;
        }
        found.film_um = std::max(0.0, applied_um - lost_um);
        const double least_um = rules_.film_least->value(system) * um_per_mm;
        if (least_um > 0.0) {
            found.thin_film = rules_.thin_film->find(0, found.film_um / least_um).value;
        }
        // Cracking starts in the film as it went into service.
        if (found.film_um > rules_.thick_film_limit->value(rigidity) * um_per_mm) {
            found.cracking = rules_.cracking->find(rigidity, highest_degc).value;
        }
    }

    void read_temperature(CoatingLife& found, std::uint8_t system, double highest_degc,
                          double lowest_degc) const {
        const double excess_k = highest_degc - rules_.temperature_most->value(system);
        found.temperature = rules_.over_temperature->find(0, excess_k).value;
        if (lowest_degc < rules_.temperature_least->value(system)) {
            found.temperature *= rules_.cold_factor;
        }
    }

    const Plant& plant_;
    const SegmentSheet& segments_;
    const CoatingLifeRules& rules_;
    std::uint32_t segment_;
};

/// A part of the surface and the coating on it.
struct Coat {
    Date applied;
    double share = 1.0;  ///< of the surface, right after it was applied
};

class SurfaceReader {
  public:
    SurfaceReader(const Plant& plant, std::uint32_t segment, Date until, double sound_grade,
                  double failed_grade)
        : plant_(plant), until_(until), sound_grade_(sound_grade), failed_grade_(failed_grade) {
        coats_.push_back({Date{plant.segments.days(S::coating_date)[segment]}, 1.0});
        for (std::uint32_t i = plant.inspection_begin[segment];
             i < plant.inspection_begin[segment + 1]; ++i) {
            const std::uint32_t row = plant.inspection_order[i];
            const Date day{plant.inspections.days(I::date)[row]};
            if (day > until) break;
            inspections_.push_back(row);
            if (!plant.inspections.has(I::coating_renewed, row)) continue;
            const double share = plant.inspections.numbers(I::coating_renewed)[row] / 100.0;
            if (share > 0.0 && day > coats_.front().applied) coats_.push_back({day, share});
        }
    }

    double unprotected(const Weibull& life, Date from, Date to) const {
        double sum = 0.0;
        Date start = from;
        for (const Coat& coat : coats_) {
            if (coat.applied <= start || coat.applied >= to) continue;
            sum += in_interval(life, start, coat.applied);
            start = coat.applied;
        }
        return sum + in_interval(life, start, to);
    }

  private:
    // Between two renewals the shares of the coats do not change (eq. 37).
    double in_interval(const Weibull& life, Date from, Date to) const {
        double sum = 0.0;
        double left = 1.0;
        for (std::size_t i = coats_.size(); i-- > 0;) {
            // A first coat that is dated after `from` stands for the coat it replaced: its age is
            // 0.
            if (i > 0 && coats_[i].applied > from) continue;
            const double share = i == 0 ? left : left * coats_[i].share;
            const double age_from = std::max(0.0, years_between(coats_[i].applied, from));
            const double age_to = std::max(0.0, years_between(coats_[i].applied, to));
            sum += share * unprotected_time(life, known_of(coats_[i]), age_from, age_to);
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
            const double age = years_between(coat.applied, day);
            const double grade = plant_.inspections.numbers(I::rust_grade)[row];
            if (grade <= failed_grade_) {
                if (known.before_years < 0.0) known.before_years = age;
            } else if (grade >= sound_grade_ && known.before_years < 0.0) {
                known.after_years = age;
            }
        }
        return known;
    }

    const Plant& plant_;
    Date until_;
    double sound_grade_;
    double failed_grade_;
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

CoatingLife coating_life(const Plant& plant, const CoatingLifeRules& rules, std::uint32_t segment,
                         std::uint8_t driver, double highest_degc, double lowest_degc, Date at) {
    return LifeReader{plant, rules, segment}.read(driver, highest_degc, lowest_degc, at);
}

double expected_unprotected(const Plant& plant, const CoatingLifeRules& rules, const Weibull& life,
                            std::uint32_t segment, Date from, Date to, double failed_rust_grade) {
    if (to <= from) return 0.0;
    return SurfaceReader{plant, segment, to, rules.sound_rust_grade, failed_rust_grade}.unprotected(
        life, from, to);
}

}  // namespace lagline
