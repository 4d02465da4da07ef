#include "workbook/shared_texts.h"

#include <charconv>
#include <system_error>

namespace lagline {
namespace {

constexpr std::size_t escape_size = 7;  // _xHHHH_

// The code of an escape that `text` starts with.
std::optional<std::uint32_t> escape_at(std::string_view text) {
    if (text.size() < escape_size || !text.starts_with("_x") || text[escape_size - 1] != '_') {
        return std::nullopt;
    }
    std::uint32_t code = 0;
    const auto [at, error] = std::from_chars(text.data() + 2, text.data() + 6, code, 16);
    if (error != std::errc{} || at != text.data() + 6) return std::nullopt;
    return code;
}

// A half of a surrogate pair or a zero is no character; it stays as it is written.
bool is_character(std::uint32_t code) { return code != 0 && (code < 0xD800 || code > 0xDFFF); }

void append_utf8(std::string& text, std::uint32_t code) {
    const auto add = [&text](std::uint32_t byte) { text += static_cast<char>(byte); };
    if (code < 0x80) return add(code);
    if (code < 0x800) {
        add(0xC0U | (code >> 6U));
    } else {
        add(0xE0U | (code >> 12U));
        add(0x80U | ((code >> 6U) & 0x3FU));
    }
    add(0x80U | (code & 0x3FU));
}

class SharedTextHandler : public XmlHandler {
  public:
    SharedTextHandler(const WorkbookLimits& limits, TextList& into)
        : limits_(limits), into_(into) {}

    void start(std::string_view name, const XmlAttributes& /*attributes*/) override {
        if (name == "si") item_.clear();
        item_.start(name);
    }
    void end(std::string_view name) override {
        item_.end(name);
        if (name != "si") return;
        if (into_.size() >= limits_.entries) {
            return refuse(
                too_much("more than " + std::to_string(limits_.entries) + " texts", "fewer"));
        }
        into_.add(item_.take());
    }
    void text(std::string_view piece) override {
        item_.text(piece);
        if (into_.bytes() + item_.bytes() > limits_.text_bytes) refuse(too_much_text(limits_));
    }

  private:
    const WorkbookLimits& limits_;
    TextList& into_;
    StringItem item_;
};

}  // namespace

std::string_view TextList::operator[](std::size_t i) const {
    const std::size_t begin = i == 0 ? 0 : ends_[i - 1];
    return std::string_view{all_}.substr(begin, ends_[i] - begin);
}

void TextList::add(std::string_view text) {
    all_ += text;
    ends_.push_back(all_.size());
}

void StringItem::clear() {
    text_.clear();
    in_text_ = false;
    aside_ = 0;
}

void StringItem::start(std::string_view name) {
    if (name == "rPh") ++aside_;
    if (name == "t" && aside_ == 0) in_text_ = true;
}

void StringItem::end(std::string_view name) {
    if (name == "rPh" && aside_ > 0) --aside_;
    if (name == "t") in_text_ = false;
}

std::string StringItem::take() {
    std::string taken = without_escapes(text_);
    clear();
    return taken;
}

std::string without_escapes(std::string_view text) {
    std::string plain;
    plain.reserve(text.size());
    while (!text.empty()) {
        const auto escape = text.find("_x");
        plain += text.substr(0, escape);
        if (escape == std::string_view::npos) break;
        text.remove_prefix(escape);
        const auto code = escape_at(text);
        if (code && is_character(*code)) {
            append_utf8(plain, *code);
            text.remove_prefix(escape_size);
        } else {
            plain += text.front();
            text.remove_prefix(1);
        }
    }
    return plain;
}

std::string with_escapes(std::string_view text) {
    std::string escaped;
    for (std::size_t at = 0; at < text.size(); ++at) {
        if (escape_at(text.substr(at))) escaped += "_x005F";
        escaped += text[at];
    }
    return escaped;
}

std::optional<WorkbookFault> read_shared_texts(const PartReading& with, const std::string& part,
                                               TextList& into) {
    SharedTextHandler handler{with.limits, into};
    return parse_part(with.archive, part, with.limits, handler);
}

WorkbookFault too_much_text(const WorkbookLimits& limits) {
    return too_much("more than " + std::to_string(limits.text_bytes >> 20) + " MiB of text",
                    "at most that");
}

}  // namespace lagline
