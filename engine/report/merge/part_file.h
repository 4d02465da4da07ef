#pragma once

#include <sys/types.h>

#include <cstddef>
#include <cstdint>
#include <ctime>
#include <filesystem>
#include <optional>
#include <string>

#include "diagnostics/diagnostic.h"

namespace lagline {

/// A file that is read in pieces, twice.  It is opened for each piece, so that any number of them
/// can be read side by side.
class PartFile {
  public:
    /// Nothing, with the reason in `report`, when it cannot be read.  What is no file on a disk, a
    /// pipe for instance, is copied into `scratch` first; "-" is standard input.
    [[nodiscard]] static std::optional<PartFile> open(const std::string& path,
                                                      const std::filesystem::path& scratch,
                                                      Report& report);

    [[nodiscard]] const std::string& shown() const { return shown_; }
    [[nodiscard]] std::uint64_t size() const { return size_; }
    /// Bytes put at `into`: as many as asked for, unless the file ends before.
    /// @throws std::runtime_error  when it cannot be read, or is no longer the file it was
    [[nodiscard]] std::size_t read(std::uint64_t offset, char* into, std::size_t most) const;

  private:
    PartFile() = default;

    std::string shown_;
    std::filesystem::path path_;
    std::uint64_t size_ = 0;
    // What tells whether it is still the same file.
    dev_t device_ = 0;
    ino_t inode_ = 0;
    timespec changed_{};
};

}  // namespace lagline
