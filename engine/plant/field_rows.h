#pragma once

#include "plant/field.h"

// How the tables of columns are written down: one call a column, by the kind of its cells.

namespace lagline {

/// Whether a cell must be filled, and what is taken where it is not.
struct Need {
    bool filled = false;
    std::string_view absent;
};
inline constexpr Need needed{true, ""};
constexpr Need where_empty(std::string_view absent) { return {false, absent}; }

/// What a number measures, the unit it is stored in, and the range that can be right.
struct Measure {
    Dimension dimension{};
    std::string_view unit;
    double least = 0.0;
    double most = 0.0;
};

constexpr FieldInfo a_column(FieldKind kind, std::string_view key, Need need,
                             std::string_view meaning, std::string_view example) {
    FieldInfo field;
    field.key = key;
    field.kind = kind;
    field.needed = need.filled;
    field.absent = need.absent;
    field.meaning = meaning;
    field.example = example;
    return field;
}

constexpr FieldInfo a_text(std::string_view key, Need need, std::string_view meaning,
                           std::string_view example) {
    return a_column(FieldKind::text, key, need, meaning, example);
}

constexpr FieldInfo a_date(std::string_view key, Need need, std::string_view meaning,
                           std::string_view example) {
    return a_column(FieldKind::date, key, need, meaning, example);
}

constexpr FieldInfo a_word(std::string_view key, Need need, std::string_view words,
                           std::string_view meaning, std::string_view example) {
    FieldInfo field = a_column(FieldKind::word, key, need, meaning, example);
    field.words = words;
    return field;
}

constexpr FieldInfo a_flag(std::string_view key, Need need, std::string_view meaning,
                           std::string_view example) {
    FieldInfo field = a_column(FieldKind::flag, key, need, meaning, example);
    field.words = "yes_no";
    return field;
}

constexpr FieldInfo a_size(std::string_view key, Need need, std::string_view meaning,
                           std::string_view example) {
    FieldInfo field = a_column(FieldKind::pipe_size, key, need, meaning, example);
    field.dimension = Dimension::nominal_size;
    field.unit = "NPS";
    return field;
}

constexpr FieldInfo a_quantity(std::string_view key, Need need, Measure measure,
                               std::string_view meaning, std::string_view example) {
    FieldInfo field = a_column(FieldKind::quantity, key, need, meaning, example);
    field.dimension = measure.dimension;
    field.unit = measure.unit;
    field.least = measure.least;
    field.most = measure.most;
    return field;
}

}  // namespace lagline
