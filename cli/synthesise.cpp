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

void add_synthesise(CLI::App& app, const Choose& choose) {
    auto* command =
        app.add_subcommand("synthesise", "Make an invented plant, for trials and timing");
    auto arguments = std::make_shared<SynthesiseArguments>();
    command->add_option("folder", arguments->folder, "Folder to make; must not exist or be empty")
        ->required()
        ->type_name("DIR");
    command->add_option("--segments", arguments->options.segments, "How many segments")
        ->type_name("N")
        ->check(CLI::Range(1, 20'000'000).description(""))
        ->capture_default_str();
    command
        ->add_option("--inspections", arguments->options.inspections,
                     "How many inspections; 0: 1.5 times the segments")
        ->type_name("M")
        ->check(a_count())
        ->capture_default_str();
    command->add_option("--seed", arguments->options.seed, "Same seed, same bytes")
        ->type_name("S")
        ->check(a_count())
        ->capture_default_str();
    command->footer(
        "  lagline synthesise big-plant --segments 100000 --seed 1\n"
        "  lagline rank big-plant --top 20");
    command->callback([choose, arguments] { choose([arguments] { return run(*arguments); }); });
}

}  // namespace lagline::cli
