#include "kernel_sample.h"

#include <stdexcept>
#include <string>
#include <utility>

#include "intake/load_plant.h"
#include "intake/source_file.h"
#include "support/rules.h"
#include "support/temp_folder.h"
#include "synthesis/synthesis.h"

namespace lagline::bench {
namespace {

constexpr std::size_t sample_segments = 100000;

Sample made_sample() {
    Sample made{invented_plant(sample_segments), {}, 0};
    made.ranking = rank(made.plant, published_rules());
    made.wall_rows = made.ranking.mechanism_rows.wall_loss;
    return made;
}

}  // namespace

Plant invented_plant(std::size_t segments) {
    SyntheticPlant files = synthesise({.segments = segments, .inspections = 0, .seed = 7});
    const TempFolder folder;
    Report report;
    PlantSources sources;
    sources.file = read_plant_yaml(folder.write("plant.yaml", files.plant_yaml), report);
    sources.segments = source_from_text(std::move(files.segments_csv), "segments.csv", report);
    if (!report.ok()) throw std::runtime_error(to_text(report));
    const Date at = make_date(2028, 6, 1);
    LoadedPlant loaded = assemble_plant(std::move(sources), published_rules(), {at, at, {}}, {});
    if (!loaded.plant) throw std::runtime_error(to_text(loaded.report));
    return std::move(*loaded.plant);
}

const Sample& sample() {
    static const Sample made = made_sample();
    return made;
}

std::vector<std::uint32_t> tiled_segments(std::size_t rows) {
    std::vector<std::uint32_t> segments(rows);
    for (std::size_t i = 0; i < rows; ++i) {
        segments[i] = sample().ranking.segment_rows[i % sample().wall_rows];
    }
    return segments;
}

Numbers tiled(const Numbers& column, std::size_t rows) {
    Numbers long_column(static_cast<Eigen::Index>(rows));
    for (std::size_t i = 0; i < rows; ++i) {
        long_column[static_cast<Eigen::Index>(i)] =
            column[static_cast<Eigen::Index>(i % sample().wall_rows)];
    }
    return long_column;
}

Numbers tiled(SegmentField field, std::size_t rows) {
    Numbers long_column(static_cast<Eigen::Index>(rows));
    gather(sample().plant.segments.numbers(field), tiled_segments(rows), long_column);
    return long_column;
}

}  // namespace lagline::bench
