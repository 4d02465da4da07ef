// Reads a plant folder, ranks it and prints the ten segments of greatest risk, each with what puts
// it above the typical segment.
#include <algorithm>
#include <cstdlib>
#include <filesystem>
#include <iostream>
#include <optional>
#include <string>

#include "diagnostics/diagnostic.h"
#include "intake/load_plant.h"
#include "quantity/date.h"
#include "ranking/drivers.h"
#include "ranking/ranking.h"
#include "ruleset/ruleset.h"

namespace {

namespace fs = std::filesystem;

// Everything that is wrong with the input, in one report.
int refuse(const lagline::Report& report) {
    std::cerr << lagline::to_text(report, {});
    return EXIT_FAILURE;
}

void print_top_ten(const lagline::Plant& plant, const lagline::Ranking& ranking) {
    const auto names = plant.segments.texts(lagline::SegmentField::segment);
    const std::string& currency = plant.description.currency;
    const lagline::DriverFinder drivers{ranking};
    for (std::size_t i = 0; i < std::min<std::size_t>(10, ranking.order.size()); ++i) {
        const auto row = ranking.order[i];
        std::cout << i + 1 << ". " << names[ranking.segment_rows[row]] << ": "
                  << ranking.risk.risk_per_year[row] << " " << currency << " a year\n";
        for (const lagline::Driver& driver : drivers.find(row)) {
            std::cout << "     " << to_string(driver, currency) << "\n";
        }
    }
}

}  // namespace

int main(int argc, char** argv) {
    const auto today = argc == 3 ? lagline::parse_date(argv[2]) : std::nullopt;
    if (!today) {
        std::cerr << "usage: top_ten PLANT TODAY, today as YYYY-MM-DD\n";
        return EXIT_FAILURE;
    }
    const fs::path folder = argv[1];
    // The date to rank at follows from today and the windows of the plant.
    lagline::LoadOptions options;
    options.today = today->date;
    // The site's own rules, where the plant has some, lie on the shipped ones.
    std::optional<fs::path> overlay;
    if (fs::is_directory(folder / "rules")) overlay = folder / "rules";
    const lagline::LoadedRules rules = lagline::load_rules(RULES_DIR, "extended", overlay);
    if (!rules.rules) return refuse(rules.report);
    const lagline::LoadedPlant loaded = lagline::load_plant(folder, *rules.rules, options);
    if (!loaded.plant) return refuse(loaded.report);
    print_top_ten(*loaded.plant, lagline::rank(*loaded.plant, *rules.rules));
    return EXIT_SUCCESS;
}
