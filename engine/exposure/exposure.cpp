#include "exposure/exposure.h"

#include <array>

namespace lagline {
namespace {

using Keys = std::string_view;

constexpr std::array temperature_inputs{Keys{"operating_temperature"}};
constexpr std::array driver_inputs{Keys{"driver"}};

constexpr QuantityInfo temperature_info{
    .key = "metal_temperature",
    .unit = "degC",
    .words = "",
    .symbol = "T",
    .equation = "eq. 1",
    .formula = "T = operating temperature",
    .source = "API RP 581, 3rd edition, Part 2, section 16: one operating temperature",
    .meaning = "temperature of the metal under the insulation",
    .inputs = temperature_inputs,
    .tables = {}};

constexpr QuantityInfo driver_info{
    .key = "driver",
    .unit = "",
    .words = "driver",
    .symbol = "driver",
    .equation = "section 2",
    .formula = "as given",
    .source = "API RP 581, 3rd edition, Part 2, section 16: definitions of the drivers",
    .meaning = "what wets the insulation from outside",
    .inputs = driver_inputs,
    .tables = {}};

}  // namespace

void ExposureColumns::resize(Eigen::Index rows) {
    metal_temperature_degc.resize(rows);
    driver.resize(rows);
}

std::vector<ColumnView> ExposureColumns::views() const {
    return {view(temperature_info, metal_temperature_degc), view(driver_info, driver)};
}

void fill_exposure(const Plant& plant, std::span<const std::uint32_t> rows, RowRange range,
                   ExposureColumns& out) {
    const auto begin = static_cast<Eigen::Index>(range.begin);
    const auto mine = rows.subspan(range.begin, range.size());
    gather(plant.segments.numbers(SegmentField::operating_temperature), mine,
           out.metal_temperature_degc.segment(begin, static_cast<Eigen::Index>(range.size())));
    const auto driver = plant.segments.codes(SegmentField::driver);
    for (std::size_t i = 0; i < mine.size(); ++i) {
        out.driver[begin + static_cast<Eigen::Index>(i)] = driver[mine[i]];
    }
}

}  // namespace lagline
