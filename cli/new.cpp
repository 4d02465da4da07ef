#include <iostream>

#include "cli/app.h"
#include "cli/starter.h"

namespace lagline::cli {
namespace {

int run(const std::string& folder) {
    const std::string problem = make_folder(folder, starter_files());
    if (!problem.empty()) {
        std::cerr << "lagline: " << problem << "\n";
        return failed;
    }
    std::cout << "Made " << folder << " with templates and three example segments.\n"
              << "Next: read " << folder << "/README.md, fill in the files, then\n"
              << "  lagline check " << folder << "\n"
              << "  lagline rank " << folder << "\n";
    return done;
}

}  // namespace

void add_new(CLI::App& app, const Choose& choose) {
    auto* command = app.add_subcommand("new", "Start a plant folder with commented templates");
    auto folder = std::make_shared<std::string>();
    command->add_option("folder", *folder, "Folder to make; must not exist or be empty")
        ->required()
        ->type_name("DIR");
    command->footer("  lagline new my-plant\n  lagline check my-plant");
    command->callback([choose, folder] { choose([folder] { return run(*folder); }); });
}

}  // namespace lagline::cli
