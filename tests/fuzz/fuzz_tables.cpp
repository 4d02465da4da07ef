// The tables of a plant folder as CSV: segments, inspections, turnarounds and overrides, apart by
// lines "====".  What loads is ranked.
#include <array>
#include <cmath>

#include "fuzz_input.h"
#include "intake/load_plant.h"
#include "intake/source_file.h"
#include "ranking/ranking.h"
#include "support/rules.h"

namespace lagline {
namespace {

constexpr std::string_view border = "====\n";

/// Takes the text up to the next border off `text`; nothing when there is none left.
std::optional<SourceText> next_table(std::string_view& text, const char* name, Report& report) {
    if (text.empty()) return std::nullopt;
    const std::size_t end = text.find(border);
    const std::string table{text.substr(0, end)};
    text = end == text.npos ? std::string_view{} : text.substr(end + border.size());
    return source_from_text(table, name, report);
}

void must_rank(const Plant& plant) {
    const Ranking ranking = rank(plant, extended_rules(), {.block_rows = 64, .threads = 1});
    must_hold(ranking.order.size() <= ranking.rows(), "each row has one rank at most");
    for (const std::uint32_t row : ranking.order) {
        const auto at = static_cast<Eigen::Index>(row);
        const double risk = ranking.risk.risk_per_year[at];
        must_hold(std::isfinite(risk) && risk >= 0.0, "a risk is a number");
        const double probability = ranking.likelihood.probability_of_failure_per_year[at];
        must_hold(probability >= 0.0 && probability <= 1.0, "a probability is one");
    }
}

void try_tables(std::string_view text) {
    Report report;
    PlantSources sources;
    sources.file.description.exchange["USD"] = 0.9;
    sources.file.description.currency = "EUR";
    sources.segments = next_table(text, "segments.csv", report);
    sources.inspections = next_table(text, "inspections.csv", report);
    sources.turnarounds = next_table(text, "turnarounds.csv", report);
    sources.overrides = next_table(text, "overrides.csv", report);
    const Date at = make_date(2027, 4, 5);
    LoadedPlant loaded =
        assemble_plant(std::move(sources), extended_rules(),
                       {at, at, {.block_rows = 64, .threads = 1}}, std::move(report));
    loaded.report.sort();
    must_be_told(loaded.report, !loaded.plant);
    if (loaded.plant) must_rank(*loaded.plant);
}

}  // namespace
}  // namespace lagline

// NOLINTNEXTLINE(readability-identifier-naming): the name that libFuzzer calls
extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    lagline::try_tables(lagline::text_of(data, size));
    return 0;
}
