#include "intake/standard_input.h"

#include <poll.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <cstring>
#include <new>
#include <utility>

#include "intake/file_bytes.h"
#include "intake/source_file.h"

namespace lagline {
namespace {

constexpr std::size_t first_bytes = std::size_t{1} << 20U;

void refuse(Report& report, Problem problem, const std::string& shown, std::string found,
            std::string mend) {
    refuse_file(report, problem, shown, std::move(found),
                "a heading and rows, as a segments.csv has them", std::move(mend));
}

// What came, 0 at the end, -1 when it cannot be read.
ssize_t read_some(int fd, char* into, std::size_t most) {
    while (true) {
        const ssize_t got = ::read(fd, into, most);
        if (got >= 0) return got;
        if (errno == EAGAIN) {
            // The other end has made the pipe one that does not wait, and nothing is in it yet.
            pollfd waited{fd, POLLIN, 0};
            if (::poll(&waited, 1, -1) >= 0 || errno == EINTR) continue;
            return -1;
        }
        if (errno != EINTR) return -1;
    }
}

}  // namespace

std::optional<SourceText> read_descriptor(int fd, const std::string& shown, Report& report) {
    std::string text;
    std::size_t filled = 0;
    try {
        text.resize(first_bytes);
        while (true) {
            if (filled == text.size()) text.resize(text.size() + text.size() / 2);
            const ssize_t got = read_some(fd, text.data() + filled, text.size() - filled);
            if (got == 0) break;
            if (got < 0) {
                refuse(report, Problem::unreadable_file, shown,
                       std::string{"it cannot be read: "} + std::strerror(errno),
                       "pipe the rows in: cat part.csv | lagline rank PLANT --stdin");
                return std::nullopt;
            }
            filled += static_cast<std::size_t>(got);
        }
    } catch (const std::bad_alloc&) {
        refuse(report, Problem::unreadable_file, shown,
               "more than " + std::to_string(filled) + " bytes, more than there is memory for",
               "cut it into smaller parts");
        return std::nullopt;
    }
    if (filled == 0) {
        refuse(report, Problem::empty_file, shown, "nothing",
               "see whether the command before the pipe failed; a part without segments still has "
               "the heading");
        return std::nullopt;
    }
    text.resize(filled);
    return source_from_text(std::move(text), shown, report);
}

}  // namespace lagline
