#pragma once

#include <cstddef>
#include <cstdint>
#include <string>

namespace lagline {

/// What kind of plant to invent.
struct SynthesisOptions {
    std::size_t segments = 600;   ///< rows of segments.csv
    std::size_t inspections = 0;  ///< rows of inspections.csv; 0 means three for every two segments
    std::uint64_t seed = 1;       ///< another seed, another plant
};

/// The files of a plant folder, as bytes: UTF-8, lines ended by LF.
struct SyntheticPlant {
    std::string plant_yaml;
    std::string segments_csv;
    std::string inspections_csv;
    std::string turnarounds_csv;
};

/// An invented coastal chemical plant of six units: no real site, company, person or product.
///
/// The same options give the same bytes on every platform: draws come from a counter-based
/// generator keyed by seed, subject and number, arithmetic is IEEE 754 without library functions,
/// and numbers are rounded to the decimals that a person would write.
///
/// A segment's row depends on the seed and its place in the file, not on how many rows follow, so
/// the first rows of a small plant are those of a large one as long as both write their names with
/// equally many digits (five up to 99 999 segments).  Inspections are shared out among groups of
/// sixteen neighbouring segments so that their number is exact; the first groups keep their
/// inspections as long as the number of inspections per segment stays the same.
[[nodiscard]] SyntheticPlant synthesise(const SynthesisOptions& options);

}  // namespace lagline
