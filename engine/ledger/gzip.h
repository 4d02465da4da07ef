#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>

namespace lagline {

/// `bytes` as gzip members (RFC 1952), one after the other, that `gunzip` reads.  Members are made
/// at the same time; the same bytes give the same members.
/// @throws std::runtime_error  when the library refuses
[[nodiscard]] std::string gzip_of(std::string_view bytes);

/// What the members hold, or nothing when they are not those of gzip_of(): damaged, with a head of
/// another form, with anything else behind them, or not of `size` bytes.  Never takes more memory
/// than for `size` bytes, nor that much before the members have shown that they hold them.
[[nodiscard]] std::optional<std::string> unzipped(std::string_view members, std::size_t size);

}  // namespace lagline
