// A ledger file of any bytes: what verify says of it, and what reading it gives.
#include "fuzz_input.h"
#include "ledger/verify.h"
#include "support/temp_folder.h"

namespace lagline {
namespace {

void must_read_whole(const std::filesystem::path& file) {
    const Ledger ledger = Ledger::to_read(file, 0);
    for (const RunEntry& run : ledger.runs()) {
        static_cast<void>(ledger.files(run));
    }
    static_cast<void>(ledger.signatures());
    static_cast<void>(ledger.chain());
    static_cast<void>(ledger.content_size());
}

void try_ledger(const std::string& bytes) {
    static const TempFolder folder;
    const auto file = folder.write(ledger_name, bytes);
    ContentCheck check = check_content(file, 0);
    must_be_told(check.report, false);
    try {
        must_read_whole(file);
    } catch (const LedgerFault& fault) {
        must_hold(!check.report.ok(), "what cannot be read is found by the check");
        must_hold(!fault.diagnostic().mend.empty(), "a fault says how to mend it");
    }
    for (const auto* beside : {"lagline.db-wal", "lagline.db-shm", "lagline.db-journal"}) {
        std::filesystem::remove(folder.path() / beside);
    }
}

}  // namespace
}  // namespace lagline

// NOLINTNEXTLINE(readability-identifier-naming): the name that libFuzzer calls
extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    lagline::try_ledger(lagline::text_of(data, size));
    return 0;
}
