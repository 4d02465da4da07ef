#include "synthesis/line.h"

#include <algorithm>
#include <optional>
#include <stdexcept>

#include "quantity/pipe_size.h"

namespace lagline {
namespace {

double wall_of(std::uint8_t size, std::initializer_list<std::string_view> schedules) {
    for (const auto schedule : schedules) {
        if (const auto wall = schedule_wall_mm(size, schedule)) return *wall;
    }
    throw std::logic_error("a stock size has no wall of any schedule it is bought in");
}

StockPipe stock_pipe(std::string_view nps) {
    const auto size = parse_pipe_size(nps, SizeSystem::nps);
    if (!size) throw std::logic_error("a stock size is no nominal size");
    const auto& listed = pipe_sizes()[*size];
    StockPipe pipe{listed.nps, listed.nps_inches, listed.outside_mm, {}, {}};
    pipe.ferritic_mm = {wall_of(*size, {"STD"}), wall_of(*size, {"XS"}),
                        wall_of(*size, {"160", "XS"})};
    // 40S and 80S are not listed for the largest sizes; those are bought in STD and XS.
    pipe.stainless_mm = {wall_of(*size, {"10S"}), wall_of(*size, {"40S", "STD"}),
                         wall_of(*size, {"80S", "XS"})};
    return pipe;
}

int draw_year(Dice& dice, const UnitCharacter& unit) {
    if (dice.chance(0.12)) return dice.whole(unit.last_year, 2019);
    return dice.whole(unit.first_year, unit.last_year);
}

void draw_age(Dice& dice, Line& line) {
    line.year = draw_year(dice, unit_characters()[line.unit]);
    const auto month = static_cast<unsigned>(dice.whole(1, 12));
    const auto day = static_cast<unsigned>(dice.whole(1, 28));
    line.precision = DatePrecision::day;
    if (line.year < 1990 && dice.chance(0.15)) {
        line.precision = dice.chance(0.6) ? DatePrecision::month : DatePrecision::year;
    }
    // What the record leaves open is read as the first day of the month or the year.
    const unsigned known_month = line.precision == DatePrecision::year ? 1U : month;
    const unsigned known_day = line.precision == DatePrecision::day ? day : 1U;
    line.in_service = make_date(line.year, known_month, known_day);
    line.gap_share = 0.12 + 0.20 * (2019 - line.year) / 48.0;
}

const FluidCharacter* draw_fluid(Dice& dice, std::size_t unit) {
    int sum = 0;
    for (const auto& fluid : fluid_characters()) sum += fluid.unit == unit ? fluid.weight : 0;
    int left = dice.whole(0, sum - 1);
    for (const auto& fluid : fluid_characters()) {
        if (fluid.unit != unit) continue;
        left -= fluid.weight;
        if (left < 0) return &fluid;
    }
    throw std::logic_error("a unit has no fluids");
}

Steel draw_steel(Dice& dice, const std::array<int, 4>& weights) {
    return dice.pick<Steel>({{Steel::carbon, weights[0]},
                             {Steel::low_alloy, weights[1]},
                             {Steel::austenitic, weights[2]},
                             {Steel::duplex, weights[3]}});
}

Service draw_service(Dice& dice, const std::array<int, 4>& weights) {
    return dice.pick<Service>({{Service::continuous, weights[0]},
                               {Service::cyclic, weights[1]},
                               {Service::intermittent, weights[2]},
                               {Service::idle, weights[3]}});
}

/// The thinnest wall in stock that holds the pressure; where none does, the line is rated lower.
/// Thin-wall hoop stress at 120 MPa with the mill tolerance of 12.5 % and the allowance taken off:
/// near enough to a design for invented data.
void draw_wall(Dice& dice, Line& line) {
    constexpr double stress_mpa = 120.0;
    const auto walls = is_stainless(line.steel) ? line.pipe.stainless_mm : line.pipe.ferritic_mm;
    line.allowance_mm = is_stainless(line.steel) ? 0.0 : dice.pick<double>({{1.5, 6}, {3.0, 2}});
    line.design_mpa = dice.between(line.fluid->least_mpa, line.fluid->most_mpa);
    const double needed = line.design_mpa * line.pipe.outside_mm / (2.0 * stress_mpa);
    const auto holds = [&](double wall) { return 0.875 * wall - line.allowance_mm >= needed; };
    auto at = static_cast<std::size_t>(std::ranges::find_if(walls, holds) - walls.begin());
    if (at + 1 < walls.size() && dice.chance(0.12)) ++at;
    line.wall_mm = walls[std::min(at, walls.size() - 1)];
    const double left = std::max(0.875 * line.wall_mm - line.allowance_mm, 0.25 * line.wall_mm);
    line.design_mpa = std::min(line.design_mpa, left * 2.0 * stress_mpa / line.pipe.outside_mm);
}

void draw_pipe(Dice& dice, Line& line, const std::vector<Weighted<StockPipe>>& stock) {
    line.steel = draw_steel(dice, line.fluid->steels);
    line.pipe = dice.pick_from(stock);
    if (line.fluid->headers) {
        const auto other = dice.pick_from(stock);
        if (other.nps_inches > line.pipe.nps_inches) line.pipe = other;
    }
    draw_wall(dice, line);
    const bool welded = line.pipe.nps_inches >= 10 && line.year < 1990;
    line.joint_efficiency = welded && dice.chance(0.5) ? 0.85 : 1.0;
    line.strengths_known = dice.chance(0.18);
    line.diameter_known = dice.chance(0.28);
    line.minimum_known = dice.chance(0.16);
}

void draw_cycle(Dice& dice, Line& line) {
    const bool cold = line.operating_degc < 10;
    const int ambient = dice.whole(8, 16);
    line.low_degc = cold ? line.operating_degc - dice.whole(0, 3)
                         : std::min(line.operating_degc, ambient + dice.whole(0, 14));
    // Cold service near the temperature of the air is not colder than its own hot end.
    line.high_degc = cold ? std::max(line.operating_degc, ambient + dice.whole(0, 6))
                          : line.operating_degc + dice.whole(0, 12);
    switch (line.service) {
        case Service::continuous:
            break;
        case Service::cyclic:
            line.hot_fraction = dice.between(0.2, 0.75);
            line.cycles_per_year =
                dice.pick<int>({{52, 3}, {104, 2}, {250, 3}, {365, 3}, {730, 1}});
            break;
        case Service::intermittent:
            line.hot_fraction = dice.between(0.1, 0.5);
            line.cycles_per_year = dice.whole(6, 60);
            break;
        case Service::idle:
            line.hot_fraction = dice.between(0.0, 0.06);
            line.cycles_per_year = dice.whole(0, 4);
            break;
    }
}

void draw_operation(Dice& dice, Line& line) {
    line.operating_degc = dice.whole(line.fluid->least_degc, line.fluid->most_degc);
    line.service = draw_service(dice, line.fluid->services);
    draw_cycle(dice, line);
    line.heat_tracing = "none";
    if (dice.chance(line.fluid->traced_percent / 100.0)) {
        line.heat_tracing = dice.chance(line.year < 1988 ? 0.85 : 0.35) ? "steam" : "electric";
    }
}

void draw_drawing(Dice& dice, Line& line) {
    line.drawing = "ISO-";
    append_padded(line.drawing, line.unit + 1, 1);
    line.drawing += '-';
    append_padded(line.drawing, line.number, 4);
    // A few records carry remarks, as line lists do: commas and quotes that CSV has to quote.
    if (dice.chance(0.004)) line.drawing += " \"as built\", sheet 2";
}

}  // namespace

std::vector<Weighted<StockPipe>> stock_pipes() {
    return {{stock_pipe("3/4"), 12}, {stock_pipe("1"), 13}, {stock_pipe("1 1/2"), 14},
            {stock_pipe("2"), 18},   {stock_pipe("3"), 13}, {stock_pipe("4"), 10},
            {stock_pipe("6"), 8},    {stock_pipe("8"), 5},  {stock_pipe("10"), 3},
            {stock_pipe("12"), 2},   {stock_pipe("16"), 1}, {stock_pipe("20"), 1},
            {stock_pipe("24"), 1}};
}

std::uint64_t draw_gaps(Dice& dice, double share) {
    const auto limit = static_cast<std::uint64_t>(share * 256.0);
    std::uint64_t gaps = 0;
    for (unsigned bit = 0; bit < 64; bit += 8) {
        std::uint64_t bytes = dice.next();
        for (unsigned i = 0; i < 8; ++i, bytes >>= 8U) {
            gaps |= std::uint64_t{(bytes & 0xffU) < limit} << (bit + i);
        }
    }
    return gaps;
}

Line invent_line(std::uint64_t seed, std::uint64_t number, std::size_t unit,
                 const std::vector<Weighted<StockPipe>>& stock) {
    Dice dice{seed, Subject::line, number};
    Line line;
    line.number = number;
    line.unit = unit;
    line.fluid = draw_fluid(dice, unit);
    draw_age(dice, line);
    draw_pipe(dice, line, stock);
    draw_operation(dice, line);
    draw_drawing(dice, line);
    Dice gaps{seed, Subject::line_gaps, number};
    line.gaps = draw_gaps(gaps, line.gap_share);
    return line;
}

}  // namespace lagline
