#include <iostream>

#include "cli/app.h"
#include "cli/output.h"
#include "cli/session.h"
#include "diagnostics/nearest.h"
#include "diagnostics/text.h"
#include "learning/rate_factors.h"
#include "report/pool_text.h"

namespace lagline::cli {
namespace {

struct PoolArguments {
    PlantOptions plant;
    std::string by = "unit";
    std::string take = "middle";
    std::string format = "table";
    OutFile out;
    OutFile overlay;
};

std::optional<std::size_t> column_of(const PoolArguments& arguments) {
    const auto field = find_field(segment_fields(), arguments.by);
    if (field && groups_by(*field)) return field;
    std::vector<std::string_view> names;
    for (std::size_t i = 0; i < segment_fields().size(); ++i) {
        if (groups_by(i)) names.push_back(segment_fields()[i].key);
    }
    const std::string meant = did_you_mean(arguments.by, names);
    std::cerr << "lagline: cannot group by '" << printable(arguments.by) << "'; "
              << (meant.empty() ? "use one of " + listing(names) : meant) << "\n";
    return std::nullopt;
}

std::string as_text(const PoolArguments& arguments, const Plant& plant,
                    const RateFactors& factors) {
    if (arguments.format == "csv") return pool_csv(factors);
    if (arguments.format == "json") return pool_json(plant, factors);
    const TextStyle style = style_for(arguments.out, 100);
    return pool_text(plant, factors, style);
}

int write_overlay(const PoolArguments& arguments, const Opened& opened,
                  const RateFactors& factors) {
    if (!factors.refusal.empty()) {
        std::cerr << "lagline: no factors to offer: " << factors.refusal << "; "
                  << *arguments.overlay.file << " was not written\n";
        return failed;
    }
    const TakenFactor taken = arguments.take == "upper" ? TakenFactor::upper : TakenFactor::middle;
    const int delivered =
        deliver(pool_overlay(*opened.plant, *opened.rules, factors, taken), arguments.overlay);
    if (delivered == done) {
        std::cerr << "lagline: wrote " << *arguments.overlay.file << "; it acts only in the folder "
                  << arguments.plant.folder << "/rules\n";
    }
    return delivered;
}

int run(const PoolArguments& arguments) {
    const auto field = column_of(arguments);
    if (!field) return wrong_use;
    const auto opened = open_or_report(arguments.plant);
    if (!opened) return bad_input;
    const RateFactors factors = rate_factors(*opened->plant, *opened->rules, *field);
    const int shown = deliver(as_text(arguments, *opened->plant, factors), arguments.out);
    if (shown != done || !arguments.overlay) return shown;
    return write_overlay(arguments, *opened, factors);
}

}  // namespace

void add_pool(Command& program) {
    Command command = program.add_command("pool", "Learn rate factors from readings, by group");
    auto arguments = std::make_shared<PoolArguments>();
    add_plant_options(command, arguments->plant, RankedAt::today);
    command.option("--by", &arguments->by, "Column of segments.csv with the groups")
        .value_name("COLUMN")
        .shows_default();
    add_format_option(command, arguments->format, "table, csv or json", {"table", "csv", "json"});
    add_out_option(command, arguments->out);
    command.files().writes(arguments->overlay, arguments->out.force);
    command.option("--overlay", &arguments->overlay.file, "Rule file to offer, for you to accept")
        .value_name("FILE");
    command.option("--take", &arguments->take, "Rule file takes the middle or upper end")
        .one_of({"middle", "upper"})
        .shows_default();
    command.footer(
        "For every segment with a reading that counts, the loss that was measured is\n"
        "divided by the loss that the rules expect. The groups' means are drawn towards\n"
        "the mean of all, the more the fewer readings a group has (partial pooling), so\n"
        "that a group with two readings is not believed like one with fifty.\n\n"
        "Nothing is applied. --overlay writes a rule file that says how it was made;\n"
        "whoever is responsible for the rules of the site accepts it by putting it into\n"
        "the folder `rules` of the plant.\n\n"
        "  lagline pool my-plant\n"
        "  lagline pool my-plant --by insulation_type --overlay by-insulation.yaml\n"
        "  lagline pool my-plant --overlay learned-by-unit.yaml --take upper");
    command.runs([arguments] { return run(*arguments); });
}

}  // namespace lagline::cli
