#include "report/svg_writer.h"

#include <array>
#include <charconv>
#include <cmath>

#include "diagnostics/text.h"

namespace lagline {

std::string xml_text(std::string_view text, std::size_t most) {
    std::string safe;
    for (const char c : printable(text, most)) {
        switch (c) {
            case '&':
                safe += "&amp;";
                break;
            case '<':
                safe += "&lt;";
                break;
            case '>':
                safe += "&gt;";
                break;
            case '"':
                safe += "&quot;";
                break;
            default:
                safe += c;
        }
    }
    // Two code points that UTF-8 can say and XML cannot.
    for (const std::string_view banned : {"\xEF\xBF\xBE", "\xEF\xBF\xBF"}) {
        for (auto at = safe.find(banned); at != std::string::npos; at = safe.find(banned)) {
            safe.replace(at, banned.size(), "?");
        }
    }
    return safe;
}

std::string pixels(double value) {
    std::array<char, 32> text{};
    const double rounded = std::round(value * 10.0) / 10.0 + 0.0;  // no "-0.0"
    const auto end =
        std::to_chars(text.data(), text.data() + text.size(), rounded, std::chars_format::fixed, 1)
            .ptr;
    std::string digits{text.data(), end};
    if (digits.ends_with(".0")) digits.resize(digits.size() - 2);
    return digits;
}

std::string power_of_ten(int exponent) {
    constexpr std::array<std::string_view, 10> raised{"\u2070", "\u00B9", "\u00B2", "\u00B3",
                                                      "\u2074", "\u2075", "\u2076", "\u2077",
                                                      "\u2078", "\u2079"};
    std::string text = exponent < 0 ? "10\u207B" : "10";
    for (const char digit : std::to_string(std::abs(exponent))) {
        text += raised[static_cast<std::size_t>(digit - '0')];
    }
    return text;
}

void SvgWriter::line(double x1, double y1, double x2, double y2, std::string_view attributes) {
    svg_ += "<line x1=\"" + pixels(x1) + "\" y1=\"" + pixels(y1) + "\" x2=\"" + pixels(x2) +
            "\" y2=\"" + pixels(y2) + "\"";
    svg_.append(attributes).append("/>\n");
}

void SvgWriter::rectangle(double x, double y, double width, double height,
                          std::string_view attributes) {
    svg_ += "<rect x=\"" + pixels(x) + "\" y=\"" + pixels(y) + "\" width=\"" + pixels(width) +
            "\" height=\"" + pixels(height) + "\"";
    svg_.append(attributes).append("/>\n");
}

void SvgWriter::polyline(const std::vector<std::pair<double, double>>& points,
                         std::string_view attributes) {
    svg_ += "<polyline points=\"";
    for (const auto& [x, y] : points) svg_ += pixels(x) + "," + pixels(y) + " ";
    svg_.back() = '"';
    svg_.append(attributes).append("/>\n");
}

void SvgWriter::circle(double x, double y, double radius, std::string_view attributes) {
    svg_ +=
        "<circle cx=\"" + pixels(x) + "\" cy=\"" + pixels(y) + "\" r=\"" + pixels(radius) + "\"";
    svg_.append(attributes).append("/>\n");
}

void SvgWriter::text(double x, double y, std::string_view text, std::string_view attributes) {
    svg_ += "<text x=\"" + pixels(x) + "\" y=\"" + pixels(y) + "\"";
    svg_.append(attributes).append(">").append(xml_text(text)).append("</text>\n");
}

}  // namespace lagline
