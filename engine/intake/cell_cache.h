#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <cstring>
#include <string_view>
#include <vector>

#include "intake/cell.h"

namespace lagline {

/// Values read before, by column and text: most cells of a line list say what some cell above them
/// says, and looking that up takes a fraction of the time of reading a date or a number again.
/// What is found was read from the same text by the same plan, so results do not depend on it.
class CellCache {
  public:
    explicit CellCache(std::size_t columns) : entries_(columns) {}

    /// A text of at most 16 bytes without a zero byte, as a pair of numbers.
    struct Key {
        std::uint64_t low = 0;
        std::uint64_t high = 0;
        bool operator==(const Key&) const = default;
        [[nodiscard]] bool usable() const { return low != 0; }
    };

    /// Not usable when the text is longer, or empty.
    /// @param readable  bytes that may be read from the start of `text` on
    static Key key_of(std::string_view text, std::size_t readable) {
        Key key;
        const std::size_t size = text.size();
        if (size == 0 || size > sizeof key.low + sizeof key.high) return key;
        if (readable >= 2 * word) {
            std::memcpy(&key.low, text.data(), word);
            std::memcpy(&key.high, text.data() + word, word);
            key.low &= first_bytes(size < word ? size : word);
            key.high &= first_bytes(size < word ? 0 : size - word);
        } else {
            std::array<char, 2 * word> padded{};
            std::memcpy(padded.data(), text.data(), size);
            std::memcpy(&key.low, padded.data(), word);
            std::memcpy(&key.high, padded.data() + word, word);
        }
        return key;
    }

    /// The value that this text had in this column before; null when it is not kept.
    [[nodiscard]] const CellValue* find(std::size_t column, const Key& key) const {
        const Entry& entry = entries_[column][place_of(key)];
        return entry.key == key && key.usable() ? &entry.value : nullptr;
    }

    void keep(std::size_t column, const Key& key, const CellValue& value) {
        if (key.usable()) entries_[column][place_of(key)] = {key, value};
    }

  private:
    static constexpr std::size_t word = sizeof(std::uint64_t);
    static constexpr unsigned place_bits = 8;
    struct Entry {
        Key key;
        CellValue value;
    };

    static std::uint64_t first_bytes(std::size_t count) {
        return count == word ? ~std::uint64_t{0} : (std::uint64_t{1} << (8 * count)) - 1;
    }

    // Multiplied by odd numbers without a pattern, every byte of the text moves the highest bits.
    static std::size_t place_of(const Key& key) {
        const std::uint64_t mixed =
            (key.low * 0x9E3779B97F4A7C15U) ^ (key.high * 0xC2B2AE3D27D4EB4FU);
        return mixed >> (64U - place_bits);
    }

    std::vector<std::array<Entry, std::size_t{1} << place_bits>> entries_;
};

}  // namespace lagline
