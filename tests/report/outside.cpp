#include "outside.hpp"

#include "catch.hpp"

#include <array>
#include <cstdio>
#include <filesystem>
#include <fstream>
#include <iterator>

#include <stdlib.h> // NOLINT: mkdtemp is POSIX's
#include <sys/wait.h>

namespace outside {
namespace {

namespace fs = std::filesystem;

class Folder {
  public:
    Folder() {
        std::string name = (fs::temp_directory_path() / "sidelint-report-XXXXXX").string();
        REQUIRE(mkdtemp(name.data()) != nullptr);
        m_path = name;
    }
    ~Folder() {
        std::error_code ignored;
        fs::remove_all(m_path, ignored);
    }
    Folder(const Folder&) = delete;
    Folder& operator=(const Folder&) = delete;
    [[nodiscard]] std::string write(const std::string& name, const std::string& text) const {
        const fs::path path = m_path / name;
        std::ofstream(path, std::ios::binary) << text;
        return path.string();
    }

  private:
    fs::path m_path;
};

std::string in_quotes(const std::string& word) {
    return "'" + word + "'"; // no name here holds a quote
}

} // namespace

Ran run(const std::string& command, const std::vector<std::string>& texts) {
    const Folder folder;
    std::string line = command;
    for (std::size_t i = 0; i < texts.size(); ++i) {
        const std::string place = "{" + std::to_string(i) + "}";
        const std::size_t at = line.find(place);
        REQUIRE(at != std::string::npos);
        line.replace(at, place.size(), in_quotes(folder.write(std::to_string(i), texts[i])));
    }
    Ran ran;
    std::FILE* const pipe = popen((line + " 2>&1").c_str(), "r");
    REQUIRE(pipe != nullptr);
    std::array<char, 4096> buffer{};
    for (std::size_t n = 0; (n = std::fread(buffer.data(), 1, buffer.size(), pipe)) > 0;) {
        ran.out.append(buffer.data(), n);
    }
    const int ended = pclose(pipe);
    ran.status = WIFEXITED(ended) ? WEXITSTATUS(ended) : -1;
    return ran;
}

std::string schema(const std::string& name) {
    std::ifstream file(SIDELINT_SOURCE_DIR "/tests/report/schemas/" + name, std::ios::binary);
    std::string text{std::istreambuf_iterator<char>(file), {}};
    REQUIRE_FALSE(text.empty());
    return text;
}

std::string xml_faults(const std::string& text, const std::string& schema) {
    const Ran ran = run("xmllint --nonet --noout --schema {0} {1}", {schema, text});
    return ran.status == 0 ? "" : ran.out;
}

std::string read_back(const std::string& script, const std::vector<std::string>& texts) {
    std::string command = "/usr/bin/python3 " + in_quotes(SIDELINT_SOURCE_DIR "/tests/report/") + script;
    for (std::size_t i = 0; i < texts.size(); ++i) {
        command += " {" + std::to_string(i) + "}";
    }
    const Ran ran = run(command, texts);
    return ran.status == 0 ? "" : ran.out;
}

std::string json_faults(const std::string& text, const std::string& schema) {
    return read_back("second_reader.py json", {schema, text});
}

std::string xpath(const std::string& text, const std::string& expression) {
    Ran ran = run("xmllint --nonet --xpath \"" + expression + "\" {0}", {text});
    CHECK(ran.status == 0);
    if (ran.out.ends_with('\n')) {
        ran.out.pop_back(); // xmllint's own
    }
    return ran.out;
}

std::string html_of(const std::string& markdown) {
    const Ran ran = run("cmark-gfm --unsafe -e table -e autolink -e tagfilter {0}", {markdown});
    CHECK(ran.status == 0);
    return ran.out;
}

} // namespace outside
