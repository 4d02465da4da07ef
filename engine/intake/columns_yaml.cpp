#include "intake/columns_yaml.h"

#include "intake/yaml_map.h"
#include "ruleset/yaml_reader.h"

namespace lagline {
namespace {

void read_heading_maps(YamlMapReader& maps, const YamlNode& node, const std::string& chain,
                       ColumnMap& into) {
    maps.read_any_map(node, chain, [&](const YamlNode& key, const YamlNode& value) {
        if (const auto ours = maps.text(value, chain)) into.headings[key.text] = *ours;
    });
}

void read_word_maps(YamlMapReader& maps, const YamlNode& node, const std::string& chain,
                    ColumnMap& into) {
    maps.read_any_map(node, chain, [&](const YamlNode& field, const YamlNode& words) {
        const std::string here = chain + " -> " + field.text;
        maps.read_any_map(words, here, [&](const YamlNode& theirs, const YamlNode& ours) {
            if (const auto word = maps.text(ours, here))
                into.words[field.text][theirs.text] = *word;
        });
    });
}

void read_keep(YamlMapReader& maps, const YamlNode& node, const std::string& chain,
               ColumnMap& into) {
    if (!node.is_list()) {
        maps.add(Problem::yaml_shape, node, chain, "something else", "a list of headings",
                 "write keep: [heading, heading]");
        return;
    }
    for (const YamlNode& item : node.items) {
        if (const auto heading = maps.text(item, chain)) into.keep.insert(*heading);
    }
}

}  // namespace

ColumnMaps read_columns_yaml(const std::filesystem::path& path, Report& report) {
    ColumnMaps all;
    const auto file = read_yaml_file(path, report);
    if (!file) return all;
    YamlMapReader maps{report};
    const auto read_file = [&](const std::string& name) {
        return [&maps, &all, name](const YamlNode& node) {
            ColumnMap& map = all[name];
            maps.read_map(
                node, name,
                {{"headings",
                  [&](const YamlNode& n) {
                      read_heading_maps(maps, n, name + " -> headings", map);
                  }},
                 {"words",
                  [&](const YamlNode& n) { read_word_maps(maps, n, name + " -> words", map); }},
                 {"keep", [&](const YamlNode& n) { read_keep(maps, n, name + " -> keep", map); }}});
        };
    };
    maps.read_map(file->root, "columns.yaml",
                  {{"segments.csv", read_file("segments.csv")},
                   {"inspections.csv", read_file("inspections.csv")},
                   {"turnarounds.csv", read_file("turnarounds.csv")},
                   {"overrides.csv", read_file("overrides.csv")}});
    return all;
}

}  // namespace lagline
