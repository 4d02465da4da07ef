#pragma once

#include <cstdint>
#include <filesystem>
#include <functional>
#include <string>
#include <string_view>
#include <vector>

#include "ledger/entry.h"
#include "ledger/ledger_fault.h"
#include "ledger/ledger_file.h"
#include "ledger/snapshot.h"

namespace lagline {

/// A run to be stored, whatever made it.  By convention files stand under options.json, plant/,
/// rules/ and results/; a run can be made again from the first three, and gives the last.
struct NewRun {
    std::string kind;    ///< "rank": tells who can make it again
    std::string engine;  ///< version of Lagline
    std::vector<StoredFile> files;
};

/// What is said about a run.
struct NewSignature {
    std::int64_t run = 0;
    std::string name;
    std::string role;
    std::string note;
};

/// How much of the ledger's content is there.
struct ContentSize {
    std::int64_t pieces = 0;
    std::int64_t bytes = 0;         ///< as they were
    std::int64_t stored_bytes = 0;  ///< as they are kept
};

/// The runs of a plant, each whole, in the order they were stored, none of them ever changed.
/// Every function throws LedgerFault when the file cannot be read or written, or is damaged.
class Ledger {
  public:
    [[nodiscard]] static Ledger to_read(const std::filesystem::path& file,
                                        int wait_ms = usual_wait_ms);
    /// Starts the ledger where there is none.
    [[nodiscard]] static Ledger to_write(const std::filesystem::path& file,
                                         int wait_ms = usual_wait_ms);

    [[nodiscard]] const std::filesystem::path& path() const { return file_.path; }

    /// Stores the run in one transaction: afterwards it is there whole, or a fault was thrown and
    /// the ledger is as it was.
    /// @param at  time in UTC, "2030-04-08T09:30:00Z"
    RunEntry store(NewRun run, const std::string& at);
    /// Appends a signature to a run whose content is whole.
    SignatureEntry sign(const NewSignature& signature, const std::string& at);

    [[nodiscard]] std::vector<ChainLink> chain() const;
    [[nodiscard]] std::vector<RunEntry> runs() const;
    [[nodiscard]] RunEntry run(std::int64_t number) const;
    [[nodiscard]] std::vector<SignatureEntry> signatures() const;

    /// Bytes of a piece of content, checked against its digest.
    [[nodiscard]] std::string content(const std::string& sha256) const;
    /// Files of a run whose path starts with `prefix`, checked against their digests.
    [[nodiscard]] std::vector<StoredFile> files(const RunEntry& run,
                                                std::string_view prefix = {}) const;
    /// The one file, checked; @throws LedgerFault  when the run has none of this path
    [[nodiscard]] std::string file(const RunEntry& run, std::string_view path) const;
    [[nodiscard]] ContentSize content_size() const;
    /// Digests of all content, in order of storing.
    [[nodiscard]] std::vector<std::string> content_digests() const;
    /// What the database itself finds wrong with its pages, indices and references.
    [[nodiscard]] std::vector<std::string> structure_faults() const;

    /// Limits how large the file may become, in pages of 4096 bytes: a full disk of this size.
    void limit_pages(int pages);

  private:
    explicit Ledger(LedgerFile file) : file_(std::move(file)) {}
    void append_run(RunEntry& run);
    [[nodiscard]] ChainLink next_link(const std::string& at) const;
    void check_last() const;
    void check_whole(const RunEntry& run) const;

    LedgerFile file_;
};

}  // namespace lagline
