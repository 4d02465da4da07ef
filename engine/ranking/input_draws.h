#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <optional>
#include <span>
#include <vector>

#include "plant/plant.h"
#include "ranking/sobol.h"
#include "ruleset/ruleset.h"

namespace lagline {

// Bits of the mechanisms that a segment can have.
inline constexpr std::uint8_t reads_wall_loss = 1;
inline constexpr std::uint8_t reads_cracking = 2;

/// A distribution of the rules, ready to be drawn from.
struct InputDraw {
    const Distribution* from = nullptr;
    const FieldInfo* info = nullptr;
    std::uint64_t key = 0;                ///< of the column
    std::vector<double> stored;           ///< its numbers in the unit of the column
    std::optional<std::size_t> by_field;  ///< column that holds the words of `by`
    std::optional<std::uint8_t> unknown;  ///< code of the word `unknown`
    bool absent_is_asked = false;         ///< no default fills the cell, so an empty one is a gap
    std::uint8_t read_by = 0;             ///< mechanisms that read the column
};

/// Columns of segments.csv that have to be drawn before this one.
[[nodiscard]] std::vector<std::size_t> needed_first(const InputDraw& draw);

/// One cell of a segment, or of one of its inspections, that is drawn.
struct DrawnCell {
    std::uint32_t draw = 0;       ///< index into InputDraws::draws()
    std::uint32_t row = 0;        ///< of segments.csv or inspections.csv
    std::uint32_t dimension = 0;  ///< of the Sobol points
    std::uint32_t seed = 0;       ///< of the scrambling: from segment name and column
};

/// Which cells of a plant are drawn, and from what.
class InputDraws {
  public:
    /// @param fields  columns of segments.csv that wall loss and that cracking read
    InputDraws(const Plant& plant, const RuleSet& rules,
               const std::array<std::vector<std::size_t>, 2>& fields);

    /// In the order of drawing: a column that another one goes by comes first.
    [[nodiscard]] std::span<const InputDraw> draws() const { return draws_; }
    /// Dimensions of Sobol points that the segment with most drawn cells needs.
    [[nodiscard]] std::size_t dimensions() const { return dimensions_; }

    /// Adds the drawn cells of a segment that has these mechanisms, in the order of drawing.
    void add_cells(std::uint32_t segment, std::uint8_t mechanisms,
                   std::vector<DrawnCell>& cells) const;

  private:
    void add_readings(std::uint32_t segment, std::uint64_t name,
                      std::vector<DrawnCell>& cells) const;
    [[nodiscard]] bool applies(const InputDraw& draw, std::uint32_t segment) const;
    [[nodiscard]] bool is_missing(const InputDraw& draw, std::uint32_t segment) const;
    [[nodiscard]] bool is_asked(const InputDraw& draw, std::uint32_t segment) const;
    /// The draw for a cell of this column that is missing; nothing where it is not.
    [[nodiscard]] const InputDraw* draw_of_missing(std::size_t field, std::uint32_t segment) const;

    const Plant& plant_;
    std::vector<InputDraw> draws_;
    std::size_t segment_draws_ = 0;  ///< draws of segments.csv; those of inspections.csv follow
    std::size_t dimensions_ = 0;
};

}  // namespace lagline
