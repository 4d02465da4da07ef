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

void add_new(Command& program) {
    Command command = program.add_command("new", "Start a plant folder with commented templates");
    auto folder = std::make_shared<std::string>();
    command.files().makes_folder([folder] { return std::optional{*folder}; });
    command.option("folder", folder.get(), "Folder to make; must not exist or be empty")
        .required()
        .value_name("DIR");
    command.footer("  lagline new my-plant\n  lagline check my-plant");
    command.runs([folder] { return run(*folder); });
}

}  // namespace lagline::cli
