#include "app/memory.hpp"

#include "app/output.hpp"

#include <sqlite3.h>

#include <array>
#include <utility>

namespace app {
namespace {

namespace fs = std::filesystem;

constexpr int memory_format = 1;        ///< of the table; what stands in the values is part of the keys
constexpr int application = 0x73696465; ///< "side", so that no other program's file is taken for ours
constexpr int patience = 5000;          ///< milliseconds another run may write
constexpr std::size_t batch = 256;
constexpr int runs_a_generation = 8;

void bind_bytes(sqlite3_stmt* statement, int place, std::string_view bytes) {
    sqlite3_bind_blob64(statement, place, bytes.data(), bytes.size(), SQLITE_STATIC);
}

/// Marks the folder as one that backups may leave out (bford.info/cachedir).
void tag(const fs::path& folder) {
    std::error_code ignored;
    if (const fs::path file = folder / "CACHEDIR.TAG"; !fs::exists(file, ignored)) {
        (void)write_file(
            file.string(), "the mark of a cache",
            "Signature: 8a477f597d28d172789f06886806bc55\n# sidelint may lose it at any time.\n");
    }
}

} // namespace

void Memory::Closer::operator()(sqlite3* database) const {
    sqlite3_close_v2(database);
}

void Memory::Closer::operator()(sqlite3_stmt* statement) const {
    sqlite3_finalize(statement);
}

Memory::Memory(const std::optional<fs::path>& folder, std::size_t limit) : m_limit(limit) {
    if (!folder) {
        return;
    }
    std::error_code ignored;
    fs::create_directories(*folder, ignored);
    m_file = *folder / "findings.sqlite";
    if (!open()) {
        const bool damaged = m_damaged;
        close();
        if (damaged) {
            remove();
        }
        if (!damaged || !open()) {
            close();
            return;
        }
    }
    tag(*folder);
}

Memory::~Memory() {
    flush();
    forget_oldest();
    shorten_log();
    const bool damaged = m_damaged;
    close();
    if (damaged) {
        remove(); // the next run begins anew
    }
}

/// The next run reads all of the log before it begins, so a long one goes into the file now; unless somebody
/// is reading it.
void Memory::shorten_log() {
    constexpr std::uintmax_t most_bytes = 256U << 10U;
    std::error_code fault;
    if (works() && fs::file_size(m_file.string() + "-wal", fault) > most_bytes && !fault) {
        sqlite3_busy_timeout(m_database.get(), 0);
        (void)run("PRAGMA wal_checkpoint(TRUNCATE)");
    }
}

void Memory::close() {
    m_find.reset();
    m_database.reset();
    m_damaged = false;
}

/// The file last: what has not yet been written into it must not be taken for a new one's.
void Memory::remove() const {
    std::error_code ignored;
    for (const char* part : {"-wal", "-shm", ""}) {
        fs::remove(m_file.string() + part, ignored);
    }
}

bool Memory::is_fine(int code) {
    const int kind = code & 0xff; // NOLINT: the kind of an extended code, says SQLite
    m_damaged = m_damaged || kind == SQLITE_CORRUPT || kind == SQLITE_NOTADB;
    return code == SQLITE_OK || code == SQLITE_ROW || code == SQLITE_DONE;
}

bool Memory::open() {
    sqlite3* database = nullptr;
    const int code =
        sqlite3_open_v2(m_file.c_str(), &database,
                        SQLITE_OPEN_READWRITE | SQLITE_OPEN_CREATE | SQLITE_OPEN_FULLMUTEX, nullptr);
    m_database.reset(database);
    if (code != SQLITE_OK) {
        return false;
    }
    sqlite3_busy_timeout(database, patience);
    // What was written goes into the file when there is much of it (shorten_log), not whenever a run ends:
    // that waits for the disk.
    sqlite3_db_config(database, SQLITE_DBCONFIG_NO_CKPT_ON_CLOSE, 1, nullptr);
    const auto tables = number("SELECT count(*) FROM sqlite_master");
    const bool empty = tables == 0; // asked first: another run may just be making them
    const auto known_application = number("PRAGMA application_id");
    const auto known_format = number("PRAGMA user_version");
    if (tables && !empty && (known_application != application || known_format != memory_format)) {
        m_damaged = true; // or another program's
        return false;
    }
    const bool made = !empty || run("PRAGMA journal_mode = WAL; BEGIN IMMEDIATE;"
                                    "CREATE TABLE IF NOT EXISTS remembered (key BLOB PRIMARY KEY, value BLOB "
                                    "NOT NULL, generation INTEGER NOT NULL) WITHOUT ROWID;"
                                    "CREATE TABLE IF NOT EXISTS runs (count INTEGER NOT NULL);"
                                    "INSERT INTO runs SELECT 0 WHERE NOT EXISTS (SELECT * FROM runs);"
                                    "PRAGMA application_id = 1936286821; PRAGMA user_version = 1; COMMIT");
    const auto runs = number("SELECT count FROM runs");
    m_find = prepare("SELECT value, generation FROM remembered WHERE key = ?");
    // Rows are asked for once: to hold 256 KiB of them is plenty.
    if (!made || !run("PRAGMA synchronous = NORMAL; PRAGMA cache_size = -256") || !runs || !m_find) {
        m_damaged = m_damaged || sqlite3_errcode(database) == SQLITE_ERROR; // a table is missing
        return false;
    }
    m_generation = *runs / runs_a_generation;
    return true;
}

bool Memory::run(const char* sql) {
    return is_fine(sqlite3_exec(m_database.get(), sql, nullptr, nullptr, nullptr));
}

Memory::Statement Memory::prepare(const char* sql) {
    sqlite3_stmt* statement = nullptr;
    (void)is_fine(sqlite3_prepare_v2(m_database.get(), sql, -1, &statement, nullptr));
    return Statement(statement);
}

std::optional<long long> Memory::number(const char* sql) {
    const Statement statement = prepare(sql);
    const int code = statement ? sqlite3_step(statement.get()) : SQLITE_MISUSE;
    return is_fine(code) && code == SQLITE_ROW
               ? std::optional<long long>(sqlite3_column_int64(statement.get(), 0))
               : std::nullopt;
}

std::optional<std::string> Memory::find(std::string_view key) {
    const std::lock_guard lock(m_mutex);
    if (!works()) {
        return std::nullopt;
    }
    // One look for all questions up to the next writing: each of its own would lock the file twice.
    m_reading = m_reading || run("BEGIN");
    bind_bytes(m_find.get(), 1, key);
    std::optional<std::string> value;
    const int code = sqlite3_step(m_find.get());
    if (is_fine(code) && code == SQLITE_ROW) {
        const auto* const bytes = static_cast<const char*>(sqlite3_column_blob(m_find.get(), 0));
        const auto size = static_cast<std::size_t>(sqlite3_column_bytes(m_find.get(), 0));
        value = bytes == nullptr ? std::string() : std::string(bytes, size);
        if (sqlite3_column_int64(m_find.get(), 1) < m_generation) {
            m_touched.emplace_back(key);
        }
    }
    sqlite3_reset(m_find.get());
    return value;
}

void Memory::keep(std::string key, std::string value) {
    const std::lock_guard lock(m_mutex);
    if (!works()) {
        return;
    }
    m_fresh.emplace_back(std::move(key), std::move(value));
    if (m_fresh.size() >= batch) {
        flush();
    }
}

void Memory::flush() {
    if (std::exchange(m_reading, false)) {
        (void)run("COMMIT");
    }
    if (!works() || (m_fresh.empty() && m_touched.empty()) || !run("BEGIN IMMEDIATE")) {
        return;
    }
    const Statement put = prepare("INSERT OR REPLACE INTO remembered VALUES (?, ?, ?)");
    const Statement touch = prepare("UPDATE remembered SET generation = ? WHERE key = ?");
    bool written =
        put != nullptr && touch != nullptr && (m_counted || run("UPDATE runs SET count = count + 1"));
    for (const auto& [key, value] : m_fresh) {
        if (written) {
            bind_bytes(put.get(), 1, key);
            bind_bytes(put.get(), 2, value);
            sqlite3_bind_int64(put.get(), 3, m_generation);
            written = is_fine(sqlite3_step(put.get())) && is_fine(sqlite3_reset(put.get()));
        }
    }
    for (const std::string& key : m_touched) {
        if (written) {
            sqlite3_bind_int64(touch.get(), 1, m_generation);
            bind_bytes(touch.get(), 2, key);
            written = is_fine(sqlite3_step(touch.get())) && is_fine(sqlite3_reset(touch.get()));
        }
    }
    m_counted = written && run("COMMIT");
    if (!m_counted) {
        (void)run("ROLLBACK");
    }
    m_fresh.clear();
    m_touched.clear();
}

void Memory::forget_oldest() {
    const auto size = [&] {
        const auto pages = works() ? number("SELECT (SELECT page_count FROM pragma_page_count) - (SELECT "
                                            "freelist_count FROM pragma_freelist_count)")
                                   : std::nullopt;
        const auto bytes = works() ? number("PRAGMA page_size") : std::nullopt;
        return pages && bytes ? static_cast<std::size_t>(*pages * *bytes) : std::size_t{0};
    };
    if (size() <= m_limit) {
        return;
    }
    for (int round = 0; round < 64 && size() > m_limit / 2; ++round) {
        if (!run("DELETE FROM remembered WHERE generation = (SELECT min(generation) FROM remembered)")) {
            return;
        }
    }
    (void)run("VACUUM");
}

} // namespace app
