#include "cli/ledger_text.h"

#include <algorithm>

#include "diagnostics/text.h"

namespace lagline::cli {
namespace {

constexpr std::size_t short_digest = 12;
constexpr const char* search_as_given =
    ", from the choice that its search had found. The search depends on how long it went on and "
    "was not made again: that no better plan was found is not checked";

std::string signed_by(const std::vector<SignatureEntry>& signatures, std::int64_t run) {
    std::string names;
    for (const SignatureEntry& each : signatures) {
        if (each.run == run) names += (names.empty() ? "" : ", ") + printable(each.name);
    }
    return names.empty() ? "nobody" : names;
}

std::string signed_number(std::int64_t places) {
    return (places > 0 ? "+" : "") + std::to_string(places);
}

std::string rank_text(const std::optional<std::int64_t>& rank) {
    return rank ? std::to_string(*rank) : "none";
}

std::string line(const std::string& text, const TextStyle& style, std::size_t indent = 2) {
    return wrapped(text, style.width, indent) + "\n";
}

// A line of a list: set in, further lines more so.
std::string entry(const std::string& text, const TextStyle& style) {
    return "  " + wrapped(text, style.width - 2, 4) + "\n";
}

bool takes_as_given(const RunEntry& run) {
    return std::ranges::any_of(
        run.items, [](const Item& item) { return item.path.starts_with(given_prefix); });
}

std::string reproduced(const RunReproduced& run) {
    if (!run.problem.empty()) return "not made again: " + printable(run.problem, 200);
    if (run.ok()) {
        return "reproduced byte for byte, " + counted(run.same.size(), "file") +
               (run.given.empty() ? "" : search_as_given);
    }
    std::string text = "DIFFERENT:";
    for (const std::string& path : run.different) text += " " + printable(path);
    return run.different.empty() ? "no results to compare" : text;
}

std::string line_range(const LineChange& change) {
    const std::size_t last = change.first_line + std::max(change.before.size(), std::size_t{1}) - 1;
    const std::string first = std::to_string(change.first_line);
    return first == std::to_string(last) ? "line " + first
                                         : "lines " + first + " to " + std::to_string(last);
}

// Where the two lines differ, with what stands around it.
std::string marked(const std::string& text, std::size_t at, const TextStyle& style) {
    const std::size_t from = at > 20 ? at - 20 : 0;
    return (from > 0 ? "..." : "") + printable(text.substr(from), style.width - 14);
}

std::string one_line_change(const LineChange& change, const TextStyle& style) {
    if (change.before.size() != 1 || change.after.size() != 1) return "";
    const std::string& before = change.before.front();
    const std::string& after = change.after.front();
    const auto at =
        static_cast<std::size_t>(std::ranges::mismatch(before, after).in1 - before.begin());
    return "      was " + marked(before, at, style) + "\n      is  " + marked(after, at, style) +
           "\n";
}

std::string input_text(const InputChange& change, const TextStyle& style) {
    std::string text = std::string{to_string(change.cause)} + ": " + printable(change.what);
    if (change.lines) {
        return entry(text + ", " + line_range(*change.lines), style) +
               one_line_change(*change.lines, style);
    }
    const bool of_file =
        change.before.empty() && (change.after == "added" || change.after == "removed");
    if (of_file) return entry(text + " " + change.after, style);
    const auto shown = [](const std::string& value) {
        return value.empty() ? std::string{"not given"} : printable(value);
    };
    return entry(text + " " + shown(change.before) + " -> " + shown(change.after), style);
}

std::string why(const RankChange& change) {
    std::string text;
    const auto add = [&text](const std::string& part) {
        text += (text.empty() ? "" : ", ") + part;
    };
    for (const Cause cause : all_causes) {
        const auto at = static_cast<std::size_t>(cause);
        if (change.comes_or_goes.at(at)) add(std::string{to_string(cause)});
        const std::int64_t places = change.places.at(at);
        if (places != 0) add(std::string{to_string(cause)} + " " + signed_number(places));
    }
    const bool stays = change.from && change.to;
    if (stays && change.interaction != 0) {
        add("interaction " + signed_number(change.interaction));
    }
    return text.empty() ? "interaction" : text;
}

std::string causes_text(const Comparison& comparison, const TextStyle& style) {
    std::string text = "\n" +
                       coloured("Each alone, put on run " + std::to_string(comparison.a.number),
                                Tone::strong, style) +
                       "\n";
    for (const CauseTried& each : comparison.causes) {
        const std::string name = std::string{to_string(each.cause)} + ": ";
        text += entry(each.problem.empty()
                          ? name + "moves " + counted(each.moved, "segment")
                          : name + "the run cannot be made so (" + printable(each.problem, 200) +
                                "); what it does is among the interaction",
                      style);
    }
    if (comparison.causes.empty()) text += "  nothing differs\n";
    return text;
}

std::string versions_text(const Comparison& comparison, const TextStyle& style) {
    const std::string& a = comparison.a.engine;
    const std::string& b = comparison.b.engine;
    if (a == b && b == comparison.this_version) return "";
    return line("Run " + std::to_string(comparison.a.number) + " was stored by " + printable(a) +
                    ", run " + std::to_string(comparison.b.number) + " by " + printable(b) +
                    "; both are made again by this version, " + comparison.this_version + ".",
                style, 0);
}

std::string changes_table(const Comparison& comparison, std::size_t most, const TextStyle& style) {
    std::vector<std::vector<std::string>> rows;
    for (const RankChange& change : comparison.changes) {
        if (most > 0 && rows.size() == most) break;
        const bool both = change.from && change.to;
        rows.push_back({printable(change.segment, 24), rank_text(change.from), rank_text(change.to),
                        both ? signed_number(*change.to - *change.from) : "", why(change)});
    }
    std::string text = text_table({{"segment", false, 24},
                                   {"from", true, 0},
                                   {"to", true, 0},
                                   {"places", true, 0},
                                   {"because of", false, 0}},
                                  rows, style);
    if (rows.size() < comparison.changes.size()) {
        text += line(counted(comparison.changes.size() - rows.size(), "further segment") +
                         "; --top 0 lists all",
                     style);
    }
    return text;
}

}  // namespace

bool Verification::ok() const {
    return content.report.ok() && std::ranges::all_of(runs, &RunReproduced::ok);
}

std::string runs_text(const std::vector<RunEntry>& runs,
                      const std::vector<SignatureEntry>& signatures, const ContentSize& size,
                      const TextStyle& style) {
    std::vector<std::vector<std::string>> rows;
    for (const RunEntry& run : runs) {
        rows.push_back({std::to_string(run.number), printable(run.kind), printable(run.chain.at),
                        printable(run.engine), printable(run.chain.digest, short_digest + 1),
                        signed_by(signatures, run.number)});
    }
    std::string text = text_table({{"run", true, 0},
                                   {"kind", false, 0},
                                   {"stored", false, 0},
                                   {"by", false, 0},
                                   {"digest", false, 0},
                                   {"signed by", false, 0}},
                                  rows, style);
    return text + "\n" +
           line(counted(runs.size(), "run") + "; " +
                    counted(static_cast<std::size_t>(size.pieces), "file") + " of " +
                    grouped(static_cast<double>(size.bytes)) + " bytes, kept in " +
                    grouped(static_cast<double>(size.stored_bytes)) +
                    ". `lagline verify` checks them.",
                style, 0);
}

std::string run_text(const ShownRun& shown, const TextStyle& style) {
    const RunEntry& run = shown.run;
    std::string text = coloured("Run " + std::to_string(run.number), Tone::strong, style) + ": " +
                       printable(run.kind) + ", stored " + printable(run.chain.at) +
                       " by Lagline " + printable(run.engine) + "\n\ndigest    " +
                       printable(run.chain.digest, 64) + "\nprevious  " +
                       printable(run.chain.previous, 64) + "\n\n" +
                       coloured("Options", Tone::strong, style) + "\n";
    for (const auto& [name, value] : shown.options) {
        text += entry(printable(name) + ": " + printable(value), style);
    }
    text += "\n" + coloured("Files", Tone::strong, style) + "\n";
    std::vector<std::vector<std::string>> rows;
    for (const Item& item : run.items) {
        rows.push_back({printable(item.path, 120), printable(item.sha256, short_digest + 1)});
    }
    text += text_table({{"path", false, 0}, {"SHA-256", false, 0}}, rows, style);
    if (takes_as_given(run)) {
        text += "\n" + line(std::string{"The search for this plan did not end by proof, or not in "
                                        "the same way a second time. Its results "
                                        "can be made again byte for byte"} +
                                search_as_given + ".",
                            style, 0);
    }
    text += "\n" + coloured("Signatures", Tone::strong, style) + "\n";
    for (const SignatureEntry& each : shown.signatures) {
        text += entry(printable(each.chain.at) + " " + printable(each.name, 200) + " (" +
                          printable(each.role, 200) + "): " + printable(each.note, 2000),
                      style);
    }
    if (shown.signatures.empty()) text += "  none\n";
    return text +
           (shown.signatures.empty()
                ? ""
                : line("Names as they were typed: a signature here is no proof of who it was.",
                       style));
}

std::string verification_text(const Verification& verification, const TextStyle& style) {
    const ContentCheck& content = verification.content;
    if (!content.report.ok()) {
        return to_text(content.report, {.width = style.width, .colour = style.colour}) + "\n" +
               line(
                   "NOT VERIFIED: the ledger is not as it was written, or could not be read. No "
                   "run was made again.",
                   style, 0);
    }
    std::string text =
        line("Content whole: " + counted(static_cast<std::size_t>(content.contents), "file") +
                 ", " + counted(static_cast<std::size_t>(content.runs), "run") + ", " +
                 counted(static_cast<std::size_t>(content.signatures), "signature") +
                 "; every digest is right and every entry is chained to the one before.",
             style, 0);
    for (const RunReproduced& run : verification.runs) {
        text += line("Run " + std::to_string(run.run) + ": " + reproduced(run) +
                         (run.ok() || run.stored_by == LAGLINE_VERSION
                              ? ""
                              : " (stored by " + printable(run.stored_by) +
                                    ", this is " LAGLINE_VERSION ")"),
                     style);
    }
    if (!verification.made_again) text += "No run was made again.\n";
    if (!content.last_digest.empty()) {
        text += "\nLast digest\n  " + printable(content.last_digest, 64) + "\n" +
                line(
                    "The chain shows what was changed since that digest was noted elsewhere; who "
                    "can write the file can write all of it anew.",
                    style, 0);
    }
    return text;
}

std::string comparison_text(const Comparison& comparison, std::size_t most,
                            const TextStyle& style) {
    const std::string a = "run " + std::to_string(comparison.a.number);
    const std::string b = "run " + std::to_string(comparison.b.number);
    std::string text = coloured("From " + a + " (" + printable(comparison.a.chain.at) + ") to " +
                                    b + " (" + printable(comparison.b.chain.at) + ")",
                                Tone::strong, style) +
                       "\n" + versions_text(comparison, style) + "\n" +
                       coloured("What differs", Tone::strong, style) + "\n";
    for (const InputChange& change : comparison.inputs) text += input_text(change, style);
    if (comparison.inputs.empty()) text += "  no input, rule or option\n";
    if (comparison.problem.empty()) {
        text += causes_text(comparison, style);
    } else {
        text += "\n" +
                line("Nothing can be attributed: " + printable(comparison.problem, 300), style, 0);
    }
    text += "\n" + line(counted(comparison.changes.size(), "rank") + " of " +
                            counted(comparison.segments, "segment") + " changed.",
                        style, 0);
    if (comparison.changes.empty()) return text;
    return text + changes_table(comparison, most, style) +
           line(
               "Places by each change alone, negative towards rank 1; interaction is what they "
               "do not add up to.",
               style, 0);
}

}  // namespace lagline::cli
