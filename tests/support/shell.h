#pragma once

#include <string>

namespace lagline {

/// What a command of the shell wrote to its standard output, and its status as of pclose().
struct ShellRun {
    std::string text;
    int status = 0;
};

/// @throws std::runtime_error  when there is no shell to run it
[[nodiscard]] ShellRun run_in_shell(const std::string& command);

}  // namespace lagline
