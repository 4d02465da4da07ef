#include "diagnostics/text.h"
#include "intake/cell.h"
#include "intake/cell_place.h"
#include "intake/consistency_check.h"

namespace lagline {
namespace {

using S = SegmentField;
using I = InspectionField;

/// The findings of one row, held against the wall of its segment.
class FoundWall {
  public:
    FoundWall(const Plant& plant, const Limits& limits, std::size_t segment, std::uint32_t row,
              Report& report)
        : sheet_(plant.inspections),
          limits_(limits),
          row_(row),
          nominal_mm_(plant.segments.numbers(S::nominal_wall)[segment]),
          name_(plant.segments.texts(S::segment)[segment]),
          report_(report) {}

    void check() {
        if (sheet_.has(I::pit_depth, row_)) {
            const double pit_mm = sheet_.numbers(I::pit_depth)[row_];
            if (pit_mm > nominal_mm_) return report_pit(pit_mm);
        }
        const double before_mm = wall_before_mm();
        if (before_mm > limits_.wall_over_nominal_flagged * nominal_mm_) report_thick(before_mm);
    }

  private:
    // What is left at a pit and the pit add up to the wall that was there.
    [[nodiscard]] double wall_before_mm() const {
        double wall_mm = 0.0;
        for (const I field : {I::least_thickness, I::pit_depth}) {
            if (sheet_.has(field, row_)) wall_mm += sheet_.numbers(field)[row_];
        }
        return wall_mm;
    }

    [[nodiscard]] std::string nominal() const {
        return shown(info(S::nominal_wall), nominal_mm_) + ", the nominal wall of " +
               printable(name_);
    }

    void report_pit(double pit_mm) {
        const bool impossible = pit_mm > limits_.pit_over_wall_most * nominal_mm_;
        const std::string mend = "check the depth, its unit and the nominal wall";
        add_at_cell(report_, sheet_, index_of(I::pit_depth), row_,
                    impossible ? Severity::error : Severity::warning, Problem::contradiction,
                    shown(info(I::pit_depth), pit_mm), "at most " + nominal(),
                    impossible
                        ? mend
                        : mend + "; taken as a hole, which moves the rank of " + printable(name_));
    }

    void report_thick(double before_mm) {
        const bool reads = sheet_.has(I::least_thickness, row_);
        const bool both = reads && sheet_.has(I::pit_depth, row_);
        const I field = reads ? I::least_thickness : I::pit_depth;
        add_at_cell(report_, sheet_, index_of(field), row_, Severity::warning,
                    Problem::contradiction,
                    shown(info(field), before_mm) + (both ? ", with the pit" : ""),
                    "not far above " + nominal(),
                    "check the reading, its unit and the nominal wall; taken as it stands, which "
                    "moves the wall left and the rank of " +
                        printable(name_));
    }

    const InspectionSheet& sheet_;
    const Limits& limits_;
    std::uint32_t row_;
    double nominal_mm_;
    std::string_view name_;
    Report& report_;
};

}  // namespace

void check_readings(const Plant& plant, const Limits& limits, Report& report) {
    if (plant.inspection_order.empty()) return;
    for (std::size_t s = 0; s < plant.segments.rows(); ++s) {
        if (!plant.segments.has(S::nominal_wall, s)) continue;
        for (std::uint32_t i = plant.inspection_begin[s]; i < plant.inspection_begin[s + 1]; ++i) {
            FoundWall{plant, limits, s, plant.inspection_order[i], report}.check();
        }
    }
}

}  // namespace lagline
