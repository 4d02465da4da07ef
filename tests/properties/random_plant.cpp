#include "random_plant.h"

#include <array>
#include <cstdio>
#include <stdexcept>

#include "support/columns.h"

namespace lagline {

int Dice::whole(int least, int most) {
    const auto span = static_cast<std::uint64_t>(most - least) + 1;
    return least + static_cast<int>(random_() % span);
}

double Dice::real(double least, double most) {
    constexpr double steps = 9007199254740992.0;  // 2^53
    return least + (most - least) * (static_cast<double>(random_() >> 11U) / steps);
}

std::string Dice::day(int first_year, int last_year) {
    return to_string(make_date(whole(first_year, last_year), static_cast<unsigned>(whole(1, 12)),
                               static_cast<unsigned>(whole(1, 28))));
}

std::string written(double value, int decimals) {
    std::array<char, 64> text{};
    const int length = std::snprintf(text.data(), text.size(), "%.*f", decimals, value);
    return {text.data(), static_cast<std::size_t>(length)};
}

Cells random_segment(const std::string& name, Dice& dice) {
    struct Pipe {
        std::string size;
        double outside_mm;
        double wall_mm;
    };
    static const std::vector<Pipe> pipes{{"NPS 2", 60.3, 3.91},
                                         {"NPS 4", 114.3, 6.02},
                                         {"NPS 6", 168.3, 7.11},
                                         {"NPS 12", 323.8, 9.53}};
    const Pipe& pipe = dice.one_of(pipes);
    const std::string in_service = dice.day(1985, 2012);
    Cells cells = segment_cells(
        name,
        {{"material", dice.one_of<std::string>({"carbon_steel", "carbon_steel", "low_alloy_steel",
                                                "austenitic_stainless"})},
         {"nominal_size", pipe.size},
         {"outside_diameter", written(pipe.outside_mm, 1) + " mm"},
         {"nominal_wall", written(pipe.wall_mm * dice.real(0.9, 1.4), 2) + " mm"},
         {"in_service", in_service},
         {"operating_temperature", written(dice.real(-10.0, 170.0), 1) + " degC"},
         {"insulation_type",
          dice.one_of<std::string>({"cellular_glass", "perlite", "mineral_wool"})},
         {"insulation_condition",
          dice.one_of<std::string>({"above_average", "average", "below_average", ""})},
         {"complexity", dice.one_of<std::string>({"below_average", "average", "above_average"})},
         {"pooling", dice.one_of<std::string>({"no", "no", "yes", ""})},
         {"driver", dice.one_of<std::string>({"severe", "moderate", "mild", "dry"})},
         {"coating_quality", dice.one_of<std::string>({"none", "medium", "high", ""})},
         {"coating_date", dice.chance(0.5) ? in_service : dice.day(2013, 2022)},
         {"design_pressure", written(dice.real(0.3, 4.0), 2) + " MPa"},
         {"data_confidence", dice.one_of<std::string>({"low", "medium", "high"})},
         {"consequence_category", ""},
         {"leak_cost", written(dice.real(2e4, 2e6), 0) + " USD"}});
    return cells;
}

std::vector<Cells> random_inspections(const std::string& name, Dice& dice) {
    std::vector<Cells> all;
    const std::string shared_day = dice.day(2014, 2024);
    for (int i = dice.whole(0, 4); i > 0; --i) {
        Cells changes{
            {"technique", dice.one_of<std::string>({"strip_and_measure", "profile_radiography",
                                                    "pulsed_eddy_current", "guided_wave"})},
            {"coverage", written(dice.real(5.0, 100.0), 1) + " %"}};
        if (dice.chance(0.6)) changes["least_thickness"] = written(dice.real(2.5, 9.0), 2) + " mm";
        if (dice.chance(0.2)) changes["pit_depth"] = written(dice.real(0.1, 2.0), 2) + " mm";
        if (dice.chance(0.3)) changes["rust_grade"] = std::to_string(dice.whole(0, 10));
        if (dice.chance(0.3)) {
            changes["jacket_damage"] = dice.one_of<std::string>({"none", "minor", "severe"});
        }
        if (dice.chance(0.1)) changes["cracks_found"] = dice.chance(0.5) ? "yes" : "no";
        const std::string day = dice.chance(0.5) ? shared_day : dice.day(2013, 2024);
        all.push_back(inspection_cells(name, day, changes));
    }
    return all;
}

SmallPlant random_plant(int segments, std::uint64_t seed) {
    Dice dice{seed};
    SmallPlant plant;
    for (int i = 0; i < segments; ++i) {
        std::string name = std::to_string(i);
        name.insert(0, 3 - name.size(), '0');
        name.insert(0, "S-");
        plant.segments.push_back(random_segment(name, dice));
        for (Cells& each : random_inspections(name, dice)) {
            plant.inspections.push_back(std::move(each));
        }
    }
    return plant;
}

std::vector<Ranked> ranked(const SmallPlant& plant, const RuleSet& rules) {
    return ranked(assemble(plant, rules), rules);
}

std::vector<Ranked> ranked(const Plant& assembled, const RuleSet& rules) {
    const Ranking ranking = rank(assembled, rules);
    const auto names = assembled.segments.texts(SegmentField::segment);
    std::vector<Ranked> all;
    for (const std::uint32_t row : ranking.order) {
        const auto at = static_cast<Eigen::Index>(row);
        const bool wall = row < ranking.mechanism_rows.wall_loss;
        all.push_back({std::string{names[ranking.segment_rows[row]]}, all.size() + 1,
                       ranking.likelihood.damage_factor[at],
                       ranking.likelihood.probability_of_failure_per_year[at],
                       ranking.risk.risk_per_year[at],
                       wall ? ranking.likelihood.strength_ratio[at] : 0.0});
    }
    return all;
}

const Ranked& of_segment(const std::vector<Ranked>& all, std::string_view name) {
    for (const Ranked& each : all) {
        if (each.segment == name) return each;
    }
    throw std::runtime_error(std::string{name} + " is not ranked");
}

}  // namespace lagline
