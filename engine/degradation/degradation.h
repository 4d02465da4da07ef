#pragma once

#include <array>
#include <cstdint>
#include <optional>
#include <span>
#include <vector>

#include "blocks/column.h"
#include "blocks/parallel.h"
#include "degradation/coating_life.h"
#include "degradation/history.h"
#include "degradation/rates.h"
#include "degradation/reading_columns.h"
#include "degradation/site_factor.h"
#include "exposure/exposure.h"
#include "plant/plant.h"
#include "ruleset/ruleset.h"

namespace lagline {

/// How many rows each mechanism has: wall loss first, then cracking.
struct MechanismRows {
    std::size_t wall_loss = 0;
    std::size_t cracking = 0;
    [[nodiscard]] std::size_t all() const { return wall_loss + cracking; }
};

/// What the coating keeps off.  One row per ranked row; the columns of the life model only where
/// the rules choose it.
struct CoatingColumns {
    Numbers age_years;
    Codes failed;
    Numbers credit_years;
    Numbers exposed_time_years;
    Numbers life_years;  ///< banded credit only
    // Life model:
    Numbers base_scale_years;
    Numbers preparation_factor;
    Numbers place_factor;
    Numbers application_factor;
    Numbers film_um;
    Numbers thin_film_factor;
    Numbers cracking_factor;
    Numbers temperature_factor;
    Numbers cycling_factor;
    Numbers wet_factor;
    Numbers scale_years;
    Numbers shape;
    Numbers broken_probability;

    void resize(Eigen::Index rows, bool life_model);
    [[nodiscard]] std::vector<ColumnView> views(bool life_model) const;
};

/// Wall loss of ferritic steel.  One row per row of that mechanism.
struct WallLossColumns {
    Numbers base_rate_mm_per_year;
    Numbers insulation_factor;
    Numbers complexity_factor;
    Numbers condition_factor;
    Numbers pooling_factor;
    Numbers interface_factor;
    // With the service cycle only:
    Numbers cycling_factor;
    Numbers weather_jacket_factor;
    Numbers insulation_age_years;
    Numbers insulation_age_factor;
    Numbers orientation_factor;
    Numbers site_factor;
    Numbers corrosion_rate_mm_per_year;  ///< the rate used
    Numbers wall_thickness_mm;
    Numbers time_since_wall_years;
    /// 1 where a table was used outside its validity; of every ranked row, those of cracking too.
    Codes outside_range;
    // Rows of inspections.csv that the history used, or History::nothing.
    std::vector<std::int32_t> reading;
    std::vector<std::int32_t> found_failed;
    ReadingColumns readings;

    /// @param ranked_rows  of both mechanisms
    void resize(Eigen::Index rows, Eigen::Index ranked_rows, const MethodModels& models);
    [[nodiscard]] std::vector<ColumnView> views(const MethodModels& models) const;
};

/// Stress-corrosion cracking of stainless steel.  One row per row of that mechanism.
struct CrackingColumns {
    Numbers level_degc;    ///< the level that governs
    Numbers level_share;   ///< of the year
    Codes susceptibility;  ///< by the level; vocabulary `susceptibility`
    Numbers steps;         ///< up or down by complexity, condition and insulation
    Codes cracks_found;
    Codes severity;  ///< vocabulary `severity_index`
    Numbers time_since_inspection_years;
    // Rows of inspections.csv that the history used, or History::nothing.
    std::vector<std::int32_t> found_by;
    std::vector<std::uint32_t> credit_begin;  ///< see CrackHistory
    std::vector<std::int32_t> cleared_by;

    void resize(Eigen::Index rows);
    /// @param first  ranked row of the first row of this mechanism
    [[nodiscard]] std::vector<ColumnView> views(std::size_t first,
                                                const MethodModels& models) const;
};

/// What makes the readings of a segment its rate.
struct MeasuredRateRules {
    const LookupTable* accepted = nullptr;  ///< by effectiveness of the last reading
    double floor = 0.0;                     ///< share of the table's rate
    double exposed_share_least = 0.0;       ///< of the time between two walls
    double scatter = 0.0;                   ///< scale over location of the greatest loss
    double surface_share_least = 0.0;
    WallTolerance tolerance;
};

/// Susceptibility of a material to cracking: the table, and where it is printed in a second unit of
/// temperature, that one too.  The graver of both counts.
struct SusceptibilityTables {
    const BandTable* table = nullptr;  ///< nothing: the material does not crack
    const BandTable* other_unit = nullptr;

    [[nodiscard]] explicit operator bool() const { return table != nullptr; }
    /// Code of `susceptibility`.
    [[nodiscard]] std::uint8_t find(std::uint8_t driver, double metal_degc) const;
};

/// The rule tables of this step, taken out of the rule set once.
struct DegradationRules {
    const CurveTable* base_rate = nullptr;
    const LookupTable* insulation = nullptr;
    const LookupTable* complexity = nullptr;
    const LookupTable* condition = nullptr;
    const LookupTable* pooling = nullptr;
    const LookupTable* interface_factor = nullptr;
    const LookupTable* coating_life = nullptr;
    std::vector<SiteFactorColumn> site_factors;
    HistoryRules history;
    // Nothing without the service cycle:
    const CurveTable* cycling = nullptr;      ///< by cycles through the boiling point
    const CurveTable* dew_cycling = nullptr;  ///< by cycles through the dew point
    double dew_cycling_most = 1.0;            ///< of the greatest steady rate of the driver
    double boiling_degc = 0.0;
    double boiling_band_k = 0.0;
    const LookupTable* weather_jacket = nullptr;
    const CurveTable* insulation_age = nullptr;
    const LookupTable* orientation = nullptr;
    std::optional<CoatingLifeRules> life;       ///< nothing with the banded credit
    std::optional<MeasuredRateRules> measured;  ///< nothing with the rate of the tables
    std::vector<bool> loses_wall;               ///< by code of `material`
    // Cracking:
    CrackRules cracks;
    std::vector<SusceptibilityTables> susceptibility;  ///< by code of `material`
    std::uint8_t drivers = 0;                          ///< words of `driver`
    const LookupTable* severity = nullptr;
    const LookupTable* complexity_step = nullptr;
    const LookupTable* condition_step = nullptr;
    const LookupTable* insulation_step = nullptr;
    std::uint8_t worst_susceptibility = 0;
};
[[nodiscard]] DegradationRules degradation_rules(const RuleSet& rules, const Plant& plant);
[[nodiscard]] std::vector<TableNeed> degradation_needs(const MethodModels& models);
/// A table that a rule set may have: without it duplex steel has no mechanism.
[[nodiscard]] const TableNeed& duplex_need();

/// What the steps after exposure work on: a block of ranked rows.
struct BlockOfRows {
    const Plant& plant;
    Date at;
    std::span<const std::uint8_t> effectiveness;  ///< for loss of wall, by row of inspections.csv
    std::span<const std::uint8_t> crack_effectiveness;  ///< for cracking, likewise
    std::span<const std::uint32_t> segments;            ///< segment row of each ranked row
    RowRange range;                                     ///< ranked rows of this block
};

// The steps come in two kinds.  Conditions hold at every date after the last inspection: what the
// steel sees, how long its coating lasts, how fast it corrodes.  The rest is the state at
// `block.at`.

/// Life of the coating of every row and the factors on it (eq. 33), or its years of credit (C_age
/// of eq. 5).  Conditions.
void fill_coating_life(const BlockOfRows& block, const DegradationRules& rules,
                       const ExposureColumns& exposure, std::span<const ServiceLevels> levels,
                       CoatingColumns& out);

/// Corrosion rate by the tables and the factors on it (eq. 2 and 3) of rows of wall loss; the rate
/// that is used follows in fill_wall().  Conditions.
void fill_corrosion_rate(const BlockOfRows& block, const DegradationRules& rules,
                         const ExposureColumns& exposure, std::span<const ServiceLevels> levels,
                         WallLossColumns& out);

/// Governing level, its susceptibility and the steps on it (eq. 38) of rows of cracking, which
/// start at ranked row `first`.  Conditions.
/// @param[out] outside_range  by ranked row: 1 where no driver makes the level susceptible
void fill_susceptibility(const BlockOfRows& block, const DegradationRules& rules,
                         const ExposureColumns& exposure, std::size_t first,
                         std::span<const ServiceLevels> levels, CrackingColumns& out,
                         Codes& outside_range);

/// Age of the coating and whether it was found failed or is likely to have broken down (eq. 5 and
/// 34), of every row.
void fill_coating_age(const BlockOfRows& block, const DegradationRules& rules, CoatingColumns& out);

/// Wall last known (eq. 4), rates by readings and the rate used (eq. 42 and 45 to 48), of rows of
/// wall loss; fills credit and exposed time of the coating (eq. 6 and 7, or 36).
void fill_wall(const BlockOfRows& block, const DegradationRules& rules, CoatingColumns& coating,
               WallLossColumns& out);

/// Severity of cracking and time since it was last excluded (eq. 38 and 39) of rows of that
/// mechanism, which start at ranked row `first`; fills credit and exposed time of the coating.
/// Where cracks are known the coating has no credit: they show that it did not protect.
void fill_severity(const BlockOfRows& block, const DegradationRules& rules, std::size_t first,
                   CoatingColumns& coating, CrackingColumns& out);

/// Susceptibility after the steps; the worst where cracks were found, none stays none.
/// @param worst  code of the greatest susceptibility
[[nodiscard]] std::uint8_t adjusted_susceptibility(std::uint8_t susceptibility, double steps,
                                                   bool cracks_found, std::uint8_t worst);

/// Severity of cracking (eq. 38 and 39): the steps on the susceptibility stay within its classes,
/// none makes susceptible what is not, and cracks that were found count as the worst class.
/// @param susceptibility  code by temperature and driver
/// @return code of `severity_index`
[[nodiscard]] std::uint8_t severity_of(const DegradationRules& rules, std::uint8_t susceptibility,
                                       double steps, bool cracks_found);

/// A stretch of time, split by whether the coating protected.
struct ProtectedTime {
    double credit_years = 0.0;
    double exposed_years = 0.0;
};

/// Splits the time of a segment between two days by the coating model of the rules (eq. 6 and 7, or
/// 36).
/// @param row   ranked row, for its coating columns
/// @param seen  findings of a failed coating up to and including this day are heeded (banded
///              credit; the life model heeds those up to `to`)
[[nodiscard]] ProtectedTime protected_time(const BlockOfRows& block, const DegradationRules& rules,
                                           const CoatingColumns& coating, std::size_t row,
                                           Date from, Date to, Date seen);

}  // namespace lagline
