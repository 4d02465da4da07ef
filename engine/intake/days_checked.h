#pragma once

#include <cstdint>

namespace lagline {

/// Whether days after today are faults, or belong to what is not known yet on a past day.
enum class DaysChecked : std::uint8_t { against_today, not_at_all };

}  // namespace lagline
