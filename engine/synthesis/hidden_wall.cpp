#include "synthesis/hidden_wall.h"

#include <algorithm>

namespace lagline {
namespace {

/// Calendar years do not matter here; a fixed length is quicker.
double years(Date from, Date to) { return (to.days - from.days) / 365.25; }

double coating_years(Dice& dice, const Line& line, const Protection& protection) {
    const auto system = protection.coating_system;
    double middle = 12.0;
    if (system == "none" || system == "unknown") return dice.between(0.0, 1.0);
    if (system == "primer_only") middle = 4.0;
    if (system == "alkyd") middle = 7.0;
    if (system == "epoxy_phenolic" || system == "epoxy_novolac") middle = 16.0;
    if (system == "inert_multipolymeric") middle = 18.0;
    if (system == "sprayed_aluminium") middle = 32.0;
    if (protection.renewed) middle *= 0.75;
    if (line.operating_degc > 120) middle *= 0.8;
    if (line.service == Service::cyclic) middle *= 0.8;
    return dice.middling(0.3, 1.7) * middle;
}

double seal_years(Dice& dice, const Rack& rack, const Line& line, const Protection& protection) {
    double middle = protection.jacket == "none" ? 1.0 : 13.0;
    if (protection.jacket == "galvanised_steel" || protection.jacket == "painted_steel")
        middle = 9.0;
    if (rack.driver == "severe") middle *= 0.7;
    if (line.operating_degc < 10) middle *= 0.8;  // vapour is driven inwards
    return dice.middling(0.1, 2.1) * middle;
}

double temperature_share(double degc) {
    if (degc <= -8.0 || degc >= 190.0) return 0.0;
    return degc < 85.0 ? (degc + 8.0) / 93.0 : (190.0 - degc) / 105.0;
}

/// The worst of the temperatures that the metal passes through.
double temperature_share(const Line& line) {
    double most = temperature_share(line.operating_degc);
    if (line.service == Service::continuous) return most;
    most = std::max(most, 0.7 * temperature_share(0.5 * (line.low_degc + line.high_degc)));
    return std::max(most, 0.5 * temperature_share(line.low_degc));
}

double wetting(const Rack& rack) {
    if (rack.driver == "severe") return 1.3;
    if (rack.driver == "moderate") return 0.9;
    return rack.driver == "mild" ? 0.6 : 0.25;
}

}  // namespace

HiddenWall::HiddenWall(std::uint64_t seed, const Rack& rack, const Line& line,
                       const Segment& segment) {
    Dice dice{seed, Subject::wall, segment.number};
    first_ = draw_spell(dice, rack, line, segment.original);
    present_ = segment.present.renewed ? draw_spell(dice, rack, line, segment.present) : first_;
    const double wet_percent = rack.wet_percent + (segment.pooling || segment.interface ? 30 : 0);
    stays_wet_ = dice.chance(wet_percent / 100.0);
    constexpr double tent_top_mm_per_year = 0.16;
    const double spread = dice.share();
    rate_mm_per_year_ = tent_top_mm_per_year * temperature_share(line) * wetting(rack) *
                        (0.1 + 1.9 * spread * spread) * (stays_wet_ ? 1.0 : 0.08);
    if (is_stainless(line.steel)) rate_mm_per_year_ *= 0.03;
    new_wall_mm_ = line.wall_mm * dice.middling(0.94, 1.04);
}

HiddenWall::Spell HiddenWall::draw_spell(Dice& dice, const Rack& rack, const Line& line,
                                         const Protection& protection) {
    Spell spell;
    spell.start = protection.date;
    spell.coating_years = coating_years(dice, line, protection);
    spell.seal_years = seal_years(dice, rack, line, protection);
    spell.coated = protection.film_um > 0;
    return spell;
}

const HiddenWall::Spell& HiddenWall::spell_of(Date at) const {
    return at < present_.start ? first_ : present_;
}

double HiddenWall::loss_in(const Spell& spell, Date end) const {
    const double wet = years(spell.start, end) - std::max(spell.coating_years, spell.seal_years);
    if (wet <= 0.0) return 0.0;
    return rate_mm_per_year_ * wet / (1.0 + wet / 60.0);
}

double HiddenWall::loss_mm(Date at) const {
    double loss = loss_in(spell_of(at), at);
    // A renewal stops the loss; it does not bring the wall back.
    if (present_.start > first_.start && at >= present_.start) {
        loss += loss_in(first_, present_.start);
    }
    return std::min(loss, 0.8 * new_wall_mm_);
}

double HiddenWall::years_unprotected(Date at) const {
    const auto& spell = spell_of(at);
    return years(spell.start, at) - spell.coating_years;
}

double HiddenWall::years_open(Date at) const {
    const auto& spell = spell_of(at);
    return years(spell.start, at) - spell.seal_years;
}

bool HiddenWall::coated(Date at) const { return spell_of(at).coated; }

}  // namespace lagline
