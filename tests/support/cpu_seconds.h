#pragma once

#include <ctime>

namespace lagline {

/// Processor time of this program so far [s], all its threads together.  What a limit on time is
/// measured with: unlike the clock on the wall it does not grow when other programs share the
/// machine.
[[nodiscard]] inline double cpu_seconds() {
    return static_cast<double>(std::clock()) / static_cast<double>(CLOCKS_PER_SEC);
}

}  // namespace lagline
