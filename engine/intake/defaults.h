#pragma once

#include <map>
#include <optional>
#include <string>

#include "diagnostics/diagnostic.h"
#include "intake/column_map.h"
#include "intake/plant_yaml.h"
#include "intake/sheet_reader.h"
#include "plant/plant.h"
#include "ruleset/ruleset.h"

namespace lagline {

/// Ends of the service cycle of a line.
struct CycleEnds {
    double low_degc = 0.0;
    double high_degc = 0.0;
};

/// Ends of a cyclic line, those that are given as they are.  A line whose ends are not given swings
/// between its operating temperature and the air, whichever of the two is the colder: a cold line
/// warms up, a hot one cools down.
[[nodiscard]] CycleEnds cycle_ends(double operating_degc, double air_degc,
                                   std::optional<double> low_degc, std::optional<double> high_degc);

/// Whether the ends that a row gives, with its operating temperature for one that it does not give,
/// lie further apart than `step_k`: such a line cycles, whatever else is not recorded.
[[nodiscard]] bool ends_show_cycle(const SegmentSheet& segments, std::size_t row, double step_k);
/// True where the row gives an end of a cycle itself.
[[nodiscard]] bool gives_an_end(const SegmentSheet& segments, std::size_t row);

/// Share of the year that a cyclic line stands at ambient temperature where nobody recorded it:
/// `standby_default` of the rules where the cold end lies `standby_band` or more below the air,
/// less the nearer it is to the air, 0 where it is no colder.  Nothing where the rules have no
/// service cycle.
[[nodiscard]] std::optional<double> standby_share(const RuleSet& rules, double low_degc,
                                                  double air_degc);

/// Mean temperature of the air over the year; nothing where the rules do not ask for the air.
[[nodiscard]] std::optional<double> mean_air_degc(const Plant& plant, const RuleSet& rules);

/// Fills the empty cells of segments.csv: derived from other columns of the row, else the default
/// of plant.yaml, else that of the rule set (its `defaults`, or a lookup table by material that is
/// named like the column).  Each filled cell says so in its state.  A default that cannot be read
/// as a cell of its column is reported where it stands.
/// @param context  that segments.csv was read in
void fill_defaults(Plant& plant, const std::map<std::string, PlantDefault, std::less<>>& defaults,
                   const SheetContext& context, Report& report);

}  // namespace lagline
