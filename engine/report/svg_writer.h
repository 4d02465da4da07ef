#pragma once

#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace lagline {

/// `text` for XML: & < > and quotes escaped, control characters shown as \xNN, cut to `most`
/// characters.
[[nodiscard]] std::string xml_text(std::string_view text, std::size_t most = 200);

/// Pixels with one decimal, "12.5", the same on every run.
[[nodiscard]] std::string pixels(double value);

/// 10 to a whole power with a raised exponent, as it is printed.
[[nodiscard]] std::string power_of_ten(int exponent);

/// Writes the elements of an SVG drawing, one a line.
class SvgWriter {
  public:
    /// attributes: " fill=\"none\"", or nothing.  Colours and the like come from the program, never
    /// from input.
    void line(double x1, double y1, double x2, double y2, std::string_view attributes);
    void rectangle(double x, double y, double width, double height, std::string_view attributes);
    void text(double x, double y, std::string_view text, std::string_view attributes = "");
    /// Straight lines from point to point, each {x, y}.
    void polyline(const std::vector<std::pair<double, double>>& points,
                  std::string_view attributes);
    void circle(double x, double y, double radius, std::string_view attributes);
    /// Markup as it stands.
    void raw(std::string_view markup) { svg_ += markup; }

    [[nodiscard]] std::string take() { return std::move(svg_); }

  private:
    std::string svg_;
};

}  // namespace lagline
