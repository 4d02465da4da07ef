#include "synthesis/protection.h"

#include <algorithm>
#include <array>

namespace lagline {
namespace {

using Word = std::string_view;

Word cold_insulation(Dice& dice, int year) {
    if (year < 1985)
        return dice.pick<Word>({{"cellular_glass", 6}, {"perlite", 2}, {"unknown", 1}});
    return dice.pick<Word>(
        {{"cellular_glass", 7}, {"polyurethane_foam", 3}, {"elastomeric_foam", 1}});
}

Word hot_insulation(Dice& dice, int year) {
    if (year < 1980) {
        return dice.pick<Word>(
            {{"asbestos", 4}, {"calcium_silicate", 7}, {"mineral_wool", 3}, {"unknown", 2}});
    }
    if (year < 1992) {
        return dice.pick<Word>(
            {{"calcium_silicate", 5}, {"mineral_wool", 6}, {"perlite", 1}, {"unknown", 1}});
    }
    if (year < 2008) {
        return dice.pick<Word>({{"mineral_wool", 8}, {"fibreglass", 2}, {"perlite", 1}});
    }
    return dice.pick<Word>(
        {{"mineral_wool", 8}, {"fibreglass", 2}, {"cellular_glass", 1}, {"aerogel_blanket", 1}});
}

int insulation_thickness(Dice& dice, const Line& line) {
    constexpr std::array steps{25, 30, 40, 50, 60, 80, 100, 120, 150};
    const bool cold = line.operating_degc < 15;
    int step = cold ? 2 + (15 - line.operating_degc) / 25 : line.operating_degc / 70;
    step += line.pipe.nps_inches >= 4 ? 1 : 0;
    step += dice.whole(0, 1);
    return steps[static_cast<std::size_t>(std::min(step, 8))];
}

Word jacket(Dice& dice, const Line& line, int year) {
    if (line.operating_degc < 10) {
        return dice.pick<Word>(
            {{"mastic", 4}, {"aluminium", 3}, {"stainless_steel", 2}, {"polymer", 2}});
    }
    if (year < 1985) {
        return dice.pick<Word>({{"galvanised_steel", 5},
                                {"aluminium", 4},
                                {"painted_steel", 2},
                                {"aluminised_steel", 1},
                                {"none", 1}});
    }
    return dice.pick<Word>(
        {{"aluminium", 7}, {"aluminised_steel", 3}, {"stainless_steel", 2}, {"polymer", 1}});
}

Word shop_coating(Dice& dice, const Line& line, int hottest_degc) {
    if (is_stainless(line.steel)) {
        if (line.year < 1990) return dice.pick<Word>({{"none", 8}, {"aluminium_foil", 2}});
        return dice.pick<Word>({{"none", 4}, {"epoxy_phenolic", 3}, {"aluminium_foil", 2}});
    }
    if (line.year < 1978) {
        return dice.pick<Word>({{"none", 3}, {"primer_only", 4}, {"alkyd", 3}, {"unknown", 2}});
    }
    if (hottest_degc > 175) {
        if (line.year < 1998) {
            return dice.pick<Word>({{"silicone", 4}, {"inorganic_zinc", 4}, {"primer_only", 3}});
        }
        return dice.pick<Word>(
            {{"silicone", 3}, {"inert_multipolymeric", 4}, {"sprayed_aluminium", 3}});
    }
    if (line.year < 1990) {
        return dice.pick<Word>({{"alkyd", 3},
                                {"primer_only", 3},
                                {"inorganic_zinc", 3},
                                {"epoxy", 2},
                                {"unknown", 1}});
    }
    if (line.year < 2003) {
        return dice.pick<Word>({{"epoxy", 5}, {"epoxy_phenolic", 4}, {"inorganic_zinc", 1}});
    }
    return dice.pick<Word>({{"epoxy_phenolic", 6},
                            {"epoxy_novolac", 2},
                            {"sprayed_aluminium", 1},
                            {"inert_multipolymeric", 1}});
}

Word field_coating(Dice& dice, const Line& line, int hottest_degc) {
    if (is_stainless(line.steel)) return dice.pick<Word>({{"none", 4}, {"aluminium_foil", 3}});
    if (hottest_degc > 150) return dice.pick<Word>({{"inert_multipolymeric", 5}, {"silicone", 2}});
    if (line.operating_degc < 40) {
        return dice.pick<Word>({{"epoxy", 5}, {"petrolatum_tape", 2}, {"epoxy_phenolic", 2}});
    }
    return dice.pick<Word>({{"epoxy", 3}, {"epoxy_phenolic", 4}, {"inert_multipolymeric", 2}});
}

Word coating_quality(Dice& dice, Word system, bool field) {
    if (system == "none" || system == "unknown" || system == "primer_only") return "none";
    const bool simple = system == "alkyd" || system == "inorganic_zinc" || system == "silicone" ||
                        system == "epoxy" || system == "petrolatum_tape";
    if (simple || field) return dice.pick<Word>({{"none", 1}, {"medium", 7}, {"high", 2}});
    return dice.pick<Word>({{"medium", 3}, {"high", 7}});
}

int film_thickness(Dice& dice, Word system) {
    if (system == "none" || system == "unknown") return 0;
    if (system == "primer_only") return 5 * dice.whole(8, 16);
    if (system == "alkyd") return 5 * dice.whole(16, 30);
    if (system == "inorganic_zinc") return 5 * dice.whole(12, 20);
    if (system == "silicone") return 5 * dice.whole(6, 14);
    if (system == "aluminium_foil") return 5 * dice.whole(12, 20);
    if (system == "petrolatum_tape") return 100 * dice.whole(11, 20);
    return 10 * dice.whole(16, 36);
}

Word preparation(Dice& dice, Word system, int year, bool field) {
    if (system == "none" || system == "unknown") return "unknown";
    if (field) {
        return dice.pick<Word>({{"sp3_power_tool", 5},
                                {"sp11_bare_metal_power_tool", 3},
                                {"sp2_hand_tool", 2},
                                {"sp10_near_white_blast", 1}});
    }
    if (system == "sprayed_aluminium") return "sp5_white_blast";
    if (year < 1980) {
        return dice.pick<Word>(
            {{"sp2_hand_tool", 3}, {"sp3_power_tool", 2}, {"sp6_commercial_blast", 4}});
    }
    return dice.pick<Word>({{"sp6_commercial_blast", 3}, {"sp10_near_white_blast", 7}});
}

void draw_coating(Dice& dice, const Line& line, int year, Protection& made) {
    const int hottest = line.service == Service::cyclic ? line.high_degc : line.operating_degc;
    made.coating_system =
        made.renewed ? field_coating(dice, line, hottest) : shop_coating(dice, line, hottest);
    made.coating_quality = coating_quality(dice, made.coating_system, made.renewed);
    made.film_um = film_thickness(dice, made.coating_system);
    made.preparation = preparation(dice, made.coating_system, year, made.renewed);
}

Protection protection(Dice& dice, const Line& line, int year, bool renewed) {
    Protection made;
    made.renewed = renewed;
    made.insulation_type =
        line.operating_degc < 15 ? cold_insulation(dice, year) : hot_insulation(dice, year);
    made.insulation_mm = insulation_thickness(dice, line);
    made.jacket = jacket(dice, line, year);
    draw_coating(dice, line, year, made);
    return made;
}

}  // namespace

Protection original_protection(Dice& dice, const Line& line) {
    Protection made = protection(dice, line, line.year, false);
    made.date = line.in_service;
    made.precision = line.precision;
    made.yard_months = dice.chance(0.55) ? dice.whole(1, 4) : dice.whole(4, 16);
    return made;
}

Protection renewed_protection(Dice& dice, const Line& line, Date date) {
    Protection made = protection(dice, line, year_of(date), true);
    made.date = date;
    return made;
}

}  // namespace lagline
