#pragma once

#include <compare>
#include <cstddef>
#include <cstdint>
#include <map>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace lagline {

/// Every kind of problem an input can have.  The printed codes (code_of) are a contract: scripts
/// and tests rely on them.
enum class Problem : std::uint8_t {
    unreadable_file,
    not_a_file,
    missing_file,
    empty_file,
    not_utf8,
    csv_quote,
    csv_field_count,
    duplicate_column,
    missing_column,
    unknown_column,
    missing_unit,
    unknown_unit,
    unit_mismatch,
    missing_value,
    not_a_number,
    not_a_date,
    unknown_word,
    out_of_range,
    duplicate_key,
    unknown_segment,
    contradiction,
    yaml_syntax,
    yaml_shape,
    unknown_key,
    missing_key,
    dangling_source,
    missing_source,
    band_gap,
    band_overlap,
    unsorted_points,
    missing_entry,
    missing_table,
    missing_reason,
    outside_validity,
    expired_override,
    check_failed,
    ledger_damaged,
    ledger_busy,
    not_stored,
    newer_format,
    unknown_run,
    doubled_file,
    damaged_workbook,
    unreadable_cell,
    merged_cells,
    hidden_cells,
    unknown_sheet,
};

/// The stable code of a problem, e.g. "unit-mismatch".
[[nodiscard]] std::string_view code_of(Problem problem);

/// An error stops the work; a warning is to be read before the result is used.
enum class Severity : std::uint8_t { error, warning };

/// Where something stands.  Lines and columns count from 1; 0 means the whole file.  In a sheet of
/// a workbook the line is the row.
struct Place {
    std::string file;
    int line = 0;
    int column = 0;
    std::string sheet = {};  ///< of a workbook

    friend bool operator==(const Place&, const Place&) = default;
    /// By file, sheet, line, column.
    friend std::strong_ordering operator<=>(const Place& a, const Place& b);
};

/// "file:line:column", leaving out what is 0; in a workbook "file:sheet!F41".
[[nodiscard]] std::string to_string(const Place& place);

/// "F41", or "41" for a whole row; empty outside a workbook.
[[nodiscard]] std::string cell_name(const Place& place);
/// "A" for 1, "XFD" for 16384; empty for 0.
[[nodiscard]] std::string column_letters(int column);
/// "line 41", or "row 41" in a workbook.
[[nodiscard]] std::string line_text(const Place& place);

/// The piece of the input a diagnostic points at: a line (shortened) and the marked part of it.
struct Excerpt {
    std::string line;       ///< the source line, at most a terminal line long
    std::size_t mark = 0;   ///< first marked character of `line`, counted from 0
    std::size_t width = 0;  ///< marked characters; 0 when there is nothing to mark
};

/// One thing that is wrong, with all a person needs to mend it.
struct Diagnostic {
    Severity severity = Severity::error;
    Problem problem{};
    Place where;
    std::string subject;  ///< column, key or chain ("published -> base_rate -> severe") it is about
    std::string found;    ///< what stands there
    std::string expected;  ///< what should stand there
    std::string mend;      ///< what to do
    Excerpt excerpt;       ///< may be empty
};

/// All problems of one input, in a stable order, within bounded memory: the first `most_kept`
/// are kept whole, the rest are counted by kind and file.
class Report {
  public:
    static constexpr std::size_t most_kept = 10'000;

    void add(Diagnostic diagnostic);
    /// Adds all of `other` after what is here.
    void merge(Report other);

    [[nodiscard]] std::size_t errors() const { return errors_; }
    [[nodiscard]] std::size_t warnings() const { return warnings_; }
    [[nodiscard]] bool ok() const { return errors_ == 0; }
    /// True when add() would only count: callers may spare themselves the excerpt.
    [[nodiscard]] bool full() const { return kept_.size() >= most_kept; }
    [[nodiscard]] const std::vector<Diagnostic>& diagnostics() const { return kept_; }

    struct Dropped {
        std::string file;
        Problem problem{};
        std::size_t count = 0;
    };
    /// Problems counted but not kept, by file and kind.
    [[nodiscard]] std::vector<Dropped> dropped() const;

    /// Orders what is kept by file, line and column; stable for equals.
    void sort();

  private:
    std::vector<Diagnostic> kept_;
    std::map<std::pair<std::string, Problem>, std::size_t> dropped_;
    std::size_t errors_ = 0;
    std::size_t warnings_ = 0;
};

/// How a report is written for a terminal.
struct ReportStyle {
    std::size_t width = 100;  ///< characters a line may take
    std::size_t most_per_kind =
        20;  ///< diagnostics printed per file and kind; the rest are counted
    bool colour = false;
};

/// The report as text for people: place, line with a caret, found, expected, mend; last a count.
[[nodiscard]] std::string to_text(const Report& report, const ReportStyle& style = {});

/// The same report as a JSON document {errors, warnings, diagnostics: [...], not_shown: [...]}.
[[nodiscard]] std::string to_json(const Report& report);

}  // namespace lagline
