#pragma once

namespace lagline {

#ifdef __SANITIZE_ADDRESS__
inline constexpr bool under_sanitizers = true;
#else
inline constexpr bool under_sanitizers = false;
#endif

/// How many rounds a test makes: all of them, or a fifth under the sanitizers, which take several
/// times as long and look for faults of the code, not of the numbers.
constexpr int rounds(int all) { return under_sanitizers ? all / 5 : all; }

}  // namespace lagline
