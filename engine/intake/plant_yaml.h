#pragma once

#include <filesystem>
#include <map>
#include <string>

#include "diagnostics/diagnostic.h"
#include "plant/plant.h"

namespace lagline {

/// A default of plant.yaml: the text that an empty cell of a column stands for.
struct PlantDefault {
    std::string text;
    Place place;
};

struct PlantFile {
    PlantDescription description;
    std::map<std::string, PlantDefault, std::less<>> defaults;  ///< by column of segments.csv
    bool currency_known = true;  ///< false when it could not be read, which has been reported
};

/// Reads plant.yaml; everything wrong goes to `report`.
[[nodiscard]] PlantFile read_plant_yaml(const std::filesystem::path& path, Report& report);

}  // namespace lagline
