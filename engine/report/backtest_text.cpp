#include "report/backtest_text.h"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>

#include "blocks/number_text.h"
#include "diagnostics/text.h"
#include "report/cautions.h"

namespace lagline {
namespace {

constexpr std::size_t plot_columns = 61;
constexpr std::size_t plot_rows = 16;

std::string fixed(double value, int digits) {
    std::array<char, 32> text{};
    const auto end = std::to_chars(text.data(), text.data() + text.size(), value,
                                   std::chars_format::fixed, digits);
    return {text.data(), end.ptr};
}

std::string percent(double share) { return short_number(100.0 * share, 3) + " %"; }
std::string whole_percent(double share) { return exact_number(std::round(100.0 * share)) + " %"; }

const OrderGain& gain_of(const OrderGains& gains, OpeningOrder order) {
    return gains[static_cast<std::size_t>(order)];
}

std::string dates_table(const Backtest& test, const TextStyle& style) {
    std::vector<std::vector<std::string>> rows;
    for (const PastDate& date : test.dates) {
        const auto area = [&](OpeningOrder order) {
            return date.found == 0 ? std::string{"-"} : fixed(gain_of(date.gains, order).area, 3);
        };
        rows.push_back({to_string(date.at), to_string(date.until), std::to_string(date.ranked),
                        std::to_string(date.looked.size()), std::to_string(date.found),
                        area(plotted_order(test)), area(OpeningOrder::age),
                        area(OpeningOrder::temperature),
                        date.found == 0 ? "-" : fixed(date.best_area, 3)});
    }
    return text_table({{"ranked at", false, 0},
                       {"until", false, 0},
                       {"ranked", true, 0},
                       {"seen", true, 0},
                       {"findings", true, 0},
                       {"Lagline", true, 0},
                       {"age", true, 0},
                       {"temp.", true, 0},
                       {"best", true, 0}},
                      rows, style);
}

std::string orders_table(const Backtest& test, const TextStyle& style) {
    std::vector<std::vector<std::string>> rows;
    for (const OpeningOrder order : opening_orders) {
        const OrderGain& gain = gain_of(test.gains, order);
        if (gain.curve.empty()) continue;
        rows.push_back(
            {std::string{is_naive(order) ? "naive" : "Lagline"}, std::string{describe(order)},
             fixed(gain.area, 3), fixed(gain.area_error, 3), whole_percent(met_at(gain.curve, 0.1)),
             whole_percent(met_at(gain.curve, 0.2)), whole_percent(met_at(gain.curve, 0.5))});
    }
    rows.push_back({"", "best possible", fixed(test.best_area, 3), "", "", "", ""});
    rows.push_back({"", "at random", "0.500", "", "10 %", "20 %", "50 %"});
    return text_table({{"", false, 0},
                       {"opened first by", false, 0},
                       {"area", true, 0},
                       {"+/-", true, 0},
                       {"at 10 %", true, 0},
                       {"at 20 %", true, 0},
                       {"at 50 %", true, 0}},
                      rows, style);
}

using Canvas = std::vector<std::string>;

void draw(const OrderGain& gain, char mark, Canvas& canvas) {
    for (std::size_t x = 0; x < plot_columns; ++x) {
        const double opened = static_cast<double>(x) / (plot_columns - 1);
        const double met = met_at(gain.curve, opened);
        const auto up = static_cast<std::size_t>(std::lround(met * (plot_rows - 1)));
        canvas[plot_rows - 1 - up][x] = mark;
    }
}

// Later curves cover earlier ones, so Lagline's comes last.
std::string plot(const Backtest& test, const TextStyle& style) {
    Canvas canvas(plot_rows, std::string(plot_columns, ' '));
    for (std::size_t x = 0; x < plot_columns; x += 2) {
        canvas[plot_rows - 1 - x * (plot_rows - 1) / (plot_columns - 1)][x] = '.';
    }
    draw(gain_of(test.gains, OpeningOrder::temperature), '+', canvas);
    draw(gain_of(test.gains, OpeningOrder::age), 'o', canvas);
    draw(gain_of(test.gains, plotted_order(test)), '#', canvas);
    std::string text = "findings met\n";
    for (std::size_t row = 0; row < plot_rows; ++row) {
        const char* scale = row == 0               ? "100 % |"
                            : row == plot_rows / 2 ? " 50 % |"
                            : row + 1 == plot_rows ? "  0 % |"
                                                   : "      |";
        text += scale + canvas[row].substr(0, canvas[row].find_last_not_of(' ') + 1) + "\n";
    }
    text += "      +" + std::string(plot_columns, '-') + "\n";
    text += "       0 %" + std::string(24, ' ') + "50 %" + std::string(18, ' ') + "100 % opened\n";
    return text +
           wrapped("# Lagline, by " + std::string{describe(plotted_order(test))} +
                       "; o age; + temperature band; . at random",
                   style.width, 0) +
           "\n";
}

std::string calibration_table(const Backtest& test, const TextStyle& style) {
    std::vector<std::vector<std::string>> rows;
    for (const CalibrationBand& band : test.bands) {
        rows.push_back({percent(band.from) + " to " + percent(band.to), std::to_string(band.count),
                        percent(band.predicted), std::to_string(band.happened),
                        percent(band.observed()),
                        percent(band.interval.low) + " to " + percent(band.interval.high)});
    }
    return text_table({{"chance stated", false, 0},
                       {"segments", true, 0},
                       {"mean", true, 0},
                       {"findings", true, 0},
                       {"share", true, 0},
                       {"90 % interval", true, 0}},
                      rows, style);
}

std::string brier_lines(const Backtest& test, const TextStyle& style) {
    const BrierScore& brier = test.brier;
    const std::string skill = exact_number(std::round(100.0 * std::abs(brier.skill())));
    return wrapped("Brier score " + fixed(brier.score, 4) + ": reliability " +
                       fixed(brier.reliability, 4) + ", less resolution " +
                       fixed(brier.resolution, 4) + ", plus uncertainty " +
                       fixed(brier.uncertainty, 4) + ", within bands " + fixed(brier.within, 4) +
                       ". Stating the mean share for every segment would score " +
                       fixed(brier.uncertainty, 4) + ": the chances are " + skill + " % " +
                       (brier.skill() >= 0.0 ? "better" : "worse") + " than that.",
                   style.width, 0) +
           "\n";
}

std::string titled(std::string_view title, const TextStyle& style) {
    return "\n" + coloured(title, Tone::strong, style) + "\n";
}

}  // namespace

OpeningOrder plotted_order(const Backtest& test) {
    return test.cracking ? OpeningOrder::leak : OpeningOrder::chance;
}

std::string backtest_text(const Plant& plant, const RuleSet& rules, const Backtest& test,
                          const TextStyle& style) {
    std::string text = coloured(printable(plant.description.name), Tone::strong, style) + "\n";
    text += wrapped(
                "Rankings of the past, each by what was known on its day, held against what "
                "inspections found in the " +
                    counted(static_cast<std::size_t>(test.within_years), "year") + " after.",
                style.width, 0) +
            "\n";
    text += titled("Dates, and the area under the gain curve", style) + dates_table(test, style);
    if (test.found > 0) {
        text +=
            titled("Share of the findings met when 10, 20, 50 % of each list are opened", style);
        text += orders_table(test, style) + "\n" + plot(test, style);
    }
    if (!test.bands.empty()) {
        text += titled("Chance of a finding, as stated and as it came", style);
        text += calibration_table(test, style) + brier_lines(test, style);
    }
    text += titled("How to read this", style);
    for (const std::string& note : backtest_notes(test, rules)) {
        text += wrapped("- " + note, style.width, 2) + "\n";
    }
    return text + "\n" + coloured(wrapped(screening_caution, style.width, 0), Tone::quiet, style) +
           "\n";
}

}  // namespace lagline
