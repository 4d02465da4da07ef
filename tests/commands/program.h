#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "support/temp_folder.h"

namespace lagline {

/// What came of a run of the program.
struct Ran {
    int code = -1;  ///< exit code; -1 when a signal ended it
    std::string out;
    std::string err;
};

/// How the program is started.
struct RunChoice {
    std::vector<std::string> environment = {};          ///< "NAME=value", added to ours
    std::optional<std::uint64_t> most_file_bytes = {};  ///< limit on the size of files it writes
    std::optional<std::string> out_to = {};             ///< file that takes standard output
    std::optional<std::string> in_from = {};            ///< file that gives standard input
    bool as_nobody = false;                             ///< without the rights of root
};

using Arguments = std::vector<std::string>;

/// Runs the built program as a child process.  @throws std::runtime_error when it cannot be started
[[nodiscard]] Ran run(const Arguments& arguments, const RunChoice& choice = {});

/// Runs it on a terminal of this many columns; all that it shows is in `out`.
[[nodiscard]] Ran run_on_terminal(const Arguments& arguments, unsigned short columns,
                                  const RunChoice& choice = {});

/// True when this process may read anything, so that permissions do not keep it out.
[[nodiscard]] bool is_root();

/// A plant folder as `lagline new` makes it, with helpers to spoil it.
class StarterPlant {
  public:
    StarterPlant();
    [[nodiscard]] std::string path() const { return (folder_.path() / "plant").string(); }
    [[nodiscard]] std::string file(const std::string& name) const { return path() + "/" + name; }
    [[nodiscard]] std::string text(const std::string& name) const;
    void write(const std::string& name, std::string_view text) const;
    /// Replaces the first `from` in file `name`; it must be there.
    void replace(const std::string& name, std::string_view from, std::string_view to) const;
    [[nodiscard]] const TempFolder& folder() const { return folder_; }

  private:
    TempFolder folder_;
};

/// A date after which the starter plant ranks the same whatever the day of the test.
inline const std::string fixed_day = "2030-04-08";

[[nodiscard]] bool holds(std::string_view in, std::string_view text);
[[nodiscard]] std::size_t count(std::string_view in, std::string_view text);
/// Characters of the longest line, escape sequences of colour not counted.
[[nodiscard]] std::size_t widest_line(std::string_view text);

}  // namespace lagline
