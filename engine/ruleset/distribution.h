#pragma once

#include <cstddef>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "plant/field.h"
#include "ruleset/table.h"

namespace lagline {

/// Which cells of a column a distribution stands for.
enum class DoubtfulCell : std::uint8_t {
    missing,    ///< not given: empty, whatever is taken instead, or the word `unknown`
    imprecise,  ///< a date given as a year or a month only
    measured,   ///< a number that was read off an instrument
};
[[nodiscard]] std::string_view to_string(DoubtfulCell cell);

/// How a distribution says what may stand there.
enum class DistributionKind : std::uint8_t {
    point,    ///< what is taken stands; the reason says why
    shares,   ///< a share for each word, by bands of a year where it has them
    points,   ///< quantiles, straight lines between them
    between,  ///< any day between two dates of the segment
    period,   ///< any day of the year or month that was given
    normal,   ///< normal error about the reading, its standard deviation by a word of the row
};
[[nodiscard]] std::string_view to_string(DistributionKind kind);

/// The file of the plant folder that a distribution is about.
enum class DistributionFile : std::uint8_t { segments, inspections };

/// Entries [first, first + count) of a distribution.
struct EntryRange {
    std::size_t first = 0;
    std::size_t count = 0;
};

/// What may stand in a cell whose content is not known for sure.
struct Distribution {
    /// Name, meaning, unit, source, basis, place; `by` is the vocabulary that selects the points or
    /// the standard deviation, "" for none.
    TableInfo info;
    DistributionKind kind{};
    DistributionFile file{};
    DoubtfulCell cell{};
    std::size_t field = 0;  ///< index into the fields of `file`
    std::string reason;     ///< why this distribution

    /// Shares (code = the word), quantiles, or standard deviations (code = the word of `by`).
    std::vector<RuleEntry> entries;

    /// Shares without `by`: entries by band of the year; one band where they do not depend on it.
    struct Band {
        double before_year = 0.0;  ///< exclusive end; +infinity for the last
        EntryRange entries;
    };
    std::vector<Band> bands;
    std::vector<std::size_t> year_of;  ///< date columns; the first that has a value gives the year

    /// Points, and shares with `by`: the list for each word of `by`, or one list.
    std::vector<EntryRange> lists;
    std::vector<double> probabilities;  ///< of each entry of points

    /// Between: the two date columns.
    std::size_t from = 0;
    std::size_t to = 0;

    /// A missing cell is asked for only where this column holds one of these words.
    std::optional<std::size_t> asked_by;
    std::vector<std::uint8_t> asked_words;

    /// The column that it is for.
    [[nodiscard]] const FieldInfo& column() const {
        return file == DistributionFile::segments ? segment_fields()[field]
                                                  : inspection_fields()[field];
    }
};

/// Index of the column of segments.csv whose words are those of this vocabulary; nothing when there
/// is none.
[[nodiscard]] std::optional<std::size_t> segment_field_of_words(std::string_view vocabulary);

}  // namespace lagline
