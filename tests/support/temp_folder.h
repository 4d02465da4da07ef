#pragma once

#include <filesystem>
#include <string>
#include <string_view>
#include <vector>

namespace lagline {

/// A folder for one test, removed at its end.
class TempFolder {
  public:
    TempFolder();
    ~TempFolder();
    TempFolder(const TempFolder&) = delete;
    TempFolder& operator=(const TempFolder&) = delete;

    [[nodiscard]] const std::filesystem::path& path() const { return path_; }
    /// Writes `name` under the folder and returns its path.
    std::filesystem::path write(const std::string& name, std::string_view text) const;
    /// Names of what stands in the folder, sorted.
    [[nodiscard]] std::vector<std::string> names() const;

  private:
    std::filesystem::path path_;
};

}  // namespace lagline
