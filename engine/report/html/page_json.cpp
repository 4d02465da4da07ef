#include "report/html/page_json.h"

#include <algorithm>
#include <cmath>
#include <map>

namespace lagline {

std::string number_cell(double value, int digits) {
    return std::isfinite(value) ? short_number(value, digits) : "null";
}

std::string text_cell(std::string_view text) {
    PageJson json;
    json.text(text);
    return json.take();
}

void write_column(PageJson& json, std::string_view key, const std::vector<std::string>& cells) {
    json.key(key);
    const bool same = cells.size() > 1 && std::ranges::all_of(cells, [&](const std::string& each) {
                          return each == cells.front();
                      });
    if (same) {
        json.begin_object();
        json.key("all");
        json.raw(cells.front());
        json.end_object();
        return;
    }
    json.begin_array();
    for (const std::string& cell : cells) json.raw(cell);
    json.end_array();
}

void write_texts(PageJson& json, std::string_view key, const std::vector<std::string_view>& texts) {
    std::map<std::string_view, std::size_t> codes;
    for (const std::string_view text : texts) codes.emplace(text, 0);
    json.key(key);
    if (2 * codes.size() > texts.size()) {
        json.begin_array();
        for (const std::string_view text : texts) json.text(text);
        json.end_array();
        return;
    }
    json.begin_object();
    json.key("words");
    json.begin_array();
    std::size_t next = 0;
    for (auto& [text, code] : codes) {
        code = next++;
        json.text(text);
    }
    json.end_array();
    json.key("codes");
    json.begin_array();
    for (const std::string_view text : texts) json.count(codes.at(text));
    json.end_array();
    json.end_object();
}

std::uint32_t SharedPieces::number_of(const std::string& piece) {
    const auto [found, fresh] =
        numbers_.try_emplace(piece, static_cast<std::uint32_t>(pieces_.size()));
    if (fresh) pieces_.push_back(&found->first);
    return found->second;
}

void SharedPieces::write(PageJson& json, std::string_view key) const {
    json.key(key);
    json.begin_array();
    for (const std::string* piece : pieces_) json.raw(*piece);
    json.end_array();
}

std::string script_safe(std::string_view json) {
    std::string safe;
    safe.reserve(json.size() + json.size() / 64);
    for (std::size_t i = 0; i < json.size(); ++i) {
        const char each = json[i];
        const std::string_view three = json.substr(i, 3);
        if (each == '<') {
            safe += "\\u003c";
        } else if (each == '>') {
            safe += "\\u003e";
        } else if (each == '&') {
            safe += "\\u0026";
        } else if (three == "\u2028" || three == "\u2029") {
            safe += three == "\u2028" ? "\\u2028" : "\\u2029";
            i += 2;
        } else {
            safe += each;
        }
    }
    return safe;
}

}  // namespace lagline
