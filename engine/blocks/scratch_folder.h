#pragma once

#include <filesystem>

namespace lagline {

/// A folder in the place for temporary files, gone with this object.
class ScratchFolder {
  public:
    /// @throws std::runtime_error  when it cannot be made
    ScratchFolder();
    ScratchFolder(const ScratchFolder&) = delete;
    ScratchFolder& operator=(const ScratchFolder&) = delete;
    ~ScratchFolder();
    [[nodiscard]] const std::filesystem::path& path() const { return path_; }

  private:
    std::filesystem::path path_;
};

}  // namespace lagline
