#include <doctest/doctest.h>

#include "program.h"

namespace lagline {
namespace {

TEST_CASE("--help of every command teaches by example and fits a terminal") {
    for (const Arguments& command : {Arguments{},
                                     {"new"},
                                     {"check"},
                                     {"rank"},
                                     {"explain"},
                                     {"backtest"},
                                     {"pool"},
                                     {"recoat"},
                                     {"rules"},
                                     {"synthesise"},
                                     {"dictionary"}}) {
        Arguments arguments = command;
        arguments.push_back("--help");
        const Ran help = run(arguments);
        INFO(help.out);
        CHECK(help.code == 0);
        CHECK(help.err.empty());
        const std::string name = command.empty() ? "rank" : command.front();
        CHECK(holds(help.out, "\n  lagline " + name + " "));
        CHECK(widest_line(help.out) <= 80);
    }
    for (const auto* part : {"list", "show", "check", "sources", "recalled"}) {
        const Ran help = run({"rules", part, "--help"});
        CHECK(help.code == 0);
        CHECK(holds(help.out, "--plant DIR"));
        CHECK(widest_line(help.out) <= 80);
    }
}

TEST_CASE("wrong use ends with 2 and one line that says what is wrong") {
    struct Case {
        Arguments arguments;
        std::string said;
    };
    for (const Case& each :
         {Case{{}, "A subcommand is required"},
          Case{{"rnk"}, "did you mean 'rank'?"},
          Case{{"xyz"}, "there are new, check, rank"},
          Case{{"rank"}, "plant is required"},
          Case{{"rank", "p", "--format", "xml"}, "--format"},
          Case{{"rank", "p", "--top", "-1"}, "not a whole number between 0 and"},
          Case{{"rank", "p", "--at", "2030"}, "'2030' is not a date as YYYY-MM-DD"},
          Case{{"rank", "p", "--at", "8.4.2030"}, "is not a date"},
          Case{{"rank", "p", "--threads", "1.5"}, "not a whole number between 0 and"},
          Case{{"rank", "p", "--threads", "100000"}, "not a whole number between 0 and 1024"},
          Case{{"rank", "p", "--block", "0"}, "not a whole number between 1 and"},
          Case{{"rank", "p", "--colour"}, "--colour"},
          Case{{"explain", "p"}, "segment is required"},
          Case{{"backtest", "p", "--at", "2015"}, "'2015' is not a date as YYYY-MM-DD"},
          Case{{"backtest", "p", "--within", "0"}, "not a whole number between 1 and 30"},
          Case{{"pool", "p", "--by", "unti"}, "did you mean 'unit'?"},
          Case{{"pool", "p", "--by", "in_service"}, "cannot group by 'in_service'"},
          Case{{"rules"}, "A subcommand is required"},
          Case{{"rules", "show"}, "table is required"},
          Case{{"synthesise", "p", "--segments", "0"}, "not a whole number between 1 and"},
          Case{{"synthesise", "p", "--seed", "-1"}, "not a whole number between 0 and"}}) {
        const Ran ran = run(each.arguments);
        CAPTURE(each.said);
        INFO(ran.err);
        CHECK(ran.code == 2);
        CHECK(ran.out.empty());
        CHECK(holds(ran.err, each.said));
        CHECK(count(ran.err, "\n") <= 2);
    }
}

TEST_CASE("--version names the program and its version") {
    const Ran ran = run({"--version"});
    CHECK(ran.code == 0);
    CHECK(ran.out.starts_with("lagline "));
}

}  // namespace
}  // namespace lagline
