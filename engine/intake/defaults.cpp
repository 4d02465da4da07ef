#include "intake/defaults.h"

#include <algorithm>
#include <functional>
#include <memory>
#include <optional>
#include <vector>

#include "diagnostics/text.h"
#include "intake/cell.h"
#include "quantity/pipe_size.h"

namespace lagline {
namespace {

struct DefaultValue {
    CellValue value;
    std::string_view text;
};

// Collects what is to be done to the rows, column by column, and does it block by block: rows do
// not depend on each other, and a block of them stays near the processor through all steps.
class DefaultFiller {
  public:
    DefaultFiller(Plant& plant, const SheetContext& context, Report& report)
        : plant_(plant),
          segments_(plant.segments),
          context_(context),
          report_(report),
          money_(chooses(context.rules, "consequence_model", "money")),
          cyclic_(service_code("cyclic")),
          intermittent_(service_code("intermittent")) {}

    void derive() {
        derive_diameter();
        derive_coating_date();
    }

    /// A row that gives the ends of a cycle and no service is a line that cycles.
    void derive_service() {
        const auto step = context_.rules.values.find("implied_cycle_step");
        if (!cyclic_ || step == context_.rules.values.end()) return;
        if (!chooses(context_.rules, "temperature_model", "service_cycle")) return;
        const double step_k = step->second.value();
        SheetColumn& service = prepare(index_of(F::service));
        each_row([this, &service, step_k](std::size_t row) {
            if (service.states[row] != CellState::absent) return;
            if (!ends_show_cycle(segments_, row, step_k)) return;
            service.codes[row] = *cyclic_;
            service.states[row] = CellState::derived;
        });
    }

    void derive_cycle_ends() {
        const auto air = mean_air_degc(plant_, context_.rules);
        if (!air) return;  // rules without a service cycle
        SheetColumn& low = prepare(index_of(F::temperature_low));
        SheetColumn& high = prepare(index_of(F::temperature_high));
        SheetColumn& standby = prepare(index_of(F::standby_fraction));
        each_row([this, &low, &high, &standby, air](std::size_t row) {
            if (!serves(row, cyclic_) || !segments_.has(F::operating_temperature, row)) return;
            const double operating = segments_.numbers(F::operating_temperature)[row];
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
            const auto share = standby_share(context_.rules, ends.low_degc, *air);
            if (share && *share > 0.0) derive(standby, *share);
        });
    }

    void fill(std::size_t index, const std::string& text, const Place& place, CellState state) {
        const auto value = read(index, text, place);
        if (!value) return;
        const FieldKind kind = segment_fields()[index].kind;
        SheetColumn& column = prepare(index);
        each_empty_row(index, [&column, kind, value = *value, state](std::size_t row) {
            store_value(column, kind, value.value, value.text, row, state);
        });
    }

    /// The days that plant.yaml gives for the unit of a segment.
    void fill_outage() {
        if (!money_ || plant_.description.outages.empty()) return;
        SheetColumn& column = prepare(index_of(F::outage));
        each_row([this, &column](std::size_t row) {
            if (column.states[row] != CellState::absent || !priced(row)) return;
            const auto units = segments_.texts(F::unit);
            const UnitOutage* outage =
                units.empty() ? nullptr : plant_.description.outage_of(units[row]);
            if (outage == nullptr || !outage->days) return;
            column.numbers[row] = *outage->days;
            column.states[row] = CellState::plant_default;
        });
    }

    /// A lookup table that is named like a column gives its default by the row's word.
    void fill_from_table(std::size_t index, const LookupTable& table) {
        const FieldInfo& field = segment_fields()[index];
        const auto by = find_field_of_words(table.info.by);
        if (!by) return;
        if (field.kind == FieldKind::word && table.info.gives == field.words) {
            fill_word_from_table(index, table, *by);
            return;
        }
        if (field.kind != FieldKind::quantity) return;
        const Unit stored = parse_unit(field.unit, field.dimension).value();
        SheetColumn& column = prepare(index);
        each_empty_row(index, [this, &table, &column, dimension = field.dimension, stored,
                               by = *by](std::size_t row) {
            if (segments_.Sheet::state(by, row) == CellState::absent) return;
            const std::uint8_t code = segments_.Sheet::column(by).codes[row];
            column.numbers[row] = convert(table.value(code), base_unit(dimension), stored);
            column.states[row] = CellState::rule_default;
        });
    }

    /// Does it all.
    void run() {
        for_each_block(segments_.rows(), context_.plan, [this](std::size_t, RowRange rows) {
            for (const std::size_t index : made_) segments_.clear(index, rows);
            for (const auto& step : steps_) step(rows);
        });
    }

  private:
    using F = SegmentField;

    template <class Work>
    void each_row(Work work) {
        steps_.emplace_back([work](RowRange rows) {
            for (std::size_t row = rows.begin; row < rows.end; ++row) work(row);
        });
    }

    // Rows whose cell is empty and whose segment is asked for it.
    template <class Work>
    void each_empty_row(std::size_t index, Work work) {
        const auto& states = segments_.Sheet::column(index).states;
        const bool always = always_asked_for(index);
        each_row([this, &states, index, always, work](std::size_t row) {
            if (states[row] != CellState::absent) return;
            if (always || !answered_otherwise(index, row)) work(row);
        });
    }

    void fill_word_from_table(std::size_t index, const LookupTable& table, std::size_t by) {
        SheetColumn& column = prepare(index);
        each_empty_row(index, [this, &table, &column, by](std::size_t row) {
            if (segments_.Sheet::state(by, row) == CellState::absent) return;
            column.codes[row] = table.code(segments_.Sheet::column(by).codes[row]);
            column.states[row] = CellState::rule_default;
        });
    }

    SheetColumn& prepare(std::size_t index) {
        SheetColumn& column = segments_.Sheet::column(index);
        if (column.states.empty() && segments_.rows() > 0) {
            segments_.make_room(index);
            made_.push_back(index);
        }
        return column;
    }

    std::optional<std::size_t> find_field_of_words(std::string_view words) const {
        for (std::size_t i = 0; i < segment_fields().size(); ++i) {
            if (segment_fields()[i].words == words) return i;
        }
        return std::nullopt;
    }

    static bool always_asked_for(std::size_t index) {
        return index != index_of(F::consequence_category) && index != index_of(F::outage) &&
               index != index_of(F::hot_fraction) && index != index_of(F::cycles_per_year);
    }

    // Money for a leak, given or added up, says more than a category would; only a leak that is
    // priced is asked for its outage, and only a line that cycles for its cycle.
    bool answered_otherwise(std::size_t index, std::size_t row) const {
        if (index == index_of(F::consequence_category)) {
            return segments_.has(F::leak_cost, row) || priced(row);
        }
        if (index == index_of(F::outage)) return money_ && !priced(row);
        if (index == index_of(F::hot_fraction)) {
            return !serves(row, cyclic_) && !serves(row, intermittent_);
        }
        return index == index_of(F::cycles_per_year) && !serves(row, cyclic_);
    }

    // True where the rules add up what a leak costs.
    [[nodiscard]] bool priced(std::size_t row) const {
        return money_ && can_be_priced(segments_, row);
    }

    [[nodiscard]] std::optional<std::uint8_t> service_code(std::string_view word) const {
        const auto vocabulary = context_.rules.vocabularies.find("service");
        if (vocabulary == context_.rules.vocabularies.end()) return std::nullopt;
        return vocabulary->second.code(word);
    }

    bool serves(std::size_t row, std::optional<std::uint8_t> service) const {
        return service && segments_.has(F::service, row) &&
               segments_.codes(F::service)[row] == *service;
    }

    std::optional<DefaultValue> read(std::size_t index, const std::string& text,
                                     const Place& place) {
        const FieldInfo& field = segment_fields()[index];
        auto owned = std::make_shared<const std::string>(text);
        segments_.arena.push_back(owned);
        ColumnPlan plan = plan_of(field, index, context_.rules, context_.money);
        add_site_words(plan, context_.map);
        CellReading reading = read_cell(plan, *owned, context_.money);
        if (reading.outcome == CellReading::Outcome::value) {
            return DefaultValue{reading.value, *owned};
        }
        const CellFault fault = fault_of(plan, text, std::move(reading));
        report_.add({.problem = fault.problem,
                     .where = place,
                     .subject = "default of " + std::string{field.key},
                     .found = fault.found,
                     .expected = fault.expected,
                     .mend = fault.mend,
                     .excerpt = {}});
        return std::nullopt;
    }

    void derive_diameter() {
        SheetColumn& column = prepare(index_of(F::outside_diameter));
        each_row([this, &column](std::size_t row) {
            if (column.states[row] != CellState::absent) return;
            if (!segments_.has(F::nominal_size, row)) return;
            column.numbers[row] = pipe_sizes()[segments_.codes(F::nominal_size)[row]].outside_mm;
            column.states[row] = CellState::implied;  // ASME B36.10M: one fact, not a choice
        });
    }

    void derive_coating_date() {
        SheetColumn& column = prepare(index_of(F::coating_date));
        each_row([this, &column](std::size_t row) {
            if (column.states[row] != CellState::absent) return;
            if (!segments_.has(F::in_service, row)) return;
            column.days[row] = segments_.days(F::in_service)[row];
            column.states[row] = CellState::derived;
        });
    }

    Plant& plant_;
    SegmentSheet& segments_;
    const SheetContext& context_;
    Report& report_;
    bool money_;  ///< the rules price leaks
    std::optional<std::uint8_t> cyclic_;
    std::optional<std::uint8_t> intermittent_;
    std::vector<std::size_t> made_;  ///< columns that the file does not have, cleared before all
    std::vector<std::function<void(RowRange)>> steps_;
};

}  // namespace

CycleEnds cycle_ends(double operating_degc, double air_degc, std::optional<double> low_degc,
                     std::optional<double> high_degc) {
    const double hottest = high_degc.value_or(std::max(operating_degc, air_degc));
    const double low = low_degc.value_or(std::min({operating_degc, air_degc, hottest}));
    return {low, high_degc.value_or(std::max(hottest, low))};
}

bool gives_an_end(const SegmentSheet& segments, std::size_t row) {
    const auto given = [&](SegmentField field) {
        const CellState state = segments.state(field, row);
        return state != CellState::absent && state != CellState::derived;
    };
    return given(SegmentField::temperature_low) || given(SegmentField::temperature_high);
}

bool ends_show_cycle(const SegmentSheet& segments, std::size_t row, double step_k) {
    if (!gives_an_end(segments, row) || !segments.has(SegmentField::operating_temperature, row)) {
        return false;
    }
    const double operating = segments.numbers(SegmentField::operating_temperature)[row];
    const auto end = [&](SegmentField field) {
        const CellState state = segments.state(field, row);
        const bool given = state != CellState::absent && state != CellState::derived;
        return given ? segments.numbers(field)[row] : operating;
    };
    return end(SegmentField::temperature_high) - end(SegmentField::temperature_low) > step_k;
}

std::optional<double> standby_share(const RuleSet& rules, double low_degc, double air_degc) {
    const auto share = rules.values.find("standby_default");
    const auto band = rules.values.find("standby_band");
    if (share == rules.values.end() || band == rules.values.end()) return std::nullopt;
    const double colder = std::clamp((air_degc - low_degc) / band->second.value(), 0.0, 1.0);
    return share->second.value() * colder;
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
                   const SheetContext& context, Report& report) {
    DefaultFiller filler{plant, context, report};
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
        // What another column of the row says of a word comes before the default for all rows.
        for (const auto& [name, table] : context.rules.lookups) {
            const auto index = find_field(segment_fields(), name);
            if (index && now(name) && !table.info.gives.empty()) {
                filler.fill_from_table(*index, table);
            }
        }
        for (const auto& [key, rule] : context.rules.defaults) {
            if (!now(key)) continue;
            filler.fill(find_field(segment_fields(), key).value(), rule.text, rule.place,
                        CellState::rule_default);
        }
    };
    filler.derive_service();
    fill(true);
    filler.derive_cycle_ends();
    filler.fill_outage();
    fill(false);
    for (const auto& [name, table] : context.rules.lookups) {
        const auto index = find_field(segment_fields(), name);
        if (index && table.info.gives.empty()) filler.fill_from_table(*index, table);
    }
    filler.run();
}

}  // namespace lagline
