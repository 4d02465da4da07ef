#include "report/cautions.h"
#include "report/json_writer.h"
#include "report/recoat_text.h"

namespace lagline {
namespace {

using S = SegmentField;

class RecoatJson {
  public:
    RecoatJson(const Plant& plant, const RuleSet& rules, const RecoatSheet& sheet)
        : plant_(plant), rules_(rules), sheet_(sheet) {}

    std::string write() {
        json_.begin_document();
        json_.member("segment", plant_.segments.texts(S::segment)[sheet_.segment]);
        json_.member_texts("rules", rules_.layers);
        json_.member("currency", plant_.description.currency);
        json_.member("lowest_temperature", sheet_.service.lowest_degc);
        json_.member("highest_temperature", sheet_.service.hottest_degc);
        json_.member("driver", word("driver", sheet_.service.driver));
        json_.member("coating_model", sheet_.life_model ? "life_model" : "banded_credit");
        json_.member_flag("climate_known", sheet_.climate_known);
        json_.member("horizon_years", sheet_.terms.horizon_years);
        json_.member("discount_rate", sheet_.terms.discount_per_year);
        json_.member("price_level", sheet_.price_level);
        write_surface();
        write_choice("shutdown", sheet_.shutdown);
        write_choice("on_stream", sheet_.on_stream);
        json_.member_texts("cautions", sheet_.cautions);
        json_.member("caution", screening_caution);
        json_.end_object();
        return json_.take() + "\n";
    }

  private:
    [[nodiscard]] const std::string& word(std::string_view vocabulary, std::uint8_t code) const {
        return rules_.vocabulary(vocabulary).words[code].key;
    }

    void write_surface() {
        const SegmentSurface& surface = sheet_.surface;
        json_.key("surface");
        json_.begin_object();
        json_.member("length_m", surface.length_m);
        json_.member("fittings", surface.fittings);
        json_.member("equivalent_m", surface.equivalent_m);
        json_.member("steel_m2", surface.steel_m2);
        json_.member("jacket_m2", surface.jacket_m2);
        json_.member("elevation_m", surface.elevation_m);
        json_.member_flag("length_assumed", surface.length_assumed);
        json_.member_flag("fittings_assumed", surface.fittings_assumed);
        json_.member_flag("insulation_assumed", surface.insulation_assumed);
        json_.member_flag("elevation_assumed", surface.elevation_assumed);
        json_.end_object();
    }

    void write_choice(std::string_view name, const RecoatChoice& choice) {
        json_.key(name);
        json_.begin_object();
        json_.key("allowed");
        json_.begin_array();
        for (std::size_t i = 0; i < choice.allowed(); ++i) write_option(choice.options[i]);
        json_.end_array();
        json_.key("refused");
        json_.begin_array();
        for (std::size_t i = choice.allowed(); i < choice.options.size(); ++i) {
            json_.begin_object();
            json_.member("system", word("coating_system", choice.options[i].system));
            json_.member("reason", choice.reasons[i]);
            json_.end_object();
        }
        json_.end_array();
        write_take_off(choice.take_off);
        json_.end_object();
    }

    void write_option(const RecoatOption& option) {
        json_.begin_object();
        json_.member("system", word("coating_system", option.system));
        json_.member("preparation", word("surface_preparation", option.preparation));
        json_.member("form", word("coating_form", static_cast<std::uint8_t>(option.form)));
        json_.key("coats");
        json_.begin_array();
        for (std::size_t coat = 0; coat < option.coats; ++coat) {
            json_.begin_object();
            json_.member("least_um", option.films[coat].least_um);
            json_.member("target_um", option.films[coat].target_um);
            json_.member("most_um", option.films[coat].most_um);
            json_.member(option.form == CoatingForm::wrap ? "material_m2" : "material_litres",
                         option.material[coat]);
            json_.end_object();
        }
        json_.end_array();
        write_months(option);
        json_.member("life_years", option.life.expected_years);
        if (option.life.life) {
            json_.member("life_scale_years", option.life.life->scale_years);
            json_.member("life_shape", option.life.life->shape);
        }
        json_.member("coating_quality", word("coating_quality", option.life.quality));
        json_.member("coating_cost_per_m2", option.coating_cost_per_m2);
        json_.member("coating_cost", option.coating_cost);
        json_.member("access_cost", option.access_cost);
        json_.member("job_cost", option.job_cost());
        json_.member("life_cycle_cost", option.life_cycle_cost);
        json_.end_object();
    }

    // Left out where the plant gives no climate.
    void write_months(const RecoatOption& option) {
        if (!option.months_known) return;
        json_.key("months");
        json_.begin_array();
        for (std::size_t month = 0; month < 12; ++month) {
            if (((option.months >> month) & 1U) != 0) json_.count(month + 1);
        }
        json_.end_array();
    }

    void write_take_off(const TakeOff& take_off) {
        json_.key("take_off");
        json_.begin_object();
        json_.member("stripped_m", take_off.stripped_m);
        json_.member("inspected_m2", take_off.inspected_m2);
        json_.member("coated_m2", take_off.coated_m2);
        json_.member("insulated_m", take_off.insulated_m);
        json_.member("jacket_m2", take_off.jacket_m2);
        json_.key("hours");
        json_.begin_object();
        for (std::size_t craft = 0; craft < crafts; ++craft) {
            json_.member(word("craft", static_cast<std::uint8_t>(craft)), take_off.hours[craft]);
        }
        json_.end_object();
        json_.end_object();
    }

    JsonWriter json_;
    const Plant& plant_;
    const RuleSet& rules_;
    const RecoatSheet& sheet_;
};

}  // namespace

std::string recoat_json(const Plant& plant, const RuleSet& rules, const RecoatSheet& sheet) {
    return RecoatJson{plant, rules, sheet}.write();
}

}  // namespace lagline
