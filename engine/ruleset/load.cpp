#include <algorithm>
#include <utility>

#include "diagnostics/nearest.h"
#include "diagnostics/text.h"
#include "ruleset/distribution_reader.h"
#include "ruleset/layer.h"
#include "ruleset/ruleset.h"

namespace lagline {
namespace {

namespace fs = std::filesystem;

/// True for a name that cannot lead out of the folder of shipped sets.
bool is_plain_name(const std::string& name) {
    return !name.empty() && name != "." && name != ".." &&
           name.find_first_of("/\\") == std::string::npos;
}

bool is_folder(const fs::path& path) {
    std::error_code error;
    return fs::is_directory(path, error);
}

/// Names of the shipped sets, in order.
std::vector<std::string> shipped_names(const fs::path& root) {
    std::vector<std::string> names;
    std::error_code error;
    for (fs::directory_iterator at(root, error); !error && at != fs::directory_iterator();
         at.increment(error)) {
        if (is_folder(at->path())) names.push_back(at->path().filename().generic_string());
    }
    std::ranges::sort(names);
    return names;
}

std::string suggest_shipped(const std::string& wanted, const fs::path& root) {
    const auto names = shipped_names(root);
    const auto hint = suggest(wanted, std::vector<std::string_view>(names.begin(), names.end()));
    return hint.empty() ? "check the folder of the shipped rule sets: " + root.generic_string()
                        : hint;
}

void report_missing_set(const fs::path& root, const std::string& wanted, Report& report) {
    Diagnostic diagnostic;
    diagnostic.problem = Problem::missing_file;
    diagnostic.where.file = wanted;
    diagnostic.found = "no rule set '" + printable(wanted) + "'";
    diagnostic.expected = "the name of a shipped rule set, or a folder of rule files";
    diagnostic.mend = suggest_shipped(wanted, root);
    report.add(std::move(diagnostic));
}

std::optional<fs::path> first_folder(const fs::path& root, const std::string& name_or_dir) {
    if (is_plain_name(name_or_dir) && is_folder(root / name_or_dir)) return root / name_or_dir;
    if (!name_or_dir.empty() && is_folder(name_or_dir)) return fs::path(name_or_dir);
    return std::nullopt;
}

bool same_folder(const fs::path& a, const fs::path& b) {
    std::error_code error;
    return fs::equivalent(a, b, error) && !error;
}

/// The folder that the layer lies on; nothing, reported where it should be there.
std::optional<fs::path> folder_below(const fs::path& root, const Layer& layer,
                                     const std::vector<Layer>& above, Report& report) {
    if (layer.based_on_at == nullptr) return std::nullopt;
    const Scope scope{report, layer.name + " -> based_on"};
    const auto folder = root / layer.based_on;
    if (!is_plain_name(layer.based_on) || !is_folder(folder)) {
        scope.error(Problem::missing_file, *layer.based_on_at,
                    "no rule set '" + printable(layer.based_on) + "'",
                    "the name of a shipped rule set", suggest_shipped(layer.based_on, root));
        return std::nullopt;
    }
    const auto seen = std::ranges::find_if(
        above, [&folder](const Layer& other) { return same_folder(other.folder, folder); });
    if (seen == above.end()) return folder;
    scope.error(
        Problem::contradiction, *layer.based_on_at,
        "a circle of rule sets: '" + printable(layer.based_on) + "' lies on this one already",
        "layers that end in a rule set without based_on", "drop one based_on of the circle");
    return std::nullopt;
}

/// A shipped set is shown by its name alone, so that what is printed does not depend on where the
/// program is installed.
std::string shown_folder(const fs::path& root, const fs::path& folder) {
    if (folder.parent_path() == root) return "rules/" + folder.filename().generic_string();
    return folder.generic_string();
}

/// The named set and all that it lies on, lowest first.
std::vector<Layer> read_chain(const fs::path& root, const fs::path& top, Report& report) {
    std::vector<Layer> layers;
    std::optional<fs::path> folder = top;
    while (folder) {
        layers.push_back(read_layer_files(*folder, shown_folder(root, *folder), report));
        layers.back().overlay = layers.back().based_on_at != nullptr;
        folder = folder_below(root, layers.back(), layers, report);
    }
    std::ranges::reverse(layers);
    return layers;
}

bool has_layer(const std::vector<Layer>& layers, const std::string& name) {
    return std::ranges::find(layers, name, &Layer::name) != layers.end();
}

void add_site_layer(const fs::path& folder, std::vector<Layer>& layers, Report& report) {
    auto site = read_layer_files(folder, folder.generic_string(), report);
    site.overlay = true;
    if (site.based_on_at != nullptr && !has_layer(layers, site.based_on)) {
        Scope{report, site.name + " -> based_on"}.error(
            Problem::contradiction, *site.based_on_at,
            "an overlay made for '" + printable(site.based_on) + "'",
            "an overlay for '" + (layers.empty() ? std::string() : layers.back().name) + "'",
            "choose the rule set " + printable(site.based_on) + ", or revise the overlay");
    }
    layers.push_back(std::move(site));
}

/// Chains of names would be ambiguous with two layers of one name.
void check_names(const std::vector<Layer>& layers, Report& report) {
    for (std::size_t i = 1; i < layers.size(); ++i) {
        const auto& layer = layers[i];
        const auto same = std::ranges::find(layers, layer.name, &Layer::name);
        if (layer.name_at == nullptr || same == layers.begin() + static_cast<std::ptrdiff_t>(i)) {
            continue;
        }
        const auto first = same->name_at == nullptr ? Place{same->folder.generic_string(), 0, 0}
                                                    : place_of(*same->name_at);
        report_twice(*layer.name_at, "the rule set '" + printable(layer.name) + "'", first,
                     "give this layer a name of its own", {report, layer.name});
    }
}

void add_yes_no(RuleSet& rules) {
    auto& words = rules.vocabularies["yes_no"];
    words.name = "yes_no";
    words.words = {{"no", "no", {}}, {"yes", "yes", {}}};
}

}  // namespace

LoadedRules load_rules(const fs::path& rules_root, const std::string& name_or_dir,
                       const std::optional<fs::path>& site_overlay) {
    LoadedRules loaded;
    auto& report = loaded.report;
    const auto top = first_folder(rules_root, name_or_dir);
    std::vector<Layer> layers;
    if (top) {
        layers = read_chain(rules_root, *top, report);
    } else {
        report_missing_set(rules_root, name_or_dir, report);
    }
    if (site_overlay) add_site_layer(*site_overlay, layers, report);
    check_names(layers, report);
    if (!top) return loaded;  // an overlay on nothing would only repeat that
    RuleDraft draft;
    add_yes_no(draft.rules);
    for (const auto& layer : layers) add_layer(layer, draft, report);
    for (const auto& [name, table] : draft.tables) {
        if (!table.broken) finish_table(table, draft.rules, report);
    }
    if (report.ok()) check_distributions(draft.rules, report);
    report.sort();
    if (report.ok()) loaded.rules = std::move(draft.rules);
    return loaded;
}

}  // namespace lagline
