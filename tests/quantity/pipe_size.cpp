#include "quantity/pipe_size.h"

#include <doctest/doctest.h>

#include <cmath>
#include <cstdint>
#include <limits>
#include <optional>
#include <string>
#include <string_view>

#include "quantity/unit.h"

using namespace lagline;

namespace {

std::uint8_t nps(std::string_view text) {
    const auto size = parse_pipe_size(text, SizeSystem::nps);
    REQUIRE_MESSAGE(size.has_value(), std::string(text));
    return *size;
}

constexpr double none = 0.0;

}  // namespace

TEST_CASE("sizes reproduce API 574, table 1 (up to NPS 3) and the ASME B36.10M list [mm]") {
    struct Row {
        std::string_view size;
        double outside, sch10, sch40, std_wall, sch80, xs, sch160, xxs;
    };
    // The printed digits themselves, hence equality.
    for (const auto& row : {
             Row{"1/2", 21.3, 2.11, 2.77, 2.77, 3.73, 3.73, 4.78, 7.47},
             Row{"3/4", 26.7, 2.11, 2.87, 2.87, 3.91, 3.91, 5.56, 7.82},
             Row{"1", 33.4, 2.77, 3.38, 3.38, 4.55, 4.55, 6.35, 9.09},
             Row{"1 1/2", 48.3, 2.77, 3.68, 3.68, 5.08, 5.08, 7.14, 10.15},
             Row{"2", 60.3, 2.77, 3.91, 3.91, 5.54, 5.54, 8.74, 11.07},
             Row{"3", 88.9, 3.05, 5.49, 5.49, 7.62, 7.62, 11.13, 15.24},
             Row{"4", 114.3, 3.05, 6.02, 6.02, 8.56, 8.56, 13.49, 17.12},
             Row{"6", 168.3, 3.40, 7.11, 7.11, 10.97, 10.97, 18.26, 21.95},
             Row{"8", 219.1, 3.76, 8.18, 8.18, 12.70, 12.70, 23.01, 22.23},
             Row{"10", 273.0, 4.19, 9.27, 9.27, 15.09, 12.70, 28.58, 25.40},
             Row{"12", 323.8, 4.57, 10.31, 9.53, 17.48, 12.70, 33.32, 25.40},
             Row{"16", 406.4, 6.35, 12.70, 9.53, 21.44, 12.70, 40.49, none},
             Row{"24", 610.0, 6.35, 17.48, 9.53, 30.96, 12.70, 59.54, none},
         }) {
        CAPTURE(row.size);
        const auto size = nps(row.size);
        CHECK(pipe_sizes()[size].outside_mm == row.outside);
        CHECK_FALSE(pipe_sizes()[size].recalled);
        struct Wall {
            std::string_view schedule;
            double mm;
        };
        for (const auto& wall :
             {Wall{"Sch 10", row.sch10}, Wall{"Sch 40", row.sch40}, Wall{"STD", row.std_wall},
              Wall{"Sch 80", row.sch80}, Wall{"XS", row.xs}, Wall{"Sch 160", row.sch160},
              Wall{"XXS", row.xxs}}) {
            CAPTURE(wall.schedule);
            CHECK(schedule_wall_mm(size, wall.schedule).value_or(none) == wall.mm);
            CHECK_FALSE(schedule_wall_recalled(size, wall.schedule));
        }
    }
}

TEST_CASE("inch walls of the API 570 and API RP 581 examples agree with the metric table") {
    // NPS 16 STD 0.375 in; NPS 6 Schedule 40 0.280 in; NPS 8 XS 0.500 in.  Half of the last digit.
    const auto inch = *parse_unit("in", Dimension::length);
    const auto& mm = base_unit(Dimension::length);
    CHECK(std::abs(*schedule_wall_mm(nps("16"), "STD") - convert(0.375, inch, mm)) <= 0.0051);
    CHECK(std::abs(*schedule_wall_mm(nps("6"), "40") - convert(0.280, inch, mm)) <= 0.0051);
    CHECK(std::abs(*schedule_wall_mm(nps("8"), "XS") - convert(0.500, inch, mm)) <= 0.0051);
}

TEST_CASE("recalled walls are marked so") {
    CHECK(schedule_wall_recalled(nps("14"), "40"));   // size recalled
    CHECK(schedule_wall_recalled(nps("6"), "120"));   // column recalled
    CHECK(schedule_wall_recalled(nps("16"), "10S"));  // 10S beyond NPS 12
    CHECK_FALSE(schedule_wall_recalled(nps("6"), "10S"));
    CHECK_FALSE(schedule_wall_recalled(nps("6"), "Sch 33"));
    CHECK(pipe_sizes()[nps("14")].recalled);
}

TEST_CASE("ASME B36.19M: 10S is not Schedule 10 from NPS 14 on (recalled)") {
    CHECK(schedule_wall_mm(nps("16"), "10") == 6.35);
    CHECK(schedule_wall_mm(nps("16"), "10S") == 4.78);
    CHECK(schedule_wall_mm(nps("24"), "10S") == 6.35);
    CHECK(schedule_wall_mm(nps("12"), "40S") == 9.53);  // and not the 10.31 of Schedule 40
}

TEST_CASE("the table is in order: sizes rise, walls rise with the schedule and fit the pipe") {
    const auto sizes = pipe_sizes();
    REQUIRE(sizes.size() == 36);
    for (std::size_t i = 0; i < sizes.size(); ++i) {
        CAPTURE(sizes[i].nps);
        if (i > 0) {
            CHECK(sizes[i].nps_inches > sizes[i - 1].nps_inches);
            CHECK(sizes[i].dn > sizes[i - 1].dn);
            CHECK(sizes[i].outside_mm > sizes[i - 1].outside_mm);
        }
        // From NPS 14 on the outside diameter is the nominal size; below it is larger.
        const double nominal_mm = sizes[i].nps_inches * 25.4;
        if (sizes[i].nps_inches >= 14) {
            CHECK(std::abs(sizes[i].outside_mm - nominal_mm) < 1.0);
        } else {
            CHECK(sizes[i].outside_mm > nominal_mm);
        }
        const auto size = static_cast<std::uint8_t>(i);
        double before = 0.0;
        for (const auto* schedule :
             {"5", "10", "20", "30", "40", "60", "80", "100", "120", "140", "160"}) {
            CAPTURE(schedule);
            const auto wall = schedule_wall_mm(size, schedule);
            if (!wall) continue;
            CHECK(*wall > before);
            CHECK(2 * *wall < sizes[i].outside_mm);
            before = *wall;
        }
        CHECK(schedule_wall_mm(size, "STD").value() < schedule_wall_mm(size, "XS").value());
        const auto xxs = schedule_wall_mm(size, "XXS");
        if (xxs) CHECK(*xxs > schedule_wall_mm(size, "XS").value());
    }
    CHECK_FALSE(schedule_wall_mm(36, "STD"));
    CHECK_FALSE(schedule_wall_mm(255, "STD"));
}

TEST_CASE("a size is read as a person writes it") {
    struct Row {
        std::string_view text;
        std::optional<SizeSystem> system;
        std::string_view size;
    };
    const auto in = SizeSystem::nps;
    const auto dn = SizeSystem::dn;
    for (const auto& row : {
             Row{"6", in, "6"},
             Row{" 6.0 ", in, "6"},
             Row{"1 1/2", in, "1 1/2"},
             Row{"1-1/2", in, "1 1/2"},
             Row{"1.5", in, "1 1/2"},
             Row{"0.5", in, "1/2"},
             Row{".5", in, "1/2"},
             Row{"1/2", in, "1/2"},
             Row{"NPS 6", {}, "6"},
             Row{"nps6", {}, "6"},
             Row{"NPS 1 1/2", {}, "1 1/2"},
             Row{"6 in", {}, "6"},
             Row{"6in", {}, "6"},
             Row{"6\"", {}, "6"},
             Row{"1-1/2\"", {}, "1 1/2"},
             Row{"6 inch", {}, "6"},
             Row{"150", dn, "6"},
             Row{"DN 150", {}, "6"},
             Row{"DN150", {}, "6"},
             Row{"dn 15", {}, "1/2"},
             Row{"DN 150", in, "6"},  // the text wins
             Row{"6 in", dn, "6"},
             Row{"48", in, "48"},
             Row{"DN 1200", {}, "48"},
         }) {
        CAPTURE(row.text);
        const auto size = parse_pipe_size(row.text, row.system);
        REQUIRE(size);
        CHECK(pipe_sizes()[*size].nps == row.size);
    }
}

TEST_CASE("what is no size is refused") {
    for (const auto* bad : {"", "7", "6.1", "1 1/3", "1/0", "1/", "/2", "-6", "6 mm", "abc", "NPS",
                            "DN 6.5", "1 1 1/2", "1,5", "inf", "nan", "in", "6 6"}) {
        CAPTURE(bad);
        CHECK_FALSE(parse_pipe_size(bad, SizeSystem::nps));
    }
    CHECK_FALSE(parse_pipe_size("6", std::nullopt));
    CHECK_FALSE(parse_pipe_size("1/2", std::nullopt));
    CHECK_FALSE(parse_pipe_size("7", SizeSystem::dn));
    CHECK_FALSE(parse_pipe_size("DN 155", std::nullopt));
}

TEST_CASE("a schedule is read as a person writes it") {
    const auto six = nps("6");
    for (const auto* text : {"40", "Sch 40", "SCH40", "sch. 40", "Schedule 40", "S-40", "s40",
                             " Sch-40 ", "STD", "std", "40S", "Sch 40S", "SCH STD"}) {
        CAPTURE(text);
        CHECK(schedule_wall_mm(six, text) == 7.11);
    }
    CHECK(schedule_wall_mm(six, "S-160") == 18.26);
    for (const auto* bad : {"", "S", "Sch", "41", "4.0", "-40", "7.11", "XXXS", "40 mm", "60"}) {
        CAPTURE(bad);
        CHECK_FALSE(schedule_wall_mm(six, bad));
    }
}

TEST_CASE("a schedule is told from a wall with a unit") {
    for (const auto* text :
         {"Sch 40", "SCH40", "S-160", "10S", "40s", "STD", "xs", "XXS", "Sch 45", "Schedule 80"}) {
        CAPTURE(text);
        CHECK(looks_like_schedule(text));
    }
    for (const auto* text : {"40", "7.11", "7.11 mm", "0.280 in", "", "S", "steel", "standard",
                             "-40", "Sch", "12.7S"}) {
        CAPTURE(text);
        CHECK_FALSE(looks_like_schedule(text));
    }
}

TEST_CASE("the size of a diameter is the nearest within 1.5 %") {
    for (std::size_t i = 0; i < pipe_sizes().size(); ++i) {
        CHECK(pipe_size_of_diameter(pipe_sizes()[i].outside_mm) == i);
    }
    CHECK(pipe_size_of_diameter(168.3 * 1.0149) == nps("6"));
    CHECK_FALSE(pipe_size_of_diameter(168.3 * 1.0151));
    CHECK_FALSE(pipe_size_of_diameter(190.0));
    CHECK_FALSE(pipe_size_of_diameter(0.0));
    CHECK_FALSE(pipe_size_of_diameter(-168.3));
    CHECK_FALSE(pipe_size_of_diameter(std::numeric_limits<double>::quiet_NaN()));
    CHECK_FALSE(pipe_size_of_diameter(std::numeric_limits<double>::infinity()));
}

TEST_CASE("a size prints with its system") {
    CHECK(to_string(pipe_sizes()[nps("1.5")]) == "NPS 1 1/2");
}
