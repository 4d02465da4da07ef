#pragma once

#include <map>
#include <string>
#include <string_view>

#include "intake/load_plant.h"
#include "support/temp_folder.h"

namespace lagline {

/// The needed columns of segments.csv.  Cells of `segment_row` start in columns 1, 5, 9, 12, 25,
/// 27, 32, 35 and 48 when the name has three characters.
inline constexpr std::string_view needed_headings =
    "segment,line,unit,material,nominal_size [NPS],nominal_wall [mm],operating_temperature [degC],"
    "insulation_type,in_service";
inline constexpr std::string_view one_row =
    "S-1,L-1,U1,carbon_steel,4,6.02,82,mineral_wool,1994-06-01";

/// `one_row` under another name.
[[nodiscard]] std::string segment_row(std::string_view name);

/// Two segments S-1 and S-2, with further headings and cells behind the needed ones.
[[nodiscard]] std::string segments(std::string_view headings = "", std::string_view cells = "");

/// Files by name -> text.  What is left out of plant.yaml and segments.csv is a usable one.
using Files = std::map<std::string, std::string, std::less<>>;

struct LoadChoice {
    std::size_t block_rows = 64;
    unsigned threads = 1;
    std::optional<Date> at = make_date(2025, 1, 1);
    Date today = make_date(2024, 1, 1);
};

/// Writes a plant folder and loads it with the shipped rules, or with `rules`.
[[nodiscard]] LoadedPlant load(const Files& files, const LoadChoice& choice = {},
                               const RuleSet* rules = nullptr);

/// Every diagnostic as "code file:line:column subject", in the order of the report, a line each.
[[nodiscard]] std::string summary(const Report& report);

/// The only diagnostic; throws std::runtime_error with the report when there is not exactly one.
[[nodiscard]] const Diagnostic& only(const LoadedPlant& loaded);

/// True when `text` stands in `in`.
[[nodiscard]] bool holds(std::string_view in, std::string_view text);

}  // namespace lagline
