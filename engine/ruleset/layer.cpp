#include "ruleset/layer.h"

#include <algorithm>
#include <array>
#include <functional>
#include <utility>

#include "diagnostics/nearest.h"
#include "diagnostics/text.h"
#include "plant/field.h"
#include "ruleset/distribution_reader.h"

namespace lagline {
namespace {

namespace fs = std::filesystem;

constexpr std::array<std::string_view, 9> top_keys{"ruleset",  "sources",      "words",
                                                   "defaults", "tables",       "distributions",
                                                   "changes",  "site_factors", "checks"};
constexpr std::array<std::string_view, 3> ruleset_keys{"name", "meaning", "based_on"};
constexpr std::array<std::string_view, 3> document_keys{"title", "edition", "note"};
constexpr std::array<std::string_view, 4> default_keys{"take", "reason", "source", "basis"};
// As words of a vocabulary these would be taken for keys of the format.
constexpr std::array<std::string_view, 9> reserved{"at",    "is",     "value", "upto", "below",
                                                   "above", "source", "basis", "note"};
constexpr std::size_t most_words = 255;  // a code is one byte

void report_folder(Report& report, Severity severity, Problem problem, const fs::path& path,
                   std::string found, std::string expected, std::string mend) {
    Diagnostic diagnostic;
    diagnostic.severity = severity;
    diagnostic.problem = problem;
    diagnostic.where.file = path.lexically_normal().generic_string();
    diagnostic.found = std::move(found);
    diagnostic.expected = std::move(expected);
    diagnostic.mend = std::move(mend);
    report.add(std::move(diagnostic));
}

bool is_hidden(const fs::path& path) { return path.filename().generic_string().starts_with('.'); }

void read_ruleset(const YamlNode& node, Layer& layer, Report& report) {
    const Scope scope{report, layer.name + " -> ruleset"};
    if (!expect_map(node, scope)) return;
    expect_keys(node, ruleset_keys, scope);
    if (auto name = need_text(node, "name", scope)) {
        layer.name = std::move(*name);
        layer.name_at = node.find("name");
    }
    layer.meaning = need_text(node, "meaning", scope).value_or("");
    layer.based_on = text_or_empty(node, "based_on", scope);
    if (!layer.based_on.empty()) layer.based_on_at = node.find("based_on");
}

void find_ruleset(Layer& layer, Report& report) {
    const YamlNode* first = nullptr;
    for (const auto& file : layer.files) {
        const auto* key = file->root.find_key("ruleset");
        if (key == nullptr) continue;
        if (first != nullptr) {
            report_twice(*key, "ruleset", place_of(*first), "keep one in each layer",
                         {report, layer.name});
            continue;
        }
        first = key;
        read_ruleset(*file->root.find("ruleset"), layer, report);
    }
    if (first != nullptr || layer.files.empty()) return;
    report_folder(report, Severity::error, Problem::missing_key, layer.folder, "no 'ruleset'",
                  "one file with ruleset: {name: ..., meaning: ...}", "add it to one of the files");
}

/// What the sections of a layer need.
struct LayerReader {
    const Layer& layer;
    RuleDraft& draft;
    Report& report;
    std::map<std::string, Place> made_here;

    [[nodiscard]] Scope scope(std::string_view section) const {
        return Scope{report, layer.name}.at(section);
    }
    /// Calls `read` with every value of this top-level key, file by file.
    template <class Read>
    void each(std::string_view section, Read read) {
        for (const auto& file : layer.files) {
            const auto* node = file->root.find(section);
            if (node != nullptr && node->kind != YamlNode::Kind::nothing) read(*node);
        }
    }
    /// Calls `read(key, value)` with every pair of the maps at this top-level key.
    template <class Read>
    void each_pair(std::string_view section, const Scope& at, Read read) {
        each(section, [&](const YamlNode& map) {
            if (!expect_map(map, at)) return;
            for (std::size_t i = 0; i < map.keys.size(); ++i) {
                if (map.keys[i].is_scalar()) read(map.keys[i], map.items[i]);
            }
        });
    }
};

void check_top(const LayerReader& r) {
    for (const auto& file : r.layer.files) {
        if (file->root.kind == YamlNode::Kind::nothing) continue;
        const Scope scope{r.report, r.layer.name};
        if (expect_map(file->root, scope)) expect_keys(file->root, top_keys, scope);
    }
}

void read_source_entry(const YamlNode& key, const YamlNode& node, LayerReader& r,
                       const Scope& section) {
    const auto scope = section.at(key.text);
    auto& sources = r.draft.rules.sources;
    const auto at = sources.find(key.text);
    if (at != sources.end()) {
        // Two of one file are reported as doubled keys.
        if (at->second.place.file != key.file->name) {
            report_twice(key, "the source '" + printable(key.text) + "'", at->second.place,
                         "give the new document an id of its own", scope);
        }
        return;
    }
    RuleSource source;
    source.id = key.text;
    source.place = place_of(key);
    if (expect_map(node, scope)) {
        expect_keys(node, document_keys, scope);
        source.title = need_text(node, "title", scope).value_or("");
        source.edition = need_text(node, "edition", scope).value_or("");
        source.note = text_or_empty(node, "note", scope);
    }
    sources.emplace(key.text, std::move(source));
}

void read_one_word(const YamlNode& key, const YamlNode& meaning, Vocabulary& words,
                   const Scope& scope) {
    if (const auto code = words.code(key.text)) {
        const auto& first = words.words[*code].place;
        if (first.file.empty()) {  // built in: the file may say it again, with its own meaning
            words.words[*code].place = place_of(key);
            return;
        }
        if (first.file != key.file->name) {
            report_twice(key, "the word '" + printable(key.text) + "'", first,
                         "list only the words that are new", scope);
        }
        return;
    }
    if (key.text.empty() || trimmed(key.text) != key.text) {
        scope.error(Problem::missing_value, key, "a word with blank ends", "a word", "trim it");
        return;
    }
    if (std::ranges::find(reserved, key.text) != reserved.end()) {
        scope.error(Problem::contradiction, key, "'" + key.text + "', a key of the rule format",
                    "a word that is no key of the rule format", "choose another word");
        return;
    }
    if (words.words.size() == most_words) {
        scope.error(Problem::out_of_range, key, "more than 255 words", "at most 255",
                    "split the vocabulary");
        return;
    }
    std::string text;
    const bool silent = meaning.kind == YamlNode::Kind::nothing ||
                        (meaning.is_scalar() && trimmed(meaning.text).empty());
    // Some words speak for themselves: "1", "A".
    if (!silent) text = read_text(meaning, scope.at(key.text)).value_or("");
    words.words.push_back({key.text, std::move(text), place_of(key)});
}

void read_vocabulary(const YamlNode& key, const YamlNode& node, LayerReader& r,
                     const Scope& section) {
    const auto scope = section.at(key.text);
    if (!expect_map(node, scope)) return;
    auto& words = r.draft.rules.vocabularies[key.text];
    words.name = key.text;
    for (std::size_t i = 0; i < node.keys.size(); ++i) {
        if (node.keys[i].is_scalar()) read_one_word(node.keys[i], node.items[i], words, scope);
    }
    if (node.keys.empty()) {
        scope.error(Problem::missing_entry, node, "no words", "one word or more", "add a word");
    }
    // A flag is stored as 0 or 1, which are the codes of these two.
    const auto keys = words.keys();
    if (key.text == "yes_no" && (keys.size() != 2 || keys[0] != "no" || keys[1] != "yes")) {
        scope.error(Problem::contradiction, key, listing(keys),
                    "the words no and yes, in this order", "leave yes_no out: it is there already");
    }
}

void read_table_entry(const YamlNode& key, const YamlNode& node, LayerReader& r,
                      const Scope& layer_scope) {
    const auto scope = layer_scope.at(key.text);
    const auto at = r.draft.tables.find(key.text);
    if (at == r.draft.tables.end()) {
        r.draft.tables.emplace(key.text, read_table(key, node, r.draft.rules, std::nullopt, scope));
        return;
    }
    const auto& first = at->second.info.place;
    if (first.file == key.file->name) return;  // reported as a doubled key
    const bool same_layer = std::ranges::any_of(
        r.layer.files, [&first](const auto& file) { return file->name == first.file; });
    report_twice(key, "the table '" + printable(key.text) + "'", first,
                 same_layer ? "keep one of the two"
                            : "change it under 'changes', with replace: {...} for the whole table",
                 scope);
}

void read_default(const YamlNode& key, const YamlNode& node, LayerReader& r, const Scope& section) {
    const auto scope = section.at(key.text);
    if (!find_field(segment_fields(), key.text)) {
        std::vector<std::string_view> fields;
        for (const auto& field : segment_fields()) fields.push_back(field.key);
        scope.error(Problem::unknown_key, key, "'" + printable(key.text) + "'",
                    "a column of segments.csv", suggest(key.text, fields));
    }
    auto& defaults = r.draft.rules.defaults;
    if (const auto at = defaults.find(key.text); at != defaults.end()) {
        if (at->second.place.file == key.file->name) return;  // reported as a doubled key
        report_twice(key, "the default of '" + printable(key.text) + "'", at->second.place,
                     "change it under 'changes': {default: " + printable(key.text) +
                         ", to: ..., reason: ...}",
                     scope);
        return;
    }
    DefaultRule rule;
    rule.field = key.text;
    rule.place = place_of(key);
    if (expect_map(node, scope)) {
        expect_keys(node, default_keys, scope);
        rule.text = need_text(node, "take", scope).value_or("");
        rule.reason = need_text(node, "reason", scope, Problem::missing_reason).value_or("");
        auto provenance = read_provenance(node, r.draft.rules, {}, scope);
        if (node.find("basis") == nullptr) need(node, "basis", scope);
        rule.source = std::move(provenance.source);
        rule.basis = provenance.basis.value_or(Basis::site);
    }
    defaults.emplace(key.text, std::move(rule));
}

void read_layer_changes(LayerReader& r) {
    const auto scope = r.scope("changes");
    r.each("changes", [&](const YamlNode& list) {
        if (r.layer.overlay) {
            read_changes(list, r.draft, r.made_here, scope);
            return;
        }
        scope.error(Problem::contradiction, *list.file->root.find_key("changes"),
                    "changes in a rule set that lies on no other", "changes in an overlay only",
                    "change the value where it stands, or add based_on");
    });
}

}  // namespace

std::vector<fs::path> rule_files(const fs::path& folder, const std::string& shown, Report& report) {
    std::vector<std::pair<std::string, fs::path>> found;
    std::error_code error;
    fs::recursive_directory_iterator at(folder, error);
    for (; !error && at != fs::recursive_directory_iterator(); at.increment(error)) {
        const auto& path = at->path();
        if (is_hidden(path)) {  // left by editors and version control
            at.disable_recursion_pending();
            continue;
        }
        if (path.extension() == ".yml") {
            report_folder(report, Severity::warning, Problem::not_a_file,
                          fs::path(shown) / path.lexically_relative(folder),
                          "a file that is not read", "rule files named *.yaml",
                          "rename it to .yaml");
        }
        std::error_code ignored;
        if (path.extension() != ".yaml" || fs::is_directory(path, ignored)) continue;
        found.emplace_back(path.lexically_relative(folder).generic_string(), path);
    }
    if (error) {
        report_folder(report, Severity::error, Problem::unreadable_file, folder, "cannot be read",
                      "a folder of rule files", "check its permissions");
    }
    std::ranges::sort(found);
    std::vector<fs::path> files;
    for (auto& [relative, path] : found) files.push_back(std::move(path));
    return files;
}

void report_twice(const YamlNode& at, const std::string& what, const Place& first,
                  const std::string& mend, const Scope& scope) {
    scope.error(Problem::duplicate_key, at, what + ", which is also at " + to_string(first),
                what + " once", mend);
}

Layer read_layer_files(const fs::path& folder, const std::string& shown, Report& report) {
    Layer layer;
    layer.folder = folder;
    const auto plain = folder.lexically_normal();
    layer.name = (plain.has_filename() ? plain : plain.parent_path()).filename().generic_string();
    const auto paths = rule_files(folder, shown, report);
    if (paths.empty()) {
        report_folder(report, Severity::error, Problem::missing_file, folder, "no rule files",
                      "one file *.yaml or more", "check the name of the folder");
    }
    bool all = true;
    for (const auto& path : paths) {
        const auto name = fs::path(shown) / path.lexically_relative(folder);
        auto file = read_yaml_file(path, report, name.lexically_normal().generic_string());
        all = all && file != nullptr;
        if (file != nullptr) layer.files.push_back(std::move(file));
    }
    // A file that could not be read may hold it: no second complaint then.
    if (all || std::ranges::any_of(layer.files, [](const auto& file) {
            return file->root.find_key("ruleset") != nullptr;
        })) {
        find_ruleset(layer, report);
    }
    return layer;
}

void add_layer(const Layer& layer, RuleDraft& draft, Report& report) {
    draft.rules.layers.push_back(layer.name);
    LayerReader r{layer, draft, report, {}};
    check_top(r);
    const auto sources = r.scope("sources");
    const auto words = r.scope("words");
    const auto defaults = r.scope("defaults");
    const Scope tables{report, layer.name};
    // Sources and words first: everything else refers to them, whatever file it stands in.
    r.each_pair("sources", sources, [&](const auto& key, const auto& node) {
        read_source_entry(key, node, r, sources);
    });
    r.each_pair("words", words,
                [&](const auto& key, const auto& node) { read_vocabulary(key, node, r, words); });
    r.each_pair("tables", r.scope("tables"),
                [&](const auto& key, const auto& node) { read_table_entry(key, node, r, tables); });
    r.each_pair("defaults", defaults,
                [&](const auto& key, const auto& node) { read_default(key, node, r, defaults); });
    r.each("distributions", [&](const YamlNode& map) {
        read_distributions(map, draft.rules, r.scope("distributions"));
    });
    r.each("site_factors", [&](const YamlNode& map) {
        read_site_factors(map, draft.rules, layer.overlay, r.scope("site_factors"));
    });
    r.each("checks",
           [&](const YamlNode& list) { read_checks(list, draft.rules, r.scope("checks")); });
    read_layer_changes(r);
    draft.rules.folders.push_back(layer.folder);
    draft.rules.name = layer.name;
    draft.rules.meaning = layer.meaning;
}

}  // namespace lagline
