#pragma once

#include <string>
#include <string_view>

namespace lagline {

/// SHA-256 of `bytes` as 64 lower-case hexadecimal digits, as `sha256sum` prints it.
/// @throws std::runtime_error  when the library has no SHA-256
/// @source FIPS 180-4
[[nodiscard]] std::string sha256_of(std::string_view bytes);

/// True for 64 lower-case hexadecimal digits.
[[nodiscard]] bool is_sha256(std::string_view text);

}  // namespace lagline
