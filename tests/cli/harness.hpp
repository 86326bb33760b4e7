#pragma once
// Calls the program as a function, in a folder that goes away.

#include "app/run.hpp"
#include "catch.hpp"
#include "history/scratch.hpp"

#include <nlohmann/json.hpp>

#include <string>
#include <vector>

namespace harness {

struct Ran {
    int status = -1;
    std::string out;
    std::string err;
};

/// `variables` are all the environment there is.
[[nodiscard]] Ran run_in(const std::filesystem::path& folder, const std::vector<std::string>& arguments,
                         const std::map<std::string, std::string, std::less<>>& variables = {},
                         const std::string& input = {});

/// An environment in which endgame tables that one run has built serve the next, in this program.
[[nodiscard]] const std::map<std::string, std::string, std::less<>>& with_tables();

/// A folder of files without a repository.
class Shelf {
  public:
    [[nodiscard]] std::filesystem::path path() const { return m_folder.path(); }
    void write(const std::string& path, const std::string& text) const;
    [[nodiscard]] std::string read(const std::string& path) const;
    [[nodiscard]] Ran run(const std::vector<std::string>& arguments,
                          const std::map<std::string, std::string, std::less<>>& variables = {}) const {
        return run_in(m_folder.path(), arguments, variables);
    }

  private:
    scratch::Folder m_folder;
};

[[nodiscard]] nlohmann::json json_of(const Ran& ran);
[[nodiscard]] std::size_t count(const std::string& text, const std::string& part);

/// One puzzle as an entry of a collection file: sound, or with a second key, which key/cook calls an error.
[[nodiscard]] std::string sound(const std::string& id);
[[nodiscard]] std::string cooked(const std::string& id);
/// A second rook's mate that is sound, on another diagram than sound().
[[nodiscard]] std::string sound_too(const std::string& id);
[[nodiscard]] std::string puzzles(const std::vector<std::string>& entries);

} // namespace harness
