#pragma once

#include <cstdint>

#include "quantity/date.h"
#include "synthesis/line.h"
#include "synthesis/segment.h"

namespace lagline {

/// What really happens to the steel of a segment, seen only through inspections.
///
/// It is built differently from the published method on purpose, so that inspections agree with
/// the ranking in kind but not in every case, as they do in a plant:
/// - the insulation keeps water out until its seals fail, at a time of its own; the published
///   method counts from the coating alone;
/// - the coating breaks down at a random age about a middle that depends on the system, the field
///   work and the heat; the published method credits 0, 5 or 15 years;
/// - most of the insulation dries out again: only some segments of a rack stay wet, and the rate
///   there is scattered twentyfold; the published method gives each the rate of its conditions;
/// - the rate is one tent over temperature, its top at 85 degC, and falls off slowly with time as
///   scale builds up; the published method has a table and a constant rate;
/// - condition of the insulation, its type and the complexity of the segment, which the published
///   method counts as factors on the rate, do not act on the steel at all: the records tell of them
///   what a survey of another year would;
/// - the wall was not nominal when new: it lay within the mill's spread.
///
/// It must not be fitted to the method: tests hold rankings against it (tests/learning).
class HiddenWall {
  public:
    HiddenWall(std::uint64_t seed, const Rack& rack, const Line& line, const Segment& segment);

    /// Deepest loss on the segment [mm], at most four fifths of the wall; `at` in service.
    [[nodiscard]] double loss_mm(Date at) const;
    /// Wall when new [mm].
    [[nodiscard]] double new_wall_mm() const { return new_wall_mm_; }
    /// Years since the coating of that day broke down; negative while it holds.
    [[nodiscard]] double years_unprotected(Date at) const;
    /// Years since water found a way into the insulation of that day; negative before.
    [[nodiscard]] double years_open(Date at) const;
    [[nodiscard]] bool stays_wet() const { return stays_wet_; }
    [[nodiscard]] bool coated(Date at) const;

  private:
    struct Spell {  ///< from one coat and insulation to the next
        Date start;
        double coating_years = 0.0;
        double seal_years = 0.0;
        bool coated = false;
    };
    [[nodiscard]] const Spell& spell_of(Date at) const;
    [[nodiscard]] double loss_in(const Spell& spell, Date end) const;
    [[nodiscard]] static Spell draw_spell(Dice& dice, const Rack& rack, const Line& line,
                                          const Protection& protection);

    Spell first_;
    Spell present_;
    bool stays_wet_ = false;
    double rate_mm_per_year_ = 0.0;
    double new_wall_mm_ = 0.0;
};

}  // namespace lagline
