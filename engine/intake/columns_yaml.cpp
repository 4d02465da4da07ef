#include "intake/columns_yaml.h"

#include <algorithm>
#include <span>
#include <vector>

#include "diagnostics/nearest.h"
#include "diagnostics/text.h"
#include "intake/heading.h"
#include "intake/yaml_map.h"
#include "plant/field.h"
#include "ruleset/yaml_reader.h"

namespace lagline {
namespace {

std::string or_else(const std::string& meant, std::string_view otherwise) {
    return meant.empty() ? std::string{otherwise} : meant;
}

// What columns.yaml says of one file.
class FileMapReader {
  public:
    FileMapReader(YamlMapReader& maps, std::string_view name, std::span<const FieldInfo> fields,
                  const RuleSet& rules, ColumnMap& into)
        : maps_(maps), name_(name), fields_(fields), rules_(rules), into_(into) {}

    void read(const YamlNode& node) {
        maps_.read_map(node, name_,
                       {{"headings", [&](const YamlNode& n) { read_headings(n); }},
                        {"words", [&](const YamlNode& n) { read_words(n); }},
                        {"keep", [&](const YamlNode& n) { read_keep(n); }}});
    }

  private:
    void read_headings(const YamlNode& node) {
        const std::string chain = name_ + " -> headings";
        maps_.read_any_map(node, chain, [&](const YamlNode& key, const YamlNode& value) {
            const auto ours = maps_.text(value, chain + " -> " + key.text);
            if (!ours) return;
            into_.headings[key.text] = *ours;
            check_field(value, chain + " -> " + key.text, split_heading(*ours).key);
        });
    }

    void read_words(const YamlNode& node) {
        const std::string chain = name_ + " -> words";
        maps_.read_any_map(node, chain, [&](const YamlNode& key, const YamlNode& value) {
            const std::string here = chain + " -> " + key.text;
            const auto field = check_field(key, here, key.text);
            if (!field) return;
            if (const auto words = words_of(fields_[*field]); !words.empty()) {
                read_word_map(value, here, key.text, words);
                return;
            }
            maps_.add(Problem::unknown_word, key, here, "a column that holds no words",
                      "a column of words, e.g. insulation_type",
                      "remove it: cells of this column are read as they stand");
        });
    }

    void read_word_map(const YamlNode& node, const std::string& chain, const std::string& field,
                       const std::vector<std::string_view>& words) {
        maps_.read_any_map(node, chain, [&](const YamlNode& theirs, const YamlNode& ours) {
            const auto word = maps_.text(ours, chain + " -> " + theirs.text);
            if (!word) return;
            into_.words[field][theirs.text] = *word;
            if (std::ranges::find(words, *word) != words.end()) return;
            maps_.add(Problem::unknown_word, ours, chain + " -> " + theirs.text,
                      "'" + printable(*word) + "'", "one of: " + listing(words, 20),
                      or_else(did_you_mean(*word, words), "map it to one of these words"));
        });
    }

    void read_keep(const YamlNode& node) {
        const std::string chain = name_ + " -> keep";
        if (!node.is_list()) {
            maps_.add(Problem::yaml_shape, node, chain, "something else", "a list of headings",
                      "write keep: [heading, heading]");
            return;
        }
        for (const YamlNode& item : node.items) {
            if (const auto heading = maps_.text(item, chain)) into_.keep.insert(*heading);
        }
    }

    std::optional<std::size_t> check_field(const YamlNode& node, const std::string& chain,
                                           std::string_view key) {
        if (const auto field = find_field(fields_, key)) return field;
        std::vector<std::string_view> names;
        for (const FieldInfo& field : fields_) names.push_back(field.key);
        maps_.add(Problem::unknown_column, node, chain, "'" + printable(key) + "'",
                  "a column of " + name_ + ": " + listing(names, 60),
                  or_else(did_you_mean(key, names),
                          "correct the name; `lagline dictionary` lists all columns"));
        return std::nullopt;
    }

    [[nodiscard]] std::vector<std::string_view> words_of(const FieldInfo& field) const {
        if (field.kind == FieldKind::flag) return {"no", "yes"};
        if (field.kind != FieldKind::word) return {};
        return rules_.vocabulary(field.words).keys();
    }

    YamlMapReader& maps_;
    std::string name_;
    std::span<const FieldInfo> fields_;
    const RuleSet& rules_;
    ColumnMap& into_;
};

void refuse_second_map(YamlMapReader& maps, const YamlNode& node, std::string_view name,
                       std::string_view csv) {
    maps.add(Problem::duplicate_key, node, name, "a second map for the same table",
             "one of " + std::string{csv} + " and its .xlsx", "join the two maps into one");
}

}  // namespace

ColumnMaps read_columns_yaml(const std::filesystem::path& path, const RuleSet& rules,
                             Report& report) {
    ColumnMaps all;
    const auto file = read_yaml_file(path, report);
    if (!file) return all;
    YamlMapReader maps{report};
    std::vector<YamlMapReader::Key> keys;
    const auto add_table = [&](std::string_view csv, std::string_view xlsx,
                               std::span<const FieldInfo> fields) {
        // One table has one map, whatever the form of its file.
        for (const std::string_view name : {csv, xlsx}) {
            keys.push_back(
                {name, [&maps, &all, &rules, csv, name, fields](const YamlNode& node) {
                     const auto [map, fresh] = all.emplace(csv, ColumnMap{});
                     if (!fresh) refuse_second_map(maps, node, name, csv);
                     FileMapReader{maps, std::string{name}, fields, rules, map->second}.read(node);
                 }});
        }
    };
    add_table("segments.csv", "segments.xlsx", segment_fields());
    add_table("inspections.csv", "inspections.xlsx", inspection_fields());
    add_table("turnarounds.csv", "turnarounds.xlsx", turnaround_fields());
    add_table("overrides.csv", "overrides.xlsx", override_fields());
    maps.read_map(file->root, "columns.yaml", keys);
    return all;
}

}  // namespace lagline
