#include "intake/file_bytes.h"

#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>
#include <atomic>
#include <cerrno>
#include <cstring>
#include <memory>
#include <new>
#include <vector>

#include "blocks/descriptor.h"
#include "blocks/row_vector.h"
#include "intake/source_file.h"

namespace lagline {
namespace {

// From here on a file is read by all threads.
constexpr std::size_t large_file_bytes = 4 * chunk_bytes;

// A sparse file can say any size, and a system that promises memory it does not have would take it
// at its word.
std::size_t most_bytes() {
    return static_cast<std::size_t>(::sysconf(_SC_PHYS_PAGES)) *
           static_cast<std::size_t>(::sysconf(_SC_PAGESIZE));
}

void refuse_size(Report& report, const std::string& shown, std::size_t bytes) {
    refuse_file(report, Problem::unreadable_file, shown,
                std::to_string(bytes) + " bytes, more than there is memory for", "a readable file",
                "check whether this is the file that was meant; split it if it is");
}

template <class Bytes>
bool has_room(Bytes& text, std::size_t bytes) {
    try {
        text.reserve(bytes);
        return true;
    } catch (const std::bad_alloc&) {
        return false;
    }
}

// Reads to the end whatever the descriptor is: a pipe has no size to ask for.
bool read_all(int fd, std::size_t size_hint, std::string& into) {
    constexpr std::size_t step = std::size_t{1} << 20;
    into.resize(size_hint + 1);
    std::size_t filled = 0;
    while (true) {
        if (filled == into.size()) into.resize(into.size() + std::max(step, into.size() / 2));
        const ssize_t got = ::read(fd, into.data() + filled, into.size() - filled);
        if (got < 0 && errno == EINTR) continue;
        if (got < 0) return false;
        if (got == 0) break;
        filled += static_cast<std::size_t>(got);
    }
    into.resize(filled);
    return true;
}

// Reads the bytes of `range`, which are there unless the file is changed meanwhile.
bool read_range(int fd, RowRange range, char* into) {
    while (range.size() > 0) {
        const ssize_t got =
            ::pread(fd, into + range.begin, range.size(), static_cast<off_t>(range.begin));
        if (got < 0 && errno == EINTR) continue;
        if (got <= 0) return false;
        range.begin += static_cast<std::size_t>(got);
    }
    return true;
}

// The flag keeps a named pipe without a writer from blocking for ever.
Descriptor open_file(const std::filesystem::path& path) {
    return Descriptor{::open(path.c_str(), O_RDONLY | O_CLOEXEC | O_NONBLOCK)};
}

// Bytes that the file says it has, 0 for a pipe; nothing, with the reason, when it is no file or
// says more than there can be.
std::optional<std::size_t> stated_size(const Descriptor& file, const std::string& shown,
                                       Report& report) {
    if (!file.opened()) {
        const bool missing = errno == ENOENT;
        refuse_file(
            report, missing ? Problem::missing_file : Problem::unreadable_file, shown,
            missing ? "no such file" : std::string{"it cannot be opened: "} + std::strerror(errno),
            "a readable file",
            missing ? "put the file there; `lagline new` shows what it looks like"
                    : "check owner and permissions of the file");
        return std::nullopt;
    }
    struct stat status {};
    if (::fstat(file.get(), &status) != 0 || S_ISDIR(status.st_mode)) {
        refuse_file(report, Problem::not_a_file, shown, "a directory", "a file",
                    "remove the directory, or give the file that belongs here");
        return std::nullopt;
    }
    const auto size = S_ISREG(status.st_mode) ? static_cast<std::size_t>(status.st_size) : 0;
    if (size <= most_bytes()) return size;
    refuse_size(report, shown, size);
    return std::nullopt;
}

void refuse_reading(Report& report, const std::string& shown) {
    refuse_file(report, Problem::unreadable_file, shown,
                std::string{"it cannot be read: "} + std::strerror(errno), "a readable file",
                "check the disk and the permissions of the file");
}

std::optional<std::string> read_whole(const Descriptor& file, std::size_t size,
                                      const std::string& shown, Report& report) {
    std::string text;
    if (!has_room(text, size + 1)) {
        refuse_size(report, shown, size);
        return std::nullopt;
    }
    if (read_all(file.get(), size, text)) return text;
    refuse_reading(report, shown);
    return std::nullopt;
}

// Reads a large file on several threads.  Copied, not mapped: a mapped file that another program
// cuts short ends this one, and one that is written to would change between check and use.
class ChunkedReading {
  public:
    ChunkedReading(const Descriptor& file, std::size_t size, const std::string& shown,
                   Report& report)
        : fd_(file.get()), size_(size), shown_(shown), report_(report) {}

    std::optional<SourceText> read(const WorkPlan& plan) {
        const auto bytes = std::make_shared<RowVector<char>>();
        if (!has_room(*bytes, size_)) {
            refuse_size(report_, shown_, size_);
            return std::nullopt;
        }
        bytes->resize(size_);
        for_each_chunk(size_, plan, [&](std::size_t, RowRange range) {
            if (!stopped_) read_chunk(range, bytes->data());
        });
        if (refuse()) return std::nullopt;
        return SourceText{shown_, {bytes->data(), size_}, bytes};
    }

  private:
    void read_chunk(RowRange range, char* into) {
        errno = 0;
        if (!read_range(fd_, range, into)) {
            if (errno == 0) changed_ = true;
            if (errno != 0) failure_ = errno;
            stopped_ = true;
        } else if (range.size() == chunk_bytes &&
                   std::memchr(into + range.begin, '\n', range.size()) == nullptr) {
            endless_ = true;
            stopped_ = true;
        }
    }

    bool refuse() {
        if (failure_ != 0) {
            errno = failure_;
            refuse_reading(report_, shown_);
            return true;
        }
        if (endless_) {
            refuse_endless_line();
            return true;
        }
        char more = 0;
        if (!changed_ && ::pread(fd_, &more, 1, static_cast<off_t>(size_)) <= 0) return false;
        refuse_file(report_, Problem::unreadable_file, shown_, "it changed while it was read",
                    "a file that nobody is writing to", "wait until it is complete, and try again");
        return true;
    }

    // Which line it is takes another look from the start: not every chunk was read.
    void refuse_endless_line() {
        std::vector<char> chunk(chunk_bytes);
        Place place{shown_, 1, 1};
        for (std::size_t at = 0; at < size_; at += chunk_bytes) {
            const std::size_t size = std::min(chunk_bytes, size_ - at);
            const auto got = ::pread(fd_, chunk.data(), size, static_cast<off_t>(at));
            const auto breaks =
                std::count(chunk.begin(), chunk.begin() + std::max<ssize_t>(0, got), '\n');
            if (breaks == 0) break;
            place.line += static_cast<int>(breaks);
        }
        report_.add({.problem = Problem::unreadable_file,
                     .where = place,
                     .subject = "",
                     .found = "a line of " + std::to_string(chunk_bytes) + " bytes or more",
                     .expected = "lines that end in LF or CRLF",
                     .mend = "check whether this is the file that was meant, and whole",
                     .excerpt = {}});
    }

    int fd_;
    std::size_t size_;
    const std::string& shown_;
    Report& report_;
    std::atomic<bool> stopped_{false};
    std::atomic<bool> changed_{false};
    std::atomic<bool> endless_{false};
    std::atomic<int> failure_{0};  ///< errno
};

}  // namespace

void refuse_file(Report& report, Problem problem, const std::string& shown, std::string found,
                 std::string expected, std::string mend) {
    report.add({.problem = problem,
                .where = {shown, 0, 0},
                .subject = "",
                .found = std::move(found),
                .expected = std::move(expected),
                .mend = std::move(mend),
                .excerpt = {}});
}

void for_each_chunk(std::size_t bytes, const WorkPlan& plan,
                    const std::function<void(std::size_t, RowRange)>& work) {
    for_each_block(bytes, {chunk_bytes, plan.threads, nullptr}, work);
}

std::optional<std::string> read_bytes(const std::filesystem::path& path, const std::string& shown,
                                      Report& report) {
    const Descriptor file = open_file(path);
    const auto size = stated_size(file, shown, report);
    if (!size) return std::nullopt;
    return read_whole(file, *size, shown, report);
}

std::optional<SourceText> read_unchecked(const std::filesystem::path& path,
                                         const std::string& shown, Report& report,
                                         const WorkPlan& plan) {
    const Descriptor file = open_file(path);
    const auto size = stated_size(file, shown, report);
    if (!size) return std::nullopt;
    if (*size >= large_file_bytes) return ChunkedReading{file, *size, shown, report}.read(plan);
    auto text = read_whole(file, *size, shown, report);
    if (!text) return std::nullopt;
    return source_of(std::move(*text), shown);
}

}  // namespace lagline
