#pragma once

#include <array>
#include <cstdint>
#include <optional>
#include <span>
#include <string_view>
#include <vector>

#include "blocks/parallel.h"
#include "blocks/row_vector.h"

namespace lagline {

/// Rows of a table by a name that each of them has.  Looking one up takes the same short time
/// whatever the number of rows, and whatever names somebody thought of to make it long.
class SegmentIndex {
  public:
    /// A name that stood already further up.
    struct Double {
        std::uint32_t row = 0;
        std::uint32_t first = 0;
    };

    SegmentIndex() = default;
    /// @param names  by row, outliving the index; rows with an empty name are left out
    SegmentIndex(std::span<const std::string_view> names, const WorkPlan& plan);

    [[nodiscard]] std::optional<std::uint32_t> find(std::string_view name) const;
    [[nodiscard]] bool empty() const { return size_ == 0; }
    /// Different names.
    [[nodiscard]] std::size_t size() const { return size_; }
    [[nodiscard]] std::span<const std::string_view> names() const { return names_; }
    /// By row.
    [[nodiscard]] const std::vector<Double>& doubles() const { return doubles_; }

  private:
    static constexpr std::uint32_t nobody = ~std::uint32_t{0};
    struct Slot {
        std::uint32_t hash = 0;
        std::uint32_t row = nobody;
    };
    // Rows are dealt out to parts by their hash, so that threads fill parts without meeting.
    struct Part {
        RowVector<Slot> slots;  ///< a power of two, at most half of it in use
        std::vector<Double> doubles;
        std::size_t size = 0;
    };
    static constexpr unsigned part_bits = 3;

    [[nodiscard]] std::uint64_t hash(std::string_view name) const;
    static std::size_t part_of(std::uint64_t hash) { return hash >> (64U - part_bits); }
    // Where `name` stands, or would.
    [[nodiscard]] std::size_t slot_of(const Part& part, std::uint32_t hash,
                                      std::string_view name) const;
    void fill(std::size_t part, std::span<const std::uint64_t> hashes);

    std::span<const std::string_view> names_;
    std::array<Part, std::size_t{1} << part_bits> parts_;
    std::vector<Double> doubles_;
    std::size_t size_ = 0;
    std::uint64_t seed_ = 0;
};

}  // namespace lagline
