#include "planning/work_needs.h"

#include "planning/cautions.h"
#include "planning/recoat_rules.h"
#include "planning/surface.h"
#include "planning/take_off.h"

namespace lagline {

std::vector<TableNeed> work_needs() {
    std::vector<TableNeed> all;
    for (const auto needs : {recoat_needs(), surface_needs(), take_off_needs(), caution_needs()}) {
        all.insert(all.end(), needs.begin(), needs.end());
    }
    return all;
}

}  // namespace lagline
