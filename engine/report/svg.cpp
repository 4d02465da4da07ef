#include "report/svg.h"

#include <charconv>
#include <cmath>

namespace lagline {
namespace {

std::string two_decimals(double value) {
    constexpr double hundredths = 100.0;
    const double rounded = std::round(value * hundredths) / hundredths + 0.0;  // no "-0"
    std::array<char, 32> digits{};
    const auto end = std::to_chars(digits.data(), digits.data() + digits.size(), rounded,
                                   std::chars_format::fixed, 2);
    std::string text{digits.data(), end.ptr};
    text.erase(text.find_last_not_of('0') + 1);
    if (text.ends_with('.')) text.pop_back();
    return text;
}

}  // namespace

std::string xml_text(std::string_view text) {
    std::string escaped;
    for (const char c : text) {
        switch (c) {
            case '&':
                escaped += "&amp;";
                break;
            case '<':
                escaped += "&lt;";
                break;
            case '>':
                escaped += "&gt;";
                break;
            case '"':
                escaped += "&quot;";
                break;
            case '\'':
                escaped += "&#39;";
                break;
            default:
                if (static_cast<unsigned char>(c) >= 0x20) escaped += c;
        }
    }
    return escaped;
}

SvgWriter::SvgWriter(double width, double height, std::string_view title,
                     std::string_view description) {
    const std::string size = two_decimals(width) + " " + two_decimals(height);
    svg_ = "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 " + size + "\" width=\"" +
           two_decimals(width) + "\" height=\"" + two_decimals(height) +
           "\" role=\"img\" font-family=\"sans-serif\">\n<title>" + xml_text(title) +
           "</title>\n<desc>" + xml_text(description) + "</desc>\n";
    rectangle({0.0, 0.0}, width, height, "#ffffff");
}

void SvgWriter::number(std::string_view name, double value) {
    svg_ += " ";
    svg_ += name;
    svg_ += "=\"" + two_decimals(value) + "\"";
}

void SvgWriter::stroke(const SvgStroke& stroke) {
    svg_ += " stroke=\"" + xml_text(stroke.colour) + "\"";
    number("stroke-width", stroke.width);
    if (!stroke.dash.empty()) svg_ += " stroke-dasharray=\"" + xml_text(stroke.dash) + "\"";
}

void SvgWriter::fill(std::string_view fill, std::string_view edge) {
    svg_ += " fill=\"" + xml_text(fill) + "\"";
    if (!edge.empty()) svg_ += " stroke=\"" + xml_text(edge) + "\"";
}

void SvgWriter::points(const std::vector<SvgPoint>& points) {
    svg_ += " points=\"";
    for (std::size_t i = 0; i < points.size(); ++i) {
        if (i > 0) svg_ += " ";
        svg_ += two_decimals(points[i].x) + "," + two_decimals(points[i].y);
    }
    svg_ += "\"";
}

void SvgWriter::line(SvgPoint from, SvgPoint to, const SvgStroke& style) {
    svg_ += "<line";
    number("x1", from.x);
    number("y1", from.y);
    number("x2", to.x);
    number("y2", to.y);
    stroke(style);
    svg_ += "/>\n";
}

void SvgWriter::polyline(const std::vector<SvgPoint>& along, const SvgStroke& style) {
    svg_ += "<polyline fill=\"none\"";
    points(along);
    stroke(style);
    svg_ += "/>\n";
}

void SvgWriter::rectangle(SvgPoint corner, double width, double height, std::string_view inside,
                          std::string_view edge) {
    svg_ += "<rect";
    number("x", corner.x);
    number("y", corner.y);
    number("width", width);
    number("height", height);
    fill(inside, edge);
    svg_ += "/>\n";
}

void SvgWriter::circle(SvgPoint centre, double radius, std::string_view inside,
                       std::string_view edge) {
    svg_ += "<circle";
    number("cx", centre.x);
    number("cy", centre.y);
    number("r", radius);
    fill(inside, edge);
    svg_ += "/>\n";
}

void SvgWriter::polygon(const std::vector<SvgPoint>& around, std::string_view inside,
                        std::string_view edge) {
    svg_ += "<polygon";
    points(around);
    fill(inside, edge);
    svg_ += "/>\n";
}

void SvgWriter::text(SvgPoint at, std::string_view text, Anchor anchor, double size,
                     std::string_view colour, bool strong) {
    svg_ += "<text";
    number("x", at.x);
    number("y", at.y);
    number("font-size", size);
    if (anchor == Anchor::middle) svg_ += " text-anchor=\"middle\"";
    if (anchor == Anchor::end) svg_ += " text-anchor=\"end\"";
    if (strong) svg_ += " font-weight=\"bold\"";
    svg_ += " fill=\"" + xml_text(colour) + "\">" + xml_text(text) + "</text>\n";
}

void SvgWriter::text_upwards(SvgPoint at, std::string_view text, double size) {
    svg_ += "<text text-anchor=\"middle\"";
    number("font-size", size);
    svg_ += " fill=\"#222222\" transform=\"translate(" + two_decimals(at.x) + " " +
            two_decimals(at.y) + ") rotate(-90)\">" + xml_text(text) + "</text>\n";
}

std::string SvgWriter::take() { return std::exchange(svg_, {}) + "</svg>\n"; }

}  // namespace lagline
