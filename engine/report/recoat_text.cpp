#include "report/recoat_text.h"

#include <string_view>
#include <vector>

#include "blocks/number_text.h"
#include "diagnostics/text.h"
#include "quantity/pipe_size.h"
#include "report/cautions.h"

namespace lagline {
namespace {

using S = SegmentField;

constexpr int digits = 3;

std::string degrees(double degc) { return short_number(degc, digits) + " degC"; }

class RecoatPage {
  public:
    RecoatPage(const Plant& plant, const RuleSet& rules, const RecoatSheet& sheet,
               const TextStyle& style)
        : plant_(plant), rules_(rules), sheet_(sheet), style_(style) {}

    std::string write() const {
        return head() +
               choice(sheet_.shutdown, "In a shutdown, steel at the temperature of the air") +
               choice(sheet_.on_stream, "On stream, steel at the temperature of the service") +
               notes() + cautions();
    }

  private:
    [[nodiscard]] std::string line(const std::string& text, std::size_t hang = 0) const {
        return wrapped(text, style_.width, hang) + "\n";
    }
    [[nodiscard]] std::string title(std::string_view text) const {
        return "\n" + coloured(text, Tone::strong, style_) + "\n";
    }
    [[nodiscard]] const std::string& word(std::string_view vocabulary, std::uint8_t code) const {
        return rules_.vocabulary(vocabulary).words[code].key;
    }

    std::string head() const {
        const SegmentSheet& segments = plant_.segments;
        const std::uint32_t row = sheet_.segment;
        const std::string name = printable(segments.texts(S::segment)[row], 40);
        const std::string steel = word("material", segments.codes(S::material)[row]);
        const std::string size = to_string(pipe_sizes()[segments.codes(S::nominal_size)[row]]);
        std::string service = degrees(sheet_.service.lowest_degc);
        if (sheet_.service.hottest_degc != sheet_.service.lowest_degc) {
            service += " to " + degrees(sheet_.service.hottest_degc);
        }
        return coloured("New coating for " + name, Tone::strong, style_) + "\n" +
               line(steel + ", " + size + ", metal at " + service + ", driver " +
                    word("driver", sheet_.service.driver) + "; " + surface() + " By rules " +
                    layers_text(rules_.layers) + "; costs in " + plant_.description.currency + ".");
    }

    std::string surface() const {
        const SegmentSurface& each = sheet_.surface;
        const auto assumed = [](bool is) { return is ? std::string{" (assumed)"} : std::string{}; };
        return short_number(each.length_m, digits) + " m" + assumed(each.length_assumed) +
               " with " + short_number(each.fittings, digits) + " fittings" +
               assumed(each.fittings_assumed) + ", " + short_number(each.steel_m2, digits) +
               " m2 of steel.";
    }

    std::string choice(const RecoatChoice& made, const std::string& heading) const {
        std::string text = title(heading);
        if (made.allowed() == 0) {
            text += line("No system can be applied.");
        } else {
            text += table(made) + coats(made) + quantities(made);
        }
        return text + refused(made);
    }

    std::string table(const RecoatChoice& made) const {
        const std::vector<TableColumn> columns{
            {"#", true, 0},   {"system", false, 0},    {"life y", true, 0}, {"a m2", true, 0},
            {"job", true, 0}, {"life cycle", true, 0}, {"months", false, 0}};
        std::vector<std::vector<std::string>> rows;
        for (std::size_t i = 0; i < made.allowed(); ++i) {
            const RecoatOption& option = made.options[i];
            rows.push_back({std::to_string(i + 1), word("coating_system", option.system),
                            short_number(option.life.expected_years, digits),
                            short_number(option.coating_cost_per_m2, digits),
                            compact(option.job_cost()), compact(option.life_cycle_cost),
                            option.months_known ? months_text(option.months) : "not known"});
        }
        return text_table(columns, rows, style_);
    }

    std::string coats(const RecoatChoice& made) const {
        std::string text;
        for (std::size_t i = 0; i < made.allowed(); ++i) {
            const RecoatOption& option = made.options[i];
            text += line(std::to_string(i + 1) + " over " +
                             word("surface_preparation", option.preparation) + ": " + films(option),
                         3);
        }
        return text;
    }

    static std::string films(const RecoatOption& option) {
        const std::string unit = option.form == CoatingForm::wrap ? " m2" : " l";
        std::string text;
        for (std::size_t coat = 0; coat < option.coats; ++coat) {
            const CoatFilm& film = option.films[coat];
            text += (coat == 0 ? "" : " + ") + short_number(film.least_um, 4) + " to " +
                    short_number(film.most_um, 4) + " um (" +
                    short_number(option.material[coat], digits) + unit + ")";
        }
        return text + (option.form == CoatingForm::metal_spray ? ", litres of solid metal" : "");
    }

    std::string quantities(const RecoatChoice& made) const {
        const TakeOff& each = made.take_off;
        std::string text = "Take-off with 1: strip " + short_number(each.stripped_m, digits) +
                           " m, coat " + short_number(each.coated_m2, digits) + " m2, insulate " +
                           short_number(each.insulated_m, digits) + " m, jacket " +
                           short_number(each.jacket_m2, digits) + " m2; hours:";
        for (std::size_t craft = 0; craft < crafts; ++craft) {
            if (each.hours[craft] <= 0.0) continue;
            text += " " + word("craft", static_cast<std::uint8_t>(craft)) + " " +
                    short_number(each.hours[craft], digits) + ",";
        }
        text.back() = '.';
        return line(text, 2);
    }

    std::string refused(const RecoatChoice& made) const {
        std::string never;  // what no service would bring back
        std::string text;
        for (std::size_t i = made.allowed(); i < made.options.size(); ++i) {
            const std::string& system = word("coating_system", made.options[i].system);
            if (made.options[i].refusal == RecoatRefusal::not_specified) {
                never += (never.empty() ? "" : ", ") + system;
            } else {
                text += line("- " + system + ": " + made.reasons[i] + ".", 2);
            }
        }
        if (!never.empty()) text += line("- No systems to ask for: " + never + ".", 2);
        return text.empty() ? "" : "Refused\n" + text;
    }

    std::string notes() const {
        std::string text =
            "Life: " +
            std::string{sheet_.life_model
                            ? "mean time to breakdown by the coating model of the ranking."
                            : "years of credit by the quality class, as in the ranking."} +
            " Life cycle: present value over " + short_number(sheet_.terms.horizon_years, digits) +
            " years at " + short_number(100.0 * sheet_.terms.discount_per_year, digits) +
            " % a year of the job (coating, insulation off and on) and of the maintenance that "
            "follows it.";
        if (!sheet_.climate_known) {
            text += " The plant gives no climate: months and dew point are not checked.";
        }
        if (sheet_.price_level != 1.0) {
            text += " Coating prices are those of the rules times " +
                    short_number(sheet_.price_level, digits) +
                    ", from unit_costs -> recoat of plant.yaml.";
        }
        if (sheet_.surface.elevation_assumed || sheet_.surface.insulation_assumed) {
            text +=
                " Assumed:" + std::string{sheet_.surface.elevation_assumed ? " elevation" : ""} +
                (sheet_.surface.elevation_assumed && sheet_.surface.insulation_assumed ? "," : "") +
                (sheet_.surface.insulation_assumed ? " insulation thickness" : "") + ".";
        }
        return "\n" + line(text);
    }

    std::string cautions() const {
        std::string text = title("Cautions");
        for (const std::string& each : sheet_.cautions) text += line("- " + each, 2);
        return text + coloured(wrapped(screening_caution, style_.width, 0), Tone::quiet, style_) +
               "\n";
    }

    const Plant& plant_;
    const RuleSet& rules_;
    const RecoatSheet& sheet_;
    const TextStyle& style_;
};

}  // namespace

std::string months_text(std::uint16_t months) {
    constexpr std::string_view letters = "JFMAMJJASOND";
    std::string text;
    for (std::size_t month = 0; month < letters.size(); ++month) {
        text += ((static_cast<unsigned>(months) >> month) & 1U) != 0 ? letters[month] : '.';
    }
    return text;
}

std::string recoat_text(const Plant& plant, const RuleSet& rules, const RecoatSheet& sheet,
                        const TextStyle& style) {
    return RecoatPage{plant, rules, sheet, style}.write();
}

}  // namespace lagline
