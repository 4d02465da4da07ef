#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

namespace lagline {

/// A file of a run: where it stands in the run, and the digest of what it holds.
struct Item {
    std::string path;  ///< "plant/segments.csv"
    std::string sha256;

    friend bool operator==(const Item&, const Item&) = default;
};

/// What every entry of a ledger has: its place in the one chain.
struct ChainLink {
    std::int64_t entry = 0;  ///< from 1
    std::string previous;    ///< digest of the entry before; first_previous of the first
    std::string at;          ///< by the clock of the machine, "2030-04-08T09:30:00Z"
    std::string digest;      ///< SHA-256 of the manifest
};

/// A stored run.
struct RunEntry {
    ChainLink chain;
    std::int64_t number = 0;  ///< from 1
    std::string kind;         ///< "rank"
    std::string engine;       ///< version of Lagline
    std::vector<Item> items;  ///< by path, in order of bytes
};

/// What somebody said about a run.  A name that was typed, not proof of who typed it.
struct SignatureEntry {
    ChainLink chain;
    std::int64_t run = 0;
    std::string run_digest;
    std::string name;
    std::string role;
    std::string note;
};

/// 64 zeros: there is no entry before the first.
[[nodiscard]] std::string first_previous();

/// The text that is hashed: lines that end in LF, the last one too.  docs/ledger.md, and the view
/// `manifest` of the file, say the same.
[[nodiscard]] std::string manifest_of(const RunEntry& run);
[[nodiscard]] std::string manifest_of(const SignatureEntry& signature);

/// True for text that can stand in one line of a manifest: valid UTF-8 without control characters.
[[nodiscard]] bool fits_a_line(std::string_view text);

/// True for a path that stays in the folder of its run: "plant/rules/site.yaml".
[[nodiscard]] bool is_plain_path(std::string_view path);

}  // namespace lagline
