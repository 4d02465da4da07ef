#include "ruleset/yaml_reader.h"

#include <yaml-cpp/eventhandler.h>
#include <yaml-cpp/exceptions.h>
#include <yaml-cpp/parser.h>

#include <algorithm>
#include <fstream>
#include <optional>
#include <sstream>
#include <unordered_map>
#include <utility>

#include "diagnostics/text.h"
#include "ruleset/yaml_bounds.h"

namespace lagline {
namespace {

constexpr std::size_t most_excerpt = 120;  // characters

bool starts_character(char byte) { return (static_cast<unsigned char>(byte) & 0xC0U) != 0x80U; }

std::size_t characters(std::string_view text) {
    return static_cast<std::size_t>(std::ranges::count_if(text, starts_character));
}

/// The first `count` characters of `text`.
std::string_view first_characters(std::string_view text, std::size_t count) {
    std::size_t bytes = 0;
    while (bytes < text.size()) {
        if (starts_character(text[bytes]) && count-- == 0) break;
        ++bytes;
    }
    return text.substr(0, bytes);
}

/// What a file does that the rule format does not allow, although it is YAML.
struct Refusal {
    YAML::Mark mark;
    std::string found;
    std::string mend;
};

/// Turns the parser's byte columns, counted from 0, into character columns counted from 1: the
/// only place where that is done.
class PlaceCounter {
  public:
    explicit PlaceCounter(const YamlFile& file) : file_(file) {}

    Place place(const YAML::Mark& mark) {
        if (mark.line < 0) return {file_.name, 0, 0};
        const int line = mark.line + 1;
        const auto text = file_.line(line);
        const auto wanted = static_cast<std::size_t>(std::max(mark.column, 0));
        const auto byte = std::min(wanted, text.size());
        if (line != line_) {
            line_ = line;
            byte_ = column_ = 0;
        }
        // On or back from the last place, which is near: the parser looks ahead and steps back.
        if (byte >= byte_) column_ += characters(text.substr(byte_, byte - byte_));
        if (byte < byte_) column_ -= characters(text.substr(byte, byte_ - byte));
        byte_ = byte;
        return {file_.name, line, static_cast<int>(column_) + 1};
    }

  private:
    const YamlFile& file_;
    int line_ = 0;
    std::size_t byte_ = 0;
    std::size_t column_ = 0;
};

/// Builds the tree from the parser's events and refuses what could grow without bound.
class TreeBuilder : public YAML::EventHandler {
  public:
    explicit TreeBuilder(YamlFile& file) : file_(file), places_(file) {}

    void OnDocumentStart(const YAML::Mark& mark) override {
        if (documents_++ > 0) {
            throw Refusal{mark, "a second document",
                          "put it in a file of its own, or drop the ---"};
        }
    }
    void OnDocumentEnd() override {}
    void OnNull(const YAML::Mark& mark, YAML::anchor_t anchor) override {
        refuse_anchor(mark, anchor);
        add(make(YamlNode::Kind::nothing, mark));
    }
    void OnAlias(const YAML::Mark& mark, YAML::anchor_t) override { refuse_anchor(mark, 1); }
    void OnScalar(const YAML::Mark& mark, const std::string& tag, YAML::anchor_t anchor,
                  const std::string& value) override {
        refuse_anchor(mark, anchor);
        refuse_tag(mark, tag);
        auto node = make(YamlNode::Kind::scalar, mark);
        node.text = value;
        add(std::move(node));
    }
    void OnSequenceStart(const YAML::Mark& mark, const std::string& tag, YAML::anchor_t anchor,
                         YAML::EmitterStyle::value) override {
        open(YamlNode::Kind::list, mark, tag, anchor);
    }
    void OnSequenceEnd() override { close(); }
    void OnMapStart(const YAML::Mark& mark, const std::string& tag, YAML::anchor_t anchor,
                    YAML::EmitterStyle::value) override {
        open(YamlNode::Kind::map, mark, tag, anchor);
    }
    void OnMapEnd() override { close(); }

    Place place(const YAML::Mark& mark) { return places_.place(mark); }

  private:
    struct Open {
        YamlNode node;
        std::optional<YamlNode> key;  // read, waiting for its value
    };

    static void refuse_anchor(const YAML::Mark& mark, YAML::anchor_t anchor) {
        if (anchor == 0) return;
        throw Refusal{mark, "an anchor (&name) or alias (*name)",
                      "write the value out in each place"};
    }
    static void refuse_tag(const YAML::Mark& mark, const std::string& tag) {
        // "?" is a plain value, "!" a quoted one; anything else was written by the author.
        if (tag.empty() || tag == "?" || tag == "!") return;
        throw Refusal{mark, "the tag " + printable(tag), "leave the tag out"};
    }

    YamlNode make(YamlNode::Kind kind, const YAML::Mark& mark) {
        if (++nodes_ > most_yaml_nodes) {
            throw Refusal{mark, "more than " + std::to_string(most_yaml_nodes) + " values",
                          "split the file"};
        }
        const Place at = places_.place(mark);
        YamlNode node;
        node.kind = kind;
        node.line = at.line;
        node.column = at.column;
        node.file = &file_;
        return node;
    }

    void open(YamlNode::Kind kind, const YAML::Mark& mark, const std::string& tag,
              YAML::anchor_t anchor) {
        refuse_anchor(mark, anchor);
        refuse_tag(mark, tag);
        if (stack_.size() >= most_yaml_depth) {
            throw Refusal{mark, "values nested deeper than " + std::to_string(most_yaml_depth),
                          "the rule format needs fewer than ten levels"};
        }
        if (awaits_key())
            throw Refusal{mark, "a list or map as a key", "write the key as plain text"};
        stack_.push_back({make(kind, mark), std::nullopt});
    }

    void close() {
        auto node = std::move(stack_.back().node);
        stack_.pop_back();
        add(std::move(node));
    }

    [[nodiscard]] bool awaits_key() const {
        return !stack_.empty() && stack_.back().node.is_map() && !stack_.back().key;
    }

    void add(YamlNode node) {
        if (stack_.empty()) {
            file_.root = std::move(node);
            return;
        }
        Open& parent = stack_.back();
        if (awaits_key()) {
            parent.key = std::move(node);
            return;
        }
        if (parent.key) {
            parent.node.keys.push_back(std::move(*parent.key));
            parent.key.reset();
        }
        parent.node.items.push_back(std::move(node));
    }

    YamlFile& file_;
    PlaceCounter places_;
    std::vector<Open> stack_;
    std::size_t nodes_ = 0;
    int documents_ = 0;
};

void report_file(Report& report, Severity severity, Problem problem, const std::string& name,
                 std::string found, std::string expected, std::string mend) {
    Diagnostic diagnostic;
    diagnostic.severity = severity;
    diagnostic.problem = problem;
    diagnostic.where.file = name;
    diagnostic.found = std::move(found);
    diagnostic.expected = std::move(expected);
    diagnostic.mend = std::move(mend);
    report.add(std::move(diagnostic));
}

std::optional<std::string> read_bytes(const std::filesystem::path& path, const std::string& name,
                                      Report& report) {
    std::error_code error;
    // Asked first: reading a pipe or a device could wait for ever.
    if (!std::filesystem::is_regular_file(path, error)) {
        report_file(report, Severity::error, Problem::not_a_file, name, "not a regular file",
                    "a file of rules", "move it out of the rule folder");
        return std::nullopt;
    }
    const auto size = std::filesystem::file_size(path, error);
    if (!error && size > most_yaml_bytes) {
        report_file(report, Severity::error, Problem::unreadable_file, name,
                    std::to_string(size) + " bytes", "at most 16 MB", "split the file");
        return std::nullopt;
    }
    std::ifstream in(path, std::ios::binary);
    std::string bytes(error ? 0 : size, '\0');
    if (in) in.read(bytes.data(), static_cast<std::streamsize>(bytes.size()));
    if (error || !in) {
        report_file(report, Severity::error, Problem::unreadable_file, name, "cannot be read",
                    "a readable file", "check its permissions");
        return std::nullopt;
    }
    return bytes;
}

Excerpt excerpt_at(const YamlFile& file, const Place& place, std::size_t width) {
    Excerpt excerpt;
    if (place.line < 1) return excerpt;
    std::string_view line = file.line(place.line);
    std::size_t mark = place.column < 1 ? 0 : static_cast<std::size_t>(place.column - 1);
    if (mark > most_excerpt - 40) {  // keep some of what stands before the mark
        const std::size_t from = mark - 40;
        line.remove_prefix(first_characters(line, from).size());
        mark -= from;
    }
    excerpt.line = first_characters(line, most_excerpt);
    excerpt.mark = mark;
    excerpt.width = std::min(width, most_excerpt - mark);
    return excerpt;
}

void report_at(Report& report, const YamlFile& file, const Place& place, Problem problem,
               std::string found, std::string expected, std::string mend) {
    Diagnostic diagnostic;
    diagnostic.problem = problem;
    diagnostic.where = place;
    diagnostic.found = std::move(found);
    diagnostic.expected = std::move(expected);
    diagnostic.mend = std::move(mend);
    if (!report.full()) diagnostic.excerpt = excerpt_at(file, place, 1);
    report.add(std::move(diagnostic));
}

/// False, and reported, when the bytes are not UTF-8 text.
bool check_text(const YamlFile& file, Report& report) {
    // A zero byte is valid UTF-8 but means UTF-16 or a binary file.
    const auto at = std::min(first_invalid_utf8(file.text), file.text.find('\0'));
    if (at == std::string::npos) return true;
    const auto next = std::ranges::upper_bound(file.line_starts, at);
    const auto line = static_cast<std::size_t>(next - file.line_starts.begin());
    const auto start = file.line_starts[line - 1];
    const auto column = characters(std::string_view(file.text).substr(start, at - start)) + 1;
    const Place place{file.name, static_cast<int>(line), static_cast<int>(column)};
    report_at(report, file, place, Problem::not_utf8, "bytes that are not UTF-8", "UTF-8 text",
              "save the file as UTF-8");
    return false;
}

/// False, and reported, when the parser would take too much for the file.
bool check_bounds(const YamlFile& file, Report& report) {
    const auto excess = yaml_excess(file);
    if (excess)
        report_at(report, file, {file.name, excess->line, 1}, Problem::yaml_shape, excess->found,
                  excess->expected, excess->mend);
    return !excess;
}

bool parse(YamlFile& file, Report& report) {
    std::istringstream in(file.text);
    TreeBuilder builder(file);
    try {
        YAML::Parser parser(in);
        while (parser.HandleNextDocument(builder)) {
        }
        return true;
    } catch (const Refusal& refusal) {
        report_at(report, file, builder.place(refusal.mark), Problem::yaml_shape, refusal.found,
                  "plain lists, maps and values", refusal.mend);
    } catch (const YAML::Exception& error) {
        report_at(report, file, builder.place(error.mark), Problem::yaml_syntax, error.msg, "YAML",
                  "check brackets, quotes, colons and the indentation just before this place");
    }
    return false;
}

void report_doubled(const YamlNode& key, const YamlNode& first, Report& report) {
    Diagnostic diagnostic;
    diagnostic.problem = Problem::duplicate_key;
    diagnostic.where = place_of(key);
    diagnostic.subject = printable(key.text);
    diagnostic.found = "a second '" + printable(key.text) + "'";
    diagnostic.expected = "each key once";
    diagnostic.mend = "drop this one or the one at " + to_string(place_of(first));
    if (!report.full()) diagnostic.excerpt = excerpt_of(key);
    report.add(std::move(diagnostic));
}

void report_odd_key(const YamlNode& key, Report& report) {
    report_at(report, *key.file, place_of(key), Problem::yaml_shape, "a key without a text",
              "a key", "write what stands before the colon, in quotes if need be");
}

/// Reports doubled and empty keys of every map.  The depth is bounded by the reader.
// NOLINTNEXTLINE(misc-no-recursion)
void check_keys(const YamlNode& node, Report& report) {
    std::unordered_map<std::string_view, const YamlNode*> seen;
    for (const auto& key : node.keys) {
        if (!key.is_scalar()) {
            report_odd_key(key, report);
            continue;
        }
        const auto [at, fresh] = seen.emplace(key.text, &key);
        if (!fresh) report_doubled(key, *at->second, report);
    }
    for (const auto& item : node.items) check_keys(item, report);
}

/// Characters that `node` takes on its line.
std::size_t width_of(const YamlNode& node) {
    if (!node.is_scalar()) return 1;
    const auto line = node.file->line(node.line);
    const auto before = first_characters(line, static_cast<std::size_t>(node.column - 1)).size();
    const auto rest = line.substr(before);
    if (rest.starts_with('"') || rest.starts_with('\'')) {
        const auto end = rest.find(rest.front(), 1);
        return end == std::string_view::npos ? 1 : characters(rest.substr(0, end + 1));
    }
    if (rest.starts_with(node.text)) return std::max<std::size_t>(characters(node.text), 1);
    return 1;
}

}  // namespace

const YamlNode* YamlNode::find(std::string_view key) const {
    for (std::size_t i = 0; i < keys.size(); ++i) {
        if (keys[i].is_scalar() && keys[i].text == key) return &items[i];
    }
    return nullptr;
}

const YamlNode* YamlNode::find_key(std::string_view key) const {
    for (const auto& candidate : keys) {
        if (candidate.is_scalar() && candidate.text == key) return &candidate;
    }
    return nullptr;
}

std::string_view YamlFile::line(int line) const {
    const auto index = static_cast<std::size_t>(line - 1);
    if (line < 1 || index >= line_starts.size()) return {};
    const auto start = line_starts[index];
    auto result = std::string_view(text).substr(start);
    result = result.substr(0, result.find('\n'));
    if (result.ends_with('\r')) result.remove_suffix(1);
    return result;
}

std::unique_ptr<YamlFile> read_yaml_file(const std::filesystem::path& path, Report& report,
                                         const std::string& shown) {
    auto file = std::make_unique<YamlFile>();
    file->name = shown.empty() ? path.lexically_normal().generic_string() : shown;
    auto bytes = read_bytes(path, file->name, report);
    if (!bytes) return nullptr;
    constexpr std::string_view byte_order_mark = "\xEF\xBB\xBF";
    if (bytes->starts_with(byte_order_mark)) bytes->erase(0, byte_order_mark.size());
    file->text = std::move(*bytes);
    file->line_starts = starts_of_lines(file->text);
    if (!check_text(*file, report) || !check_bounds(*file, report) || !parse(*file, report)) {
        return nullptr;
    }
    file->root.file = file.get();
    if (file->root.kind == YamlNode::Kind::nothing) {
        report_file(report, Severity::warning, Problem::empty_file, file->name, "no content",
                    "rules", "fill the file or delete it");
    }
    check_keys(file->root, report);
    return file;
}

Place place_of(const YamlNode& node) { return {node.file->name, node.line, node.column}; }

Excerpt excerpt_of(const YamlNode& node) {
    return excerpt_at(*node.file, place_of(node), width_of(node));
}

}  // namespace lagline
