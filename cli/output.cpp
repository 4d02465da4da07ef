#include "cli/output.h"

#include <sys/ioctl.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <cstdlib>
#include <cstring>
#include <iostream>

#include "cli/app.h"
#include "report/atomic_file.h"

namespace lagline::cli {
namespace {

constexpr std::size_t narrowest = 80;
constexpr std::size_t widest = 120;
constexpr std::size_t usual = 100;

bool wants_colour(int fd) {
    const char* no_colour = std::getenv("NO_COLOR");
    const char* terminal = std::getenv("TERM");
    return ::isatty(fd) != 0 && (no_colour == nullptr || *no_colour == '\0') &&
           terminal != nullptr && std::strcmp(terminal, "dumb") != 0;
}

std::size_t width_of(int fd) {
    struct winsize size {};
    if (::isatty(fd) == 0) return usual;
    if (::ioctl(fd, TIOCGWINSZ, &size) != 0 || size.ws_col == 0) return usual;
    return std::clamp<std::size_t>(size.ws_col, narrowest, widest);
}

// What goes to a file that was not declared with the command has been seen to before.
std::string refusal_of(const OutFile& out, const std::filesystem::path& target) {
    return out.files == nullptr ? "" : out.files->refusal(target, out.force);
}

TextStyle style_of(int fd) { return {.width = width_of(fd), .colour = wants_colour(fd)}; }

}  // namespace

TextStyle terminal_style() { return style_of(STDOUT_FILENO); }
TextStyle style_for(const OutFile& out, std::size_t width) {
    return out ? TextStyle{.width = width, .colour = false} : terminal_style();
}
TextStyle error_style() { return style_of(STDERR_FILENO); }

int refuse_target(const OutFile& out) {
    const std::string refused = refusal_of(out, *out.file);
    if (refused.empty()) return done;
    std::cerr << "lagline: " << refused << "; nothing was written\n";
    return wrong_use;
}

int deliver(std::string_view text, const OutFile& out) {
    return deliver([text](const TakeText& take) { return take(text); }, out);
}

int deliver(const GiveText& give, const OutFile& out) {
    if (!out || is_standard_output(*out.file)) {
        const auto take = [](std::string_view text) { return (std::cout << text).good(); };
        if (give(take) && std::cout.flush().good()) return done;
        std::cerr << "lagline: cannot write to standard output: " << std::strerror(errno) << "\n";
        return failed;
    }
    if (const int refused = refuse_target(out); refused != done) return refused;
    const std::string problem = write_whole(
        *out.file, give,
        [&out](const std::filesystem::path& target) { return refusal_of(out, target); });
    if (problem.empty()) return done;
    std::cerr << "lagline: " << problem << "; nothing was written\n";
    return failed;
}

int deliver(const MadeWorkbook& workbook, const OutFile& out) {
    if (workbook.problem.empty()) return deliver(workbook.bytes, out);
    std::cerr << "lagline: " << workbook.problem << "; nothing was written\n";
    return failed;
}

int refuse_without_out(std::string_view format, const OutFile& out) {
    if (format != workbook_format || out) return done;
    std::cerr << "lagline: --format xlsx makes a file for a spreadsheet; say which: --out FILE.xlsx"
              << "\nRun with --help for more information.\n";
    return wrong_use;
}

}  // namespace lagline::cli
