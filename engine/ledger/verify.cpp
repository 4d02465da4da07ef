#include "ledger/verify.h"

#include <algorithm>
#include <map>
#include <set>

#include "diagnostics/text.h"
#include "ledger/sha256.h"

namespace lagline {
namespace {

class Checker {
  public:
    Checker(const Ledger& ledger, ContentCheck& check) : ledger_(ledger), check_(check) {}

    void all() {
        for (const std::string& fault : ledger_.structure_faults()) say("file", printable(fault));
        chain_ = ledger_.chain();
        runs_ = ledger_.runs();
        signatures_ = ledger_.signatures();
        digests_ = ledger_.content_digests();
        contents();
        entries();
        links();
        items();
        check_.contents = static_cast<std::int64_t>(digests_.size());
        check_.runs = static_cast<std::int64_t>(runs_.size());
        check_.signatures = static_cast<std::int64_t>(signatures_.size());
        if (!chain_.empty()) check_.last_digest = chain_.back().digest;
    }

  private:
    void say(const std::string& subject, std::string found) {
        Diagnostic diagnostic = damaged_ledger(ledger_.path(), std::move(found)).diagnostic();
        diagnostic.subject = subject;
        check_.report.add(std::move(diagnostic));
    }

    void contents() {
        for (const std::string& digest : digests_) {
            try {
                static_cast<void>(ledger_.content(digest));
            } catch (const LedgerFault& fault) {
                say("content", fault.what());
            }
        }
    }

    // Every entry is a run or a signature, once, and what was hashed has its digest.
    void entries() {
        std::map<std::int64_t, int> told;
        std::int64_t number = 0;
        for (const RunEntry& run : runs_) {
            const std::string name = "run " + std::to_string(run.number);
            ++told[run.chain.entry];
            if (run.number != ++number) say(name, "a number out of turn");
            if (sha256_of(manifest_of(run)) != run.chain.digest) {
                say(name, "it does not have the digest it was stored with");
            }
        }
        for (const SignatureEntry& each : signatures_) {
            ++told[each.chain.entry];
            if (sha256_of(manifest_of(each)) != each.chain.digest) {
                say("signature of run " + std::to_string(each.run),
                    "it does not have the digest it was stored with");
            }
        }
        for (const ChainLink& link : chain_) {
            if (told[link.entry] != 1) {
                say("entry " + std::to_string(link.entry),
                    "it is neither one run nor one signature");
            }
        }
    }

    void links() {
        std::string before = first_previous();
        std::int64_t number = 0;
        for (const ChainLink& link : chain_) {
            const std::string name = "entry " + std::to_string(link.entry);
            if (link.entry != ++number) say(name, "a number out of turn");
            if (link.previous != before) say(name, "it is not chained to the entry before it");
            before = link.digest;
        }
    }

    void items() {
        const std::set<std::string> there{digests_.begin(), digests_.end()};
        std::set<std::string> used;
        for (const RunEntry& run : runs_) {
            for (const Item& item : run.items) {
                used.insert(item.sha256);
                const bool known = there.contains(item.sha256) && is_plain_path(item.path);
                if (!known) {
                    say("run " + std::to_string(run.number),
                        "no content for " + printable(item.path));
                }
            }
        }
        for (const std::string& digest : digests_) {
            if (!used.contains(digest)) {
                say("content", "no run has " + printable(digest, 64));
            }
        }
    }

    const Ledger& ledger_;
    ContentCheck& check_;
    std::vector<ChainLink> chain_;
    std::vector<RunEntry> runs_;
    std::vector<SignatureEntry> signatures_;
    std::vector<std::string> digests_;
};

bool same_file(const std::vector<StoredFile>& files, const StoredFile& wanted) {
    return std::ranges::find(files, wanted) != files.end();
}

bool has_path(const std::vector<StoredFile>& files, const std::string& path) {
    return std::ranges::find(files, path, &StoredFile::path) != files.end();
}

}  // namespace

ContentCheck check_content(const std::filesystem::path& file, int wait_ms) {
    ContentCheck check;
    try {
        const Ledger ledger = Ledger::to_read(file, wait_ms);
        Checker{ledger, check}.all();
    } catch (const LedgerFault& fault) {
        check.report.add(fault.diagnostic());
    }
    return check;
}

RunReproduced reproduce(const Ledger& ledger, const RunEntry& run, const Rerun& rerun) {
    RunReproduced made;
    made.run = run.number;
    made.stored_by = run.engine;
    for (const Item& item : run.items) {
        if (item.path.starts_with(given_prefix)) made.given.push_back(item.path);
    }
    const std::vector<StoredFile> stored = ledger.files(run, results_prefix);
    RunOutcome again = run_again(run.kind, ledger.files(run), rerun);
    made.problem = std::move(again.problem);
    if (!made.problem.empty()) return made;
    for (const StoredFile& each : stored) {
        (same_file(again.results, each) ? made.same : made.different).push_back(each.path);
    }
    for (const StoredFile& each : again.results) {
        if (!has_path(stored, each.path)) made.different.push_back(each.path);
    }
    return made;
}

}  // namespace lagline
