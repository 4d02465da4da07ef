// Reads the sources of this very tree.
#include <doctest/doctest.h>

#include <algorithm>
#include <array>
#include <cstddef>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <string>
#include <string_view>
#include <vector>

#include "architecture/layers.h"
#include "architecture/source_text.h"

namespace fs = std::filesystem;
using namespace architecture;

namespace {

constexpr std::size_t most_lines = 400;

const fs::path root = LAGLINE_SOURCE_DIR;

std::string content(const fs::path& file) {
    std::ifstream in(file, std::ios::binary);
    REQUIRE_MESSAGE(in, "cannot read " << file.string());
    return {std::istreambuf_iterator<char>(in), std::istreambuf_iterator<char>()};
}

std::string shown(const fs::path& file) { return file.lexically_relative(root).generic_string(); }

/// The files below `folder` in order of name, those that builds and runs leave behind not among
/// them.
std::vector<fs::path> files_below(const fs::path& folder) {
    std::vector<fs::path> files;
    for (fs::recursive_directory_iterator at(folder), end; at != end; ++at) {
        const auto name = at->path().filename().string();
        const bool left_behind = name == "out" || name.starts_with("build");
        if (at->is_directory() && left_behind) at.disable_recursion_pending();
        if (at->is_regular_file()) files.push_back(at->path());
    }
    std::ranges::sort(files);
    return files;
}

/// What is kept under version control, as far as a program can tell: logs and build folders that
/// someone leaves at the top are not ours.
std::vector<fs::path> files_of_the_project() {
    std::vector<fs::path> files;
    for (const auto* folder : {"engine", "cli", "rules", "sample-plant", "tests", "docs", ".ci"}) {
        const auto below = files_below(root / folder);
        files.insert(files.end(), below.begin(), below.end());
    }
    for (const auto* name : {"CMakeLists.txt", "CMakePresets.json", "README.md", "DEVELOPERS.md"}) {
        if (fs::exists(root / name)) files.push_back(root / name);
    }
    return files;
}

bool is_source(const fs::path& file) {
    return file.extension() == ".h" || file.extension() == ".cpp";
}

std::vector<fs::path> sources_below(const fs::path& folder) {
    auto files = files_below(folder);
    std::erase_if(files, [](const fs::path& file) { return !is_source(file); });
    REQUIRE_FALSE(files.empty());
    return files;
}

std::vector<fs::path> engine_folders() {
    std::vector<fs::path> folders;
    for (const auto& entry : fs::directory_iterator(root / "engine")) {
        if (entry.is_directory() && !fs::is_empty(entry.path())) folders.push_back(entry.path());
    }
    std::ranges::sort(folders);
    REQUIRE_FALSE(folders.empty());
    return folders;
}

/// Fails once for each entry, naming the file.
void expect_none(const fs::path& file, const std::vector<std::string>& faults) {
    for (const auto& fault : faults) FAIL_CHECK(shown(file) << ":" << fault);
}

}  // namespace

TEST_CASE("every folder of the engine has its place in the data flow") {
    for (const auto& folder : engine_folders()) {
        CAPTURE(shown(folder));
        CHECK(is_folder(folder.filename().string()));
    }
}

TEST_CASE("every #include of the engine points up the data flow") {
    for (const auto& folder : engine_folders()) {
        for (const auto& file : sources_below(folder)) {
            expect_none(file, wrong_includes(folder.filename().string(), content(file)));
        }
    }
}

TEST_CASE("every #include of the command line has the form folder/file.h") {
    for (const auto& file : sources_below(root / "cli")) {
        expect_none(file, wrong_includes("cli", content(file)));
    }
}

TEST_CASE("every folder of the engine is a target that links only folders above it") {
    for (const auto& folder : engine_folders()) {
        const auto file = folder / "CMakeLists.txt";
        expect_none(file, wrong_links(folder.filename().string(), content(file)));
    }
}

TEST_CASE("the engine writes to no stream") {
    for (const auto& file : sources_below(root / "engine")) {
        expect_none(file, stream_writes(content(file)));
    }
}

TEST_CASE("files of the engine and the command line are short") {
    for (const auto* folder : {"engine", "cli"}) {
        for (const auto& file : sources_below(root / folder)) {
            CAPTURE(shown(file));
            CHECK(lines(content(file)).size() <= most_lines);
        }
    }
}

TEST_CASE("no file names a folder of the machine it was written on") {
    // In two halves, so that this file does not find itself.
    constexpr std::array<std::string_view, 3> banned = {
        "/wor"
        "k/",
        "/tmp/"
        "l/",
        "/roo"
        "t/"};
    for (const auto& file : files_of_the_project()) {
        const auto text = content(file);
        for (const auto path : banned) {
            if (text.find(path) != std::string::npos) FAIL_CHECK(shown(file) << " names " << path);
        }
    }
}
