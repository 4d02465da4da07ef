#include "cli/starter.h"

#include <cerrno>
#include <cstdlib>
#include <cstring>
#include <system_error>

#include "plant/field.h"
#include "report/atomic_file.h"

namespace lagline::cli {
namespace {

namespace fs = std::filesystem;

constexpr const char* plant_yaml = R"(# The plant as a whole.  Lines that start with # are comments.
name: My plant
currency: EUR                 # ISO 4217 code of all money in this folder
exchange: {USD: 0.92}         # price of one USD in your currency: rule tables give money in USD

# Monthly means, January first.  Leave the whole block out if you do not have them.
climate:
  mean_temperature: {unit: degC, values: [4, 4, 6, 9, 13, 15, 18, 18, 15, 11, 8, 5]}
  relative_humidity: {unit: "%", values: [87, 85, 82, 79, 77, 78, 79, 80, 82, 85, 88, 88]}
  rainfall: {unit: mm, values: [70, 55, 60, 45, 55, 65, 70, 80, 80, 90, 90, 85]}
  coast_distance: 3 km

# Share of the points of the management-system evaluation.  Without it 50 % is taken.
management_score: 50 %

# What an empty cell of segments.csv takes, before the defaults of the rule set.
defaults:
  corrosion_allowance: 0 mm
# driver: moderate            # without it the driver is derived from climate, coast and the lists below

# Process units with cooling-tower drift, or whose deluge is tested often.
cooling_tower_drift: []
deluge_tests: []

# rank_date: 2027-04-05       # instead of the start of the window after the next

# What a leak stops, by process unit: the days it is down, taken where segments.csv has no outage,
# and the margin lost meanwhile.  An example: put your own units and figures, or remove it.
outage:
  U1: {days: 3, lost_margin: {value: 40000, per: day}}

# What no segment may go beyond; each may be left out.  Examples: they are for your management to set.
criteria:
  risk: {value: 20000, per: year}
  probability: 1e-2 1/y
  wall: minimum_thickness

# Money per m, m2, fitting, each, hour or day.  replace_run prices the repair of a leak, the rest is
# for planning.
unit_costs:
  replace_run: {value: 1450, per: m}
  strip_and_reinsulate: {value: 310, per: m}
crew_rates:
  scaffold: {value: 58, per: hour}
)";

constexpr const char* segments_csv =
    R"(segment,line,unit,material,nominal_size [NPS],nominal_wall [mm],operating_temperature [degC],insulation_type,in_service,length [m],insulation_condition,coating_quality,coating_date,complexity,pooling,ground_or_water_interface,driver,design_pressure [barg],consequence_category
EX-001,L-1,U1,carbon_steel,4,Sch 40,82,mineral_wool,1994-06-01,18.5,below_average,medium,1994-05-01,average,no,no,moderate,12,C
EX-002,L-1,U1,carbon_steel,4,Sch 40,82,mineral_wool,1994-06-01,22.0,average,medium,2012-09-01,average,no,no,moderate,12,C
EX-003,L-2,U1,carbon_steel,2,Sch 80,140,calcium_silicate,1988,9.0,,,,,,,,,
)";

constexpr const char* inspections_csv =
    R"(segment,date,technique,coverage [%],least_thickness [mm],pit_depth [mm],rust_grade,insulation_wet,jacket_damage,report
EX-002,2019-05-14,strip_and_measure,60,5.8,0.3,7,no,none,IR-2019-012
)";

constexpr const char* turnarounds_csv =
    R"(name,kind,start,end,budget [EUR],scaffold_hours [h],insulation_hours [h],coating_hours [h],inspection_hours [h],welding_hours [h]
TA-next,turnaround,2030-04-08,2030-05-12,250000,800,600,500,300,150
TA-after,turnaround,2034-04-10,2034-05-14,250000,800,600,500,300,150
)";

constexpr const char* overrides_csv = "segment,quantity,value,reason,who,when,until\n";

// The delimiter keeps the formatter from taking the text for YAML to be formatted.
constexpr const char* columns_yaml =
    R"text(# If your line list has other headings or words, say here how they are to be read.
# segments.csv:
#   headings:
#     "Line No.": line
#     "Oper. Temp. (F)": operating_temperature [degF]
#   words:
#     insulation_type: {MW: mineral_wool, CS: calcium_silicate}
#   keep: [tower_zone]          # columns of your own, for factors in rules/
segments.csv: {}
)text";

std::string readme() {
    std::string text =
        "# A plant folder for lagline\n\n"
        "`lagline check .` says what is wrong and what is missing; `lagline rank .` ranks.\n"
        "Replace the example rows. An empty cell means: not known. A heading carries its unit in\n"
        "brackets; any unit of the same kind will do, and a cell may carry its own.\n\n"
        "- `plant.yaml`: the plant as a whole, with comments.\n"
        "- `segments.csv`: one row a segment; the columns are listed below.\n"
        "- `inspections.csv`: one row an inspection, old ones too.\n"
        "- `turnarounds.csv`: the windows in which work can be done; the one after the next "
        "sets the rank date.\n"
        "- `overrides.csv`: an expert's value in place of one in segments.csv, with the reason.\n"
        "- `columns.yaml`: your own headings and words, translated.\n"
        "- `rules/`: may hold an overlay that changes rules, with reasons.\n\n"
        "In place of a `.csv` file there may be a workbook of the same name (`.xlsx`).\n\n"
        "## Columns of segments.csv\n\n| column | needed | meaning | example "
        "|\n|---|---|---|---|\n";
    for (const FieldInfo& field : segment_fields()) {
        text += "| `" + heading_of(field) + "` | " + (field.needed ? "yes" : "no") + " | " +
                std::string{field.meaning} + " | `" + std::string{field.example} + "` |\n";
    }
    return text +
           "\nMoney columns carry the currency: `leak_cost [EUR]`. "
           "`lagline dictionary` prints every column of every file and all words.\n";
}

// A folder under a name of its own until everything is in it.
std::string fill(const fs::path& folder, const FileContents& files) {
    for (const auto& [name, content] : files) {
        const fs::path path = folder / name;
        std::error_code error;
        fs::create_directories(path.parent_path(), error);
        if (error) return "cannot make " + path.parent_path().string() + ": " + error.message();
        std::string problem = write_whole(path, content);
        if (!problem.empty()) return problem;
    }
    return "";
}

}  // namespace

std::string make_folder(const fs::path& folder, const FileContents& files) {
    std::error_code error;
    const bool exists = fs::exists(folder, error);
    if (exists && (!fs::is_directory(folder, error) || !fs::is_empty(folder, error))) {
        return folder.string() + " exists and is not an empty folder; nothing was written";
    }
    const fs::path target = fs::absolute(folder, error).lexically_normal();
    const fs::path plain = target.has_filename() ? target : target.parent_path();
    std::string beside =
        (plain.parent_path() / ("." + plain.filename().string() + ".XXXXXX")).string();
    if (::mkdtemp(beside.data()) == nullptr) {
        return "cannot make a folder in " + plain.parent_path().string() + ": " +
               std::strerror(errno);
    }
    std::string problem = fill(beside, files);
    fs::permissions(beside,
                    fs::perms::group_read | fs::perms::group_exec | fs::perms::others_read |
                        fs::perms::others_exec,
                    fs::perm_options::add, error);
    if (problem.empty()) {
        fs::rename(beside, plain, error);  // takes the place of an empty folder too
        if (error) problem = "cannot make " + folder.string() + ": " + error.message();
    }
    if (!problem.empty()) fs::remove_all(beside, error);
    return problem;
}

FileContents starter_files() {
    return {{"plant.yaml", plant_yaml},
            {"segments.csv", segments_csv},
            {"inspections.csv", inspections_csv},
            {"turnarounds.csv", turnarounds_csv},
            {"overrides.csv", overrides_csv},
            {"columns.yaml", columns_yaml},
            {"README.md", readme()}};
}

}  // namespace lagline::cli
