#include "report/atomic_file.h"

#include <doctest/doctest.h>
#include <sys/resource.h>
#include <sys/stat.h>

#include <csignal>
#include <filesystem>
#include <string>
#include <vector>

#include "support/csv_records.h"
#include "support/temp_folder.h"

namespace lagline {
namespace {

namespace fs = std::filesystem;

unsigned mode_of(const fs::path& path) {
    struct stat status {};
    REQUIRE(::stat(path.c_str(), &status) == 0);
    return status.st_mode & 07777U;
}

TEST_CASE("a new file holds the content, in the usual mode, with nothing left beside it") {
    TempFolder folder;
    const mode_t mask = ::umask(027);
    const std::string problem = write_whole(folder.path() / "out.csv", "a,b\n1,2\n");
    ::umask(mask);
    CHECK(problem == "");
    CHECK(file_text(folder.path() / "out.csv") == "a,b\n1,2\n");
    CHECK(mode_of(folder.path() / "out.csv") == 0640U);
    CHECK(folder.names() == std::vector<std::string>{"out.csv"});
}

TEST_CASE("an empty content makes an empty file") {
    TempFolder folder;
    CHECK(write_whole(folder.path() / "out.csv", "") == "");
    CHECK(fs::file_size(folder.path() / "out.csv") == 0);
}

TEST_CASE("a file that is replaced keeps its mode") {
    TempFolder folder;
    const fs::path file = folder.write("out.csv", "old and longer than the new");
    for (const unsigned mode : {0600U, 0644U, 0666U, 0400U}) {
        CAPTURE(mode);
        REQUIRE(::chmod(file.c_str(), mode) == 0);
        CHECK(write_whole(file, "new") == "");
        CHECK(file_text(file) == "new");
        CHECK(mode_of(file) == mode);
    }
    CHECK(folder.names() == std::vector<std::string>{"out.csv"});
}

TEST_CASE("a link stays a link; the file it names is replaced") {
    TempFolder folder;
    fs::create_directory(folder.path() / "elsewhere");
    const fs::path file = folder.write("elsewhere/real.csv", "old");
    const fs::path link = folder.path() / "out.csv";
    fs::create_symlink("elsewhere/real.csv", link);
    CHECK(write_whole(link, "new") == "");
    CHECK(fs::is_symlink(link));
    CHECK(file_text(file) == "new");
    CHECK(folder.names() == std::vector<std::string>{"elsewhere", "out.csv"});
}

TEST_CASE("a folder is refused, and so is a place in no folder") {
    TempFolder folder;
    fs::create_directory(folder.path() / "out");
    CHECK(write_whole(folder.path() / "out", "x").ends_with("is a directory"));
    CHECK(fs::is_directory(folder.path() / "out"));
    const std::string missing = write_whole(folder.path() / "missing" / "out.csv", "x");
    CHECK(missing.find("No such file or directory") != std::string::npos);
    CHECK(folder.names() == std::vector<std::string>{"out"});
}

// No file may grow beyond `bytes` while this lives; writing on fails as on a full disk.
class SmallDisk {
  public:
    explicit SmallDisk(rlim_t bytes) : handler_(std::signal(SIGXFSZ, SIG_IGN)) {
        ::getrlimit(RLIMIT_FSIZE, &before_);
        rlimit small = before_;
        small.rlim_cur = bytes;
        ::setrlimit(RLIMIT_FSIZE, &small);
    }
    SmallDisk(const SmallDisk&) = delete;
    SmallDisk& operator=(const SmallDisk&) = delete;
    ~SmallDisk() {
        ::setrlimit(RLIMIT_FSIZE, &before_);
        std::signal(SIGXFSZ, handler_);
    }

  private:
    using Handler = void (*)(int);
    Handler handler_;
    rlimit before_{};
};

TEST_CASE("no room for all of it: the old file stays as it was, and nothing stays beside it") {
    TempFolder folder;
    const fs::path file = folder.write("out.csv", "old");
    std::string problem;
    {
        const SmallDisk disk{4096};
        problem = write_whole(file, std::string(100'000, 'x'));
    }
    CHECK(problem.starts_with("cannot write " + file.string()));
    CHECK(file_text(file) == "old");
    CHECK(folder.names() == std::vector<std::string>{"out.csv"});
}

TEST_CASE("no room for a new file: there is none afterwards") {
    TempFolder folder;
    std::string problem;
    {
        const SmallDisk disk{4096};
        problem = write_whole(folder.path() / "out.csv", std::string(100'000, 'x'));
    }
    CHECK_FALSE(problem.empty());
    CHECK(folder.names().empty());
}

TEST_CASE("a device is written to directly, and a full one says so") {
    if (!fs::exists("/dev/full")) return;
    CHECK(write_whole("/dev/null", "x") == "");
    CHECK(fs::is_character_file("/dev/null"));
    CHECK(write_whole("/dev/full", "x") == "cannot write /dev/full: No space left on device");
    CHECK(fs::is_character_file("/dev/full"));
}

TEST_CASE("what must not be replaced is asked once all is on the disk, and stays") {
    const TempFolder folder;
    const fs::path file = folder.write("out.csv", "old");
    bool given = false;
    const auto give = [&](const TakeText& take) { return given = take("new"); };
    std::string asked_after;
    const auto refuse = [&](const fs::path& target) {
        asked_after = given ? target.string() : "nothing";
        return std::string{"it is an input"};
    };
    CHECK(write_whole(file, give, refuse) == "it is an input");
    CHECK(asked_after == file.string());
    CHECK(file_text(file) == "old");
    CHECK(folder.names() == std::vector<std::string>{"out.csv"});
    CHECK(write_whole(file, give, [](const fs::path&) { return std::string{}; }).empty());
    CHECK(file_text(file) == "new");
}

}  // namespace
}  // namespace lagline
