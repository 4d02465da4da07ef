#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "workbook/workbook_parts.h"

namespace lagline {

/// Texts one after the other in one piece of memory.
class TextList {
  public:
    [[nodiscard]] std::size_t size() const { return ends_.size(); }
    [[nodiscard]] std::size_t bytes() const { return all_.size(); }
    [[nodiscard]] std::string_view operator[](std::size_t i) const;
    void add(std::string_view text);

  private:
    std::string all_;
    std::vector<std::uint64_t> ends_;
};

/// The text of a string item (a cell's own or a shared one) out of its elements: that of its runs,
/// without the reading aid of East Asian scripts.
class StringItem {
  public:
    void clear();
    void start(std::string_view name);
    void end(std::string_view name);
    void text(std::string_view piece) {
        if (in_text_) text_ += piece;
    }
    /// With "_x000D_" and its like decoded.
    [[nodiscard]] std::string take();
    [[nodiscard]] std::size_t bytes() const { return text_.size(); }

  private:
    std::string text_;
    bool in_text_ = false;
    std::size_t aside_ = 0;  ///< depth of reading aids
};

/// "_x000D_" stands for a character that XML cannot hold; "_x005F_" for an underscore before it.
[[nodiscard]] std::string without_escapes(std::string_view text);

/// The reverse: a text that holds what looks like an escape, so that it is read as it stands.
[[nodiscard]] std::string with_escapes(std::string_view text);

/// The texts that cells share.
[[nodiscard]] std::optional<WorkbookFault> read_shared_texts(const PartReading& with,
                                                             const std::string& part,
                                                             TextList& into);

/// What is said of too much text.
[[nodiscard]] WorkbookFault too_much_text(const WorkbookLimits& limits);

}  // namespace lagline
