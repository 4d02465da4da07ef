#include "intake/defaults.h"

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
        : plant_(plant), rules_(rules), money_(money), words_(words), report_(report) {}

    void derive() {
        derive_diameter();
        derive_coating_date();
    }

    /// The hot end of a cycle is the operating temperature where nothing else is said.
    void derive_hot_end() {
        using F = SegmentField;
        if (plant_.segments.rows() == 0 || plant_.segments.column(F::service).states.empty())
            return;
        SheetColumn& column = prepare(index_of(F::temperature_high));
        for (std::size_t row = 0; row < plant_.segments.rows(); ++row) {
            if (column.states[row] != CellState::absent || !serves(row, "cyclic")) continue;
            if (!plant_.segments.has(F::operating_temperature, row)) continue;
            column.numbers[row] = plant_.segments.numbers(F::operating_temperature)[row];
            column.states[row] = CellState::derived;
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

    /// A lookup table that is named like a column gives its default by the row's word.
    void fill_from_table(std::size_t index, const LookupTable& table) {
        const FieldInfo& field = segment_fields()[index];
        const auto by = find_field_of_words(table.info.by);
        if (!by || field.kind != FieldKind::quantity) return;
        const Unit stored = parse_unit(field.unit, field.dimension).value();
        SheetColumn& column = prepare(index);
        for (std::size_t row = 0; row < plant_.segments.rows(); ++row) {
            if (column.states[row] != CellState::absent) continue;
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

    // Money given for a leak says more than a category would, and only a line that cycles is asked
    // for its cycle.
    bool answered_otherwise(std::size_t index, std::size_t row) const {
        using F = SegmentField;
        if (index == index_of(F::consequence_category)) {
            return plant_.segments.has(F::leak_cost, row);
        }
        if (index == index_of(F::hot_fraction)) {
            return !serves(row, "cyclic") && !serves(row, "intermittent");
        }
        if (index == index_of(F::cycles_per_year) || index == index_of(F::temperature_low)) {
            return !serves(row, "cyclic");
        }
        return false;
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
        ColumnPlan plan = plan_of(field, index, rules_, money_);
        add_site_words(plan, words_);
        DefaultValue value{read_cell(plan, *owned, money_), *owned};
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
    const PlantMoney& money_;
    const ColumnMap& words_;
    Report& report_;
};

}  // namespace

void fill_defaults(Plant& plant, const std::map<std::string, PlantDefault, std::less<>>& defaults,
                   const RuleSet& rules, const PlantMoney& money, const ColumnMap& words,
                   Report& report) {
    DefaultFiller filler{plant, rules, money, words, report};
    filler.derive();
    const auto fill = [&](bool service) {
        // Which other columns a segment is asked for depends on its service: that one comes first.
        const auto now = [&](std::string_view key) { return (key == "service") == service; };
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
    filler.derive_hot_end();
    fill(false);
    for (const auto& [name, table] : rules.lookups) {
        if (const auto index = find_field(segment_fields(), name)) {
            filler.fill_from_table(*index, table);
        }
    }
}

}  // namespace lagline
