#include "intake/overrides.h"

#include <algorithm>
#include <optional>
#include <set>
#include <tuple>
#include <utility>

#include "diagnostics/nearest.h"
#include "diagnostics/text.h"
#include "intake/cell.h"
#include "intake/cell_place.h"
#include "intake/heading.h"

namespace lagline {
namespace {

using O = OverrideField;

class OverrideReader {
  public:
    OverrideReader(Plant& plant, const SegmentIndex& index, const SheetContext& context,
                   PassedOver* passed_over, Report& report)
        : plant_(plant),
          index_(index),
          context_(context),
          passed_over_(passed_over),
          report_(report) {}

    void read(std::size_t row) {
        if (!complete(row)) return;
        const auto segment = find_segment(row);
        const auto field = find_column(row);
        if (!segment || !field || !in_force(row)) return;
        apply(row, *segment, *field);
    }

  private:
    // An incomplete row has been reported by the sheet reader.
    bool complete(std::size_t row) const {
        return std::ranges::all_of(
            std::initializer_list<O>{O::segment, O::quantity, O::value, O::reason, O::who, O::when},
            [&](O field) { return plant_.overrides.has(field, row); });
    }

    std::optional<std::uint32_t> find_segment(std::size_t row) {
        const std::string_view name = plant_.overrides.texts(O::segment)[row];
        const auto found = index_.find(name);
        if (found) return found;
        if (passed_over_ != nullptr) {
            ++passed_over_->overrides;
            return std::nullopt;
        }
        report_unknown_segment(plant_.overrides, index_of(O::segment), row, name, index_, report_);
        return std::nullopt;
    }

    std::optional<std::size_t> find_column(std::size_t row) {
        const std::string_view key = plant_.overrides.texts(O::quantity)[row];
        const auto field = find_field(segment_fields(), key);
        if (field && *field > index_of(SegmentField::unit)) return field;
        std::vector<std::string_view> names;
        for (const FieldInfo& each : segment_fields()) names.push_back(each.key);
        const std::string meant = field ? "" : did_you_mean(key, names);
        add_at_cell(report_, plant_.overrides, index_of(O::quantity), row, Severity::error,
                    Problem::unknown_column, "'" + printable(key) + "'",
                    "a column of segments.csv other than segment, line and unit",
                    meant.empty() ? "correct the name" : meant);
        return std::nullopt;
    }

    bool in_force(std::size_t row) {
        const Date at = plant_.ranked_at.date;
        const Date when{plant_.overrides.days(O::when)[row]};
        if (!plant_.overrides.has(O::until, row)) return when <= at;
        const Date until{plant_.overrides.days(O::until)[row]};
        if (until < when) {
            add_at_cell(report_, plant_.overrides, index_of(O::until), row, Severity::error,
                        Problem::contradiction, to_string(until),
                        "a day on or after `when`, " + to_string(when), "correct one of the days");
            return false;
        }
        if (until < at) {
            add_at_cell(report_, plant_.overrides, index_of(O::until), row, Severity::warning,
                        Problem::expired_override,
                        "an override that ran out on " + to_string(until),
                        "one that holds at the rank date, " + to_string(at),
                        "renew it with a new reason, or remove it; it is not applied");
            return false;
        }
        return when <= at;
    }

    void apply(std::size_t row, std::uint32_t segment, std::size_t field) {
        const FieldInfo& info = segment_fields()[field];
        const std::string_view text = plant_.overrides.texts(O::value)[row];
        ColumnPlan plan = plan_of(info, field, context_.rules, context_.money);
        add_site_words(plan, context_.map);
        CellReading reading = read_cell(plan, text, context_.money);
        if (reading.outcome != CellReading::Outcome::value) {
            const CellFault fault = fault_of(plan, text, std::move(reading));
            add_at_cell(report_, plant_.overrides, index_of(O::value), row, Severity::error,
                        fault.problem, fault.found, fault.expected, fault.mend);
            return;
        }
        if (!applied_.emplace(segment, field).second) {
            add_at_cell(report_, plant_.overrides, index_of(O::quantity), row, Severity::error,
                        Problem::duplicate_key,
                        "a second override of " + std::string{info.key} + " for this segment",
                        "one override in force per segment and quantity",
                        "remove the older one, or end it with `until`");
            return;
        }
        plant_.segments.allocate(field);
        plant_.applied_overrides.push_back({segment, static_cast<std::uint32_t>(row), field,
                                            cell_text(plant_.segments, field, segment)});
        store_value(plant_.segments.Sheet::column(field), info.kind, reading.value, text, segment,
                    CellState::overridden);
    }

    Plant& plant_;
    const SegmentIndex& index_;
    const SheetContext& context_;
    PassedOver* passed_over_;
    Report& report_;
    std::set<std::pair<std::uint32_t, std::size_t>> applied_;  ///< segment row, field
};

}  // namespace

void apply_overrides(Plant& plant, const SegmentIndex& index, const SheetContext& context,
                     PassedOver* passed_over, Report& report) {
    OverrideReader reader{plant, index, context, passed_over, report};
    for (std::size_t row = 0; row < plant.overrides.rows(); ++row) reader.read(row);
    std::ranges::sort(plant.applied_overrides, {}, [](const AppliedOverride& applied) {
        return std::tuple{applied.segment_row, applied.field};
    });
}

}  // namespace lagline
