#include "blocks/number_text.h"
#include "planning/recoat.h"

namespace lagline {
namespace {

constexpr double um_per_mm = 1e3;
constexpr int digits = 3;

std::string degrees(double degc) { return short_number(degc, digits) + " degC"; }

// "epoxy_phenolic" as people write it.
std::string spoken(std::string_view word) {
    std::string text{word};
    for (char& letter : text) {
        if (letter == '_') letter = ' ';
    }
    return text;
}

std::string with_note(std::string text, const RuleEntry* rule) {
    if (rule != nullptr && !rule->note.empty()) text += ": " + rule->note;
    return text;
}

}  // namespace

std::string RecoatPlanner::reason(const RecoatOption& option) const {
    const auto word = [&](std::string_view vocabulary, std::uint8_t code) {
        return spoken(rule_set_.vocabulary(vocabulary).words[code].key);
    };
    switch (option.refusal) {
        case RecoatRefusal::none:
            return "";
        case RecoatRefusal::not_specified:
            return with_note("not offered", option.rule);
        case RecoatRefusal::substrate:
            return with_note("not for this steel", option.rule);
        case RecoatRefusal::zinc_on_stainless:
            return "zinc on stainless steel: liquid zinc embrittles it when it is hot";
        case RecoatRefusal::zinc_in_wet_heat:
            return "zinc is spent fast under wet insulation at " +
                   short_number(rules_.zinc_wet_from_degc, digits) + " to " +
                   degrees(rules_.zinc_wet_to_degc) + ", and may turn nobler than the steel";
        case RecoatRefusal::dry_heat:
            return "on carbon steel for dry heat from " + degrees(option.limit) +
                   " on, and the service falls to " + degrees(option.found);
        case RecoatRefusal::service_too_hot:
            return "service reaches " + degrees(option.found) + ", made for up to " +
                   degrees(option.limit);
        case RecoatRefusal::service_too_cold:
            return "service falls to " + degrees(option.found) + ", made for down to " +
                   degrees(option.limit);
        case RecoatRefusal::cyclic:
            return with_note("not for cyclic service", option.rule);
        case RecoatRefusal::film_too_thick:
            return "its least film is above " + short_number(option.rule->value * um_per_mm, 3) +
                   " um, at which hot service cracks it";
        case RecoatRefusal::preparation:
            return "needs " + word("surface_preparation", option.preparation) +
                   ", which cannot be had " +
                   (option.state == WorkState::on_stream ? "on stream" : "in the field");
        case RecoatRefusal::steel_too_hot:
            return "steel at " + degrees(option.found) + " is too hot to coat, up to " +
                   degrees(option.limit);
        case RecoatRefusal::no_month:
            if (option.found < option.limit) {
                return "steel is at " + degrees(option.found) + " at most, and it cures from " +
                       degrees(option.limit);
            }
            return "in no month is the steel warm enough to cure and " +
                   short_number(rules_.dew_margin_k, digits) + " K above the dew point";
        case RecoatRefusal::no_life:
            return "over the preparation that can be had the coating model gives it no life";
    }
    return "";
}

}  // namespace lagline
