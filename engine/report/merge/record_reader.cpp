#include "report/merge/record_reader.h"

#include <algorithm>
#include <cstring>

namespace lagline {
namespace {

// A row of a ranking has some hundred numbers and four names.
constexpr std::size_t most_record_bytes = std::size_t{1} << 24U;

std::string_view without_line_end(std::string_view record) {
    if (record.ends_with('\n')) record.remove_suffix(1);
    if (record.ends_with('\r')) record.remove_suffix(1);
    return record;
}

}  // namespace

RecordReader::RecordReader(const PartFile& file, std::uint64_t begin, std::uint64_t end,
                           std::uint32_t line, std::size_t buffer_bytes)
    : file_(&file), end_(end), step_(buffer_bytes), buffer_at_(begin), next_line_(line) {}

bool RecordReader::next() {
    while (broken_.empty()) {
        std::size_t after = find_end();
        if (after == 0) {
            if (filled_ - used_ > most_record_bytes) {
                broken_ = "no line end for longer than any row of a ranking";
            }
            if (broken_.empty() && refill()) continue;
            after = filled_;  // the last line has no end
            if (quoted_) broken_ = "a quote that is never closed";
        }
        offset_ = next_offset();
        line_ = next_line_;
        if (used_ == after && broken_.empty()) return false;
        const std::string_view whole{buffer_.data() + used_, after - used_};
        next_line_ += static_cast<std::uint32_t>(std::ranges::count(whole, '\n'));
        record_ = without_line_end(whole);
        used_ = searched_ = after;
        if (broken_.empty() && !record_.empty()) return true;
    }
    return false;
}

std::size_t RecordReader::find_end() {
    const char* bytes = buffer_.data();
    while (searched_ < filled_) {
        const char* from = bytes + searched_;
        const void* found = std::memchr(from, '\n', filled_ - searched_);
        const std::size_t line_end =
            found == nullptr
                ? filled_
                : static_cast<std::size_t>(static_cast<const char*>(found) - bytes) + 1;
        // Within a quoted cell a line may end; two quotes for one change nothing.
        const std::string_view line{from, line_end - searched_};
        if (line.find('"') != std::string_view::npos) {
            quoted_ ^= std::ranges::count(line, '"') % 2 != 0;
        }
        searched_ = line_end;
        if (found != nullptr && !quoted_) return line_end;
    }
    return 0;
}

// Moves what is not yet used to the front and reads on behind it; false at the end.
bool RecordReader::refill() {
    const std::uint64_t left = end_ - (buffer_at_ + filled_);
    if (left == 0) return false;
    const std::size_t kept = filled_ - used_;
    if (kept > 0) std::memmove(buffer_.data(), buffer_.data() + used_, kept);
    buffer_at_ += used_;
    searched_ -= used_;
    used_ = 0;
    if (buffer_.size() < kept + step_) buffer_.resize(kept + step_);
    const std::uint64_t room = buffer_.size() - kept;
    filled_ = kept + file_->read(buffer_at_ + kept, buffer_.data() + kept, std::min(left, room));
    return filled_ > kept;
}

}  // namespace lagline
