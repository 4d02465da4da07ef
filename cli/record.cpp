#include <filesystem>
#include <iostream>

#include "cli/app.h"
#include "cli/output.h"
#include "cli/session.h"
#include "degradation/readings.h"
#include "intake/filled_sheet.h"
#include "intake/source_file.h"
#include "ledger/snapshot.h"
#include "report/atomic_file.h"
#include "report/recorded_text.h"

namespace lagline::cli {
namespace {

namespace fs = std::filesystem;

constexpr const char* inspections = "inspections.csv";

struct RecordArguments {
    PlantOptions plant;
    std::string filled;
    bool dry_run = false;
    [[nodiscard]] fs::path target() const { return fs::path{plant.folder} / inspections; }
};

bool is_target(const RecordArguments& arguments) {
    std::error_code none;
    return fs::equivalent(arguments.filled, arguments.target(), none);
}

// The bytes of inspections.csv, byte-order mark and all.
std::string bytes_before(const InputSnapshot& snapshot) {
    const auto found =
        std::ranges::find(snapshot.files, std::string{"plant/"} + inspections, &StoredFile::path);
    return found == snapshot.files.end() ? "" : found->bytes;
}

// Whole or not at all, and only where the plant is as it was when the findings were checked.
int write(const RecordArguments& arguments, const RuleSet& rules, const InputSnapshot& checked,
          const std::string& added) {
    const FolderLock alone{arguments.plant.folder};
    if (snapshot_of(arguments.plant.folder, rules).files != checked.files) {
        std::cerr << "lagline: files of " << arguments.plant.folder
                  << " were changed while the findings were checked; nothing was written. Run the "
                     "command again\n";
        return failed;
    }
    // An input, and meant to be written: no guard of outputs.
    const std::string problem = write_whole(arguments.target(), bytes_before(checked) + added);
    if (problem.empty()) return done;
    std::cerr << "lagline: " << problem << "; nothing was written\n";
    return failed;
}

// The sheet and what is wrong with it, told on standard error.
std::optional<FilledSheet> read_filled(const RecordArguments& arguments, const RuleSet& rules) {
    Report report;
    auto sources = read_plant_sources(arguments.plant.folder, rules, report);
    const auto filled = read_source(arguments.filled, arguments.filled, report);
    if (!sources || !filled) {
        print_report(report);
        return std::nullopt;
    }
    if (sources->inspections && sources->inspections->grid) {
        std::cerr << "lagline: the inspections stand in a workbook, " << sources->inspections->file
                  << ", and findings are added to inspections.csv alone: save the sheet as that "
                     "and take it out of the workbook; nothing was written\n";
        return std::nullopt;
    }
    FilledSheet sheet = check_filled(*sources, *filled, rules, load_options(arguments.plant));
    report.merge(sheet.report);
    if (sheet.plant) {
        Report conflicts;
        report_conflicting_readings(*sheet.plant, rules, conflicts);
        report.merge(sheet.of_added(conflicts));
    }
    report.sort();
    if (!report.diagnostics().empty()) print_report(report);
    if (report.ok()) return sheet;
    std::cerr << "lagline: nothing was written\n";
    return std::nullopt;
}

int run(const RecordArguments& arguments) {
    if (is_target(arguments)) {
        std::cerr << "lagline: " << arguments.filled
                  << " is the file that findings are added to; give the sheet that was filled "
                     "in\n";
        return wrong_use;
    }
    const auto before = open_or_report(arguments.plant);
    if (!before) return bad_input;
    const InputSnapshot snapshot = snapshot_of(arguments.plant.folder, *before->rules);
    const auto filled = read_filled(arguments, *before->rules);
    if (!filled) return bad_input;
    const TextStyle style = terminal_style();
    if (filled->sheet.rows() == 0) {
        return deliver("Nothing to record: no row holds a finding.\n" +
                       not_yet_recorded_text(*filled, style));
    }
    const Ranking was = rank_opened(*before, arguments.plant);
    const Opened after{before->rules, filled->plant, {}};
    const Ranking is = rank_opened(after, arguments.plant);
    if (!arguments.dry_run) {
        const int written = write(arguments, *before->rules, snapshot, filled->added);
        if (written != done) return written;
    }
    return deliver(recorded_text(*filled, {*before->plant, was}, {*after.plant, is},
                                 !arguments.dry_run, style));
}

}  // namespace

void add_record(Command& program) {
    Command command = program.add_command("record", "Add findings to inspections.csv");
    auto arguments = std::make_shared<RecordArguments>();
    add_plant_options(command, arguments->plant);
    command.files().reads_file(arguments->filled);
    command.option("filled", &arguments->filled, "CSV with the columns of inspections.csv")
        .required()
        .value_name("FILE");
    command.flag("--dry-run", arguments->dry_run, "Show what would be added; write nothing");
    command.footer(
        "`lagline plan --format findings` gives the sheet to fill in. It is read as\n"
        "inspections.csv is, and all that is wrong is told at once: units, dates, words,\n"
        "segments that are not there, days after today, inspections that stand already in\n"
        "inspections.csv. With one error nothing is written. Otherwise the rows are put\n"
        "behind those of inspections.csv, in its columns and units; what stands there\n"
        "stays as it is, byte for byte. Rows without a finding are left out and listed.\n"
        "Shown are rank and risk of each segment before and with the findings.\n\n"
        "  lagline plan my-plant --format findings --window TA-2027 --out findings.csv\n"
        "  lagline record my-plant findings.csv --dry-run\n"
        "  lagline record my-plant findings.csv");
    command.runs([arguments] { return run(*arguments); });
}

}  // namespace lagline::cli
