// plant.yaml, read from a file as the program does.
#include "fuzz_input.h"
#include "intake/plant_yaml.h"
#include "support/temp_folder.h"

// NOLINTNEXTLINE(readability-identifier-naming): the name that libFuzzer calls
extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    static const lagline::TempFolder folder;
    const auto file = folder.write("plant.yaml", lagline::text_of(data, size));
    lagline::Report report;
    const lagline::PlantFile plant = lagline::read_plant_yaml(file, report);
    report.sort();
    lagline::must_be_told(report, plant.description.name.empty());
    return 0;
}
