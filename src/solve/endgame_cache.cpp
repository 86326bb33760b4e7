#include "solve/endgame_cache.hpp"

#include <zlib.h>

#include <cstdlib>
#include <fstream>
#include <string>
#include <string_view>
#include <system_error>
#include <unistd.h>

namespace solve::endgame {

namespace fs = std::filesystem;

namespace {

// A file is a header (magic, version, material, three numbers, each little-endian in four bytes) and the
// table packed by zlib. The checksum is over all but itself.
constexpr std::string_view magic = "sidelint";
constexpr std::uint32_t version = 1; ///< of the format and of what the bytes mean: to be raised with either
constexpr std::size_t material_bytes = 8;
constexpr std::size_t sum_at = magic.size() + 4 + material_bytes + 4;
constexpr std::size_t header_bytes = sum_at + 4;

void append(std::string& text, std::uint32_t number) {
    for (int shift = 0; shift < 32; shift += 8) {
        text += static_cast<char>((number >> shift) & 0xffU);
    }
}

const Bytef* bytes_of(std::string_view text) {
    return reinterpret_cast<const Bytef*>(text.data());
}

/// All of the header but the checksum.
std::string head_of(const Layout& layout) {
    std::string head(magic);
    append(head, version);
    std::string material = name(layout.material());
    material.resize(material_bytes);
    head += material;
    append(head, layout.size());
    return head;
}

std::uint32_t checksum(std::string_view head, std::string_view packed) {
    const uLong sum = crc32(crc32(0, nullptr, 0), bytes_of(head), static_cast<uInt>(head.size()));
    return static_cast<std::uint32_t>(crc32(sum, bytes_of(packed), static_cast<uInt>(packed.size())));
}

std::optional<std::string> read_file(const fs::path& path, std::size_t most) {
    std::error_code error;
    if (!fs::is_regular_file(path, error)) {
        return std::nullopt;
    }
    const std::uintmax_t size = fs::file_size(path, error);
    if (error || size > most) {
        return std::nullopt;
    }
    std::ifstream file(path, std::ios::binary);
    std::string bytes(static_cast<std::size_t>(size), '\0');
    file.read(bytes.data(), static_cast<std::streamsize>(bytes.size()));
    return file ? std::optional(std::move(bytes)) : std::nullopt;
}

bool write_all(int file, std::string_view bytes) {
    while (!bytes.empty()) {
        const ssize_t written = ::write(file, bytes.data(), bytes.size());
        if (written <= 0) {
            return false;
        }
        bytes.remove_prefix(static_cast<std::size_t>(written));
    }
    return true;
}

/// To a file of its own first, then under its name in one step.
void write_file(const fs::path& path, std::string_view bytes) {
    std::string temporary = path.string() + ".XXXXXX";
    const int file = ::mkstemp(temporary.data());
    if (file < 0) {
        return;
    }
    const bool written = write_all(file, bytes);
    const bool closed = ::close(file) == 0;
    std::error_code error;
    if (written && closed) {
        fs::rename(temporary, path, error);
    }
    if (!written || !closed || error) {
        fs::remove(temporary, error);
    }
}

} // namespace

fs::path cache_file(const fs::path& folder, const Material& material) {
    return folder / (name(material) + ".endgame");
}

std::optional<Table> read_cached(const fs::path& folder, const Material& material) {
    Table table{Layout(material), {}};
    const std::string head = head_of(table.layout);
    const std::optional<std::string> bytes =
        read_file(cache_file(folder, material), header_bytes + compressBound(table.layout.size()));
    if (!bytes || bytes->size() < header_bytes || !bytes->starts_with(head)) {
        return std::nullopt;
    }
    const std::string_view packed = std::string_view(*bytes).substr(header_bytes);
    std::string sum;
    append(sum, checksum(head, packed));
    if (bytes->compare(sum_at, 4, sum) != 0) {
        return std::nullopt;
    }
    table.codes.resize(table.layout.size());
    uLongf size = table.layout.size();
    if (uncompress(table.codes.data(), &size, bytes_of(packed), static_cast<uLong>(packed.size())) != Z_OK ||
        size != table.layout.size()) {
        return std::nullopt;
    }
    return table;
}

void write_cached(const fs::path& folder, const Table& table) {
    uLongf size = compressBound(table.layout.size());
    std::string packed(size, '\0');
    if (compress2(reinterpret_cast<Bytef*>(packed.data()), &size, table.codes.data(), table.layout.size(),
                  Z_BEST_SPEED) != Z_OK) {
        return;
    }
    packed.resize(size);
    std::string bytes = head_of(table.layout);
    append(bytes, checksum(bytes, packed));
    bytes += packed;
    std::error_code error;
    fs::create_directories(folder, error);
    write_file(cache_file(folder, table.layout.material()), bytes);
}

} // namespace solve::endgame
