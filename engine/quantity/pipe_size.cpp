#include "quantity/pipe_size.h"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <limits>
#include <system_error>

#include "diagnostics/text.h"
#include "quantity/unit.h"

namespace lagline {
namespace {

constexpr bool recalled = true;
constexpr bool seen = false;

// Sizes, DN and outside diameters of ASME B36.10M [mm].  `seen`: read in a public copy of its list
// (up to NPS 3 also in API 574, table 1).  `recalled`: from memory, check against a licensed copy.
// clang-format off
constexpr std::array sizes{
    PipeSize{"1/8",    0.125,    6,   10.3, recalled},
    PipeSize{"1/4",    0.25,     8,   13.7, recalled},
    PipeSize{"3/8",    0.375,   10,   17.1, recalled},
    PipeSize{"1/2",    0.5,     15,   21.3, seen},
    PipeSize{"3/4",    0.75,    20,   26.7, seen},
    PipeSize{"1",      1.0,     25,   33.4, seen},
    PipeSize{"1 1/4",  1.25,    32,   42.2, recalled},
    PipeSize{"1 1/2",  1.5,     40,   48.3, seen},
    PipeSize{"2",      2.0,     50,   60.3, seen},
    PipeSize{"2 1/2",  2.5,     65,   73.0, recalled},
    PipeSize{"3",      3.0,     80,   88.9, seen},
    PipeSize{"3 1/2",  3.5,     90,  101.6, recalled},
    PipeSize{"4",      4.0,    100,  114.3, seen},
    PipeSize{"5",      5.0,    125,  141.3, recalled},
    PipeSize{"6",      6.0,    150,  168.3, seen},
    PipeSize{"8",      8.0,    200,  219.1, seen},
    PipeSize{"10",    10.0,    250,  273.0, seen},
    PipeSize{"12",    12.0,    300,  323.8, seen},
    PipeSize{"14",    14.0,    350,  355.6, recalled},
    PipeSize{"16",    16.0,    400,  406.4, seen},
    PipeSize{"18",    18.0,    450,  457.0, recalled},
    PipeSize{"20",    20.0,    500,  508.0, recalled},
    PipeSize{"22",    22.0,    550,  559.0, recalled},
    PipeSize{"24",    24.0,    600,  610.0, seen},
    PipeSize{"26",    26.0,    650,  660.0, recalled},
    PipeSize{"28",    28.0,    700,  711.0, recalled},
    PipeSize{"30",    30.0,    750,  762.0, recalled},
    PipeSize{"32",    32.0,    800,  813.0, recalled},
    PipeSize{"34",    34.0,    850,  864.0, recalled},
    PipeSize{"36",    36.0,    900,  914.0, recalled},
    PipeSize{"38",    38.0,    950,  965.0, recalled},
    PipeSize{"40",    40.0,   1000, 1016.0, recalled},
    PipeSize{"42",    42.0,   1050, 1067.0, recalled},
    PipeSize{"44",    44.0,   1100, 1118.0, recalled},
    PipeSize{"46",    46.0,   1150, 1168.0, recalled},
    PipeSize{"48",    48.0,   1200, 1219.0, recalled},
};

struct Schedule {
    std::string_view name;
    std::string_view last_seen;  ///< largest NPS whose wall was read in a public copy; "" for none
};

// Of a column, the pairs up to `last_seen` whose size is `seen` above were read in a public copy of
// the B36.10M list; all others are recalled.  That list gives 10 and 10S in one column up to
// NPS 12; at NPS 16 and 24 its 6.35 mm is Schedule 10.
constexpr std::array schedules{
    Schedule{"5S", ""},   Schedule{"10S", "12"}, Schedule{"40S", ""},  Schedule{"80S", ""},
    Schedule{"5", ""},    Schedule{"10", "24"},  Schedule{"20", ""},   Schedule{"30", ""},
    Schedule{"40", "24"}, Schedule{"60", ""},    Schedule{"80", "24"}, Schedule{"100", ""},
    Schedule{"120", ""},  Schedule{"140", ""},   Schedule{"160", "24"},
    Schedule{"STD", "24"}, Schedule{"XS", "24"}, Schedule{"XXS", "12"},
};

using Walls = std::array<double, schedules.size()>;
constexpr double o = 0.0;  // no such pair, or not known with certainty

// Wall thickness [mm], a row per size in the order of `sizes`.  Schedule 5 above NPS 12 and 40S and
// 80S above NPS 12 are left out: the editions of the standards were not at hand to settle them.
constexpr std::array<Walls, sizes.size()> walls{{
//    5S    10S    40S    80S    5     10     20    30     40     60     80     100    120    140    160    STD    XS     XXS
    {o,    1.24,  1.73,  2.41,  o,    1.24,  o,    1.45,  1.73,  o,     2.41,  o,     o,     o,     o,     1.73,  2.41,  o},
    {o,    1.65,  2.24,  3.02,  o,    1.65,  o,    1.85,  2.24,  o,     3.02,  o,     o,     o,     o,     2.24,  3.02,  o},
    {o,    1.65,  2.31,  3.20,  o,    1.65,  o,    1.85,  2.31,  o,     3.20,  o,     o,     o,     o,     2.31,  3.20,  o},
    {1.65, 2.11,  2.77,  3.73,  1.65, 2.11,  o,    2.41,  2.77,  o,     3.73,  o,     o,     o,     4.78,  2.77,  3.73,  7.47},
    {1.65, 2.11,  2.87,  3.91,  1.65, 2.11,  o,    2.41,  2.87,  o,     3.91,  o,     o,     o,     5.56,  2.87,  3.91,  7.82},
    {1.65, 2.77,  3.38,  4.55,  1.65, 2.77,  o,    2.90,  3.38,  o,     4.55,  o,     o,     o,     6.35,  3.38,  4.55,  9.09},
    {1.65, 2.77,  3.56,  4.85,  1.65, 2.77,  o,    2.97,  3.56,  o,     4.85,  o,     o,     o,     6.35,  3.56,  4.85,  9.70},
    {1.65, 2.77,  3.68,  5.08,  1.65, 2.77,  o,    3.18,  3.68,  o,     5.08,  o,     o,     o,     7.14,  3.68,  5.08,  10.15},
    {1.65, 2.77,  3.91,  5.54,  1.65, 2.77,  o,    3.18,  3.91,  o,     5.54,  o,     o,     o,     8.74,  3.91,  5.54,  11.07},
    {2.11, 3.05,  5.16,  7.01,  2.11, 3.05,  o,    4.78,  5.16,  o,     7.01,  o,     o,     o,     9.53,  5.16,  7.01,  14.02},
    {2.11, 3.05,  5.49,  7.62,  2.11, 3.05,  o,    4.78,  5.49,  o,     7.62,  o,     o,     o,     11.13, 5.49,  7.62,  15.24},
    {2.11, 3.05,  5.74,  8.08,  2.11, 3.05,  o,    4.78,  5.74,  o,     8.08,  o,     o,     o,     o,     5.74,  8.08,  o},
    {2.11, 3.05,  6.02,  8.56,  2.11, 3.05,  o,    4.78,  6.02,  o,     8.56,  o,     11.13, o,     13.49, 6.02,  8.56,  17.12},
    {2.77, 3.40,  6.55,  9.53,  2.77, 3.40,  o,    o,     6.55,  o,     9.53,  o,     12.70, o,     15.88, 6.55,  9.53,  19.05},
    {2.77, 3.40,  7.11,  10.97, 2.77, 3.40,  o,    o,     7.11,  o,     10.97, o,     14.27, o,     18.26, 7.11,  10.97, 21.95},
    {2.77, 3.76,  8.18,  12.70, 2.77, 3.76,  6.35, 7.04,  8.18,  10.31, 12.70, 15.09, 18.26, 20.62, 23.01, 8.18,  12.70, 22.23},
    {3.40, 4.19,  9.27,  12.70, 3.40, 4.19,  6.35, 7.80,  9.27,  12.70, 15.09, 18.26, 21.44, 25.40, 28.58, 9.27,  12.70, 25.40},
    {3.96, 4.57,  9.53,  12.70, 3.96, 4.57,  6.35, 8.38,  10.31, 14.27, 17.48, 21.44, 25.40, 28.58, 33.32, 9.53,  12.70, 25.40},
    {3.96, 4.78,  o,     o,     o,    6.35,  7.92, 9.53,  11.13, 15.09, 19.05, 23.83, 27.79, 31.75, 35.71, 9.53,  12.70, o},
    {4.19, 4.78,  o,     o,     o,    6.35,  7.92, 9.53,  12.70, 16.66, 21.44, 26.19, 30.96, 36.53, 40.49, 9.53,  12.70, o},
    {4.19, 4.78,  o,     o,     o,    6.35,  7.92, 11.13, 14.27, 19.05, 23.83, 29.36, 34.93, 39.67, 45.24, 9.53,  12.70, o},
    {4.78, 5.54,  o,     o,     o,    6.35,  9.53, 12.70, 15.09, 20.62, 26.19, 32.54, 38.10, 44.45, 50.01, 9.53,  12.70, o},
    {4.78, 5.54,  o,     o,     o,    6.35,  9.53, 12.70, o,     22.23, 28.58, 34.93, 41.28, 47.63, 53.98, 9.53,  12.70, o},
    {5.54, 6.35,  o,     o,     o,    6.35,  9.53, 14.27, 17.48, 24.61, 30.96, 38.89, 46.02, 52.37, 59.54, 9.53,  12.70, o},
    {o,    o,     o,     o,     o,    7.92,  12.70, o,    o,     o,     o,     o,     o,     o,     o,     9.53,  12.70, o},
    {o,    o,     o,     o,     o,    7.92,  12.70, 15.88, o,    o,     o,     o,     o,     o,     o,     9.53,  12.70, o},
    {6.35, 7.92,  o,     o,     o,    7.92,  12.70, 15.88, o,    o,     o,     o,     o,     o,     o,     9.53,  12.70, o},
    {o,    o,     o,     o,     o,    7.92,  12.70, 15.88, 17.48, o,    o,     o,     o,     o,     o,     9.53,  12.70, o},
    {o,    o,     o,     o,     o,    7.92,  12.70, 15.88, 17.48, o,    o,     o,     o,     o,     o,     9.53,  12.70, o},
    {o,    o,     o,     o,     o,    7.92,  12.70, 15.88, 19.05, o,    o,     o,     o,     o,     o,     9.53,  12.70, o},
    {o,    o,     o,     o,     o,    o,     o,    o,     o,     o,     o,     o,     o,     o,     o,     9.53,  12.70, o},
    {o,    o,     o,     o,     o,    o,     o,    o,     o,     o,     o,     o,     o,     o,     o,     9.53,  12.70, o},
    {o,    o,     o,     o,     o,    o,     o,    o,     o,     o,     o,     o,     o,     o,     o,     9.53,  12.70, o},
    {o,    o,     o,     o,     o,    o,     o,    o,     o,     o,     o,     o,     o,     o,     o,     9.53,  12.70, o},
    {o,    o,     o,     o,     o,    o,     o,    o,     o,     o,     o,     o,     o,     o,     o,     9.53,  12.70, o},
    {o,    o,     o,     o,     o,    o,     o,    o,     o,     o,     o,     o,     o,     o,     o,     9.53,  12.70, o},
}};
// clang-format on

/// A schedule as written, taken apart: "sch. 40" gives name "40" with a prefix.
struct ScheduleText {
    std::string name;
    bool prefixed = false;
};

bool is_digit(char c) { return c >= '0' && c <= '9'; }

ScheduleText taken_apart(std::string_view text) {
    std::string name(trimmed(text));
    for (char& c : name) {
        if (c >= 'a' && c <= 'z') c = static_cast<char>(c - 'a' + 'A');
    }
    for (const std::string_view prefix : {"SCHEDULE", "SCH", "S"}) {
        if (!name.starts_with(prefix)) continue;
        const auto start = name.find_first_not_of(" .-_", prefix.size());
        if (start == std::string::npos) break;
        // "STD" starts with an S that is no prefix.
        if (prefix.size() > 1 || is_digit(name[start])) return {name.substr(start), true};
    }
    return {name, false};
}

std::optional<std::size_t> column_of(std::string_view schedule) {
    const auto found = std::ranges::find(schedules, taken_apart(schedule).name, &Schedule::name);
    if (found == schedules.end()) return std::nullopt;
    return static_cast<std::size_t>(found - schedules.begin());
}

std::optional<std::size_t> index_of_nps(std::string_view nps) {
    const auto found = std::ranges::find(sizes, nps, &PipeSize::nps);
    if (found == sizes.end()) return std::nullopt;
    return static_cast<std::size_t>(found - sizes.begin());
}

std::optional<unsigned> whole_number(std::string_view text) {
    unsigned value = 0;
    const char* const end = text.data() + text.size();
    const auto [at, error] = std::from_chars(text.data(), end, value);
    if (error != std::errc{} || at != end) return std::nullopt;
    return value;
}

/// "3/4" or "1 1/2" or "1-1/2" as a number.
std::optional<double> mixed_fraction(std::string_view text) {
    const auto slash = text.find('/');
    if (slash == std::string_view::npos) return std::nullopt;
    const auto gap = text.substr(0, slash).find_first_of(" -");
    const bool has_whole = gap != std::string_view::npos;
    const auto whole = has_whole ? whole_number(text.substr(0, gap)) : 0U;
    const auto rest = has_whole ? trimmed(text.substr(gap + 1)) : text;
    const auto split = rest.find('/');
    const auto above = whole_number(rest.substr(0, split));
    const auto below = whole_number(rest.substr(split + 1));
    if (!whole || !above || !below || *below == 0) return std::nullopt;
    return *whole + static_cast<double>(*above) / *below;
}

std::optional<double> size_number(std::string_view text) {
    if (const auto fraction = mixed_fraction(text)) return fraction;
    const auto reading = read_number(text);
    if (reading.fault != NumberFault::none) return std::nullopt;
    return reading.value;
}

struct SizeText {
    std::string_view number;
    std::optional<SizeSystem> system;
};

/// Takes "NPS", "DN", "in" and the inch mark off; a system in the text wins over the one given.
SizeText without_system(std::string_view text, std::optional<SizeSystem> given) {
    const auto trim = trimmed(text);
    const std::string lower = ascii_lower(trim);
    if (lower.starts_with("nps")) return {trimmed(trim.substr(3)), SizeSystem::nps};
    if (lower.starts_with("dn")) return {trimmed(trim.substr(2)), SizeSystem::dn};
    for (const std::string_view mark : {"inches", "inch", "in", "\""}) {
        if (!lower.ends_with(mark)) continue;
        return {trimmed(trim.substr(0, trim.size() - mark.size())), SizeSystem::nps};
    }
    return {trim, given};
}

}  // namespace

std::span<const PipeSize> pipe_sizes() { return sizes; }

std::optional<std::uint8_t> parse_pipe_size(std::string_view text,
                                            std::optional<SizeSystem> system) {
    const auto size = without_system(text, system);
    const auto number = size_number(size.number);
    if (!size.system || !number) return std::nullopt;
    for (std::size_t i = 0; i < sizes.size(); ++i) {
        const double here = *size.system == SizeSystem::nps ? sizes[i].nps_inches : sizes[i].dn;
        // Both are exact: NPS counts in eighths of an inch, DN in whole numbers.
        if (here == *number) return static_cast<std::uint8_t>(i);
    }
    return std::nullopt;
}

std::optional<double> schedule_wall_mm(std::uint8_t size, std::string_view schedule) {
    const auto column = column_of(schedule);
    if (size >= sizes.size() || !column) return std::nullopt;
    const double wall = walls[size][*column];
    if (wall == o) return std::nullopt;
    return wall;
}

double heaviest_wall_mm(std::uint8_t size) {
    static const auto heaviest = [] {
        std::array<double, sizes.size()> most{};
        const std::size_t columns[] = {*column_of("160"), *column_of("XXS")};
        for (std::size_t i = 0; i < sizes.size(); ++i) {
            const double wall_mm = std::max(walls[i][columns[0]], walls[i][columns[1]]);
            most[i] = wall_mm == o ? std::numeric_limits<double>::infinity() : wall_mm;
        }
        return most;
    }();
    return heaviest[size];
}

bool schedule_wall_recalled(std::uint8_t size, std::string_view schedule) {
    if (!schedule_wall_mm(size, schedule)) return false;
    const auto last_seen = index_of_nps(schedules[*column_of(schedule)].last_seen);
    return sizes[size].recalled || !last_seen || size > *last_seen;
}

bool looks_like_schedule(std::string_view text) {
    // Most walls are a plain number, which is none.
    const auto in_number = [](char c) { return (c >= '0' && c <= '9') || c == '.'; };
    if (std::ranges::all_of(text, in_number)) return false;
    const auto [name, prefixed] = taken_apart(trimmed(text));
    if (name == "STD" || name == "XS" || name == "XXS") return true;
    const bool stainless = name.ends_with('S');
    const auto digits = std::string_view(name).substr(0, name.size() - (stainless ? 1U : 0U));
    const bool number = whole_number(digits).has_value();
    // A bare "40" may be a wall in millimetres: only a prefix or an S makes it a schedule.
    return number && (prefixed || stainless);
}

std::optional<std::uint8_t> pipe_size_of_diameter(double outside_mm) {
    constexpr double tolerance = 0.015;
    std::size_t best = 0;
    for (std::size_t i = 1; i < sizes.size(); ++i) {
        const double here = std::abs(sizes[i].outside_mm - outside_mm);
        if (here < std::abs(sizes[best].outside_mm - outside_mm)) best = i;
    }
    const double allowed = tolerance * sizes[best].outside_mm;
    if (!(std::abs(sizes[best].outside_mm - outside_mm) <= allowed)) return std::nullopt;
    return static_cast<std::uint8_t>(best);
}

std::string to_string(const PipeSize& size) { return "NPS " + std::string(size.nps); }

}  // namespace lagline
