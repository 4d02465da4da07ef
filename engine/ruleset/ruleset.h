#pragma once

#include <cstdint>
#include <filesystem>
#include <map>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "diagnostics/diagnostic.h"
#include "ruleset/distribution.h"
#include "ruleset/table.h"

namespace lagline {

/// A document that values come from.
struct RuleSource {
    std::string id;
    std::string title;    ///< full title
    std::string edition;  ///< edition or year
    std::string note;     ///< may be empty
    Place place;
};

struct Word {
    std::string key;
    std::string meaning;
    Place place;
};

/// The words a column may hold; a column stores the position of the word.
struct Vocabulary {
    std::string name;
    std::vector<Word> words;
    [[nodiscard]] std::optional<std::uint8_t> code(std::string_view key) const;
    [[nodiscard]] std::vector<std::string_view> keys() const;
};

/// What is taken where a column of segments.csv has no value.
struct DefaultRule {
    std::string field;
    std::string text;  ///< as a cell would hold it, with its unit: "average", "12 m"
    std::string reason;
    SourceRef source;
    Basis basis{};
    Place place;
    std::string replaced;  ///< what stood there before an overlay changed it
};

/// A change that an overlay made.
struct RuleChange {
    std::string what;  ///< "insulation_factor: mineral_wool"
    std::string from;
    std::string to;
    std::string reason;
    std::string who;  ///< may be empty
    Place place;
};

/// A check in YAML: a segment in, columns out.  Texts are as a cell would hold them.
struct RuleCheck {
    struct Cell {
        std::string key;
        std::string text;
        Place place;
    };
    struct Expectation {
        std::string quantity;  ///< key of an output column
        std::string text;      ///< expected, with a unit when it is a number: "10 mpy", "High"
        std::optional<double> tolerance;  ///< absolute, in the expectation's own unit
        Place place;
    };
    std::string name;
    std::string layer;  ///< rule set that it was written for
    SourceRef source;
    std::string date;
    std::vector<Cell> segment;
    std::vector<std::vector<Cell>> inspections;
    std::vector<Cell> plant;  ///< keys of plant.yaml, e.g. management_score
    std::vector<Expectation> expect;
    Place place;
};

/// A validated rule set: one shipped set and the overlays on it.
struct RuleSet {
    std::string name;                            ///< of the topmost layer
    std::vector<std::string> layers;             ///< lowest first: {"published", "site"}
    std::vector<std::filesystem::path> folders;  ///< of the layers
    std::string meaning;
    std::map<std::string, RuleSource, std::less<>> sources;
    std::map<std::string, Vocabulary, std::less<>> vocabularies;
    std::map<std::string, ValueTable, std::less<>> values;
    std::map<std::string, LookupTable, std::less<>> lookups;
    std::map<std::string, CurveTable, std::less<>> curves;
    std::map<std::string, BandTable, std::less<>> bands;
    std::map<std::string, GridTable, std::less<>> grids;
    std::map<std::string, SiteFactorTable, std::less<>> site_factors;
    std::map<std::string, DefaultRule, std::less<>> defaults;  ///< by field
    std::map<std::string, Distribution, std::less<>> distributions;
    std::vector<RuleChange> changes;
    std::vector<RuleCheck> checks;

    // Lookup of what check_needs() has promised; @throws std::out_of_range for an unknown name.
    [[nodiscard]] const Vocabulary& vocabulary(std::string_view name) const;
    [[nodiscard]] const ValueTable& value(std::string_view name) const;
    [[nodiscard]] const LookupTable& lookup(std::string_view name) const;
    [[nodiscard]] const CurveTable& curve(std::string_view name) const;
    [[nodiscard]] const BandTable& band(std::string_view name) const;
    [[nodiscard]] const GridTable& grid(std::string_view name) const;
};

/// True when the table of one word `name` is there and gives `word`.
[[nodiscard]] bool chooses(const RuleSet& rules, std::string_view name, std::string_view word);

/// Result of loading: the rules when there was no error, and everything found on the way.
struct [[nodiscard]] LoadedRules {
    std::optional<RuleSet> rules;
    Report report;
};

/// Loads a shipped rule set or a folder, and the site's overlay on it.
/// @param rules_root  folder that holds the shipped sets, one folder each
/// @param name_or_dir name of a shipped set ("published"), or a folder of rule files
/// @param site_overlay folder of the site's overlay (PLANT/rules), if it has one
/// A set with `based_on` is loaded on top of the shipped set of that name, and so on down.
LoadedRules load_rules(const std::filesystem::path& rules_root, const std::string& name_or_dir,
                       const std::optional<std::filesystem::path>& site_overlay = std::nullopt);

enum class TableKind : std::uint8_t { value, lookup, curves, bands, grid };

/// A table that a step of the method reads.
struct TableNeed {
    std::string_view name;
    TableKind kind{};
    Dimension dimension = Dimension::number;  ///< of its values, when it gives numbers
    std::string_view by{};
    std::string_view columns{};
    std::string_view axis{};
    std::string_view gives{};
};

/// One entry of any table, for listing and for explaining.
struct RuleLine {
    const TableInfo* table = nullptr;
    const RuleEntry* entry = nullptr;
};
/// Every entry of every table and distribution, by name, in file order within one.
[[nodiscard]] std::vector<RuleLine> all_entries(const RuleSet& rules);

/// Problems where `rules` does not provide `needs` as stated, or has a table that is neither among
/// `needs` nor among `also_known`.
[[nodiscard]] Report check_needs(const RuleSet& rules, std::span<const TableNeed> needs,
                                 std::span<const TableNeed> also_known = {});

}  // namespace lagline
