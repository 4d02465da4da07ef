#include "synthesis/segment_row.h"

#include <array>

namespace lagline {
namespace {

using F = SegmentField;

/// Typical strengths of the grades this plant is built of [MPa].
struct Strength {
    double allowable, yield, tensile;
};
constexpr std::array strengths{Strength{137.9, 241, 414}, Strength{137.9, 205, 415},
                               Strength{137.9, 205, 515}, Strength{206.8, 450, 620}};

class SegmentRow {
  public:
    SegmentRow(CsvWriter& out, const Rack& rack, const Line& line, const Segment& segment)
        : out_(out), rack_(rack), line_(line), segment_(segment) {}

    void write(int id_digits) {
        identity(id_digits);
        pipe();
        operation();
        insulation();
        coating();
        surroundings();
        strength();
        consequence();
        place();
        out_.end_row();
    }

  private:
    /// Lines are recorded as a whole or not; so are segments.
    [[nodiscard]] bool line_has(F field) const { return (line_.gaps >> index_of(field) & 1U) == 0; }
    [[nodiscard]] bool has(F field) const { return (segment_.gaps >> index_of(field) & 1U) == 0; }

    void identity(int id_digits) {
        const auto group = 2 * rack_.number + (segment_.at.in_rack < rack_.first_group ? 1 : 2);
        out_.name(true, "S", segment_.number, id_digits);
        out_.name(true, line_.fluid->code, line_.number, 4);
        out_.word(true, unit_characters()[line_.unit].name);
        out_.text(has(F::area), rack_.area);
        // Below two metres nobody needs a scaffold.
        out_.name(segment_.elevation_m >= 2.0, "SG", group, 4);
        out_.text(line_has(F::drawing), line_.drawing);
        out_.text(line_has(F::fluid), line_.fluid->text);
        out_.word(line_has(F::fluid_class), line_.fluid->fluid_class);
    }

    void pipe() {
        out_.word(true, word(line_.steel));
        out_.text(true, line_.pipe.nps);
        out_.number(line_.diameter_known, line_.pipe.outside_mm, 1);
        out_.number(true, line_.wall_mm, 2);
        out_.number(has(F::length), segment_.length_m, 1);
        out_.number(has(F::fittings), segment_.fittings, 0);
        out_.date(true, line_.in_service, line_.precision);
    }

    void operation() {
        const bool cycles = line_.service != Service::continuous;
        out_.number(true, segment_.operating_degc, 0);
        out_.number(cycles && line_has(F::temperature_low), line_.low_degc, 0);
        out_.number(cycles && line_has(F::temperature_high), line_.high_degc, 0);
        out_.word(line_has(F::service), word(line_.service));
        out_.number(cycles && line_has(F::hot_fraction), line_.hot_fraction, 2);
        out_.number(cycles && line_has(F::cycles_per_year), line_.cycles_per_year, 0);
        out_.number(segment_.dead_leg_m > 0, segment_.dead_leg_m, 1);
        out_.word(line_has(F::heat_tracing), line_.heat_tracing);
        // One segment in seven is a riser.
        out_.word(has(F::orientation), segment_.number % 7 == 3 ? "vertical" : "horizontal");
    }

    void insulation() {
        const auto& present = segment_.present;
        out_.word(true, present.insulation_type);
        out_.number(has(F::insulation_thickness), present.insulation_mm, 0);
        out_.date(has(F::insulation_installed), present.date, present.precision);
        out_.word(has(F::insulation_condition), segment_.condition);
        out_.word(line_has(F::insulation_purpose), line_.fluid->purpose);
        out_.word(has(F::jacket), present.jacket);
    }

    void coating() {
        const auto& present = segment_.present;
        const bool coated = present.film_um > 0;
        out_.word(has(F::coating_system), present.coating_system);
        out_.word(has(F::coating_quality), present.coating_quality);
        out_.date(coated && has(F::coating_date), present.date, present.precision);
        out_.number(coated && has(F::coating_thickness), present.film_um, 0);
        out_.word(coated && has(F::coating_substrate_prep), present.preparation);
        out_.number(!present.renewed && has(F::yard_storage), present.yard_months, 0);
    }

    void surroundings() {
        out_.word(has(F::complexity), segment_.complexity);
        out_.flag(has(F::pooling), segment_.pooling);
        out_.flag(has(F::ground_or_water_interface), segment_.interface);
        out_.word(has(F::driver), rack_.driver);
    }

    void strength() {
        const auto& grade = strengths[static_cast<std::size_t>(line_.steel)];
        out_.number(line_has(F::design_pressure), line_.design_mpa, 2);
        out_.number(line_.strengths_known, grade.allowable, 1);
        out_.number(line_.strengths_known, grade.yield, 0);
        out_.number(line_.strengths_known, grade.tensile, 0);
        out_.number(line_has(F::joint_efficiency), line_.joint_efficiency, 2);
        out_.number(line_has(F::corrosion_allowance), line_.allowance_mm, 1);
        out_.number(line_.minimum_known, 0.5 * line_.wall_mm, 1);
        out_.word(has(F::data_confidence) && segment_.number % 6 == 0, segment_.data_confidence);
    }

    void consequence() {
        constexpr std::array<std::string_view, 5> categories{"A", "B", "C", "D", "E"};
        out_.word(!segment_.priced && has(F::consequence_category),
                  categories[static_cast<std::size_t>(segment_.consequence)]);
        out_.number(segment_.priced, static_cast<double>(segment_.leak_cost_eur), 0);
        out_.number(has(F::outage), segment_.outage_days, 1);
    }

    void place() {
        constexpr double lane_width_m = 0.6;
        const double north = rack_.y_m + lane_width_m * static_cast<double>(segment_.at.lane);
        out_.number(has(F::elevation), segment_.elevation_m, 1);
        out_.number(has(F::x), segment_.at.along_m, 1);
        // A segment is on the plot plan or it is not.
        out_.number(has(F::x), north, 1);
        // Every fortieth line is tested as a whole after work on it.
        constexpr std::uint64_t lines_a_pack = 40;
        out_.name(line_.number % lines_a_pack == 0, "TP", line_.number / lines_a_pack, 3);
    }

    CsvWriter& out_;
    const Rack& rack_;
    const Line& line_;
    const Segment& segment_;
};

}  // namespace

void write_segment(CsvWriter& out, const Rack& rack, const Line& line, const Segment& segment,
                   int id_digits) {
    SegmentRow(out, rack, line, segment).write(id_digits);
}

}  // namespace lagline
