#include "synthesis/inspection.h"

#include <algorithm>
#include <cmath>
#include <string>
#include <string_view>
#include <vector>

namespace lagline {
namespace {

using Word = std::string_view;

constexpr int campaign_days = 913;  // half of five years: at the turnaround and half-way between
constexpr int longest_campaign_days = 35;
constexpr Date last_start = make_date(2026, 4, 20);

/// First day of campaign `index` of a unit.
Date campaign_start(std::size_t unit, int index) {
    const auto month = static_cast<unsigned>(unit_characters()[unit].first_campaign);
    return Date{make_date(1985, month, 1).days + campaign_days * index};
}

struct Campaigns {
    int first = 0;
    int last = 0;
};

/// Campaigns that found the line at least a year in service.
Campaigns campaigns_of(const Line& line) {
    const int origin = campaign_start(line.unit, 0).days;
    const int earliest = std::max(0, add_years(line.in_service, 1).days - origin);
    Campaigns found;
    found.first = (earliest + campaign_days - 1) / campaign_days;
    found.last = (last_start.days - origin) / campaign_days;
    return found;
}

struct Visit {
    int campaign = 0;
    Date date;
    Word technique;
    int coverage = 0;
};

Word draw_technique(Dice& dice, int year, double nps_inches) {
    if (year < 2000) {
        return dice.pick<Word>({{"strip_and_look", 5},
                                {"strip_and_measure", 3},
                                {"external_visual", 5},
                                {"profile_radiography", nps_inches <= 8 ? 2 : 0},
                                {"ut_through_plugs", 2}});
    }
    return dice.pick<Word>({{"strip_and_measure", 6},
                            {"strip_and_look", 3},
                            {"external_visual", 5},
                            {"profile_radiography", nps_inches <= 8 ? 3 : 0},
                            {"realtime_radiography", nps_inches <= 8 ? 2 : 0},
                            {"pulsed_eddy_current", nps_inches >= 3 ? 4 : 0},
                            {"guided_wave", nps_inches >= 3 ? 2 : 0},
                            {"neutron_backscatter", 1},
                            {"thermography", 1},
                            {"ut_through_plugs", 1}});
}

int draw_coverage(Dice& dice, Word technique) {
    if (technique == "strip_and_measure" || technique == "strip_and_look") {
        return dice.pick<int>({{5, 1}, {10, 2}, {25, 3}, {50, 3}, {75, 1}, {95, 1}, {100, 3}});
    }
    if (technique == "external_visual") return dice.pick<int>({{50, 1}, {80, 2}, {100, 4}});
    if (technique == "ut_through_plugs") return dice.whole(1, 5);
    if (technique == "profile_radiography") return dice.pick<int>({{5, 2}, {10, 3}, {25, 1}});
    if (technique == "guided_wave") return dice.pick<int>({{60, 1}, {80, 2}, {100, 1}});
    return 5 * dice.whole(4, 18);
}

/// The campaigns that saw a segment: recent ones more often, no campaign twice while another
/// is left.
std::vector<Visit> draw_visits(Dice& dice, const Line& line, std::size_t count) {
    const auto campaigns = campaigns_of(line);
    const int choice = campaigns.last - campaigns.first + 1;
    std::uint64_t used = 0;
    std::vector<Visit> visits(count);
    for (auto& visit : visits) {
        const double share = dice.share();
        int back = static_cast<int>(share * share * choice);
        for (int tries = 0; tries < choice && (used >> back & 1U) != 0; ++tries) {
            back = (back + 1) % choice;
        }
        used |= std::uint64_t{1} << back;
        visit.campaign = campaigns.last - back;
        visit.date = campaign_start(line.unit, visit.campaign);
        visit.date.days += dice.whole(0, longest_campaign_days);
        visit.technique = draw_technique(dice, year_of(visit.date), line.pipe.nps_inches);
        visit.coverage = draw_coverage(dice, visit.technique);
        // Stainless steel that is stripped and measured is examined for cracks.
        if (is_stainless(line.steel) && visit.technique == "strip_and_measure") {
            visit.technique = "penetrant_testing";
        }
    }
    std::ranges::stable_sort(visits, {}, &Visit::date);
    return visits;
}

bool strips(Word technique) {
    return technique == "strip_and_measure" || technique == "strip_and_look" ||
           technique == "penetrant_testing";
}

/// Writes what one visit found.
class Findings {
  public:
    Findings(Dice& dice, const Line& line, const HiddenWall& wall, const Visit& visit)
        : dice_(dice), line_(line), wall_(wall), visit_(visit) {}

    void write(CsvWriter& out) {
        wall_cells(out);
        coating_cell(out);
        wetness_cell(out);
        jacket_cell(out);
        renewal_cell(out);
        crack_cell(out);
    }

  private:
    /// Share of the deepest loss that was met: all of it only where most was looked at.
    double loss_met() {
        if (visit_.coverage >= 75) return dice_.between(0.85, 1.0);
        return dice_.between(0.2 + visit_.coverage / 150.0, 1.0);
    }

    void wall_cells(CsvWriter& out) {
        const auto technique = visit_.technique;
        const bool average = technique == "pulsed_eddy_current";  // evens out what is local
        const bool reads = technique == "strip_and_measure" || technique == "profile_radiography" ||
                           technique == "ut_through_plugs" ||
                           (average && !is_stainless(line_.steel));
        const double met = loss_met();
        const double loss = wall_.loss_mm(visit_.date) * met * (average ? 0.6 : 1.0);
        const double slip = dice_.middling(-0.2, 0.2);
        // No gauge reads more than the mill could have delivered.
        const double most = std::floor(10.0 * 1.04 * line_.wall_mm) / 10.0;  // as it is printed
        out.number(reads, std::clamp(wall_.new_wall_mm() - loss + slip, 0.3, most), 1);
        const bool pit = technique == "strip_and_measure" && loss >= 0.25;
        out.number(pit, std::max(0.1, loss), 1);
    }

    void coating_cell(CsvWriter& out) {
        const double broken = wall_.years_unprotected(visit_.date);
        const double grade = broken < 0 ? 8.0 - broken / 8.0 : 7.0 / (1.0 + broken / 12.0);
        const double seen = std::clamp(grade + dice_.middling(-1.5, 1.5), 0.0, 10.0);
        out.number(strips(visit_.technique) && wall_.coated(visit_.date), seen, 0);
    }

    void wetness_cell(CsvWriter& out) {
        const auto technique = visit_.technique;
        const bool open = wall_.years_open(visit_.date) > 0;
        const double wet = open ? (wall_.stays_wet() ? 0.75 : 0.2) : 0.04;
        const bool looks =
            strips(technique) || technique == "neutron_backscatter" || technique == "thermography";
        const bool noted = !dice_.chance(0.12);
        const bool found = dice_.chance(wet);
        out.flag(looks && noted, found);
    }

    void jacket_cell(CsvWriter& out) {
        const double open = wall_.years_open(visit_.date);
        const auto damage = open <= 0 ? dice_.pick<Word>({{"none", 8}, {"minor", 2}})
                            : open < 10
                                ? dice_.pick<Word>({{"none", 2}, {"minor", 7}, {"severe", 1}})
                                : dice_.pick<Word>({{"none", 1}, {"minor", 5}, {"severe", 4}});
        const bool looks = strips(visit_.technique) || visit_.technique == "external_visual";
        out.word(looks || dice_.chance(0.3), damage);
    }

    // Where the coating was stripped and gone, part of it was made new before it was closed again.
    void renewal_cell(CsvWriter& out) {
        const bool gone = wall_.coated(visit_.date) && wall_.years_unprotected(visit_.date) > 0;
        const bool renewed = strips(visit_.technique) && gone && dice_.chance(0.35);
        out.number(renewed, 10 * dice_.whole(2, 10), 0);
    }

    void crack_cell(CsvWriter& out) {
        const bool looks = strips(visit_.technique) && is_stainless(line_.steel);
        out.flag(looks, dice_.chance(0.05));
    }

    Dice& dice_;
    const Line& line_;
    const HiddenWall& wall_;
    const Visit& visit_;
};

/// One report a rack and campaign.
std::string report_name(const Rack& rack, const Visit& visit) {
    std::string name = "IR-";
    append_padded(name, static_cast<std::uint64_t>(year_of(visit.date)), 4);
    name += '-';
    append_padded(name, rack.number + 1, 3);
    return name;
}

}  // namespace

void write_inspections(CsvWriter& out, std::uint64_t seed, const Rack& rack, const Line& line,
                       const Segment& segment, int id_digits, std::size_t count) {
    if (count == 0) return;
    Dice dice{seed, Subject::visits, segment.number};
    const HiddenWall wall(seed, rack, line, segment);
    for (const auto& visit : draw_visits(dice, line, count)) {
        out.name(true, "S", segment.number, id_digits);
        out.date(true, visit.date);
        out.word(true, visit.technique);
        out.number(true, visit.coverage, 0);
        Findings(dice, line, wall, visit).write(out);
        out.text(!dice.chance(0.1), report_name(rack, visit));
        out.end_row();
    }
}

}  // namespace lagline
