#include "intake/plant_files.h"

#include <array>

namespace lagline {
namespace {

constexpr std::array<std::string_view, 11> names{
    "plant.yaml",      "columns.yaml",     "segments.csv",    "segments.xlsx",
    "inspections.csv", "inspections.xlsx", "turnarounds.csv", "turnarounds.xlsx",
    "overrides.csv",   "overrides.xlsx",   "plant.xlsx"};

}  // namespace

std::span<const std::string_view> plant_file_names() { return names; }

}  // namespace lagline
