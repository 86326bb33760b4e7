// Tables on disk: whatever lies there, the answers are the same, and what was damaged is mended.

#include "endgame_positions.hpp"
#include "solve/endgame_build.hpp"
#include "solve/endgame_cache.hpp"

#include <filesystem>
#include <fstream>
#include <iterator>
#include <unistd.h>
#include <zlib.h>

namespace {

namespace fs = std::filesystem;
using namespace endgame_test;
using namespace solve::endgame;
using board::Color, board::Role;

class Folder {
  public:
    Folder() {
        std::string name = (fs::temp_directory_path() / "endgames-XXXXXX").string();
        REQUIRE(::mkdtemp(name.data()) != nullptr);
        m_path = name;
    }
    Folder(const Folder&) = delete;
    Folder& operator=(const Folder&) = delete;
    ~Folder() {
        std::error_code error;
        fs::remove_all(m_path, error);
    }
    [[nodiscard]] const fs::path& path() const { return m_path; }

  private:
    fs::path m_path;
};

std::string read(const fs::path& path) {
    std::ifstream file(path, std::ios::binary);
    return {std::istreambuf_iterator<char>(file), {}};
}

void write(const fs::path& path, std::string_view bytes) {
    std::ofstream(path, std::ios::binary).write(bytes.data(), static_cast<std::streamsize>(bytes.size()));
}

std::size_t slot_of(Role role) {
    return folds[code_of(board::Piece{Color::white, role})][nobody].slot;
}
const Material& material_of(Role role) {
    return materials[slot_of(role)];
}

const Table& in_memory(std::size_t slot) {
    static const solve::EndgameTables tables(std::nullopt);
    return tables.table(slot);
}

/// What a new program with this folder answers.
std::vector<Code> asked(const fs::path& folder, Role role) {
    return solve::EndgameTables(folder).table(slot_of(role)).codes;
}

} // namespace

TEST_CASE("endgame cache: a table comes back as it was written") {
    const Folder folder;
    const fs::path inner = folder.path() / "not" / "yet" / "there";
    CHECK_FALSE(read_cached(inner, material_of(Role::pawn)));
    CHECK((asked(inner, Role::pawn) == in_memory(slot_of(Role::pawn)).codes));
    for (const Role role : {Role::pawn, Role::queen, Role::rook, Role::bishop, Role::knight}) {
        const std::optional<Table> kept = read_cached(inner, material_of(role)); // a pawn leads to all
        REQUIRE(kept);
        CHECK((kept->codes == in_memory(slot_of(role)).codes));
    }
    CHECK((asked(inner, Role::pawn) == in_memory(slot_of(Role::pawn)).codes));
    CHECK(std::distance(fs::directory_iterator(inner), {}) ==
          6); // and bare kings; nothing else is left there
}

TEST_CASE("endgame cache: a damaged file is not believed, and is written anew") {
    const Folder folder;
    const std::vector<Code>& right = in_memory(slot_of(Role::rook)).codes;
    REQUIRE(asked(folder.path(), Role::rook) == right);
    const fs::path file = cache_file(folder.path(), material_of(Role::rook));
    const std::string sound = read(file);
    REQUIRE(sound.size() > 1000);

    const auto check = [&](const std::string& bytes) {
        write(file, bytes);
        CHECK_FALSE(read_cached(folder.path(), material_of(Role::rook)));
        CHECK((asked(folder.path(), Role::rook) == right));
        CHECK((read(file) == sound));
    };
    SECTION("one byte changed: magic, version, material, size, checksum, contents") {
        for (std::size_t i = 0; i < sound.size(); i += i < 64 ? 1 : sound.size() / 20) {
            INFO(i);
            std::string bytes = sound;
            bytes[i] = static_cast<char>(bytes[i] ^ 1);
            check(bytes);
        }
    }
    SECTION("cut off, or more at the end") {
        for (const std::size_t length : {std::size_t{0}, std::size_t{5}, std::size_t{20}, std::size_t{28},
                                         sound.size() / 2, sound.size() - 1}) {
            INFO(length);
            check(sound.substr(0, length));
        }
        check(sound + '\0');
    }
    SECTION("another version, with its right checksum") {
        constexpr std::size_t version_at = 8;
        constexpr std::size_t sum_at = 24;
        std::string bytes = sound;
        ++bytes[version_at];
        const auto* const raw = reinterpret_cast<const Bytef*>(bytes.data());
        uLong sum = crc32(crc32(0, nullptr, 0), raw, sum_at);
        sum = crc32(sum, raw + sum_at + 4, static_cast<uInt>(bytes.size() - sum_at - 4));
        for (std::size_t i = 0; i < 4; ++i, sum >>= 8U) {
            bytes[sum_at + i] = static_cast<char>(sum & 0xffU);
        }
        check(bytes);
    }
    SECTION("another material's file, whole") {
        static_cast<void>(asked(folder.path(), Role::queen));
        check(read(cache_file(folder.path(), material_of(Role::queen))));
    }
    SECTION("something else") {
        check("Harbour club, first term\n");
        write(file, "");
        fs::resize_file(file, std::uintmax_t{1} << 40U); // larger than memory
        CHECK((asked(folder.path(), Role::rook) == right));
    }
}

TEST_CASE("endgame cache: a folder that cannot be used is no error") {
    const Folder folder;
    const std::vector<Code>& right = in_memory(slot_of(Role::rook)).codes;
    SECTION("a file stands where the folder should be") {
        write(folder.path() / "file", "x");
        CHECK((asked(folder.path() / "file", Role::rook) == right));
        CHECK((asked(folder.path() / "file" / "below", Role::rook) == right));
        CHECK(read(folder.path() / "file") == "x");
    }
    SECTION("a folder stands where the file should be") {
        fs::create_directories(cache_file(folder.path(), material_of(Role::rook)) / "inner");
        CHECK((asked(folder.path(), Role::rook) == right));
    }
    SECTION("no name at all") {
        CHECK((asked("", Role::rook) == right));
    }
}
