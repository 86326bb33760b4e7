#include "app/build_id.hpp"

#include <cstring>

#include <elf.h>
#include <link.h>

namespace app {
namespace {

/// The note named GNU of type NT_GNU_BUILD_ID among the notes of one segment (System V ABI, "Note section").
std::string id_among(const char* notes, std::size_t size) {
    const auto aligned = [](std::size_t length) { return (length + 3) / 4 * 4; };
    while (size >= sizeof(ElfW(Nhdr))) {
        ElfW(Nhdr) head;
        std::memcpy(&head, notes, sizeof head);
        const std::size_t name = sizeof head;
        const std::size_t text = name + aligned(head.n_namesz);
        const std::size_t end = text + aligned(head.n_descsz);
        if (end > size) {
            return {};
        }
        if (head.n_type == NT_GNU_BUILD_ID && head.n_namesz == 4 &&
            std::memcmp(notes + name, "GNU", 4) == 0) {
            return {notes + text, head.n_descsz};
        }
        notes += end;
        size -= end;
    }
    return {};
}

/// The first object is the program itself.
int visit(dl_phdr_info* object, std::size_t /*size*/, void* found) {
    for (int i = 0; i < object->dlpi_phnum; ++i) {
        const ElfW(Phdr)& segment = object->dlpi_phdr[i];
        if (segment.p_type == PT_NOTE) {
            const auto* const notes =
                reinterpret_cast<const char*>(object->dlpi_addr + segment.p_vaddr); // NOLINT
            if (std::string id = id_among(notes, segment.p_memsz); !id.empty()) {
                *static_cast<std::string*>(found) = std::move(id);
                break;
            }
        }
    }
    return 1;
}

} // namespace

const std::string& build_id() {
    static const std::string id = [] {
        std::string found;
        dl_iterate_phdr(visit, &found);
        return found;
    }();
    return id;
}

} // namespace app
