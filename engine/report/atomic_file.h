#pragma once

#include <filesystem>
#include <functional>
#include <string>
#include <string_view>

namespace lagline {

/// Writes `content` to `path` whole or not at all: into a file beside it that takes its place once
/// everything is on the disk.  A device or pipe is written to directly.
/// @return  empty when done; otherwise what went wrong, and `path` is as it was
[[nodiscard]] std::string write_whole(const std::filesystem::path& path, std::string_view content);

/// Takes a piece of a text; false when it could not.
using TakeText = std::function<bool(std::string_view)>;
/// Gives a text in pieces; stops and returns false when one could not be taken.
using GiveText = std::function<bool(const TakeText&)>;

/// Why the file at a path may not be replaced; empty: it may.
using RefuseFile = std::function<std::string(const std::filesystem::path&)>;

/// The same for a text that is given in pieces.  When `give` throws, `path` is as it was.
/// @param refuse  asked once everything is on the disk, just before the file is replaced
[[nodiscard]] std::string write_whole(const std::filesystem::path& path, const GiveText& give,
                                      const RefuseFile& refuse = {});

/// Keeps other commands that take this lock out of a folder while it lives; waits for them.
class FolderLock {
  public:
    /// @throws std::runtime_error  when the folder cannot be opened or locked
    explicit FolderLock(const std::filesystem::path& folder);
    FolderLock(const FolderLock&) = delete;
    FolderLock& operator=(const FolderLock&) = delete;
    ~FolderLock();

  private:
    int fd_ = -1;
};

}  // namespace lagline
