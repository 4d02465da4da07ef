#include <doctest/doctest.h>
#include <rapidjson/document.h>

#include <cmath>
#include <set>
#include <sstream>
#include <string>
#include <vector>

#include "diagnostics/text.h"
#include "ranking/matrix.h"
#include "report/cautions.h"
#include "report/log_axis.h"
#include "report/matrix_marks.h"
#include "report/matrix_svg.h"
#include "report/matrix_text.h"
#include "report/svg_writer.h"
#include "support/csv_records.h"
#include "support/rules.h"
#include "support/small_plant.h"

namespace lagline {
namespace {

std::size_t count_of(std::string_view text, std::string_view what) {
    std::size_t count = 0;
    for (auto at = text.find(what); at != std::string_view::npos; at = text.find(what, at + 1)) {
        ++count;
    }
    return count;
}

std::string without_colour(const std::string& text) {
    std::string bare;
    for (std::size_t i = 0; i < text.size(); ++i) {
        if (text[i] == '\x1b') {
            i = text.find('m', i);
        } else {
            bare += text[i];
        }
    }
    return bare;
}

struct Drawn {
    Plant plant;
    Ranking ranking;
    RiskMatrix matrix;

    explicit Drawn(Plant of)
        : plant(std::move(of)),
          ranking(rank(plant, published_rules())),
          matrix(risk_matrix(plant, published_rules(), ranking)) {}

    [[nodiscard]] std::string svg() const {
        return matrix_svg(plant, published_rules(), ranking, matrix);
    }
    [[nodiscard]] std::string table(const TextStyle& style, std::size_t worst = 3) const {
        return matrix_table(plant, published_rules(), ranking, matrix, worst, style);
    }
    [[nodiscard]] std::string csv() const {
        return matrix_csv(plant, published_rules(), ranking, matrix);
    }
};

SmallPlant three_segments() {
    return {
        .segments = {segment_cells("S-1", {{"consequence_category", ""},
                                           {"leak_cost", "125000 USD"},
                                           {"fluid_class", "toxic"}}),
                     segment_cells("S-2", {{"consequence_category", "E"},
                                           {"driver", "severe"},
                                           {"coating_quality", "none"},
                                           {"fluid_class", "hydrocarbon_gas"}}),
                     segment_cells("S-3", {{"consequence_category", ""}, {"leak_cost", "0 USD"}})}};
}

// Elements opened and closed in order, attributes quoted, no bare ampersand: what XML asks for and
// a browser would refuse.
void require_well_formed(const std::string& svg) {
    std::vector<std::string> open;
    std::size_t at = 0;
    while ((at = svg.find('<', at)) != std::string::npos) {
        const std::size_t end = svg.find('>', at);
        REQUIRE(end != std::string::npos);
        const std::string tag = svg.substr(at + 1, end - at - 1);
        if (tag.starts_with("!--") && tag.ends_with("--")) {  // a comment is no element
            at = end;
            continue;
        }
        REQUIRE(tag.find('<') == std::string::npos);
        REQUIRE(count_of(tag, "\"") % 2 == 0);
        if (tag.starts_with("/")) {
            REQUIRE_FALSE(open.empty());
            REQUIRE(open.back() == tag.substr(1));
            open.pop_back();
        } else if (!tag.ends_with("/")) {
            open.push_back(tag.substr(0, tag.find(' ')));
        }
        at = end;
    }
    REQUIRE(open.empty());
    for (auto amp = svg.find('&'); amp != std::string::npos; amp = svg.find('&', amp + 1)) {
        const std::string entity = svg.substr(amp, svg.find(';', amp) - amp + 1);
        REQUIRE(std::set<std::string>{"&amp;", "&lt;", "&gt;", "&quot;"}.contains(entity));
    }
}

TEST_CASE("the cells of the matrix hold every ranked segment once, and their risk") {
    const Drawn drawn{sample_plant(published_rules())};
    REQUIRE(drawn.matrix.cells.size() == 25);
    std::set<std::uint32_t> rows;
    double risk = 0.0;
    for (const MatrixCell& cell : drawn.matrix.cells) {
        double before = INFINITY;
        for (const std::uint32_t row : cell.rows) {
            CHECK(rows.insert(row).second);
            const auto at = static_cast<Eigen::Index>(row);
            CHECK(drawn.ranking.risk.risk_category[at] == cell.band);
            CHECK(drawn.ranking.risk.risk_per_year[at] <= before);
            before = drawn.ranking.risk.risk_per_year[at];
        }
        risk += cell.risk_per_year;
    }
    CHECK(rows.size() == drawn.ranking.order.size());
    double expected = 0.0;
    for (const std::uint32_t row : drawn.ranking.order) {
        expected += drawn.ranking.risk.risk_per_year[row];
    }
    CHECK(risk == doctest::Approx(expected).epsilon(1e-12));
}

TEST_CASE("hazards are counted by band; what is not recorded is said") {
    const Drawn drawn{assemble(three_segments(), published_rules())};
    const auto high = hazard_lines(published_rules(), drawn.matrix, 3);
    REQUIRE(high.size() == 1);
    CHECK(high[0].starts_with("In band high, 1 segment in flammable service: "));
    std::size_t all = 0;
    bool unknown = false;
    for (const HazardCount& each : drawn.matrix.hazards) {
        all += each.count;
        unknown = unknown || each.hazard.empty();
    }
    CHECK(all == 3);
    CHECK(unknown);
}

TEST_CASE("the table fits 80 columns, says each band in words, and colour adds nothing") {
    const Drawn drawn{sample_plant(published_rules())};
    for (const std::size_t width : {80U, 100U, 120U}) {
        CAPTURE(width);
        const std::string plain = drawn.table({.width = width, .colour = false});
        const std::string colours = drawn.table({.width = width, .colour = true});
        CHECK(plain.find('\x1b') == std::string::npos);
        CHECK(colours.find('\x1b') != std::string::npos);
        CHECK(without_colour(colours) == plain);
        std::istringstream lines{plain};
        for (std::string line; std::getline(lines, line);) CHECK(display_width(line) <= width);
        // Once a cell, in the cells' own lines.
        CHECK(count_of(plain, "medium_high") >= 6);
        CHECK(plain.find("to 3.06e-05") != std::string::npos);
        CHECK(plain.find(screening_caution.substr(0, 30)) != std::string::npos);
    }
    CHECK(drawn.table({.width = 80, .colour = false}, 0).find("Worst in high") ==
          std::string::npos);
    const std::string worst = drawn.table({.width = 80, .colour = false}, 1);
    const auto first = drawn.plant.segments.texts(
        SegmentField::segment)[drawn.ranking.segment_rows[drawn.ranking.order.front()]];
    CHECK(worst.find(std::string{first}) != std::string::npos);
}

TEST_CASE("CSV and JSON say the same of each cell") {
    const Drawn drawn{assemble(three_segments(), published_rules())};
    const auto records = csv_records(drawn.csv());
    REQUIRE(records.size() == 26);
    rapidjson::Document json;
    const std::string text =
        matrix_json(drawn.plant, published_rules(), drawn.ranking, drawn.matrix, 3);
    json.Parse(text.c_str());
    REQUIRE_FALSE(json.HasParseError());
    REQUIRE(json["cells"].Size() == 25);
    for (rapidjson::SizeType i = 0; i < 25; ++i) {
        const auto& cell = json["cells"][i];
        const auto& record = records[i + 1];
        CHECK(cell["probability_category"].GetString() == record[0]);
        CHECK(cell["consequence_category"].GetString() == record[3]);
        CHECK(cell["risk_category"].GetString() == record[6]);
        CHECK(std::to_string(cell["segments"].GetInt()) == record[7]);
        CHECK(cell.HasMember("cost_upto") == !record[5].empty());
        CHECK(cell["worst"].Size() == cell["segments"].GetUint());
    }
    // The last column has no upper limit, the first no lower one.
    CHECK(records[5][5].empty());
    CHECK(records[1][4].empty());
}

TEST_CASE("the drawing is well-formed, has no script, and escapes what comes from the plant") {
    SmallPlant small = three_segments();
    small.description.name = "<script>alert(\"x\")</script> & Sons \x1b[2J \xEF\xBF\xBF";
    small.segments.push_back(segment_cells("<b>&\"'", {}));
    small.description.criteria.risk_per_year = 20000.0;
    small.description.criteria.probability_per_year = 1e-3;
    const std::string svg = Drawn{assemble(small, published_rules())}.svg();
    require_well_formed(svg);
    CHECK(svg.starts_with("<svg xmlns=\"http://www.w3.org/2000/svg\""));
    CHECK(count_of(svg, "<script") == 0);
    CHECK(count_of(svg, "&lt;script&gt;") == 2);  // title of the document and of the drawing
    CHECK(svg.find("&lt;b&gt;&amp;&quot;'") != std::string::npos);
    CHECK(svg.find('\x1b') == std::string::npos);
    CHECK(svg.find("\xEF\xBF\xBF") == std::string::npos);
    CHECK(count_of(svg, "href") + count_of(svg, "url(") + count_of(svg, "@import") == 0);
}

TEST_CASE(
    "one mark a segment, with what it stands for; the criteria only where the site has some") {
    SmallPlant small = three_segments();
    const std::string without = Drawn{assemble(small, published_rules())}.svg();
    CHECK(count_of(without, "<title>") == 1 + 3);
    CHECK(without.find("<title>S-1: ") != std::string::npos);
    CHECK(without.find("125k USD") != std::string::npos);
    CHECK(without.find("criterion") == std::string::npos);
    CHECK(without.find("drawn at the edge: 1 segment") != std::string::npos);  // a cost of 0
    small.description.criteria.risk_per_year = 20000.0;
    small.description.criteria.probability_per_year = 1e-3;
    const std::string with = Drawn{assemble(small, published_rules())}.svg();
    CHECK(with.find("criterion 20k USD/y") != std::string::npos);
    CHECK(with.find("criterion 0.001 a year") != std::string::npos);
    CHECK(with == Drawn{assemble(small, published_rules())}.svg());
}

TEST_CASE("many segments are counted in squares: nothing is lost, and the drawing stays small") {
    SmallPlant small;
    for (int i = 0; i < 2600; ++i) {
        small.segments.push_back(segment_cells(
            "S-" + std::to_string(i), {{"consequence_category", ""},
                                       {"leak_cost", std::to_string(1000 + i * 977) + " USD"},
                                       {"in_service", std::to_string(1970 + i % 50)},
                                       {"coating_date", ""}}));
    }
    const Drawn drawn{assemble(small, published_rules())};
    REQUIRE(drawn.ranking.order.size() > most_single_marks);
    LogAxis cost{.begin_px = 0, .end_px = 800};
    LogAxis probability{.begin_px = 600, .end_px = 0};
    cost.first = 3;
    cost.last = 7;
    probability.first = -7;
    probability.last = 0;
    const auto marks = plot_marks(drawn.ranking, cost, probability);
    std::size_t sum = 0;
    for (const PlotMark& mark : marks) {
        sum += mark.count;
        CHECK(drawn.ranking.risk.risk_category[mark.worst] == mark.band);
    }
    CHECK(sum == drawn.ranking.order.size());
    CHECK(marks.size() < sum);
    const std::string svg = drawn.svg();
    require_well_formed(svg);
    CHECK(svg.size() < 600'000);
    CHECK(svg.find("Segments of a mark") != std::string::npos);
}

TEST_CASE("lines of equal risk: every point of the axes' product, decade by decade") {
    LogAxis cost{.first = 3, .last = 8, .begin_px = 100, .end_px = 600};
    CHECK(cost.at(1e3) == 100.0);
    CHECK(cost.at(1e8) == 600.0);
    CHECK(cost.at(1e5) == doctest::Approx(300.0).epsilon(1e-12));
    CHECK(cost.at(0.0) == 100.0);
    CHECK(cost.at(1e12) == 600.0);
    LogAxis probability{.first = -6, .last = 0, .begin_px = 700, .end_px = 100};
    // Along probability x cost = 1000 a year the drop is a decade a decade: a straight line.
    for (const double c : {1e3, 1e4, 1e5, 1e6}) {
        CHECK(probability.at(1000.0 / c) - probability.at(1.0) ==
              doctest::Approx(100.0 * (std::log10(c) - 3.0)).epsilon(1e-12));
    }
}

TEST_CASE("the axes hold limits and values, and leave out what is far below") {
    LogAxis axis;
    const std::vector<double> limits{1e4, 1e5, 1e6, 1e7, INFINITY};
    choose_decades(axis, limits, std::vector<double>{5e8, 2.0, 0.0}, 9);
    CHECK(axis.first == 0);
    CHECK(axis.last == 9);
    choose_decades(axis, limits, std::vector<double>{1e-9}, 9);
    CHECK(axis.first == -1);
    CHECK(axis.last == 8);
    choose_decades(axis, limits, {}, 9);
    CHECK(axis.first == 3);
    CHECK(axis.last == 8);
}

TEST_CASE("the four highest bands differ in colour and shape") {
    std::set<std::string_view> colours;
    std::set<int> shapes;
    for (std::size_t band = 0; band < 4; ++band) {
        colours.insert(look_of_band(band, 4).colour);
        shapes.insert(look_of_band(band, 4).shape);
    }
    CHECK(colours.size() == 4);
    CHECK(shapes.size() == 4);
    CHECK(look_of_band(4, 5).shape == look_of_band(3, 4).shape);
    CHECK(look_of_band(0, 5).shape == look_of_band(0, 4).shape);
}

TEST_CASE("pixels and powers of ten") {
    CHECK(pixels(12.0) == "12");
    CHECK(pixels(12.34) == "12.3");
    CHECK(pixels(-0.01) == "0");
    CHECK(power_of_ten(-12) == "10\u207B\u00B9\u00B2");
    CHECK(power_of_ten(0) == "10\u2070");
}

}  // namespace
}  // namespace lagline
