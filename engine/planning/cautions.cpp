#include "planning/cautions.h"

#include <algorithm>
#include <array>

#include "blocks/number_text.h"
#include "consequence/consequence.h"

namespace lagline {
namespace {

using S = SegmentField;

constexpr std::array needs{
    TableNeed{.name = "asbestos_before", .kind = TableKind::value},
    TableNeed{.name = "lead_before", .kind = TableKind::value},
    TableNeed{.name = "insulation_asbestos",
              .kind = TableKind::lookup,
              .by = "insulation_type",
              .gives = "yes_no"},
    TableNeed{.name = "jacket_zinc", .kind = TableKind::lookup, .by = "jacket", .gives = "yes_no"},
    TableNeed{.name = "thin_wall_ratio", .kind = TableKind::value},
    TableNeed{.name = "touch_limit", .kind = TableKind::value, .dimension = Dimension::temperature},
};

std::vector<bool> yes_of(const LookupTable& table) {
    std::vector<bool> all;
    for (const RuleEntry& entry : table.entries) all.push_back(entry.code != 0);
    return all;
}

/// What an action does to the segment, as far as it is dangerous.
struct Deeds {
    bool strips = false;
    bool coats = false;  ///< prepares the steel and coats it
    bool insulates = false;
    bool welds = false;
};
Deeds deeds_of(WorkAction action) {
    switch (action) {
        case WorkAction::screen:
            return {};
        case WorkAction::open_part:
        case WorkAction::renew_insulation:
            return {.strips = true, .coats = false, .insulates = true, .welds = false};
        case WorkAction::strip_recoat:
            return {.strips = true, .coats = true, .insulates = true, .welds = false};
        case WorkAction::remove_insulation:
            return {.strips = true, .coats = true, .insulates = false, .welds = false};
        case WorkAction::replace_run:
            return {.strips = true, .coats = true, .insulates = true, .welds = true};
    }
    return {};
}

class CautionReader {
  public:
    CautionReader(const Plant& plant, const CautionRules& rules, std::uint32_t segment,
                  const WorkOnSegment& work)
        : segments_(plant.segments), rules_(rules), segment_(segment), work_(work) {}

    std::uint32_t read() {
        const Deeds deeds = deeds_of(work_.action);
        if (!deeds.strips) return set_;
        read_materials(deeds);
        read_wall(deeds);
        const double operating = segments_.numbers(S::operating_temperature)[segment_];
        add(Caution::hot_metal,
            work_.state == WorkState::on_stream && operating > rules_.touch_limit_degc);
        const bool fluid_known = segments_.has(S::fluid_class, segment_);
        const std::uint8_t fluid = fluid_known ? segments_.codes(S::fluid_class)[segment_] : 0;
        add(Caution::hot_work_flammable,
            fluid_known && rules_.flammable[fluid] && (deeds.coats || deeds.welds));
        add(Caution::service_hazard, fluid_known && rules_.hazardous[fluid]);
        add(Caution::fluid_unknown, !fluid_known);
        return set_;
    }

  private:
    void add(Caution caution, bool applies) {
        if (applies) set_ |= 1U << static_cast<unsigned>(caution);
    }

    // A date that is not recorded can be as old as the pipe.
    [[nodiscard]] int year_of_field(S field) const {
        const S known = segments_.has(field, segment_) ? field : S::in_service;
        return year_of(Date{segments_.days(known)[segment_]});
    }

    void read_materials(const Deeds& deeds) {
        const bool asbestos = rules_.holds_asbestos[segments_.codes(S::insulation_type)[segment_]];
        add(Caution::asbestos, asbestos);
        add(Caution::asbestos_possible,
            !asbestos && year_of_field(S::insulation_installed) < rules_.asbestos_before_year);
        const bool coating_known = segments_.has(S::coating_system, segment_);
        const std::uint8_t coating =
            coating_known ? segments_.codes(S::coating_system)[segment_] : 0;
        const bool painted = !coating_known || coating != rules_.no_coating;
        add(Caution::lead_in_paint,
            painted && year_of_field(S::coating_date) < rules_.lead_before_year);
        if (!rules_.stainless[segments_.codes(S::material)[segment_]]) return;
        const bool zinc_jacket = segments_.has(S::jacket, segment_) &&
                                 rules_.zinc_jacket[segments_.codes(S::jacket)[segment_]];
        add(Caution::zinc_on_stainless,
            zinc_jacket || (coating_known && rules_.holds_zinc[coating]));
        add(Caution::chloride_in_coating, deeds.coats);
        add(Caution::chloride_in_insulation, deeds.insulates);
    }

    // Taking insulation off can break a thin wall as well as blasting can.
    void read_wall(const Deeds& deeds) {
        const bool known = work_.expected_wall_mm && work_.minimum_wall_mm;
        add(Caution::thin_wall,
            known && *work_.expected_wall_mm < rules_.thin_wall_ratio * *work_.minimum_wall_mm);
        const bool stainless = rules_.stainless[segments_.codes(S::material)[segment_]];
        add(Caution::wall_unknown, !known && !stainless && deeds.coats);
    }

    const SegmentSheet& segments_;
    const CautionRules& rules_;
    std::uint32_t segment_;
    const WorkOnSegment& work_;
    std::uint32_t set_ = 0;
};

std::string day_text(const SegmentSheet& segments, S field, std::uint32_t segment) {
    if (segments.has(field, segment) && !is_assumption(segments.state(field, segment))) {
        return "dated " + to_string(Date{segments.days(field)[segment]});
    }
    return "without a day on record; the pipe went into service on " +
           to_string(Date{segments.days(S::in_service)[segment]});
}

// What of the segment calls for the caution; empty where the words say it all.
std::string detail(const Plant& plant, const RuleSet& rules, std::uint32_t segment,
                   const WorkOnSegment& work, Caution caution) {
    const SegmentSheet& segments = plant.segments;
    if (caution == Caution::asbestos_possible) {
        return "insulation " + day_text(segments, S::insulation_installed, segment);
    }
    if (caution == Caution::lead_in_paint) {
        return "coating " + day_text(segments, S::coating_date, segment);
    }
    if (caution == Caution::thin_wall) {
        return "expected " + short_number(work.expected_wall_mm.value_or(0.0), 3) +
               " mm, minimum " + short_number(work.minimum_wall_mm.value_or(0.0), 3) + " mm";
    }
    if (caution == Caution::hot_metal) {
        return "operating at " +
               short_number(segments.numbers(S::operating_temperature)[segment], 3) + " degC";
    }
    if (caution == Caution::service_hazard) {
        const Word* hazard = service_hazard(plant, rules, segment);
        return hazard == nullptr ? "" : hazard->key + ": " + hazard->meaning;
    }
    return "";
}

}  // namespace

std::span<const TableNeed> caution_needs() { return needs; }

CautionRules caution_rules(const RuleSet& rules) {
    CautionRules taken;
    taken.asbestos_before_year = static_cast<int>(rules.value("asbestos_before").value());
    taken.lead_before_year = static_cast<int>(rules.value("lead_before").value());
    taken.thin_wall_ratio = rules.value("thin_wall_ratio").value();
    taken.touch_limit_degc = rules.value("touch_limit").value();
    for (const RuleEntry& family : rules.lookup("material_family").entries) {
        taken.stainless.push_back(family.word != "ferritic");
    }
    taken.holds_zinc = yes_of(rules.lookup("holds_zinc"));
    taken.zinc_jacket = yes_of(rules.lookup("jacket_zinc"));
    taken.holds_asbestos = yes_of(rules.lookup("insulation_asbestos"));
    for (const RuleEntry& hazard : rules.lookup("service_hazard").entries) {
        taken.flammable.push_back(hazard.word == "flammable");
        taken.hazardous.push_back(hazard.word != no_hazard);
    }
    taken.no_coating = rules.vocabulary("coating_system").code("none").value();
    return taken;
}

std::uint32_t cautions(const Plant& plant, const CautionRules& rules, std::uint32_t segment,
                       const WorkOnSegment& work) {
    return CautionReader{plant, rules, segment, work}.read();
}

std::vector<std::string> caution_lines(const Plant& plant, const RuleSet& rules,
                                       std::uint32_t segment, const WorkOnSegment& work,
                                       std::uint32_t set) {
    const Vocabulary& words = rules.vocabulary("work_caution");
    std::vector<std::string> lines;
    for (std::size_t i = 0; i < caution_count; ++i) {
        const auto caution = static_cast<Caution>(i);
        if (!holds(set, caution)) continue;
        std::string line = words.words[i].meaning;
        const std::string more = detail(plant, rules, segment, work, caution);
        if (!more.empty()) line += " (" + more + ")";
        lines.push_back(line + ".");
    }
    return lines;
}

}  // namespace lagline
