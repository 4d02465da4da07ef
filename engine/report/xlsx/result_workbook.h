#pragma once

#include <cstddef>

#include "planning/plan.h"
#include "plant/plant.h"
#include "ranking/ranking.h"
#include "report/xlsx/xlsx_writer.h"
#include "ruleset/ruleset.h"

namespace lagline {

/// The ranking as a workbook: the sheet `ranking` has the columns of ranking_csv(); beside it
/// `about`, `columns` (what each means), `assumptions`, `sources` (every value of the rule tables
/// that ranking reads), `cautions`, and `not_ranked` where a rule refused a segment.
/// @param top  rows of the ranking; 0 for all
MadeWorkbook ranking_xlsx(const Plant& plant, const RuleSet& rules, const Ranking& ranking,
                          std::size_t top);

/// The plan likewise: the sheet `plan` has the columns of plan_csv(), `sources` the tables that
/// planning reads too; there is no sheet `columns`.
MadeWorkbook plan_xlsx(const Plant& plant, const RuleSet& rules, const Ranking& ranking,
                       const Plan& plan);

}  // namespace lagline
