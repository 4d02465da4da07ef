// The columns of inspections.csv.
#include <array>

#include "plant/field.h"
#include "plant/field_rows.h"

namespace lagline {
namespace {

constexpr auto columns = std::to_array<FieldInfo>({
    a_text("segment", needed, "segment that was inspected", "S-0107"),
    a_date("date", needed, "day of the inspection", "2019-06-12"),
    a_word("technique", needed, "technique", "how it was inspected", "strip_and_measure"),
    a_quantity("coverage", needed, Measure{Dimension::number, "%", 0, 100},
               "share of the suspect area that was inspected", "60"),
    a_quantity("least_thickness", where_empty("no thickness was read"),
               Measure{Dimension::length, "mm", 0, 200}, "least wall thickness found", "6.2"),
    a_quantity("pit_depth", where_empty("left empty"), Measure{Dimension::length, "mm", 0, 200},
               "deepest pit or local loss found", "0.8"),
    a_quantity("rust_grade", where_empty("coating not graded"),
               Measure{Dimension::number, "", 0, 10},
               "condition of the coating, rust grade of ASTM D610 (10 sound to 0)", "7"),
    a_flag("insulation_wet", where_empty("left empty"), "insulation was found wet", "yes"),
    a_word("jacket_damage", where_empty("left empty"), "jacket_damage", "damage to the jacket",
           "minor"),
    a_quantity("coating_renewed", where_empty("nothing was renewed"),
               Measure{Dimension::number, "%", 0, 100},
               "share of the surface that was recoated at this inspection", "40"),
    a_flag("cracks_found", where_empty("none reported"), "stress-corrosion cracks were found",
           "no"),
    a_text("report", where_empty("left empty"), "reference of the report", "IR-2019-044"),
});
static_assert(columns.size() == index_of(InspectionField::report) + 1);

}  // namespace

std::span<const FieldInfo> inspection_fields() { return columns; }

}  // namespace lagline
