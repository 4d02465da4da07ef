#pragma once

#include <cstdint>
#include <span>
#include <vector>

#include "plant/plant.h"
#include "ranking/draw_cell.h"
#include "ranking/input_draws.h"

namespace lagline {

/// A segment and the cells of it that are drawn.
struct SampledSegment {
    std::uint32_t segment = 0;  ///< row of segments.csv
    std::span<const DrawnCell> cells;
};

/// Some segments of a plant, each as often as there are samples, with drawn values in the cells
/// that are not known; a segment of which nothing is drawn stands there once.  To the method it is
/// a plant like any other.  It is made to be used again for the next segments.
class SampledPlant {
  public:
    SampledPlant(const Plant& source, const RuleSet& rules, const InputDraws& draws,
                 const SobolPoints& points);

    /// All of the segments, for the method; or only what draws go by, for classes() alone.
    enum class Wanted : std::uint8_t { all, classes };
    void make(std::span<const SampledSegment> segments, Wanted wanted = Wanted::all);

    [[nodiscard]] const Plant& plant() const { return plant_; }
    /// Rows of a segment in plant().segments.
    struct Rows {
        std::size_t first = 0;
        std::size_t count = 0;
    };
    [[nodiscard]] std::span<const Rows> rows() const { return rows_; }
    /// Row of the source's inspections.csv for each row of plant().inspections.
    [[nodiscard]] std::span<const std::uint32_t> inspections() const { return inspections_; }
    /// Class of one cell of a segment in every sample: the word drawn, or the interval of the
    /// number.
    /// @param segment  as given to make()
    [[nodiscard]] std::span<const std::uint8_t> classes(std::size_t segment,
                                                        std::size_t cell) const;

  private:
    void copy_segments(std::span<const SampledSegment> segments, Wanted wanted);
    void copy_inspections(std::span<const SampledSegment> segments);
    void draw_cells(const SampledSegment& segment, std::size_t index);
    void draw_reading(const InputDraw& draw, const DrawnCell& cell, const SampledSegment& segment,
                      std::size_t index, CellSamples place);
    void derive_cycles(const SampledSegment& segment, Rows rows);

    const Plant& source_;
    const RuleSet& rules_;
    const InputDraws& draws_;
    const SobolPoints& points_;
    Plant plant_;
    std::vector<std::size_t> drawn_by_;     ///< columns that draws write or go by
    std::vector<std::size_t> read_fields_;  ///< columns that the method reads
    std::vector<std::size_t> inspection_fields_;
    std::vector<Rows> rows_;
    std::vector<std::uint32_t> inspections_;
    std::vector<std::size_t> first_class_;  ///< of each segment, in classes_
    std::vector<std::uint8_t> classes_;
    std::vector<std::uint32_t> order_;
    std::vector<double> uniform_;
    std::vector<std::uint32_t> first_inspection_;  ///< of each segment, in plant_.inspections
};

}  // namespace lagline
