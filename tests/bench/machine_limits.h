#pragma once

#include <cstddef>
#include <ctime>

#include "blocks/column.h"

namespace lagline::bench {

/// Processor time of this process since the object was made.
class ProcessorTime {
  public:
    [[nodiscard]] double seconds() const {
        return static_cast<double>(std::clock() - start_) / CLOCKS_PER_SEC;
    }

  private:
    std::clock_t start_ = std::clock();
};

/// a = b + s c over columns of `rows` doubles: bytes read and written in a second, one thread.  The
/// best of some runs, measured once for each number of rows.
[[nodiscard]] double triad_bytes_per_second(std::size_t rows);

/// Seconds that the C library's erfc() takes for one of the arguments that the sample's damage
/// factors have.  The best of some runs, measured once.
[[nodiscard]] double erfc_seconds();

/// Columns for the triad.
struct Triad {
    explicit Triad(std::size_t rows);
    void run() { a = b + 3.0 * c; }
    static constexpr std::size_t bytes_per_row = 3 * sizeof(double);
    Numbers a, b, c;
};

/// Arguments of erfc() that the sample's damage factors have: beta over the square root of 2.
[[nodiscard]] Numbers erfc_arguments(std::size_t rows);

}  // namespace lagline::bench
