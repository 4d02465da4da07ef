#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>

namespace lagline {

/// `bytes` as one gzip member (RFC 1952) that `gunzip` reads; the same bytes give the same member.
/// @throws std::runtime_error  when the library refuses
[[nodiscard]] std::string gzip_of(std::string_view bytes);

/// What the member holds, or nothing when it is not one of gzip_of(): damaged, with a head of
/// another form, with anything behind it, or not of `size` bytes.  Never takes more memory than
/// for `size` bytes, nor that much before the member has shown that it holds them.
[[nodiscard]] std::optional<std::string> unzipped(std::string_view member, std::size_t size);

}  // namespace lagline
