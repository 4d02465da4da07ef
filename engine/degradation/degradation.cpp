#include "degradation/degradation.h"

#include <algorithm>
#include <array>

#include "degradation/coating.h"
#include "degradation/wall_loss.h"
#include "quantity/date.h"

namespace lagline {
namespace {

using S = SegmentField;

// A hole has no wall left; so small a number keeps the ratios of the next step finite.
constexpr double least_wall_mm = 0.01;

constexpr std::array needs{
    TableNeed{.name = "material_family",
              .kind = TableKind::lookup,
              .by = "material",
              .gives = "material_family"},
    TableNeed{.name = "base_rate",
              .kind = TableKind::curves,
              .dimension = Dimension::corrosion_rate,
              .by = "driver",
              .axis = "metal_temperature"},
    TableNeed{.name = "insulation_factor", .kind = TableKind::lookup, .by = "insulation_type"},
    TableNeed{.name = "complexity_factor", .kind = TableKind::lookup, .by = "complexity"},
    TableNeed{.name = "condition_factor", .kind = TableKind::lookup, .by = "insulation_condition"},
    TableNeed{.name = "pooling_factor", .kind = TableKind::lookup, .by = "yes_no"},
    TableNeed{.name = "interface_factor", .kind = TableKind::lookup, .by = "yes_no"},
    TableNeed{.name = "coating_life",
              .kind = TableKind::lookup,
              .dimension = Dimension::time,
              .by = "coating_quality"},
    TableNeed{.name = "coating_failed_rust_grade", .kind = TableKind::value},
    TableNeed{.name = "inspection_effectiveness",
              .kind = TableKind::bands,
              .by = "technique",
              .axis = "coverage",
              .gives = "effectiveness"},
    TableNeed{.name = "reading_accepted",
              .kind = TableKind::lookup,
              .by = "effectiveness",
              .gives = "yes_no"},
};

const SiteColumn* find_site_column(const Plant& plant, std::string_view heading) {
    const auto found = std::ranges::find(plant.segments.site_columns, heading, &SiteColumn::key);
    return found == plant.segments.site_columns.end() ? nullptr : &*found;
}

void site_factor(const Plant& plant, const DegradationRules& rules,
                 std::span<const std::uint32_t> rows, Column factors) {
    factors.setOnes();
    for (const SiteFactorTable* table : rules.site_factors) {
        const SiteColumn* column = find_site_column(plant, table->info.by);
        for (std::size_t i = 0; i < rows.size(); ++i) {
            const RuleEntry& entry =
                column == nullptr ? table->otherwise : table->find(column->texts[rows[i]]);
            factors[static_cast<Eigen::Index>(i)] *= entry.value;
        }
    }
}

bool reading_assumed(const Plant& plant, const History& history) {
    return history.reading != History::nothing &&
           is_assumption(plant.inspections.state(InspectionField::date,
                                                 static_cast<std::size_t>(history.reading)));
}

}  // namespace

std::span<const TableNeed> degradation_needs() { return needs; }

DegradationRules degradation_rules(const RuleSet& rules) {
    DegradationRules taken{.base_rate = &rules.curve("base_rate"),
                           .insulation = &rules.lookup("insulation_factor"),
                           .complexity = &rules.lookup("complexity_factor"),
                           .condition = &rules.lookup("condition_factor"),
                           .pooling = &rules.lookup("pooling_factor"),
                           .interface_factor = &rules.lookup("interface_factor"),
                           .coating_life = &rules.lookup("coating_life"),
                           .site_factors = {},
                           .history = history_rules(rules)};
    for (const auto& [name, table] : rules.site_factors) taken.site_factors.push_back(&table);
    return taken;
}

void fill_degradation(const Plant& plant, const DegradationRules& rules, Date at,
                      std::span<const std::uint8_t> effectiveness,
                      std::span<const std::uint32_t> rows, const ExposureColumns& exposure,
                      RowRange range, DegradationColumns& out) {
    const auto begin = static_cast<Eigen::Index>(range.begin);
    const auto size = static_cast<Eigen::Index>(range.size());
    const auto mine = rows.subspan(range.begin, range.size());
    const auto block = [&](Numbers& column) { return column.segment(begin, size); };
    const auto codes = [&](Codes& column) {
        return std::span<std::uint8_t>{column.data() + begin, range.size()};
    };
    std::ranges::fill(codes(out.outside_range), std::uint8_t{0});
    base_rate(*rules.base_rate, exposure.metal_temperature_degc.segment(begin, size),
              {exposure.driver.data() + begin, range.size()}, block(out.base_rate_mm_per_year),
              codes(out.outside_range));
    factor(*rules.insulation, plant.segments.codes(S::insulation_type), mine,
           block(out.insulation_factor));
    factor(*rules.complexity, plant.segments.codes(S::complexity), mine,
           block(out.complexity_factor));
    factor(*rules.condition, plant.segments.codes(S::insulation_condition), mine,
           block(out.condition_factor));
    factor(*rules.pooling, plant.segments.codes(S::pooling), mine, block(out.pooling_factor));
    factor(*rules.interface_factor, plant.segments.codes(S::ground_or_water_interface), mine,
           block(out.interface_factor));
    site_factor(plant, rules, mine, block(out.site_factor));
    corrosion_rate(block(out.base_rate_mm_per_year), block(out.insulation_factor),
                   block(out.complexity_factor), block(out.condition_factor),
                   block(out.pooling_factor), block(out.interface_factor), block(out.site_factor),
                   block(out.corrosion_rate_mm_per_year));
    factor(*rules.coating_life, plant.segments.codes(S::coating_quality), mine,
           block(out.coating_life_years));
    for (std::size_t i = 0; i < mine.size(); ++i) {
        const auto row = begin + static_cast<Eigen::Index>(i);
        const ExpectedLoss loss{out.corrosion_rate_mm_per_year[row], out.coating_life_years[row]};
        const History history =
            read_history(plant, mine[i], at, effectiveness, loss, rules.history);
        const Date coated{plant.segments.days(S::coating_date)[mine[i]]};
        out.wall_thickness_mm[row] = std::max(least_wall_mm, history.wall_mm);
        out.time_since_wall_years[row] = std::max(0.0, years_between(history.wall_known, at));
        out.coating_age_years[row] = std::max(0.0, years_between(coated, at));
        out.coating_failed[row] = history.failed_at == History::nothing ? 0 : 1;
        out.reading_assumed[row] = reading_assumed(plant, history) ? 1 : 0;
    }
    coating_credit(block(out.coating_life_years), block(out.coating_age_years),
                   block(out.time_since_wall_years), codes(out.coating_failed),
                   block(out.coating_credit_years));
    exposed_time(block(out.time_since_wall_years), block(out.coating_credit_years),
                 block(out.exposed_time_years));
}

}  // namespace lagline
