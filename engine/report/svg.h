#pragma once

#include <array>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace lagline {

/// A point of a drawing, in its own units, from the left and from the top.
struct SvgPoint {
    double x = 0.0;
    double y = 0.0;
};

/// Eight colours that people of every colour vision tell apart on white.
/// @source Okabe & Ito (2008), Color universal design; yellow darkened to be seen on white
inline constexpr std::array<std::string_view, 8> told_apart_colours{
    "#0072b2", "#d55e00", "#009e73", "#cc79a7", "#e69f00", "#56b4e9", "#a08a00", "#000000"};

/// How a line is drawn.
struct SvgStroke {
    std::string_view colour = "#000000";
    double width = 1.0;
    std::string_view dash;  ///< "6 3"; empty for a solid line
};

/// Writes a self-contained picture: no script, nothing from outside, all text escaped, numbers with
/// two decimals so that the bytes do not hang on the last bit of a logarithm.
class SvgWriter {
  public:
    /// @param title, description  read out by screen readers
    SvgWriter(double width, double height, std::string_view title, std::string_view description);

    void line(SvgPoint from, SvgPoint to, const SvgStroke& stroke);
    void polyline(const std::vector<SvgPoint>& points, const SvgStroke& stroke);
    void rectangle(SvgPoint corner, double width, double height, std::string_view fill,
                   std::string_view edge = {});
    void circle(SvgPoint centre, double radius, std::string_view fill, std::string_view edge = {});
    /// A closed shape.
    void polygon(const std::vector<SvgPoint>& points, std::string_view fill,
                 std::string_view edge = {});
    enum class Anchor { start, middle, end };
    void text(SvgPoint at, std::string_view text, Anchor anchor = Anchor::start, double size = 12.0,
              std::string_view colour = "#222222", bool strong = false);
    /// Text that runs upwards, for the title of a vertical axis.
    void text_upwards(SvgPoint at, std::string_view text, double size = 12.0);

    [[nodiscard]] std::string take();

  private:
    void number(std::string_view name, double value);
    void stroke(const SvgStroke& stroke);
    void fill(std::string_view fill, std::string_view edge);
    void points(const std::vector<SvgPoint>& points);

    std::string svg_;
};

/// Text as XML: & < > " ' replaced, control characters left out.
[[nodiscard]] std::string xml_text(std::string_view text);

}  // namespace lagline
