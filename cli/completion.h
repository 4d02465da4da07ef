#pragma once

#include <string>

#include "cli/description.h"

namespace lagline::cli {

/// A script for bash that completes commands, options, their values where the list is closed, and
/// files and folders where one is asked for.  It needs nothing but bash.
[[nodiscard]] std::string bash_completion(const ProgramDescription& program);

/// The same for zsh, with what each of them does; to be put into a folder of fpath as _lagline.
[[nodiscard]] std::string zsh_completion(const ProgramDescription& program);

}  // namespace lagline::cli
