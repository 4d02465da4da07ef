// Plans in the ledger.
#include <doctest/doctest.h>

#include "commands/program.h"
#include "support/csv_records.h"

namespace lagline {
namespace {

const std::string sample = std::string{LAGLINE_SOURCE_DIR} + "/sample-plant/plant";

/// A ledger of its own beside nothing.
class Shelf {
  public:
    [[nodiscard]] std::string ledger() const { return (folder_.path() / "plans.db").string(); }
    [[nodiscard]] Ran plan(const Arguments& more) const {
        Arguments all{"plan",     sample, "--today",  "2026-11-25", "--no-curve",
                      "--format", "csv",  "--ledger", ledger()};
        all.insert(all.end(), more.begin(), more.end());
        return run(all);
    }
    [[nodiscard]] std::string file_of(const std::string& number, const std::string& name) const {
        const TempFolder to;
        REQUIRE(run({"show", ledger(), number, "--extract", to.path().string()}).code == 0);
        return file_text((to.path() / name).string());
    }

  private:
    TempFolder folder_;
};

TEST_CASE(
    "a plan is stored with its ranking, made again to the same bytes, and compared by ranks") {
    const Shelf shelf;
    const Ran planned = shelf.plan({"--gap", "0.3", "--budget", "TA-2027=1200000"});
    INFO(planned.err);
    REQUIRE(planned.code == 0);
    CHECK(holds(planned.err, "stored as run 1"));
    CHECK(shelf.file_of("1", "results/plan.csv") == planned.out);
    CHECK(holds(shelf.file_of("1", "results/plan.json"), "\"fits\": true"));
    REQUIRE(run({"rank", sample, "--today", "2026-11-25", "--ledger", shelf.ledger()}).code == 0);
    CHECK(shelf.file_of("1", "results/ranking.csv") == shelf.file_of("2", "results/ranking.csv"));
    CHECK(holds(run({"runs", shelf.ledger()}).out, "  1  plan"));
    const Ran shown = run({"show", shelf.ledger(), "1"});
    CHECK(holds(shown.out, "budget TA-2027: 1200000"));
    CHECK_FALSE(holds(shown.out, "did not end by proof"));
    const Ran verified = run({"verify", shelf.ledger()});
    CHECK(verified.code == 0);
    CHECK(holds(verified.out, "Run 1: reproduced byte for byte, 5 files\n"));
    const Ran compared = run({"compare", shelf.ledger(), "1", "2"});
    CHECK(compared.code == 0);
    CHECK(holds(compared.out, "budget TA-2027 1200000 -> not given"));
    CHECK(holds(compared.out, "0 ranks of 600 segments changed"));
}

TEST_CASE("a plan whose search ran out of time is kept with its choice, and says so") {
    const Shelf shelf;
    const Ran planned = shelf.plan({"--gap", "0", "--seconds", "0.1"});
    INFO(planned.err);
    REQUIRE(planned.code == 0);
    const Ran shown = run({"show", shelf.ledger(), "1"});
    CHECK(holds(shown.out, "given/search.csv"));
    CHECK(holds(shown.out, "did not end by proof"));
    const auto search = csv_records(shelf.file_of("1", "given/search.csv"));
    CHECK(search.size() > 600);
    CHECK(shelf.file_of("1", "results/plan.csv") == planned.out);
    const Ran verified = run({"verify", shelf.ledger()});
    INFO(verified.out);
    CHECK(verified.code == 0);
    CHECK(holds(verified.out, "reproduced byte for byte, 5 files, from the choice"));
    CHECK(holds(verified.out, "no better plan was found"));
}

TEST_CASE("a plan that does not fit is stored and made again as well") {
    const Shelf shelf;
    const Ran planned =
        shelf.plan({"--budget", "TA-2027=0", "--budget", "OS-2028=0", "--budget", "TA-2030=0"});
    INFO(planned.err);
    REQUIRE(planned.code == 0);
    CHECK(holds(shelf.file_of("1", "results/plan.json"), "\"fits\": false"));
    CHECK(run({"verify", shelf.ledger()}).code == 0);
}

}  // namespace
}  // namespace lagline
