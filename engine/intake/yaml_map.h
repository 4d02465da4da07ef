#pragma once

#include <functional>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "diagnostics/diagnostic.h"
#include "quantity/date.h"
#include "quantity/unit.h"
#include "ruleset/yaml_reader.h"

namespace lagline {

/// Strict reading of plain YAML maps: every key is known or reported, every value is of its kind
/// or reported with its place.
class YamlMapReader {
  public:
    explicit YamlMapReader(Report& report) : report_(report) {}

    struct Key {
        std::string_view name;
        std::function<void(const YamlNode&)> read;
    };
    /// Hands each value of `map` to the reader of its key; unknown keys and a node that is not a
    /// map are reported.  `chain` names the map in messages, "climate".
    void read_map(const YamlNode& map, std::string_view chain, const std::vector<Key>& keys);
    /// Hands each (key, value) of `map` to `read`, whatever the key.
    void read_any_map(const YamlNode& map, std::string_view chain,
                      const std::function<void(const YamlNode& key, const YamlNode& value)>& read);

    [[nodiscard]] std::optional<std::string> text(const YamlNode& node, std::string_view chain);
    [[nodiscard]] std::optional<double> number(const YamlNode& node, std::string_view chain,
                                               double least, double most);
    /// "62 %", "2 km": a number with its unit, turned into `unit` of `dimension`.
    [[nodiscard]] std::optional<double> quantity(const YamlNode& node, std::string_view chain,
                                                 Dimension dimension, std::string_view unit,
                                                 double least, double most);
    [[nodiscard]] std::optional<Date> date(const YamlNode& node, std::string_view chain);

    /// True when add() only counts: callers may spare themselves a long search for a mend.
    [[nodiscard]] bool full() const { return report_.full(); }
    void add(Problem problem, const YamlNode& node, std::string_view chain, std::string found,
             std::string expected, std::string mend);

  private:
    Report& report_;
};

}  // namespace lagline
