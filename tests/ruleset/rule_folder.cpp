#include "rule_folder.h"

#include <unistd.h>

#include <atomic>
#include <fstream>

namespace lagline {

namespace fs = std::filesystem;

RuleFolder::RuleFolder() {
    static std::atomic<int> count{0};
    root_ = fs::temp_directory_path() /
            ("lagline-rules-" + std::to_string(getpid()) + "-" + std::to_string(count++));
    fs::create_directories(root_);
}

RuleFolder::~RuleFolder() {
    std::error_code ignored;
    fs::remove_all(root_, ignored);
}

void RuleFolder::write(const std::string& name, std::string_view text) const {
    fs::create_directories((root_ / name).parent_path());
    std::ofstream(root_ / name, std::ios::binary) << text;
}

const std::string_view small_head = R"(ruleset: {name: base, meaning: invented rules for tests}
sources:
  doc: {title: An invented document, edition: "1"}
words:
  colour: {red: warm, green: fresh, blue: cold}
  grade: {good: "", bad: ""}
)";

const std::string_view small_tables = R"(tables:
  limit: {kind: value, meaning: m, unit: mm, value: 2, source: {id: doc, where: t1}, basis: published}
  factor:
    kind: lookup
    meaning: m
    by: colour
    unit: "-"
    entries:
      red: 1.5
      green: {value: 2, note: from the margin, basis: common-practice}
      blue: 3
    source: {id: doc, where: t2}
    basis: recalled
  rate:
    kind: curves
    meaning: m
    by: colour
    axis: {quantity: metal_temperature, unit: degF}
    unit: mpy
    points:
      - {at: 10, red: 0, green: 0, blue: 4}
      - {at: 50, red: 10, green: 5, blue: 4}
      - {at: 150, red: 20, green: 7, blue: 4}
    outside: {below: zero, above: clamp}
    source: {id: doc, where: t3}
    basis: published
  mark:
    kind: bands
    meaning: m
    by: colour
    axis: {quantity: coverage, unit: "%"}
    gives: grade
    bands:
      red: [{upto: 50, is: bad}, {upto: 100, is: good}]
      green: [{below: 20, is: bad}, {above: true, is: good}]
      blue: [{above: true, is: bad}]
    source: {id: doc, where: t4}
    basis: published
  table_of_two:
    kind: grid
    meaning: m
    by: grade
    columns: colour
    unit: "%"
    rows:
      good: {red: 1, green: 2, blue: 3}
      bad: {red: 4, green: 5, blue: 6, note: the second row}
    source: {id: doc, where: t5}
    basis: published
defaults:
  complexity: {take: average, reason: usual, basis: common-practice}
)";

LoadedRules load_tables(const RuleFolder& folder, std::string_view tables) {
    folder.write("base/head.yaml", small_head);
    folder.write("base/tables.yaml", tables);
    return load_rules(folder.root(), "base");
}

LoadedRules load_overlay(const RuleFolder& folder, std::string_view overlay) {
    folder.write("base/head.yaml", small_head);
    folder.write("base/tables.yaml", small_tables);
    folder.write("site/site.yaml", overlay);
    return load_rules(folder.root(), "base", folder.root() / "site");
}

std::string summary(const Report& report) {
    std::string text;
    for (const auto& problem : report.diagnostics()) {
        if (!text.empty()) text += ", ";
        text += code_of(problem.problem);
        text +=
            ' ' + std::to_string(problem.where.line) + ':' + std::to_string(problem.where.column);
    }
    return text;
}

std::string full(const Report& report) { return to_text(report); }

}  // namespace lagline
