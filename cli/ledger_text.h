#pragma once

#include <string>
#include <vector>

#include "ledger/compare.h"
#include "ledger/ledger.h"
#include "ledger/verify.h"
#include "report/layout.h"

namespace lagline::cli {

/// A run with what was said about it and how its options read.
struct ShownRun {
    RunEntry run;
    RunOptions options;
    std::vector<SignatureEntry> signatures;
};

/// What `verify` found out.
struct Verification {
    ContentCheck content;
    std::vector<RunReproduced> runs;  ///< those made again
    bool made_again = true;           ///< false when not asked for, or not possible
    [[nodiscard]] bool ok() const;
};

// For a terminal.
[[nodiscard]] std::string runs_text(const std::vector<RunEntry>& runs,
                                    const std::vector<SignatureEntry>& signatures,
                                    const ContentSize& size, const TextStyle& style);
[[nodiscard]] std::string run_text(const ShownRun& shown, const TextStyle& style);
[[nodiscard]] std::string verification_text(const Verification& verification,
                                            const TextStyle& style);
/// @param most  changed segments to list, 0 for all
[[nodiscard]] std::string comparison_text(const Comparison& comparison, std::size_t most,
                                          const TextStyle& style);

// For programs.
[[nodiscard]] std::string runs_json(const std::vector<RunEntry>& runs,
                                    const std::vector<SignatureEntry>& signatures);
[[nodiscard]] std::string run_json(const ShownRun& shown);
[[nodiscard]] std::string verification_json(const Verification& verification);
[[nodiscard]] std::string comparison_json(const Comparison& comparison);

}  // namespace lagline::cli
