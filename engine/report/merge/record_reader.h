#pragma once

#include <cstddef>
#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "report/merge/part_file.h"

namespace lagline {

/// Records of a CSV (RFC 4180) in a stretch of a file, one after the other; lines without anything
/// are left out.  Only a piece of the file is in memory.
class RecordReader {
  public:
    /// @param begin         first byte of a record, in line `line`
    /// @param end           one past the stretch
    /// @param buffer_bytes  how much is read at a time; more for a longer record
    RecordReader(const PartFile& file, std::uint64_t begin, std::uint64_t end, std::uint32_t line,
                 std::size_t buffer_bytes);

    /// Goes to the next record.  False at the end, and at a record that has none: see broken().
    /// @throws std::runtime_error  as PartFile::read()
    bool next();
    /// The record without its line end; until the next call of next().
    [[nodiscard]] std::string_view record() const { return record_; }
    [[nodiscard]] std::uint64_t offset() const { return offset_; }
    [[nodiscard]] std::uint32_t line() const { return line_; }
    /// One past the record and its line end.
    [[nodiscard]] std::uint64_t next_offset() const { return buffer_at_ + used_; }
    [[nodiscard]] std::uint32_t next_line() const { return next_line_; }
    /// Why there is no end of the record at offset(): a quote that is never closed, or no line end
    /// for longer than any row of a ranking; empty when all was read.
    [[nodiscard]] std::string_view broken() const { return broken_; }

  private:
    /// One past the line end of the record that starts at used_; 0 when more must be read.
    std::size_t find_end();
    bool refill();

    const PartFile* file_;
    std::uint64_t end_;
    std::size_t step_;
    std::vector<char> buffer_;
    std::uint64_t buffer_at_ = 0;  ///< byte of the file that buffer_ starts at
    std::size_t filled_ = 0;       ///< bytes in buffer_
    std::size_t used_ = 0;         ///< bytes of buffer_ that have been given
    std::size_t searched_ = 0;     ///< no line end outside quotes before it
    bool quoted_ = false;          ///< at searched_
    std::string_view record_;
    std::uint64_t offset_ = 0;
    std::uint32_t line_ = 0;
    std::uint32_t next_line_;
    std::string_view broken_;
};

}  // namespace lagline
