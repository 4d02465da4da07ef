#include "synthesis/synthesis.h"

#include <algorithm>
#include <array>
#include <vector>

#include "synthesis/csv_writer.h"
#include "synthesis/inspection.h"
#include "synthesis/line.h"
#include "synthesis/segment.h"
#include "synthesis/segment_row.h"
#include "synthesis/site_files.h"

namespace lagline {
namespace {

int digits_of(std::size_t number) {
    int digits = 1;
    for (; number >= 10; number /= 10) ++digits;
    return digits;
}

std::size_t inspections_wanted(const SynthesisOptions& options) {
    return options.inspections != 0 ? options.inspections : options.segments * 3 / 2;
}

/// Writes a plant rack by rack; nothing is held but the rack in hand.
class Builder {
  public:
    Builder(const SynthesisOptions& options, SyntheticPlant& plant)
        : options_(options),
          inspections_(inspections_wanted(options)),
          id_digits_(std::max(5, digits_of(options.segments))),
          segment_rows_(plant.segments_csv),
          inspection_rows_(plant.inspections_csv) {
        constexpr std::size_t row = 300;  // bytes, a little more than the mean
        constexpr std::size_t inspection_row = 72;
        plant.segments_csv.reserve(options.segments * row + 2000);
        plant.inspections_csv.reserve(inspections_ * inspection_row + 500);
        // A line list seldom has what stands behind these.
        segment_rows_.headings(segment_fields().first(index_of(SegmentField::test_pack) + 1),
                               synthetic_currency);
        inspection_rows_.headings(inspection_fields(), synthetic_currency);
    }

    void build() {
        for (std::uint64_t rack = 0; rack * Rack::segments < options_.segments; ++rack) {
            add_rack(invent_rack(options_.seed, rack));
        }
    }

  private:
    void add_rack(const Rack& rack) {
        count_visits(rack);
        Station at;
        while (at.in_rack < Rack::segments) {
            const Line line = invent_line(options_.seed, ++lines_, rack.unit, stock_);
            add_line(rack, line, at);
            ++at.lane;
            at.along_m = 0.0;
        }
    }

    /// Up to six segments of one line, as far as the rack and the plant go.
    void add_line(const Rack& rack, const Line& line, Station& at) {
        Dice dice{options_.seed, Subject::line_run, line.number};
        const int run = dice.whole(2, 6);
        const auto original = original_protection(dice, line);
        for (int i = 0; i < run && at.in_rack < Rack::segments; ++i, ++at.in_rack) {
            const auto number = rack.number * Rack::segments + at.in_rack + 1;
            if (number > options_.segments) continue;
            const auto segment = invent_segment(options_.seed, number, rack, line, original, at);
            write_segment(segment_rows_, rack, line, segment, id_digits_);
            write_inspections(inspection_rows_, options_.seed, rack, line, segment, id_digits_,
                              visits_[at.in_rack]);
            at.along_m += segment.length_m;
        }
    }

    /// Inspections of the whole plant up to and without segment `end`.
    [[nodiscard]] std::size_t inspections_before(std::size_t end) const {
        // Whole shares apart, so that the product stays far from the end of the type.
        const std::size_t each = inspections_ / options_.segments;
        const std::size_t rest = inspections_ % options_.segments;
        return each * end + rest * end / options_.segments;
    }

    /// Shares the rack's part of the inspections out among its segments: some are looked at again
    /// and again, others never.
    void count_visits(const Rack& rack) {
        const std::size_t begin = rack.number * Rack::segments;
        const std::size_t size = std::min(Rack::segments, options_.segments - begin);
        Dice dice{options_.seed, Subject::shares, rack.number};
        std::array<Weighted<std::size_t>, Rack::segments> shares{};
        for (std::size_t i = 0; i < Rack::segments; ++i) {
            const int interest = dice.whole(1, 9);
            shares[i] = {i, i < size ? interest * interest : 0};
        }
        visits_ = {};
        const std::size_t due = inspections_before(begin + size) - inspections_before(begin);
        for (std::size_t i = 0; i < due; ++i) ++visits_[dice.pick_from(shares)];
    }

    const SynthesisOptions& options_;
    std::size_t inspections_;
    int id_digits_;
    CsvWriter segment_rows_;
    CsvWriter inspection_rows_;
    std::vector<Weighted<StockPipe>> stock_ = stock_pipes();
    std::array<std::size_t, Rack::segments> visits_{};
    std::uint64_t lines_ = 0;
};

}  // namespace

SyntheticPlant synthesise(const SynthesisOptions& options) {
    SyntheticPlant plant;
    plant.plant_yaml = synthetic_plant_yaml(options);
    plant.turnarounds_csv = synthetic_turnarounds(options);
    Builder(options, plant).build();
    return plant;
}

}  // namespace lagline
