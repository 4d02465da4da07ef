#include "ranking/empty_cells.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <optional>

#include "blocks/number_text.h"
#include "intake/load_plant.h"
#include "intake/source_file.h"
#include "quantity/date.h"
#include "ranking/ranking.h"

namespace lagline {
namespace {

using TextCells = std::map<std::string, std::string, std::less<>>;

// Equal risks that were added up in another order.
constexpr double rounding = 1e-9;

// Middles of five equal parts.
constexpr std::array middles{0.1, 0.3, 0.5, 0.7, 0.9};

struct Option {
    std::string text;
    double share = 0.0;
};
using Options = std::vector<Option>;

const Distribution* distribution_of(const RuleSet& rules, std::size_t field) {
    for (const auto& [name, made] : rules.distributions) {
        if (made.file == DistributionFile::segments && made.field == field &&
            made.cell == DoubtfulCell::missing) {
            return &made;
        }
    }
    return nullptr;
}

/// What may stand in a cell, given the other cells of a segment.
class CommonValues {
  public:
    CommonValues(const RuleSet& rules, const TextCells& cells) : rules_(rules), cells_(cells) {}

    /// One empty text where the segment is not asked for the cell; nothing where the rules do not
    /// say how common its values are.
    [[nodiscard]] Options of(std::size_t field) const {
        const Distribution* made = distribution_of(rules_, field);
        if (made == nullptr) return {};
        if (made->asked_by && !asked(*made)) return {{"", 1.0}};
        Options options = regardless(*made);
        if (!segment_fields()[field].words.empty()) narrow(field, options);
        return options;
    }

  private:
    [[nodiscard]] std::string_view given(std::size_t field) const {
        const auto cell = cells_.find(segment_fields()[field].key);
        if (cell == cells_.end() || cell->second == "unknown") return {};
        return cell->second;
    }

    [[nodiscard]] std::optional<std::uint8_t> word_given(std::size_t field) const {
        const std::string_view word = given(field);
        if (word.empty()) return std::nullopt;
        return rules_.vocabulary(segment_fields()[field].words).code(word);
    }

    [[nodiscard]] bool asked(const Distribution& made) const {
        const auto code = word_given(*made.asked_by);
        return code && std::ranges::find(made.asked_words, *code) != made.asked_words.end();
    }

    [[nodiscard]] Options words_of(const Distribution& made, EntryRange range) const {
        const auto& words = rules_.vocabulary(made.column().words).words;
        Options options;
        for (std::size_t i = range.first; i < range.first + range.count; ++i) {
            const RuleEntry& entry = made.entries[i];
            if (entry.value > 0.0) options.push_back({words[entry.code].key, entry.value});
        }
        return options;
    }

    [[nodiscard]] Options numbers_of(const Distribution& made, EntryRange range) const {
        const auto unit = parse_unit(made.info.unit, made.info.dimension);
        Options options;
        for (const double middle : middles) {
            std::size_t i = range.first + 1;
            while (made.probabilities[i] < middle) ++i;
            const double before = made.probabilities[i - 1];
            const double part = (middle - before) / (made.probabilities[i] - before);
            const double value = made.entries[i - 1].value +
                                 part * (made.entries[i].value - made.entries[i - 1].value);
            const double shown =
                unit ? convert(value, base_unit(made.info.dimension), *unit) : value;
            options.push_back(
                {short_number(shown, 6) + (made.info.unit == "-" ? "" : " " + made.info.unit),
                 1.0 / static_cast<double>(middles.size())});
        }
        return options;
    }

    [[nodiscard]] Options days_between(const Distribution& made) const {
        const auto from = parse_date(given(made.from));
        const auto to = parse_date(given(made.to));
        if (!from || !to || to->date <= from->date) return {};
        Options options;
        for (const double middle : middles) {
            const double days = middle * static_cast<double>(to->date.days - from->date.days);
            options.push_back(
                {to_string(Date{from->date.days + static_cast<std::int32_t>(std::lround(days))}),
                 1.0 / static_cast<double>(middles.size())});
        }
        return options;
    }

    [[nodiscard]] Options by_year(const Distribution& made) const {
        double year = std::numeric_limits<double>::max();
        for (const std::size_t field : made.year_of) {
            if (const auto day = parse_date(given(field))) {
                year = year_of(day->date);
                break;
            }
        }
        const auto band = std::ranges::find_if(
            made.bands, [year](const Distribution::Band& each) { return year < each.before_year; });
        const auto& found = band == made.bands.end() ? made.bands.back() : *band;
        return words_of(made, found.entries);
    }

    // By the word of another column; where that is not given, over all its words as they are
    // common.
    [[nodiscard]] Options by_word(const Distribution& made) const {
        const auto field = segment_field_of_words(made.info.by);
        const auto code = field ? word_given(*field) : std::nullopt;
        const auto list = [&](std::uint8_t word) {
            return made.probabilities.empty() ? words_of(made, made.lists[word])
                                              : numbers_of(made, made.lists[word]);
        };
        if (code) return list(*code);
        const Distribution* over = field ? distribution_of(rules_, *field) : nullptr;
        const auto& words = rules_.vocabulary(made.info.by);
        if (over == nullptr || !made.probabilities.empty()) {
            return list(words.code("unknown").value_or(0));
        }
        Options all;
        for (const Option& other : regardless(*over)) {
            const auto word = words.code(other.text);
            if (!word) continue;
            for (const Option& each : list(*word)) add(all, each.text, other.share * each.share);
        }
        return all;
    }

    static void add(Options& options, const std::string& text, double share) {
        const auto same = std::ranges::find(options, text, &Option::text);
        if (same != options.end()) {
            same->share += share;
        } else {
            options.push_back({text, share});
        }
    }

    // Before what other columns say of this one is heeded.
    [[nodiscard]] Options regardless(const Distribution& made) const {
        if (made.kind == DistributionKind::between) return days_between(made);
        if (!made.lists.empty()) {
            if (!made.info.by.empty()) return by_word(made);
            return made.probabilities.empty() ? words_of(made, made.lists.front())
                                              : numbers_of(made, made.lists.front());
        }
        return made.bands.empty() ? Options{} : by_year(made);
    }

    // Bayes: a word is the likelier, the more common what the other cells hold is with it.
    void narrow(std::size_t field, Options& options) const {
        const std::string_view words = segment_fields()[field].words;
        for (const auto& [name, other] : rules_.distributions) {
            if (other.info.by != words || other.file != DistributionFile::segments ||
                other.cell != DoubtfulCell::missing || !other.probabilities.empty() ||
                other.lists.empty() || other.field == field) {
                continue;
            }
            const std::string_view held = given(other.field);
            if (held.empty()) continue;
            Options narrowed;
            double sum = 0.0;
            for (const Option& each : options) {
                const auto code = rules_.vocabulary(words).code(each.text);
                const Options list = words_of(other, other.lists[code.value()]);
                const auto same = std::ranges::find(list, held, &Option::text);
                if (same == list.end()) continue;
                narrowed.push_back({each.text, each.share * same->share});
                sum += narrowed.back().share;
            }
            if (sum <= 0.0) continue;  // never seen together: the one says nothing of the other
            for (Option& each : narrowed) each.share /= sum;
            options = std::move(narrowed);
        }
    }

    const RuleSet& rules_;
    const TextCells& cells_;
};

std::string csv_field(std::string_view text) {
    std::string field = "\"";
    for (const char c : text) {
        if (c == '"') field += '"';
        field += c;
    }
    return field + "\"";
}

std::string csv_of(const std::vector<TextCells>& rows) {
    TextCells headings;
    for (const TextCells& row : rows) headings.insert(row.begin(), row.end());
    std::string csv;
    for (const auto& [key, text] : headings) csv += csv_field(key) + ",";
    csv += "\"segment\"\n";
    for (std::size_t i = 0; i < rows.size(); ++i) {
        for (const auto& [key, text] : headings) {
            const auto cell = rows[i].find(key);
            csv += csv_field(cell == rows[i].end() ? "" : cell->second) + ",";
        }
        csv += csv_field("V-" + std::to_string(i)) + "\n";
    }
    return csv;
}

/// Risk of each row [currency/y]; nothing for one that is not ranked.
std::vector<std::optional<double>> risks_of(const std::vector<TextCells>& rows,
                                            const TriedSegment& segment, const RuleSet& rules,
                                            Report& report) {
    PlantSources sources;
    sources.file.description = segment.description;
    sources.segments = source_from_text(csv_of(rows), "tried segment", report);
    const LoadOptions options{segment.at, segment.at, {.block_rows = rows.size(), .threads = 1}};
    LoadedPlant loaded = assemble_plant(std::move(sources), rules, options, std::move(report));
    report = std::move(loaded.report);
    std::vector<std::optional<double>> risks(rows.size());
    if (!loaded.plant) return risks;
    const Ranking ranking = rank(*loaded.plant, rules, options.plan);
    for (std::size_t row = 0; row < ranking.rows(); ++row) {
        auto& risk = risks[ranking.segment_rows[row]];
        const double found = ranking.risk.risk_per_year[static_cast<Eigen::Index>(row)];
        if (!std::isnan(found)) risk = std::max(risk.value_or(0.0), found);
    }
    return risks;
}

std::string empty_text(std::size_t field) {
    // A column that every row needs has a word for not known.
    return segment_fields()[field].needed ? "unknown" : "";
}

void weigh(WeighedCells& weighed) {
    auto values = weighed.values;
    std::ranges::sort(values, {}, &TriedCells::effect);
    double below = 0.0;
    weighed.median = values.back().effect;
    for (const TriedCells& value : values) {
        below += value.share;
        if (below < 0.5 - rounding) continue;
        weighed.median = value.effect;
        break;
    }
    for (const TriedCells& value : values) {
        if (value.effect > 1.0 + rounding) weighed.worse += value.share;
    }
}

std::string taken_for(const RuleSet& rules, const FieldInfo& field) {
    const auto rule = rules.defaults.find(field.key);
    const auto table = rules.lookups.find(field.key);
    std::string taken;
    if (table != rules.lookups.end()) {
        taken = "by " + table->second.info.by + ", table " + table->second.info.name;
        if (rule == rules.defaults.end()) return taken;
        return taken + ", else " + rule->second.text;
    }
    if (rule != rules.defaults.end()) return rule->second.text;
    return field.needed ? "unknown" : std::string{field.absent};
}

}  // namespace

bool WeighedCells::cautious() const { return worse <= 0.5 + rounding; }

TriedSegment reference_segment() {
    return {.cells = {{"line", "L-1"},
                      {"unit", "U-1"},
                      {"material", "carbon_steel"},
                      {"nominal_size", "NPS 6"},
                      {"nominal_wall", "10.97 mm"},
                      {"operating_temperature", "70 degC"},
                      {"insulation_type", "mineral_wool"},
                      {"in_service", "2010-01-01"},
                      {"coating_system", "epoxy"},
                      {"coating_quality", "medium"}},
            .description = {},
            .at = make_date(2025, 1, 1)};
}

WeighedCells weigh_empty(const RuleSet& rules, const TriedSegment& segment,
                         std::span<const std::size_t> fields) {
    WeighedCells weighed;
    TextCells empty = segment.cells;
    for (const std::size_t field : fields) {
        empty[std::string{segment_fields()[field].key}] = empty_text(field);
        // A cell that only some segments are asked for is tried on one of those.
        const Distribution* made = distribution_of(rules, field);
        if (made == nullptr || !made->asked_by || made->asked_words.empty()) continue;
        if (std::ranges::find(fields, *made->asked_by) != fields.end()) continue;
        const FieldInfo& by = segment_fields()[*made->asked_by];
        empty[std::string{by.key}] =
            rules.vocabulary(by.words).words[made->asked_words.front()].key;
    }
    std::vector<TextCells> rows{empty};
    weighed.values.push_back({"", 1.0, 0.0});
    for (const std::size_t field : fields) {
        std::vector<TextCells> more;
        std::vector<TriedCells> values;
        for (std::size_t i = 0; i < rows.size(); ++i) {
            for (const Option& option : CommonValues{rules, rows[i]}.of(field)) {
                const TriedCells& before = weighed.values[i];
                more.push_back(rows[i]);
                more.back()[std::string{segment_fields()[field].key}] = option.text;
                const std::string text = option.text.empty() ? "-" : option.text;
                values.push_back({before.text.empty() ? text : before.text + ", " + text,
                                  before.share * option.share, 0.0});
            }
        }
        rows = std::move(more);
        weighed.values = std::move(values);
    }
    if (rows.empty()) return weighed;
    rows.push_back(empty);
    const auto risks = risks_of(rows, segment, rules, weighed.report);
    if (!risks.back()) {  // not a segment of a mechanism
        weighed.values.clear();
        return weighed;
    }
    const double base = *risks.back();
    for (std::size_t i = 0; i < weighed.values.size(); ++i) {
        const double risk = risks[i].value_or(0.0);
        const double none = risk > 0.0 ? std::numeric_limits<double>::infinity() : 1.0;
        weighed.values[i].effect = base > 0.0 ? risk / base : none;
    }
    weigh(weighed);
    return weighed;
}

std::vector<EmptyColumn> empty_columns(const RuleSet& rules) {
    const TriedSegment reference = reference_segment();
    std::vector<EmptyColumn> columns;
    for (const std::size_t field : fields_read(rules)) {
        const Distribution* made = distribution_of(rules, field);
        if (made == nullptr) continue;
        EmptyColumn column;
        column.field = field;
        column.taken = taken_for(rules, segment_fields()[field]);
        column.basis = to_string(made->info.basis);
        column.weighed = weigh_empty(rules, reference, std::array{field});
        const auto rule = rules.defaults.find(segment_fields()[field].key);
        column.reason = column.weighed.values.empty() || rule == rules.defaults.end()
                            ? made->reason
                            : rule->second.reason;
        columns.push_back(std::move(column));
    }
    return columns;
}

}  // namespace lagline
