#include <doctest/doctest.h>

#include <algorithm>
#include <exception>
#include <functional>
#include <utility>

#include "rationale/exceptions.h"
#include "rationale/rule_tables.h"
#include "rationale/world.h"
#include "support/rules.h"
#include "support/temp_folder.h"

namespace lagline {
namespace {

using TableEntry = std::pair<std::string, std::string>;

/// What came of changing the values of one rule set in turn, in one plant after the other.
struct Findings {
    std::size_t values = 0;
    std::size_t changes = 0;
    std::set<TableEntry> all;
    std::set<TableEntry> cited;
    std::set<TableEntry> act;
    std::map<std::pair<std::string, std::string>, std::string> not_cited;  ///< quantity, table
};

/// Changes the values of a world's rules in turn.
class Trial {
  public:
    Trial(World& world, Findings& found, std::set<const Exception*>& needed)
        : world_(world), found_(found), needed_(needed) {}

    /// All values; in a further plant only those that no plant before it used.
    void run() {
        for (OpenTable& table : tables_read(world_.rules())) {
            const std::string& name = table.info->name;
            if (excepted(tables_not_changed(), name, "", needed_)) continue;
            for (RuleEntry* entry : table.entries) {
                const TableEntry key{name, entry->key};
                if (found_.act.contains(key)) continue;
                const bool again = !found_.all.insert(key).second;
                const bool cited = is_cited(*entry);
                if (cited) found_.cited.insert(key);
                if (again && !cited) continue;
                if (!again) ++found_.values;
                change(table, *entry, key);
            }
        }
    }

  private:
    [[nodiscard]] bool is_cited(const RuleEntry& entry) const {
        for (std::size_t row = 0; row < world_.numbers().rows().size(); ++row) {
            for (const auto& [key, told] : world_.told(row).by_key) {
                if (cites(told, entry)) return true;
            }
        }
        return false;
    }

    // A default by a table is cited as the place of the input.
    static bool cites(const Told& told, const RuleEntry& entry) {
        return told.rules.contains(&entry) || told.places.contains(entry.place);
    }

    void change(const OpenTable& table, RuleEntry& entry, const TableEntry& key) {
        for (const RuleEntry& other : small_changes(entry, *table.info, world_.rules())) {
            try_one(table, entry, other, key);
        }
        const bool limit = table.one_value || table.info->dimension == Dimension::temperature ||
                           table.info->dimension == Dimension::length;
        if (!limit && found_.act.contains(key)) return;
        for (const RuleEntry& other : large_changes(entry, *table.info)) {
            try_one(table, entry, other, key);
        }
    }

    void try_one(const OpenTable& table, RuleEntry& entry, const RuleEntry& other,
                 const TableEntry& key) {
        const RuleEntry kept = std::exchange(entry, other);
        ++found_.changes;
        try {
            compare(entry, key, world_.rank_again(read_by_intake(*table.info)));
        } catch (const std::exception&) {
            // A value that no rule set can have.
        }
        entry = kept;
    }

    void compare(const RuleEntry& entry, const TableEntry& key, const Numbers2D& after) {
        for (std::size_t row = 0; row < world_.numbers().rows().size(); ++row) {
            const auto changed = world_.numbers().changed(row, after);
            for (const std::string_view quantity : changed) {
                const ToldRow& told = world_.told(row);
                const Told& one = told.by_key.at(quantity);
                if (cites(one, entry)) {
                    found_.act.insert(key);
                } else if (!through_an_input(one, changed) &&
                           !excepted(values_not_cited(), key.first, quantity, needed_)) {
                    found_.not_cited.try_emplace(
                        {std::string{quantity}, key.first},
                        "segment " + told.explanation.segment + ", entry " + key.second);
                }
            }
        }
    }

    World& world_;
    Findings& found_;
    std::set<const Exception*>& needed_;
};

std::string listed(const std::map<std::string, std::string>& entries) {
    std::string text;
    for (const auto& [table, keys] : entries) text += table + ":" + keys + "\n";
    return text;
}

void check(const Findings& found, std::set<const Exception*>& needed) {
    std::string not_cited;
    for (const auto& [pair, example] : found.not_cited) {
        not_cited += pair.first + " changes with " + pair.second + ": " + example + "\n";
    }
    CHECK(not_cited == "");
    std::map<std::string, std::string> idle;
    std::map<std::string, std::string> never;
    for (const TableEntry& key : found.all) {
        if (!found.cited.contains(key)) {
            if (excepted(values_never_cited(), key.first, "", needed)) continue;
            never[key.first] += " [" + key.second + "]";
        } else if (!found.act.contains(key)) {
            if (excepted(values_without_effect(), key.first, "", needed)) continue;
            idle[key.first] += " [" + key.second + "]";
        }
    }
    CHECK(listed(idle) == "");
    CHECK(listed(never) == "");
    MESSAGE(found.values << " values, " << found.changes << " changes, " << found.cited.size()
                         << " cited, " << found.act.size() << " change a number where cited");
}

RuleSet with_overlay(const std::string& base) {
    const TempFolder folder;
    folder.write("site.yaml", R"(ruleset: {name: site, meaning: test}
site_factors:
  near_tower:
    column: tower_zone
    meaning: "drift of the cooling tower"
    entries: {A: 1.3, B: 1.1}
    otherwise: 0.9
    basis: site
    reason: "invented"
changes:
  - {table: wall_loss_of_family, entry: austenitic, to: yes, reason: "invented"}
  - {table: insulation_factor, entry: mineral_wool, to: 1.4, reason: "invented"}
)");
    LoadedRules loaded = load_rules(rules_root(), base, folder.path());
    REQUIRE_MESSAGE(loaded.rules.has_value(), to_text(loaded.report));
    return std::move(*loaded.rules);
}

struct Site {
    PlantDescription description;
    bool overlay = false;
    std::size_t drawn = 250;
};

void run(const std::string& name, const RuleSet& rules, const std::vector<Site>& sites,
         std::set<const Exception*>& needed) {
    CAPTURE(name);
    Findings found;
    for (const Site& site : sites) {
        World world{site.overlay ? with_overlay(name) : rules, site.description, site.drawn};
        Trial{world, found, needed}.run();
    }
    check(found, needed);
}

TEST_CASE("a rule value that changes a number is cited for it, and one that is cited acts") {
    std::set<const Exception*> needed;
    run("published", published_rules(),
        {{full_description(), false, 1200}, {bare_description()}, {full_description(), true}},
        needed);
    run("extended", extended_rules(),
        {{full_description(), false, 1200},
         {bare_description()},
         {full_description(300.0, 0.2)},
         {full_description(1800.0, 12.0)},
         {full_description(2600.0, 80.0)},
         {full_description(), true}},
        needed);
    for (const auto list : {tables_not_changed(), values_not_cited(), values_without_effect(),
                            values_never_cited()}) {
        CHECK(not_needed(list, needed) == "");
    }
}

}  // namespace
}  // namespace lagline
