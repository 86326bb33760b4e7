#pragma once
// What earlier runs found out, by the hash of everything that decides it: one SQLite file in the cache
// folder. Several processes may use it at once. Whatever is wrong with it costs a search, never an answer.

#include <cstddef>
#include <filesystem>
#include <memory>
#include <mutex>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

struct sqlite3;
struct sqlite3_stmt;

namespace app {

class Memory {
  public:
    static constexpr std::size_t usual_limit = std::size_t{256} << 20U; ///< bytes

    /// Opens or makes `<folder>/findings.sqlite`; a damaged or foreign file is made anew. Without a folder
    /// that can be written to it remembers nothing.
    explicit Memory(const std::optional<std::filesystem::path>& folder, std::size_t limit = usual_limit);
    /// Writes what is left, and forgets what was not asked for longest when the file is over its limit.
    ~Memory();
    Memory(const Memory&) = delete;
    Memory& operator=(const Memory&) = delete;

    [[nodiscard]] bool works() const { return m_database != nullptr; }
    /// Also from several threads.
    [[nodiscard]] std::optional<std::string> find(std::string_view key);
    void keep(std::string key, std::string value);

  private:
    struct Closer {
        void operator()(sqlite3* database) const;
        void operator()(sqlite3_stmt* statement) const;
    };
    using Statement = std::unique_ptr<sqlite3_stmt, Closer>;

    [[nodiscard]] bool open();
    void shorten_log();
    void close();
    void remove() const;
    /// A result of SQLite's; remembers whether it tells of damage.
    bool is_fine(int code);
    [[nodiscard]] bool run(const char* sql);
    [[nodiscard]] std::optional<long long> number(const char* sql);
    [[nodiscard]] Statement prepare(const char* sql);
    void flush();
    void forget_oldest();

    std::mutex m_mutex;
    std::size_t m_limit;
    std::filesystem::path m_file;
    std::unique_ptr<sqlite3, Closer> m_database;
    Statement m_find;
    long long m_generation =
        0; ///< goes up every few runs that write; entries bear the last they were asked for in
    bool m_reading = false; ///< in a transaction of its own
    bool m_damaged = false;
    bool m_counted = false;                                   ///< among those runs
    std::vector<std::pair<std::string, std::string>> m_fresh; ///< not yet written
    std::vector<std::string> m_touched; ///< keys of an older generation that were asked for
};

} // namespace app
