#include "intake/plant_yaml.h"

#include <array>

#include "diagnostics/nearest.h"
#include "diagnostics/text.h"
#include "intake/money_yaml.h"
#include "intake/source_file.h"
#include "intake/yaml_map.h"
#include "plant/field.h"
#include "quantity/strong.h"
#include "ruleset/yaml_reader.h"

namespace lagline {
namespace {

// Between the dearest and the cheapest currency there are about five orders of magnitude.
constexpr double least_exchange = 1e-6;
constexpr double most_exchange = 1e6;

class PlantFileReader {
  public:
    explicit PlantFileReader(Report& report) : maps_(report) {}

    PlantFile read(const YamlFile& file) {
        const YamlNode& root = file.root;
        result_.currency_known = false;
        result_.description.place = place_of(root);
        maps_.read_map(
            root, "plant.yaml",
            {{"name", [&](const YamlNode& n) { set(plant().name, maps_.text(n, "name")); }},
             {"currency", [&](const YamlNode& n) { read_currency(n); }},
             {"exchange", [&](const YamlNode& n) { read_exchange(n); }},
             {"climate", [&](const YamlNode& n) { read_climate(n); }},
             {"management_score", [&](const YamlNode& n) { read_management_score(n); }},
             {"defaults", [&](const YamlNode& n) { read_defaults(n); }},
             {"cooling_tower_drift",
              [&](const YamlNode& n) {
                  read_units(n, "cooling_tower_drift", plant().cooling_tower_drift);
              }},
             {"deluge_tests",
              [&](const YamlNode& n) { read_units(n, "deluge_tests", plant().deluge_tests); }},
             {"rank_date",
              [&](const YamlNode& n) { plant().rank_date = maps_.date(n, "rank_date"); }},
             {"unit_costs",
              [&](const YamlNode& n) { read_costs(maps_, n, "unit_costs", plant().unit_costs); }},
             {"crew_rates",
              [&](const YamlNode& n) { read_costs(maps_, n, "crew_rates", plant().crew_rates); }},
             {"outage", [&](const YamlNode& n) { plant().outages = read_outages(maps_, n); }},
             {"criteria", [&](const YamlNode& n) { plant().criteria = read_criteria(maps_, n); }}});
        if (root.is_map()) check_needed_keys(root);
        check_own_exchange(root);
        return std::move(result_);
    }

  private:
    PlantDescription& plant() { return result_.description; }

    template <class T>
    static void set(T& into, std::optional<T> value) {
        if (value) into = std::move(*value);
    }

    void check_needed_keys(const YamlNode& root) {
        for (const std::string_view key : {"name", "currency"}) {
            if (root.find(key) != nullptr) continue;
            maps_.add(Problem::missing_key, root, "plant.yaml", "no key " + std::string{key},
                      key == "name" ? "name: the plant's name" : "currency: an ISO 4217 code",
                      "add the key");
        }
    }

    void read_currency(const YamlNode& node) {
        const auto text = maps_.text(node, "currency");
        if (text && is_currency_code(*text)) {
            plant().currency = *text;
            result_.currency_known = true;
        } else if (text) {
            maps_.add(Problem::unknown_word, node, "currency", "'" + printable(*text) + "'",
                      "an ISO 4217 code of three capital letters, e.g. EUR", "correct the code");
        }
    }

    void read_exchange(const YamlNode& node) {
        maps_.read_any_map(node, "exchange", [&](const YamlNode& key, const YamlNode& value) {
            if (!is_currency_code(key.text)) {
                maps_.add(Problem::unknown_key, key, "exchange", "'" + printable(key.text) + "'",
                          "an ISO 4217 code, e.g. USD", "correct the code");
                return;
            }
            const auto rate =
                maps_.number(value, "exchange -> " + key.text, least_exchange, most_exchange);
            if (rate) plant().exchange[key.text] = *rate;
        });
    }

    // A plant's money in itself is worth 1; another price says that one of the two is wrong.
    void check_own_exchange(const YamlNode& root) {
        const auto own = plant().exchange.find(plant().currency);
        if (!result_.currency_known || own == plant().exchange.end() || own->second == 1.0) return;
        const YamlNode* node = root.find("exchange")->find(own->first);
        maps_.add(Problem::contradiction, *node, "exchange -> " + own->first,
                  "'" + printable(node->text) + "', a price of the plant's own currency", "1",
                  "leave the plant's currency out, or correct `currency`");
    }

    void read_management_score(const YamlNode& node) {
        const auto share = maps_.quantity(node, "management_score", Dimension::number, "%", 0, 100);
        if (!share) return;
        plant().management_score_percent = *share;
        plant().management_score_place = place_of(node);
    }

    void read_units(const YamlNode& node, std::string_view chain, std::vector<std::string>& into) {
        if (!node.is_list()) {
            maps_.add(Problem::yaml_shape, node, chain, "something else", "a list of process units",
                      "write [U1, U2]");
            return;
        }
        for (const YamlNode& item : node.items) {
            if (auto unit = maps_.text(item, chain)) into.push_back(std::move(*unit));
        }
    }

    void read_climate(const YamlNode& node) {
        Climate climate;
        climate.place = place_of(node);
        maps_.read_map(node, "climate",
                       {{"mean_temperature",
                         [&](const YamlNode& n) {
                             read_months(n, "mean_temperature", Dimension::temperature, "degC", -90,
                                         70, climate.mean_temperature_degc);
                         }},
                        {"relative_humidity",
                         [&](const YamlNode& n) {
                             read_months(n, "relative_humidity", Dimension::number, "%", 0, 100,
                                         climate.relative_humidity_percent);
                         }},
                        {"rainfall",
                         [&](const YamlNode& n) {
                             read_months(n, "rainfall", Dimension::length, "mm", 0, 5000,
                                         climate.rainfall_mm);
                         }},
                        {"coast_distance",
                         [&](const YamlNode& n) {
                             climate.coast_distance_km = maps_.quantity(
                                 n, "climate -> coast_distance", Dimension::length, "km", 0, 10000);
                         }},
                        {"wind_speed",
                         [&](const YamlNode& n) { climate.wind_speed_m_per_s = read_wind(n); }}});
        if (node.is_map()) check_climate(node);
        plant().climate = climate;
    }

    void check_climate(const YamlNode& node) {
        for (const std::string_view key : {"mean_temperature", "relative_humidity", "rainfall"}) {
            if (node.find(key) != nullptr) continue;
            maps_.add(Problem::missing_key, node, "climate", "no key " + std::string{key},
                      std::string{key} + ": {unit: ..., values: [12 monthly means]}",
                      "add the twelve values, or leave the whole climate out");
        }
    }

    // m/s and km/h are the only units of speed in a plant folder.
    std::optional<double> read_wind(const YamlNode& node) {
        const NumberReading reading =
            node.is_scalar() ? read_quantity(trimmed(node.text)) : NumberReading{};
        const bool metres = reading.unit == "m/s";
        if (node.is_scalar() && reading.fault == NumberFault::none &&
            (metres || reading.unit == "km/h") && reading.value >= 0.0 && reading.value <= 400.0) {
            return metres ? reading.value : reading.value / 3.6;
        }
        maps_.add(Problem::unit_mismatch, node, "climate -> wind_speed",
                  node.is_scalar() ? "'" + printable(node.text) + "'" : "no single value",
                  "a speed in m/s or km/h, e.g. 3.5 m/s", "correct the value");
        return std::nullopt;
    }

    void read_months(const YamlNode& node, std::string_view what, Dimension dimension,
                     std::string_view unit, double least, double most,
                     std::array<double, 12>& into) {
        const std::string chain = "climate -> " + std::string{what};
        std::optional<Unit> given;
        const YamlNode* values = nullptr;
        maps_.read_map(
            node, chain,
            {{"unit", [&](const YamlNode& n) { given = read_unit(n, chain, dimension); }},
             {"values", [&](const YamlNode& n) { values = &n; }}});
        if (!node.is_map()) return;
        if (node.find("unit") == nullptr) {
            maps_.add(Problem::missing_unit, node, chain, "no unit",
                      "unit: one of " + listing(unit_symbols(dimension)), "add the unit");
        }
        if (values == nullptr || !values->is_list() || values->items.size() != into.size()) {
            maps_.add(
                Problem::yaml_shape, values == nullptr ? node : *values, chain,
                values == nullptr ? "no values" : std::to_string(values->items.size()) + " values",
                "values: a list of 12 numbers, January first", "give all twelve months");
            return;
        }
        const Unit stored = parse_unit(unit, dimension).value();
        for (std::size_t month = 0; month < into.size(); ++month) {
            const auto value = maps_.number(values->items[month], chain, -1e6, 1e6);
            if (!value || !given) continue;
            into[month] = convert(*value, *given, stored);
            if (into[month] >= least && into[month] <= most) continue;
            maps_.add(Problem::out_of_range, values->items[month], chain,
                      "'" + printable(values->items[month].text) + "'",
                      "a monthly mean that can be right on earth", "correct the value or the unit");
        }
    }

    std::optional<Unit> read_unit(const YamlNode& node, const std::string& chain,
                                  Dimension dimension) {
        const auto text = maps_.text(node, chain);
        if (!text) return std::nullopt;
        auto unit = parse_unit(*text, dimension);
        if (!unit) {
            maps_.add(Problem::unknown_unit, node, chain, "'" + printable(*text) + "'",
                      "one of " + listing(unit_symbols(dimension)), "correct the unit");
        }
        return unit;
    }

    void read_defaults(const YamlNode& node) {
        maps_.read_any_map(node, "defaults", [&](const YamlNode& key, const YamlNode& value) {
            if (!find_field(segment_fields(), key.text)) {
                std::vector<std::string_view> names;
                for (const FieldInfo& field : segment_fields()) names.push_back(field.key);
                const std::string meant = maps_.full() ? "" : did_you_mean(key.text, names);
                maps_.add(Problem::unknown_key, key, "defaults", "'" + printable(key.text) + "'",
                          "a column of segments.csv", meant.empty() ? "correct the name" : meant);
                return;
            }
            const auto text = maps_.text(value, "defaults -> " + key.text);
            if (text) result_.defaults[key.text] = {*text, place_of(value)};
        });
    }

    YamlMapReader maps_;
    PlantFile result_;
};

}  // namespace

PlantFile read_plant_yaml(const std::filesystem::path& path, Report& report) {
    // Told first in the words of a plant folder: missing, a directory, empty, not UTF-8.  A file
    // that is too much is left to the reader below, which refuses it before it takes the memory.
    std::error_code no_size;
    const bool too_much = std::filesystem::file_size(path, no_size) > most_yaml_bytes && !no_size;
    const bool text = too_much || read_source(path, path.string(), report).has_value();
    const auto file = text ? read_yaml_file(path, report) : nullptr;
    if (!file) return {.description = {}, .defaults = {}, .currency_known = false};
    return PlantFileReader{report}.read(*file);
}

}  // namespace lagline
