#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "diagnostics/diagnostic.h"
#include "ledger/ledger.h"
#include "ledger/rerun.h"

namespace lagline {

/// What was looked at, and all that is not as it was stored.
struct ContentCheck {
    std::int64_t contents = 0;
    std::int64_t runs = 0;
    std::int64_t signatures = 0;
    std::string last_digest;  ///< of the last entry; empty without entries
    Report report;            ///< nothing when all is well
};

/// Looks at every byte of the ledger that means something: the pages of the file, the digest of
/// every piece of content, of every run and of every signature, the chain, and that nothing is
/// missing or left over.  Does not throw for what is damaged.
[[nodiscard]] ContentCheck check_content(const std::filesystem::path& file,
                                         int wait_ms = usual_wait_ms);

/// One run made again from the ledger alone.
struct RunReproduced {
    std::int64_t run = 0;
    std::string stored_by;               ///< version that stored it
    std::vector<std::string> given;      ///< files that were taken as they are, not made again
    std::string problem;                 ///< why it could not be made again; else empty
    std::vector<std::string> same;       ///< results that came out byte for byte
    std::vector<std::string> different;  ///< results that did not, or are missing on one side
    [[nodiscard]] bool ok() const { return problem.empty() && different.empty() && !same.empty(); }
};

[[nodiscard]] RunReproduced reproduce(const Ledger& ledger, const RunEntry& run,
                                      const Rerun& rerun);

}  // namespace lagline
