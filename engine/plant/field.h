#pragma once

#include <cstdint>
#include <optional>
#include <span>
#include <string>
#include <string_view>

#include "quantity/unit.h"

namespace lagline {

/// How the text of a cell is read.
enum class FieldKind : std::uint8_t {
    text,       ///< free text
    word,       ///< one word of a vocabulary of the rule set; stored as its code
    quantity,   ///< a number with a unit; stored in the field's unit
    date,       ///< ISO 8601; stored as days
    flag,       ///< yes or no
    pipe_size,  ///< nominal size; stored as index into pipe_sizes()
};

/// One column that a file of the plant folder may have.
struct FieldInfo {
    std::string_view key;  ///< the heading
    FieldKind kind{};
    bool needed = false;       ///< the column must be there and every cell filled
    Dimension dimension{};     ///< of a quantity
    std::string_view unit;     ///< unit of storage and of output; "" for a pure number
    std::string_view words;    ///< vocabulary of a word
    double least = 0.0;        ///< smallest value that can be right, in `unit`; inclusive
    double most = 0.0;         ///< largest value that can be right, in `unit`; inclusive
    std::string_view absent;   ///< what is taken where the cell is empty
    std::string_view meaning;  ///< one sentence
    std::string_view example;  ///< a cell as a person writes it
};

/// Columns of segments.csv, in the order of segment_fields().
enum class SegmentField : std::uint8_t {
    segment,
    line,
    unit,
    area,
    scaffold_group,
    drawing,
    fluid,
    fluid_class,
    material,
    nominal_size,
    outside_diameter,
    nominal_wall,
    length,
    fittings,
    in_service,
    operating_temperature,
    temperature_low,
    temperature_high,
    service,
    hot_fraction,
    cycles_per_year,
    dead_leg_length,
    heat_tracing,
    orientation,
    insulation_type,
    insulation_thickness,
    insulation_installed,
    insulation_condition,
    insulation_purpose,
    jacket,
    coating_system,
    coating_quality,
    coating_date,
    coating_thickness,
    coating_substrate_prep,
    yard_storage,
    complexity,
    pooling,
    ground_or_water_interface,
    driver,
    design_pressure,
    allowable_stress,
    yield_strength,
    tensile_strength,
    joint_efficiency,
    corrosion_allowance,
    minimum_thickness,
    data_confidence,
    consequence_category,
    leak_cost,
    outage,
    elevation,
    x,
    y,
    test_pack,
    standby_temperature,
    standby_fraction,
    ramp_time,
};

/// Columns of inspections.csv, in the order of inspection_fields().
enum class InspectionField : std::uint8_t {
    segment,
    date,
    technique,
    coverage,
    least_thickness,
    pit_depth,
    rust_grade,
    insulation_wet,
    jacket_damage,
    coating_renewed,
    cracks_found,
    report,
};

/// Columns of turnarounds.csv, in the order of turnaround_fields().
enum class TurnaroundField : std::uint8_t {
    name,
    kind,
    start,
    end,
    budget,
    scaffold_hours,
    insulation_hours,
    coating_hours,
    inspection_hours,
    welding_hours,
};

/// Columns of overrides.csv, in the order of override_fields().
enum class OverrideField : std::uint8_t { segment, quantity, value, reason, who, when, until };

[[nodiscard]] std::span<const FieldInfo> segment_fields();
[[nodiscard]] std::span<const FieldInfo> inspection_fields();
[[nodiscard]] std::span<const FieldInfo> turnaround_fields();
[[nodiscard]] std::span<const FieldInfo> override_fields();

template <class Field>
[[nodiscard]] constexpr std::size_t index_of(Field field) {
    return static_cast<std::size_t>(field);
}
[[nodiscard]] inline const FieldInfo& info(SegmentField f) { return segment_fields()[index_of(f)]; }
[[nodiscard]] inline const FieldInfo& info(InspectionField f) {
    return inspection_fields()[index_of(f)];
}
[[nodiscard]] inline const FieldInfo& info(TurnaroundField f) {
    return turnaround_fields()[index_of(f)];
}
[[nodiscard]] inline const FieldInfo& info(OverrideField f) {
    return override_fields()[index_of(f)];
}

/// Index of the field with this key; nothing when there is none.
[[nodiscard]] std::optional<std::size_t> find_field(std::span<const FieldInfo> fields,
                                                    std::string_view key);

/// "operating_temperature [degC]", or the bare key where there is no unit.
[[nodiscard]] std::string heading_of(const FieldInfo& field);

}  // namespace lagline
