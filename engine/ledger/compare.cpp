#include "ledger/compare.h"

#include <algorithm>
#include <cstdlib>
#include <map>
#include <set>

#include "ledger/stored_ranks.h"

namespace lagline {
namespace {

constexpr std::size_t index_of(Cause cause) { return static_cast<std::size_t>(cause); }

Cause cause_of_option(std::string_view name) {
    if (name == "rules") return Cause::rules;
    if (name == "at" || name == "today") return Cause::time;
    return Cause::options;
}

// The files that a run is made from, by path, and its options apart.
struct Made {
    std::map<std::string, std::string> files;
    RunOptions options;
};

Made made_from(const Ledger& ledger, const RunEntry& run) {
    Made made;
    for (StoredFile& file : ledger.files(run)) {
        if (cause_of_file(file.path)) made.files.emplace(file.path, std::move(file.bytes));
    }
    auto options = read_options(ledger.file(run, options_path));
    if (!options) throw damaged_ledger(ledger.path(), "options that cannot be read");
    made.options = std::move(*options);
    return made;
}

// `a` with everything of one cause as it is in `b`.
Made with_change(const Made& a, const Made& b, Cause cause) {
    Made mixed = a;
    std::erase_if(mixed.files,
                  [&](const auto& file) { return cause_of_file(file.first) == cause; });
    for (const auto& file : b.files) {
        if (cause_of_file(file.first) == cause) mixed.files.insert(file);
    }
    std::erase_if(mixed.options,
                  [&](const auto& each) { return cause_of_option(each.first) == cause; });
    for (const auto& each : b.options) {
        if (cause_of_option(each.first) == cause) mixed.options.insert(each);
    }
    return mixed;
}

std::vector<StoredFile> files_of(const Made& made) {
    std::vector<StoredFile> files{{std::string{options_path}, canonical_json(made.options)}};
    for (const auto& [path, bytes] : made.files) files.push_back({path, bytes});
    return files;
}

template <class Map>
std::set<std::string> keys_of(const Map& a, const Map& b) {
    std::set<std::string> keys;
    for (const auto& each : a) keys.insert(each.first);
    for (const auto& each : b) keys.insert(each.first);
    return keys;
}

bool is_text(std::string_view path) { return path.ends_with(".csv") || path.ends_with(".yaml"); }

std::vector<InputChange> input_changes(const Made& a, const Made& b) {
    std::vector<InputChange> changes;
    for (const std::string& path : keys_of(a.files, b.files)) {
        const auto before = a.files.find(path);
        const auto after = b.files.find(path);
        const bool both = before != a.files.end() && after != b.files.end();
        if (both && before->second == after->second) continue;
        InputChange change{cause_of_file(path).value(), path, {}, {}, {}};
        if (both && is_text(path)) change.lines = line_change(before->second, after->second);
        if (before == a.files.end()) change.after = "added";
        if (after == b.files.end()) change.after = "removed";
        changes.push_back(std::move(change));
    }
    for (const std::string& name : keys_of(a.options, b.options)) {
        std::string before = option(a.options, name);
        std::string after = option(b.options, name);
        if (before == after) continue;
        changes.push_back(
            {cause_of_option(name), name, std::move(before), std::move(after), std::nullopt});
    }
    std::ranges::stable_sort(changes, {}, &InputChange::cause);
    return changes;
}

// The order that a run gives, or why it gives none.
struct Order {
    SegmentRanks ranks;
    std::string problem;
};

Order order_of(const RunOutcome& outcome) {
    if (!outcome.problem.empty()) return {{}, outcome.problem};
    const auto file = std::ranges::find(outcome.results, ranking_path, &StoredFile::path);
    auto ranks = file == outcome.results.end() ? std::nullopt : ranks_of(file->bytes);
    if (!ranks) return {{}, "it gives no order of segments"};
    return {std::move(*ranks), {}};
}

SegmentRanks stored_order(const Ledger& ledger, const RunEntry& run) {
    auto ranks = ranks_of(ledger.file(run, ranking_path));
    if (ranks) return std::move(*ranks);
    throw damaged_ledger(ledger.path(), "a ranking that cannot be read");
}

std::optional<std::int64_t> rank_in(const SegmentRanks& ranks, std::string_view segment) {
    const auto found = ranks.find(segment);
    if (found == ranks.end()) return std::nullopt;
    return found->second;
}

class Comparer {
  public:
    Comparer(const Ledger& ledger, const Rerun& rerun, Comparison& out)
        : rerun_(rerun),
          out_(out),
          a_(made_from(ledger, out.a)),
          b_(made_from(ledger, out.b)),
          stored_a_(stored_order(ledger, out.a)),
          stored_b_(stored_order(ledger, out.b)) {}

    void all() {
        out_.inputs = input_changes(a_, b_);
        again_a_ = made(out_.a, a_, "A");
        again_b_ = made(out_.b, b_, "B");
        if (out_.problem.empty()) {
            for (const Cause cause : all_causes) try_cause(cause);
        }
        list_changes();
    }

  private:
    SegmentRanks made(const RunEntry& run, const Made& from, const std::string& name) {
        Order order = order_of(run_again(run.kind, files_of(from), rerun_));
        if (!order.problem.empty() && out_.problem.empty()) {
            out_.problem = "run " + std::to_string(run.number) + " (" + name +
                           ") cannot be made again: " + order.problem;
        }
        return std::move(order.ranks);
    }

    void try_cause(Cause cause) {
        const bool differs =
            cause == Cause::engine
                ? again_a_ != stored_a_ || again_b_ != stored_b_ || out_.a.engine != out_.b.engine
                : std::ranges::find(out_.inputs, cause, &InputChange::cause) != out_.inputs.end();
        if (!differs) return;
        CauseTried tried{cause, {}, 0};
        if (cause == Cause::engine) {
            tried.moved = moved(stored_a_, again_a_) + moved(again_b_, stored_b_);
        } else {
            Order order =
                order_of(run_again(out_.a.kind, files_of(with_change(a_, b_, cause)), rerun_));
            tried.problem = std::move(order.problem);
            if (tried.problem.empty()) {
                tried.moved = moved(again_a_, order.ranks);
                singles_.emplace(cause, std::move(order.ranks));
            }
        }
        out_.causes.push_back(std::move(tried));
    }

    static std::size_t moved(const SegmentRanks& from, const SegmentRanks& to) {
        std::size_t count = 0;
        for (const std::string& segment : keys_of(from, to)) {
            if (rank_in(from, segment) != rank_in(to, segment)) ++count;
        }
        return count;
    }

    void list_changes() {
        const auto segments = keys_of(stored_a_, stored_b_);
        out_.segments = segments.size();
        for (const std::string& segment : segments) {
            RankChange change;
            change.segment = segment;
            change.from = rank_in(stored_a_, segment);
            change.to = rank_in(stored_b_, segment);
            if (change.from == change.to) continue;
            attribute(change);
            out_.changes.push_back(std::move(change));
        }
        std::ranges::stable_sort(out_.changes, std::greater<>{}, [](const RankChange& change) {
            return change.from && change.to ? std::abs(*change.to - *change.from)
                                            : std::int64_t{1} << 40U;  // coming and going first
        });
    }

    void attribute(RankChange& change) const {
        if (!change.from || !change.to) {
            attribute_presence(change);
            return;
        }
        change.interaction = *change.to - *change.from;
        for (const auto& [cause, ranks] : singles_) {
            add(change, cause, rank_in(again_a_, change.segment), rank_in(ranks, change.segment));
        }
        add(change, Cause::engine, change.from, rank_in(again_a_, change.segment));
        add(change, Cause::engine, rank_in(again_b_, change.segment), change.to);
    }

    static void add(RankChange& change, Cause cause, std::optional<std::int64_t> from,
                    std::optional<std::int64_t> to) {
        if (!from || !to) return;
        change.places.at(index_of(cause)) += *to - *from;
        change.interaction -= *to - *from;
    }

    void attribute_presence(RankChange& change) const {
        for (const auto& [cause, ranks] : singles_) {
            change.comes_or_goes.at(index_of(cause)) =
                rank_in(ranks, change.segment).has_value() == change.to.has_value();
        }
        const bool engine =
            rank_in(again_a_, change.segment).has_value() != change.from.has_value() ||
            rank_in(again_b_, change.segment).has_value() != change.to.has_value();
        change.comes_or_goes.at(index_of(Cause::engine)) = out_.problem.empty() && engine;
    }

    const Rerun& rerun_;
    Comparison& out_;
    Made a_;
    Made b_;
    SegmentRanks stored_a_;
    SegmentRanks stored_b_;
    SegmentRanks again_a_;
    SegmentRanks again_b_;
    std::map<Cause, SegmentRanks> singles_;
};

}  // namespace

std::string_view to_string(Cause cause) {
    switch (cause) {
        case Cause::data:
            return "data";
        case Cause::rules:
            return "rules";
        case Cause::overrides:
            return "override";
        case Cause::options:
            return "options";
        case Cause::time:
            return "time";
        case Cause::engine:
            return "engine version";
    }
    return "unknown";  // only a value cast from outside the enumeration gets here
}

std::optional<Cause> cause_of_file(std::string_view path) {
    if (path.starts_with(rules_prefix) || path.starts_with("plant/rules/")) return Cause::rules;
    if (path.starts_with("plant/overrides.")) return Cause::overrides;
    if (path.starts_with(plant_prefix)) return Cause::data;
    return std::nullopt;
}

std::optional<Cause> RankChange::main_cause() const {
    std::optional<Cause> most;
    std::int64_t size = std::abs(interaction);
    for (const Cause cause : all_causes) {
        if (comes_or_goes.at(index_of(cause))) return cause;
        const std::int64_t own = std::abs(places.at(index_of(cause)));
        // A cause goes before an interaction of the same size.
        if (own > size || (own == size && own > 0 && !most)) {
            most = cause;
            size = own;
        }
    }
    return most;
}

Comparison compare_runs(const Ledger& ledger, std::int64_t a, std::int64_t b,
                        const std::string& this_version, const Rerun& rerun) {
    Comparison comparison;
    comparison.a = ledger.run(a);
    comparison.b = ledger.run(b);
    comparison.this_version = this_version;
    Comparer{ledger, rerun, comparison}.all();
    return comparison;
}

}  // namespace lagline
