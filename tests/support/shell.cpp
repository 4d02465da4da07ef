#include "support/shell.h"

#include <array>
#include <cstdio>
#include <stdexcept>

namespace lagline {

ShellRun run_in_shell(const std::string& command) {
    std::FILE* pipe = ::popen(command.c_str(), "r");
    if (pipe == nullptr) throw std::runtime_error("cannot run " + command);
    ShellRun run;
    std::array<char, 4096> piece{};
    while (const std::size_t got = std::fread(piece.data(), 1, piece.size(), pipe)) {
        run.text.append(piece.data(), got);
    }
    run.status = ::pclose(pipe);
    return run;
}

}  // namespace lagline
