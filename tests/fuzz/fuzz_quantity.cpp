// Dates, numbers, units and pipe sizes as a person writes them.
#include <cmath>

#include "diagnostics/text.h"
#include "fuzz_input.h"
#include "quantity/date.h"
#include "quantity/pipe_size.h"
#include "quantity/unit.h"

namespace lagline {
namespace {

void try_date(std::string_view text) {
    const auto read = parse_date(text);
    if (!read) return;
    const std::string shown = to_string(read->date);
    const auto again = parse_date(shown);
    must_hold(again && again->date == read->date, "a date that is shown reads back the same");
    must_hold(!read->precise || shown == trimmed(text), "a whole date is shown as written");
    const Date later = add_years(read->date, 15);
    must_hold(years_between(read->date, later) == 15.0, "15 years are 15 years");
}

void try_number(std::string_view text) {
    for (const NumberReading& read : {read_number(text), read_quantity(text)}) {
        must_hold(std::isfinite(read.value), "a number is finite");
    }
}

void try_unit(std::string_view text) {
    for (const Dimension dimension : dimensions_of(text)) {
        const auto unit = parse_unit(text, dimension);
        must_hold(unit && unit->dimension == dimension, "a unit is of the dimension asked for");
        if (dimension == Dimension::money || dimension == Dimension::nominal_size) continue;
        const Unit& base = base_unit(dimension);
        const double back = convert(convert(37.5, *unit, base), base, *unit);
        must_hold(std::abs(back - 37.5) < 1e-9, "there and back is the same");
    }
}

void try_size(std::string_view text) {
    for (const auto system : {std::optional<SizeSystem>{}, {SizeSystem::nps}, {SizeSystem::dn}}) {
        const auto size = parse_pipe_size(text, system);
        must_hold(!size || *size < pipe_sizes().size(), "a size is one of the table");
        if (!size) continue;
        const auto again = parse_pipe_size(to_string(pipe_sizes()[*size]), std::nullopt);
        must_hold(again == size, "a size that is shown reads back the same");
    }
    static_cast<void>(looks_like_schedule(text));
    for (std::uint8_t size = 0; size < pipe_sizes().size(); ++size) {
        const auto wall = schedule_wall_mm(size, text);
        must_hold(!wall || (*wall > 0.0 && *wall < pipe_sizes()[size].outside_mm / 2.0),
                  "a wall leaves a bore");
        static_cast<void>(schedule_wall_recalled(size, text));
    }
}

}  // namespace
}  // namespace lagline

// NOLINTNEXTLINE(readability-identifier-naming): the name that libFuzzer calls
extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    const std::string text = lagline::text_of(data, size);
    lagline::try_date(text);
    lagline::try_number(text);
    lagline::try_unit(text);
    lagline::try_unit(lagline::read_quantity(text).unit);
    lagline::try_size(text);
    return 0;
}
