#include "synthesis/synthesis.h"

#include <filesystem>
#include <iostream>

#include "cli/app.h"
#include "cli/session.h"
#include "cli/starter.h"

namespace lagline::cli {
namespace {

struct SynthesiseArguments {
    std::string folder;
    SynthesisOptions options;
};

int run(const SynthesiseArguments& arguments) {
    const SyntheticPlant plant = synthesise(arguments.options);
    const std::string problem =
        make_folder(arguments.folder, {{"plant.yaml", plant.plant_yaml},
                                       {"segments.csv", plant.segments_csv},
                                       {"inspections.csv", plant.inspections_csv},
                                       {"turnarounds.csv", plant.turnarounds_csv}});
    if (!problem.empty()) {
        std::cerr << "lagline: " << problem << "\n";
        return failed;
    }
    std::cout << "Wrote an invented plant of " << arguments.options.segments << " segments to "
              << arguments.folder << ".\n";
    return done;
}

}  // namespace

void add_synthesise(Command& program) {
    Command command =
        program.add_command("synthesise", "Make an invented plant, for trials and timing");
    auto arguments = std::make_shared<SynthesiseArguments>();
    command.files().makes_folder([arguments] { return std::optional{arguments->folder}; });
    command.option("folder", &arguments->folder, "Folder to make; must not exist or be empty")
        .required()
        .value_name("DIR");
    command.option("--segments", &arguments->options.segments, "How many segments")
        .value_name("N")
        .whole_between(1, 20'000'000)
        .shows_default();
    command
        .option("--inspections", &arguments->options.inspections,
                "How many inspections; 0: 1.5 times the segments")
        .value_name("M")
        .count()
        .shows_default();
    command.option("--seed", &arguments->options.seed, "Same seed, same bytes")
        .value_name("S")
        .count()
        .shows_default();
    command.footer(
        "  lagline synthesise big-plant --segments 100000 --seed 1\n"
        "  lagline rank big-plant --top 20");
    command.runs([arguments] { return run(*arguments); });
}

}  // namespace lagline::cli
