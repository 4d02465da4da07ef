#include "report/merge/part_file.h"

#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cerrno>
#include <cstring>
#include <stdexcept>
#include <vector>

#include "blocks/descriptor.h"

namespace lagline {
namespace {

namespace fs = std::filesystem;

constexpr std::size_t piece_bytes = std::size_t{1} << 20U;

std::string reason() { return std::strerror(errno); }

void refuse(Report& report, const std::string& shown, Problem problem, std::string found) {
    report.add({.problem = problem,
                .where = {shown, 0, 0},
                .subject = "",
                .found = std::move(found),
                .expected = "a ranking of `lagline rank --format csv`",
                .mend = "check the name, and whether the command that was to write it did",
                .excerpt = {}});
}

// Everything that `from` gives, as a file in `scratch`.  @throws std::runtime_error
fs::path copied(int from, const fs::path& scratch) {
    std::string name = (scratch / "part-XXXXXX").string();
    const Descriptor to{::mkostemp(name.data(), O_CLOEXEC)};
    std::vector<char> piece(piece_bytes);
    while (to.opened()) {
        const ssize_t got = ::read(from, piece.data(), piece.size());
        if (got < 0 && errno == EINTR) continue;
        if (got < 0) break;
        if (got == 0) return name;
        if (!write_all(to.get(), {piece.data(), static_cast<std::size_t>(got)})) break;
    }
    throw std::runtime_error("cannot copy a pipe to " + name + ": " + reason());
}

}  // namespace

std::optional<PartFile> PartFile::open(const std::string& path, const fs::path& scratch,
                                       Report& report) {
    PartFile part;
    const bool piped = path == "-";
    part.shown_ = piped ? "<stdin>" : path;
    part.path_ = path;
    const Descriptor file{piped ? ::dup(STDIN_FILENO) : ::open(path.c_str(), O_RDONLY | O_CLOEXEC)};
    if (!file.opened()) {
        const Problem problem = errno == ENOENT ? Problem::missing_file : Problem::unreadable_file;
        refuse(report, part.shown_, problem, "it cannot be opened: " + reason());
        return std::nullopt;
    }
    struct stat status {};
    if (::fstat(file.get(), &status) != 0 || S_ISDIR(status.st_mode)) {
        refuse(report, part.shown_, Problem::not_a_file, "a directory");
        return std::nullopt;
    }
    // Standard input may be a file that is open somewhere in its middle.
    if (piped || !S_ISREG(status.st_mode)) part.path_ = copied(file.get(), scratch);
    if (::stat(part.path_.c_str(), &status) != 0) {
        refuse(report, part.shown_, Problem::unreadable_file, reason());
        return std::nullopt;
    }
    part.size_ = static_cast<std::uint64_t>(status.st_size);
    part.device_ = status.st_dev;
    part.inode_ = status.st_ino;
    part.changed_ = status.st_mtim;
    return part;
}

std::size_t PartFile::read(std::uint64_t offset, char* into, std::size_t most) const {
    const Descriptor file{::open(path_.c_str(), O_RDONLY | O_CLOEXEC)};
    struct stat status {};
    if (!file.opened() || ::fstat(file.get(), &status) != 0) {
        throw std::runtime_error("cannot read " + shown_ + ": " + reason());
    }
    if (status.st_dev != device_ || status.st_ino != inode_ ||
        static_cast<std::uint64_t>(status.st_size) != size_ ||
        status.st_mtim.tv_sec != changed_.tv_sec || status.st_mtim.tv_nsec != changed_.tv_nsec) {
        throw std::runtime_error(shown_ + " was changed while it was merged; run it again");
    }
    std::size_t filled = 0;
    while (filled < most) {
        const ssize_t got =
            ::pread(file.get(), into + filled, most - filled, static_cast<off_t>(offset + filled));
        if (got < 0 && errno == EINTR) continue;
        if (got < 0) throw std::runtime_error("cannot read " + shown_ + ": " + reason());
        if (got == 0) break;
        filled += static_cast<std::size_t>(got);
    }
    return filled;
}

}  // namespace lagline
