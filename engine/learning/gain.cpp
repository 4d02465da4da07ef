#include "learning/gain.h"

#include <algorithm>
#include <functional>

namespace lagline {

std::vector<GainPoint> gain_curve(std::vector<Looked> cases) {
    const auto findings = static_cast<double>(std::ranges::count(cases, true, &Looked::found));
    if (findings == 0.0) return {};
    std::ranges::sort(cases, std::greater<>{}, &Looked::score);
    const auto all = static_cast<double>(cases.size());
    std::vector<GainPoint> curve{{0.0, 0.0}};
    std::size_t met = 0;
    for (std::size_t i = 0; i < cases.size(); ++i) {
        met += cases[i].found ? 1U : 0U;
        const bool tied = i + 1 < cases.size() && cases[i + 1].score == cases[i].score;
        if (tied) continue;
        curve.push_back({static_cast<double>(i + 1) / all, static_cast<double>(met) / findings});
    }
    return curve;
}

double area_under(std::span<const GainPoint> curve) {
    double area = 0.0;
    for (std::size_t i = 1; i < curve.size(); ++i) {
        area += (curve[i].opened - curve[i - 1].opened) * (curve[i].met + curve[i - 1].met) / 2.0;
    }
    return area;
}

double best_area(double found_share) { return 1.0 - found_share / 2.0; }

double met_at(std::span<const GainPoint> curve, double opened) {
    for (std::size_t i = 1; i < curve.size(); ++i) {
        if (opened > curve[i].opened) continue;
        const double along =
            (opened - curve[i - 1].opened) / (curve[i].opened - curve[i - 1].opened);
        return curve[i - 1].met + along * (curve[i].met - curve[i - 1].met);
    }
    return curve.empty() ? 0.0 : 1.0;
}

}  // namespace lagline
