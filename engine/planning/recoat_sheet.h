#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "planning/cautions.h"
#include "planning/recoat.h"
#include "planning/surface.h"
#include "planning/take_off.h"
#include "plant/plant.h"
#include "ranking/ranking.h"
#include "ruleset/ruleset.h"

namespace lagline {

/// Systems for a segment in one state of the line, with the quantities of stripping it all and
/// applying the first of them.
struct RecoatChoice {
    WorkState state{};
    std::vector<RecoatOption> options;  ///< as RecoatPlanner::options() orders them
    std::vector<std::string> reasons;   ///< why each was refused; empty for those allowed
    TakeOff take_off;                   ///< without material where nothing is allowed
    [[nodiscard]] std::size_t allowed() const;
};

/// The recoat specification of a segment.
struct RecoatSheet {
    std::uint32_t segment = 0;
    SegmentService service;
    SegmentSurface surface;
    RecoatChoice shutdown;
    RecoatChoice on_stream;
    LifeCycleTerms terms;
    double price_level = 1.0;
    bool climate_known = false;
    bool life_model = false;            ///< lives are Weibull, else years of credit
    WorkOnSegment work;                 ///< that the cautions are for
    std::vector<std::string> cautions;  ///< of both states of the line
};
/// @param row  ranked row of the segment
[[nodiscard]] RecoatSheet recoat_sheet(const Plant& plant, const RuleSet& rules,
                                       const Ranking& ranking, std::uint32_t row);

/// Expected wall and minimum thickness of a segment at the date of the ranking, from its row of
/// wall loss; nothing where it has none.
void set_wall(const Ranking& ranking, std::uint32_t row, WorkOnSegment& work);

}  // namespace lagline
