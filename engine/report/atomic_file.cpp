#include "report/atomic_file.h"

#include <fcntl.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cerrno>
#include <cstring>
#include <optional>
#include <stdexcept>

#include "blocks/descriptor.h"

namespace lagline {
namespace {

namespace fs = std::filesystem;

std::string reason() { return std::strerror(errno); }

std::string write_directly(const fs::path& path, const GiveText& give) {
    const Descriptor file{::open(path.c_str(), O_WRONLY | O_CLOEXEC)};
    if (!file.opened()) return "cannot open " + path.string() + ": " + reason();
    const auto take = [&](std::string_view text) { return write_all(file.get(), text); };
    return give(take) ? "" : "cannot write " + path.string() + ": " + reason();
}

// The file that will take the place of the target; gone again unless it did.
class Beside {
  public:
    explicit Beside(const fs::path& target)
        : name_((target.parent_path() / ("." + target.filename().string() + ".XXXXXX")).string()),
          fd_(::mkostemp(name_.data(), O_CLOEXEC)) {}
    Beside(const Beside&) = delete;
    Beside& operator=(const Beside&) = delete;
    ~Beside() {
        if (fd_ >= 0) ::close(fd_);
        if (fd_ >= 0 && !placed_) ::unlink(name_.c_str());
    }

    [[nodiscard]] bool opened() const { return fd_ >= 0; }
    bool fill(const GiveText& give, mode_t mode) {
        return give([this](std::string_view text) { return write_all(fd_, text); }) &&
               ::fchmod(fd_, mode) == 0 && ::fsync(fd_) == 0;
    }
    bool take_place_of(const fs::path& target) {
        placed_ = ::rename(name_.c_str(), target.c_str()) == 0;
        return placed_;
    }

  private:
    std::string name_;
    int fd_ = -1;
    bool placed_ = false;
};

mode_t usual_mode() {
    const mode_t mask = ::umask(0);
    ::umask(mask);
    return 0666U & ~mask;
}

}  // namespace

FolderLock::FolderLock(const fs::path& folder)
    : fd_(::open(folder.c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC)) {
    if (fd_ >= 0 && ::flock(fd_, LOCK_EX) == 0) return;
    const std::string why = reason();
    if (fd_ >= 0) ::close(fd_);
    throw std::runtime_error("cannot lock " + folder.string() + ": " + why);
}

FolderLock::~FolderLock() { ::close(fd_); }

std::string write_whole(const fs::path& path, std::string_view content) {
    return write_whole(path, [content](const TakeText& take) { return take(content); });
}

std::string write_whole(const fs::path& path, const GiveText& give, const RefuseFile& refuse) {
    std::error_code error;
    // A link stays a link: the file it names is the one that is replaced.
    fs::path target = fs::weakly_canonical(path, error);
    if (error || target.empty()) target = path;
    struct stat status {};
    const bool exists = ::stat(target.c_str(), &status) == 0;
    if (exists && S_ISDIR(status.st_mode)) return path.string() + " is a directory";
    if (exists && !S_ISREG(status.st_mode)) return write_directly(target, give);
    Beside file{target};
    if (!file.opened()) return "cannot write beside " + path.string() + ": " + reason();
    const mode_t mode = exists ? (status.st_mode & 07777U) : usual_mode();
    if (!file.fill(give, mode)) return "cannot write " + path.string() + ": " + reason();
    if (std::string refused = refuse ? refuse(path) : ""; !refused.empty()) return refused;
    if (!file.take_place_of(target)) return "cannot replace " + path.string() + ": " + reason();
    return "";
}

}  // namespace lagline
