#include "intake/defaults.h"

#include <algorithm>
#include <memory>
#include <optional>

#include "diagnostics/text.h"
#include "intake/cell.h"
#include "quantity/pipe_size.h"

namespace lagline {
namespace {

struct DefaultValue {
    CellReading reading;
    std::string_view text;
};

class DefaultFiller {
  public:
    DefaultFiller(Plant& plant, const RuleSet& rules, const PlantMoney& money,
                  const ColumnMap& words, Report& report)
        : plant_(plant),
          rules_(rules),
          plant_money_(money),
          words_(words),
          report_(report),
          money_(chooses(rules, "consequence_model", "money")) {}

    void derive() {
        derive_diameter();
        derive_coating_date();
    }

    void derive_cycle_ends() {
        using F = SegmentField;
        const auto air = mean_air_degc(plant_, rules_);
        if (!air) return;  // rules without a service cycle
        SheetColumn& low = prepare(index_of(F::temperature_low));
        SheetColumn& high = prepare(index_of(F::temperature_high));
        for (std::size_t row = 0; row < plant_.segments.rows(); ++row) {
            if (!serves(row, "cyclic") || !plant_.segments.has(F::operating_temperature, row))
                continue;
            const double operating = plant_.segments.numbers(F::operating_temperature)[row];
            const auto derive = [&](SheetColumn& column, double value) {
                if (column.states[row] != CellState::absent) return;
                column.numbers[row] = value;
                column.states[row] = CellState::derived;
            };
            const auto known = [&](const SheetColumn& column) {
                const bool there = column.states[row] != CellState::absent;
                return there ? std::optional{column.numbers[row]} : std::nullopt;
            };
            const CycleEnds ends = cycle_ends(operating, *air, known(low), known(high));
            derive(low, ends.low_degc);
            derive(high, ends.high_degc);
        }
    }

    void fill(std::size_t index, const std::string& text, const Place& place, CellState state) {
        const auto value = read(index, text, place);
        if (!value) return;
        const FieldInfo& field = segment_fields()[index];
        SheetColumn& column = prepare(index);
        for (std::size_t row = 0; row < plant_.segments.rows(); ++row) {
            if (column.states[row] != CellState::absent || answered_otherwise(index, row)) continue;
            store_reading(column, field, value->reading, value->text, row, state);
        }
    }

    /// The days that plant.yaml gives for the unit of a segment.
    void fill_outage() {
        if (!money_ || plant_.description.outages.empty()) return;
        SheetColumn& column = prepare(index_of(SegmentField::outage));
        const auto units = plant_.segments.texts(SegmentField::unit);
        for (std::size_t row = 0; row < plant_.segments.rows(); ++row) {
            if (column.states[row] != CellState::absent || !priced(row)) continue;
            const UnitOutage* outage =
                units.empty() ? nullptr : plant_.description.outage_of(units[row]);
            if (outage == nullptr || !outage->days) continue;
            column.numbers[row] = *outage->days;
            column.states[row] = CellState::plant_default;
        }
    }

    /// A lookup table that is named like a column gives its default by the row's word.
    void fill_from_table(std::size_t index, const LookupTable& table) {
        const FieldInfo& field = segment_fields()[index];
        const auto by = find_field_of_words(table.info.by);
        if (!by || field.kind != FieldKind::quantity) return;
        const Unit stored = parse_unit(field.unit, field.dimension).value();
        SheetColumn& column = prepare(index);
        for (std::size_t row = 0; row < plant_.segments.rows(); ++row) {
            if (column.states[row] != CellState::absent || answered_otherwise(index, row)) continue;
            if (plant_.segments.Sheet::state(*by, row) == CellState::absent) continue;
            const std::uint8_t code = plant_.segments.Sheet::column(*by).codes[row];
            column.numbers[row] = convert(table.value(code), base_unit(field.dimension), stored);
            column.states[row] = CellState::rule_default;
        }
    }

  private:
    SheetColumn& prepare(std::size_t index) {
        plant_.segments.allocate(index);
        return plant_.segments.Sheet::column(index);
    }

    std::optional<std::size_t> find_field_of_words(std::string_view words) const {
        for (std::size_t i = 0; i < segment_fields().size(); ++i) {
            if (segment_fields()[i].words == words) return i;
        }
        return std::nullopt;
    }

    // Money for a leak, given or added up, says more than a category would; only a leak that is
    // priced is asked for its outage, and only a line that cycles for its cycle.
    bool answered_otherwise(std::size_t index, std::size_t row) const {
        using F = SegmentField;
        if (index == index_of(F::consequence_category)) {
            return plant_.segments.has(F::leak_cost, row) || priced(row);
        }
        if (index == index_of(F::outage)) return money_ && !priced(row);
        if (index == index_of(F::hot_fraction)) {
            return !serves(row, "cyclic") && !serves(row, "intermittent");
        }
        return index == index_of(F::cycles_per_year) && !serves(row, "cyclic");
    }

    // True where the rules add up what a leak costs.
    [[nodiscard]] bool priced(std::size_t row) const {
        return money_ && can_be_priced(plant_.segments, row);
    }

    bool serves(std::size_t row, std::string_view word) const {
        if (!plant_.segments.has(SegmentField::service, row)) return false;
        const std::uint8_t code = plant_.segments.codes(SegmentField::service)[row];
        return rules_.vocabulary("service").words[code].key == word;
    }

    std::optional<DefaultValue> read(std::size_t index, const std::string& text,
                                     const Place& place) {
        const FieldInfo& field = segment_fields()[index];
        auto owned = std::make_shared<const std::string>(text);
        plant_.segments.arena.push_back(owned);
        ColumnPlan plan = plan_of(field, index, rules_, plant_money_);
        add_site_words(plan, words_);
        DefaultValue value{read_cell(plan, *owned, plant_money_), *owned};
        if (value.reading.outcome == CellReading::Outcome::value) return value;
        if (value.reading.outcome == CellReading::Outcome::bare_number) {
            value.reading.problem = Problem::missing_unit;
            value.reading.found = "'" + printable(text) + "', a number without a unit";
            value.reading.expected = std::string{describe(field.dimension)} + " with its unit";
            value.reading.mend = "write the unit behind the number";
        }
        report_.add({.problem = value.reading.problem,
                     .where = place,
                     .subject = "default of " + std::string{field.key},
                     .found = value.reading.found,
                     .expected = value.reading.expected,
                     .mend = value.reading.mend,
                     .excerpt = {}});
        return std::nullopt;
    }

    void derive_diameter() {
        SheetColumn& column = prepare(index_of(SegmentField::outside_diameter));
        for (std::size_t row = 0; row < plant_.segments.rows(); ++row) {
            if (column.states[row] != CellState::absent) continue;
            if (!plant_.segments.has(SegmentField::nominal_size, row)) continue;
            const std::uint8_t size = plant_.segments.codes(SegmentField::nominal_size)[row];
            column.numbers[row] = pipe_sizes()[size].outside_mm;
            column.states[row] = CellState::implied;  // ASME B36.10M: one fact, not a choice
        }
    }

    void derive_coating_date() {
        SheetColumn& column = prepare(index_of(SegmentField::coating_date));
        for (std::size_t row = 0; row < plant_.segments.rows(); ++row) {
            if (column.states[row] != CellState::absent) continue;
            if (!plant_.segments.has(SegmentField::in_service, row)) continue;
            column.days[row] = plant_.segments.days(SegmentField::in_service)[row];
            column.states[row] = CellState::derived;
        }
    }

    Plant& plant_;
    const RuleSet& rules_;
    const PlantMoney& plant_money_;
    const ColumnMap& words_;
    Report& report_;
    bool money_;  ///< the rules price leaks
};

}  // namespace

CycleEnds cycle_ends(double operating_degc, double air_degc, std::optional<double> low_degc,
                     std::optional<double> high_degc) {
    const double hottest = high_degc.value_or(std::max(operating_degc, air_degc));
    const double low = low_degc.value_or(std::min({operating_degc, air_degc, hottest}));
    return {low, high_degc.value_or(std::max(hottest, low))};
}

std::optional<double> mean_air_degc(const Plant& plant, const RuleSet& rules) {
    const auto otherwise = rules.values.find("ambient_temperature");
    if (otherwise == rules.values.end()) return std::nullopt;
    const auto& climate = plant.description.climate;
    if (!climate) return otherwise->second.value();
    double sum = 0.0;
    for (const double month : climate->mean_temperature_degc) sum += month;
    return sum / static_cast<double>(climate->mean_temperature_degc.size());
}

void fill_defaults(Plant& plant, const std::map<std::string, PlantDefault, std::less<>>& defaults,
                   const RuleSet& rules, const PlantMoney& money, const ColumnMap& words,
                   Report& report) {
    DefaultFiller filler{plant, rules, money, words, report};
    filler.derive();
    const auto fill = [&](bool first) {
        // Which other columns a segment is asked for depends on these two.
        const auto now = [&](std::string_view key) {
            return (key == "service" || key == "fluid_class") == first;
        };
        for (const auto& [key, value] : defaults) {
            if (!now(key)) continue;
            filler.fill(find_field(segment_fields(), key).value(), value.text, value.place,
                        CellState::plant_default);
        }
        for (const auto& [key, rule] : rules.defaults) {
            if (!now(key)) continue;
            filler.fill(find_field(segment_fields(), key).value(), rule.text, rule.place,
                        CellState::rule_default);
        }
    };
    fill(true);
    filler.derive_cycle_ends();
    filler.fill_outage();
    fill(false);
    for (const auto& [name, table] : rules.lookups) {
        if (const auto index = find_field(segment_fields(), name)) {
            filler.fill_from_table(*index, table);
        }
    }
}

}  // namespace lagline
