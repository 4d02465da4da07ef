#include "program.h"

#include <fcntl.h>
#include <sys/ioctl.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

#include <algorithm>
#include <array>
#include <cerrno>
#include <cstdlib>
#include <stdexcept>

#include "support/csv_records.h"

namespace lagline {
namespace {

constexpr int cannot_start = 127;
constexpr unsigned nobody = 65534;

std::vector<char*> pointers(std::vector<std::string>& texts) {
    std::vector<char*> all;
    for (std::string& text : texts) all.push_back(text.data());
    all.push_back(nullptr);
    return all;
}

// In the child, between fork and exec: only calls that are safe there.
void limit(const RunChoice& choice) {
    if (choice.most_file_bytes) {
        const rlimit most{*choice.most_file_bytes, *choice.most_file_bytes};
        if (::setrlimit(RLIMIT_FSIZE, &most) != 0) ::_exit(cannot_start);
    }
    if (choice.as_nobody && (::setgid(nobody) != 0 || ::setuid(nobody) != 0)) {
        ::_exit(cannot_start);
    }
}

[[noreturn]] void become_program(std::vector<char*>& arguments, const RunChoice& choice,
                                 std::vector<std::string>& environment) {
    for (std::string& entry : environment) ::putenv(entry.data());
    limit(choice);
    ::execv(LAGLINE_PROGRAM, arguments.data());
    ::_exit(cannot_start);
}

int exit_code(pid_t child) {
    int status = 0;
    while (::waitpid(child, &status, 0) < 0 && errno == EINTR) {
    }
    if (!WIFEXITED(status)) return -1;
    if (WEXITSTATUS(status) == cannot_start) throw std::runtime_error("cannot start the program");
    return WEXITSTATUS(status);
}

std::vector<std::string> with_program(const Arguments& arguments) {
    std::vector<std::string> all{"lagline"};
    all.insert(all.end(), arguments.begin(), arguments.end());
    return all;
}

std::string read_to_end(int fd) {
    std::string text;
    std::array<char, 4096> piece{};
    while (true) {
        const ssize_t got = ::read(fd, piece.data(), piece.size());
        if (got < 0 && errno == EINTR) continue;
        if (got <= 0) return text;  // a terminal whose other end is closed gives an error
        text.append(piece.data(), static_cast<std::size_t>(got));
    }
}

int terminal_of(int master, unsigned short columns) {
    if (master < 0 || ::grantpt(master) != 0 || ::unlockpt(master) != 0) {
        throw std::runtime_error("no terminal to be had");
    }
    const int slave = ::open(::ptsname(master), O_RDWR | O_NOCTTY);
    winsize size{};
    size.ws_row = 40;
    size.ws_col = columns;
    if (slave < 0 || ::ioctl(slave, TIOCSWINSZ, &size) != 0) {
        throw std::runtime_error("no terminal to be had");
    }
    return slave;
}

}  // namespace

Ran run(const Arguments& arguments, const RunChoice& choice) {
    const TempFolder folder;
    const std::string out = choice.out_to.value_or((folder.path() / "out").string());
    const std::string err = (folder.path() / "err").string();
    auto texts = with_program(arguments);
    auto argv = pointers(texts);
    auto environment = choice.environment;
    const pid_t child = ::fork();
    if (child == 0) {
        if (choice.in_from) {
            const int in_fd = ::open(choice.in_from->c_str(), O_RDONLY);
            if (::dup2(in_fd, STDIN_FILENO) < 0) ::_exit(cannot_start);
        }
        const int out_fd = ::open(out.c_str(), O_WRONLY | O_CREAT, 0666);
        const int err_fd = ::open(err.c_str(), O_WRONLY | O_CREAT, 0666);
        if (::dup2(out_fd, STDOUT_FILENO) < 0 || ::dup2(err_fd, STDERR_FILENO) < 0) {
            ::_exit(cannot_start);
        }
        become_program(argv, choice, environment);
    }
    Ran ran;
    ran.code = exit_code(child);
    if (!choice.out_to) ran.out = file_text(out);
    ran.err = file_text(err);
    return ran;
}

Ran run_on_terminal(const Arguments& arguments, unsigned short columns, const RunChoice& choice) {
    const int master = ::posix_openpt(O_RDWR | O_NOCTTY | O_CLOEXEC);
    const int slave = terminal_of(master, columns);
    auto texts = with_program(arguments);
    auto argv = pointers(texts);
    auto environment = choice.environment;
    const pid_t child = ::fork();
    if (child == 0) {
        ::dup2(slave, STDOUT_FILENO);
        ::dup2(slave, STDERR_FILENO);
        ::close(slave);
        become_program(argv, choice, environment);
    }
    ::close(slave);
    Ran ran;
    const std::string shown = read_to_end(master);
    ran.code = exit_code(child);
    ::close(master);
    for (std::size_t i = 0; i < shown.size(); ++i) {
        const bool line_end = shown[i] == '\r' && i + 1 < shown.size() && shown[i + 1] == '\n';
        if (!line_end) ran.out += shown[i];  // a terminal turns LF into CR LF
    }
    return ran;
}

bool is_root() { return ::geteuid() == 0; }

StarterPlant::StarterPlant() {
    const Ran made = run({"new", path()});
    if (made.code != 0) throw std::runtime_error(made.err);
}

std::string StarterPlant::text(const std::string& name) const { return file_text(file(name)); }

void StarterPlant::write(const std::string& name, std::string_view text) const {
    folder_.write("plant/" + name, text);
}

void StarterPlant::replace(const std::string& name, std::string_view from,
                           std::string_view to) const {
    std::string all = text(name);
    const auto at = all.find(from);
    if (at == std::string::npos) throw std::runtime_error("not there: " + std::string{from});
    write(name, all.replace(at, from.size(), to));
}

bool holds(std::string_view in, std::string_view text) {
    return in.find(text) != std::string_view::npos;
}

std::size_t count(std::string_view in, std::string_view text) {
    std::size_t found = 0;
    for (auto at = in.find(text); at != std::string_view::npos; at = in.find(text, at + 1)) ++found;
    return found;
}

std::size_t widest_line(std::string_view text) {
    std::size_t widest = 0;
    std::size_t width = 0;
    bool escape = false;
    for (const char c : text) {
        if (c == '\x1b') escape = true;
        const bool continues = (static_cast<unsigned char>(c) & 0xC0U) == 0x80U;
        const bool starts = c == '\n' || c == '\r';  // progress goes back to the start of its line
        if (starts) width = 0;
        if (!starts && !escape && !continues) ++width;
        if (escape && (c == 'm' || c == 'K')) escape = false;
        widest = std::max(widest, width);
    }
    return widest;
}

}  // namespace lagline
