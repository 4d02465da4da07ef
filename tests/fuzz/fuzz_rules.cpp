// A file of rules, on top of a small rule set: words, tables, changes, defaults, checks.
#include "fuzz_input.h"
#include "ruleset/ruleset.h"
#include "support/temp_folder.h"

namespace lagline {
namespace {

constexpr std::string_view below = R"(
ruleset: {name: below, meaning: "a small set"}
sources: {s: {title: "A made document", edition: "2020"}}
words:
  driver: {severe: "wet", mild: "less so"}
  jacket: {steel: "sheet", none: "none"}
tables:
  v: {kind: value, meaning: m, unit: mm, value: 0.5, basis: site}
  w: {kind: value, meaning: m, gives: driver, value: mild, basis: site}
  l: {kind: lookup, meaning: m, by: driver, unit: "-", entries: {severe: 2, mild: 1}, basis: site}
)";

/// Folder of rule sets in which all of `top` but input.yaml stands.
const TempFolder& made_folder() {
    static const TempFolder folder;
    static const bool made = [] {
        folder.write("below/rules.yaml", below);
        folder.write("top/ruleset.yaml", "ruleset: {name: top, meaning: m, based_on: below}\n");
        return true;
    }();
    static_cast<void>(made);
    return folder;
}

}  // namespace
}  // namespace lagline

// NOLINTNEXTLINE(readability-identifier-naming): the name that libFuzzer calls
extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    using namespace lagline;
    const TempFolder& folder = made_folder();
    folder.write("top/input.yaml", text_of(data, size));
    LoadedRules loaded = load_rules(folder.path(), "top");
    loaded.report.sort();
    must_be_told(loaded.report, !loaded.rules);
    if (loaded.rules) static_cast<void>(all_entries(*loaded.rules));
    return 0;
}
