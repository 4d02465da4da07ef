#include "ledger/ledger.h"

#include <SQLiteCpp/SQLiteCpp.h>
#include <SQLiteCpp/VariadicBind.h>

#include <algorithm>
#include <map>

#include "diagnostics/text.h"
#include "ledger/gzip.h"
#include "ledger/sha256.h"

namespace lagline {
namespace {

using SQLite::Statement;

constexpr int primary_code = 0xFF;

// Does the work; what the library throws becomes a fault that says how to mend it.
template <class Work>
auto guarded(const LedgerFile& file, LedgerWork kind, const Work& work) {
    try {
        return work();
    } catch (const SQLite::Exception& error) {
        throw fault_of(error.getErrorCode() & primary_code, error.what(), file.path, kind);
    }
}

ChainLink link_of(Statement& row) {
    return {row.getColumn(0).getInt64(), row.getColumn(1).getString(), row.getColumn(2).getString(),
            row.getColumn(3).getString()};
}

constexpr const char* select_runs =
    "SELECT entry.number, previous, at, digest, run.number, kind, engine "
    "FROM run JOIN entry ON entry.number = run.entry ";

RunEntry run_of(Statement& row, SQLite::Database& database) {
    RunEntry run{link_of(row),
                 row.getColumn(4).getInt64(),
                 row.getColumn(5).getString(),
                 row.getColumn(6).getString(),
                 {}};
    Statement items{database, "SELECT path, sha256 FROM item WHERE run = ? ORDER BY path"};
    items.bind(1, run.number);
    while (items.executeStep()) {
        run.items.push_back({items.getColumn(0).getString(), items.getColumn(1).getString()});
    }
    return run;
}

void insert_entry(SQLite::Database& database, const ChainLink& chain) {
    Statement insert{database,
                     "INSERT INTO entry (number, previous, digest, at) VALUES (?, ?, ?, ?)"};
    SQLite::bind(insert, chain.entry, chain.previous, chain.digest, chain.at);
    insert.exec();
}

bool has_content(SQLite::Database& database, const std::string& sha256) {
    Statement query{database, "SELECT 1 FROM content WHERE sha256 = ?"};
    query.bind(1, sha256);
    return query.executeStep();
}

// What the ledger does not have yet, by digest.
struct Packed {
    std::int64_t bytes = 0;
    std::string gzip;
};
using NewContent = std::map<std::string, Packed>;

// SQLITE_MAX_LENGTH of a library that nobody has set otherwise.
constexpr std::size_t most_packed = 1'000'000'000;

void insert_content(SQLite::Database& database, const std::string& sha256, const Packed& content) {
    if (has_content(database, sha256)) return;  // by another process meanwhile
    Statement insert{database, "INSERT INTO content (sha256, bytes, gzip) VALUES (?, ?, ?)"};
    insert.bind(1, sha256);
    insert.bind(2, content.bytes);
    insert.bindNoCopy(3, content.gzip.data(), static_cast<int>(content.gzip.size()));
    insert.exec();
}

void check_line(const LedgerFile& file, const std::string& what, const std::string& text) {
    if (!text.empty() && fits_a_line(text)) return;
    throw not_storable(file.path, what, text.empty() ? "nothing" : "'" + printable(text) + "'",
                       "text in one line, without control characters, as UTF-8");
}

NewContent packed_content(const LedgerFile& file, const RunEntry& run, const NewRun& made) {
    NewContent content;
    for (std::size_t i = 0; i < run.items.size(); ++i) {
        const Item& item = run.items[i];
        if (content.contains(item.sha256) || has_content(*file.database, item.sha256)) continue;
        const std::string& bytes = made.files[i].bytes;
        Packed packed{static_cast<std::int64_t>(bytes.size()), gzip_of(bytes)};
        if (packed.gzip.size() > most_packed) {
            throw not_storable(file.path, "file of the run", printable(item.path),
                               "less than 1 GB when compressed");
        }
        content.emplace(item.sha256, std::move(packed));
    }
    return content;
}

}  // namespace

Ledger Ledger::to_read(const std::filesystem::path& file, int wait_ms) {
    return Ledger{open_to_read(file, wait_ms)};
}

Ledger Ledger::to_write(const std::filesystem::path& file, int wait_ms) {
    return Ledger{open_to_write(file, wait_ms)};
}

RunEntry Ledger::store(NewRun made, const std::string& at) {
    check_line(file_, "kind of run", made.kind);
    check_line(file_, "version", made.engine);
    check_line(file_, "time", at);
    std::ranges::sort(made.files, {}, &StoredFile::path);
    RunEntry run;
    run.kind = made.kind;
    run.engine = made.engine;
    for (const StoredFile& each : made.files) {
        const bool twice = !run.items.empty() && run.items.back().path == each.path;
        if (!is_plain_path(each.path) || twice) {
            throw not_storable(file_.path, "file of the run", "'" + printable(each.path) + "'",
                               "a path inside the run, once");
        }
        run.items.push_back({each.path, sha256_of(each.bytes)});
    }
    guarded(file_, LedgerWork::writing, [&] {
        // Compressed before the others are kept waiting.
        const auto content = packed_content(file_, run, made);
        SQLite::Transaction whole{*file_.database, SQLite::TransactionBehavior::IMMEDIATE};
        check_last();
        for (const auto& [sha256, each] : content) insert_content(*file_.database, sha256, each);
        run.chain = next_link(at);
        append_run(run);
        whole.commit();
    });
    return run;
}

void Ledger::append_run(RunEntry& run) {
    SQLite::Database& database = *file_.database;
    run.number = database.execAndGet("SELECT coalesce(max(number), 0) + 1 FROM run").getInt64();
    run.chain.digest = sha256_of(manifest_of(run));
    insert_entry(database, run.chain);
    Statement insert{database, "INSERT INTO run (number, entry, kind, engine) VALUES (?, ?, ?, ?)"};
    SQLite::bind(insert, run.number, run.chain.entry, run.kind, run.engine);
    insert.exec();
    Statement item{database, "INSERT INTO item (run, path, sha256) VALUES (?, ?, ?)"};
    for (const Item& each : run.items) {
        SQLite::bind(item, run.number, each.path, each.sha256);
        item.exec();
        item.reset();
    }
}

SignatureEntry Ledger::sign(const NewSignature& said, const std::string& at) {
    check_line(file_, "name of who signs", said.name);
    check_line(file_, "role of who signs", said.role);
    check_line(file_, "note", said.note);
    check_line(file_, "time", at);
    SignatureEntry signature{{}, said.run, {}, said.name, said.role, said.note};
    guarded(file_, LedgerWork::writing, [&] {
        SQLite::Database& database = *file_.database;
        SQLite::Transaction whole{database, SQLite::TransactionBehavior::IMMEDIATE};
        check_last();
        const RunEntry signed_run = run(said.run);
        check_whole(signed_run);
        signature.chain = next_link(at);
        signature.run_digest = signed_run.chain.digest;
        signature.chain.digest = sha256_of(manifest_of(signature));
        insert_entry(database, signature.chain);
        Statement insert{
            database,
            "INSERT INTO signature (entry, run, name, role, note) VALUES (?, ?, ?, ?, ?)"};
        SQLite::bind(insert, signature.chain.entry, said.run, said.name, said.role, said.note);
        insert.exec();
        whole.commit();
    });
    return signature;
}

// The place behind the last entry.
ChainLink Ledger::next_link(const std::string& at) const {
    Statement last{*file_.database,
                   "SELECT number, digest FROM entry ORDER BY number DESC LIMIT 1"};
    if (!last.executeStep()) return {1, first_previous(), at, {}};
    return {last.getColumn(0).getInt64() + 1, last.getColumn(1).getString(), at, {}};
}

// Nothing is chained to an entry that is not what was written.
void Ledger::check_last() const {
    const std::vector<ChainLink> links = chain();
    if (links.empty()) return;
    const ChainLink& last = links.back();
    std::string manifest;
    for (const RunEntry& each : runs()) {
        if (each.chain.entry == last.entry) manifest = manifest_of(each);
    }
    for (const SignatureEntry& each : signatures()) {
        if (each.chain.entry == last.entry) manifest = manifest_of(each);
    }
    if (sha256_of(manifest) == last.digest) return;
    throw damaged_ledger(file_.path, "entry " + std::to_string(last.entry) +
                                         " does not have the digest it was stored with");
}

void Ledger::check_whole(const RunEntry& run) const {
    if (sha256_of(manifest_of(run)) != run.chain.digest) {
        throw damaged_ledger(file_.path, "run " + std::to_string(run.number) +
                                             " does not have the digest it was stored with");
    }
    for (const Item& item : run.items) static_cast<void>(content(item.sha256));
}

std::vector<ChainLink> Ledger::chain() const {
    return guarded(file_, LedgerWork::reading, [&] {
        Statement query{*file_.database,
                        "SELECT number, previous, at, digest FROM entry ORDER BY number"};
        std::vector<ChainLink> links;
        while (query.executeStep()) links.push_back(link_of(query));
        return links;
    });
}

std::vector<RunEntry> Ledger::runs() const {
    return guarded(file_, LedgerWork::reading, [&] {
        Statement query{*file_.database, std::string{select_runs} + "ORDER BY run.number"};
        std::vector<RunEntry> all;
        while (query.executeStep()) all.push_back(run_of(query, *file_.database));
        return all;
    });
}

RunEntry Ledger::run(std::int64_t number) const {
    return guarded(file_, LedgerWork::reading, [&] {
        Statement query{*file_.database, std::string{select_runs} + "WHERE run.number = ?"};
        query.bind(1, number);
        if (query.executeStep()) return run_of(query, *file_.database);
        throw unknown_run(
            file_.path, number,
            file_.database->execAndGet("SELECT coalesce(max(number), 0) FROM run").getInt64());
    });
}

std::vector<SignatureEntry> Ledger::signatures() const {
    return guarded(file_, LedgerWork::reading, [&] {
        Statement query{
            *file_.database,
            "SELECT own.number, own.previous, own.at, own.digest, signature.run, signed.digest, "
            "name, role, note FROM signature JOIN entry AS own ON own.number = signature.entry "
            "JOIN run ON run.number = signature.run JOIN entry AS signed ON signed.number = "
            "run.entry ORDER BY own.number"};
        std::vector<SignatureEntry> all;
        while (query.executeStep()) {
            all.push_back({link_of(query), query.getColumn(4).getInt64(),
                           query.getColumn(5).getString(), query.getColumn(6).getString(),
                           query.getColumn(7).getString(), query.getColumn(8).getString()});
        }
        return all;
    });
}

std::string Ledger::content(const std::string& sha256) const {
    return guarded(file_, LedgerWork::reading, [&] {
        Statement query{*file_.database, "SELECT bytes, gzip FROM content WHERE sha256 = ?"};
        query.bind(1, sha256);
        if (!query.executeStep()) {
            throw damaged_ledger(file_.path, "no content with digest " + printable(sha256, 64));
        }
        const std::int64_t size = query.getColumn(0).getInt64();
        const SQLite::Column packed = query.getColumn(1);
        const std::string_view member{static_cast<const char*>(packed.getBlob()),
                                      static_cast<std::size_t>(packed.getBytes())};
        auto bytes = size < 0 ? std::nullopt : unzipped(member, static_cast<std::size_t>(size));
        if (bytes && sha256_of(*bytes) == sha256) return std::move(*bytes);
        throw damaged_ledger(file_.path,
                             "content that does not have its digest " + printable(sha256, 64));
    });
}

std::vector<StoredFile> Ledger::files(const RunEntry& run, std::string_view prefix) const {
    std::vector<StoredFile> files;
    for (const Item& item : run.items) {
        if (item.path.starts_with(prefix)) files.push_back({item.path, content(item.sha256)});
    }
    return files;
}

std::string Ledger::file(const RunEntry& run, std::string_view path) const {
    const auto item = std::ranges::find(run.items, path, &Item::path);
    if (item != run.items.end()) return content(item->sha256);
    throw damaged_ledger(file_.path,
                         "run " + std::to_string(run.number) + " has no " + printable(path));
}

ContentSize Ledger::content_size() const {
    return guarded(file_, LedgerWork::reading, [&] {
        Statement query{*file_.database,
                        "SELECT count(*), coalesce(sum(bytes), 0), coalesce(sum(length(gzip)), 0) "
                        "FROM content"};
        query.executeStep();
        return ContentSize{query.getColumn(0).getInt64(), query.getColumn(1).getInt64(),
                           query.getColumn(2).getInt64()};
    });
}

std::vector<std::string> Ledger::content_digests() const {
    return guarded(file_, LedgerWork::reading, [&] {
        Statement query{*file_.database, "SELECT sha256 FROM content ORDER BY rowid"};
        std::vector<std::string> digests;
        while (query.executeStep()) digests.push_back(query.getColumn(0).getString());
        return digests;
    });
}

std::vector<std::string> Ledger::structure_faults() const {
    return guarded(file_, LedgerWork::reading, [&] {
        std::vector<std::string> faults;
        Statement pages{*file_.database, "PRAGMA integrity_check(20)"};
        while (pages.executeStep()) {
            std::string said = pages.getColumn(0).getString();
            if (said != "ok") faults.push_back(std::move(said));
        }
        Statement references{*file_.database, "PRAGMA foreign_key_check"};
        while (references.executeStep()) {
            faults.push_back("a row of " + references.getColumn(0).getString() +
                             " refers to nothing in " + references.getColumn(2).getString());
        }
        return faults;
    });
}

void Ledger::limit_pages(int pages) {
    guarded(file_, LedgerWork::writing,
            [&] { file_.database->exec("PRAGMA max_page_count = " + std::to_string(pages)); });
}

}  // namespace lagline
