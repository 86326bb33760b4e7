// A program of the build: reads the YAML of rules/ and writes its entries, without their examples, as C++.
//   catalogue_packer OUTPUT
#include "rules/catalogue_pack.hpp"
#include "rules/catalogue_text.hpp"

#include <fstream>
#include <iostream>

namespace {

template <class Entry> void write(std::ostream& out, const char* name, std::vector<Entry> entries) {
    out << "namespace {\nconstexpr std::string_view " << name << "_texts[] = {\n";
    for (Entry& entry : entries) {
        rules::Packer packer;
        fields(packer, entry);
        out << "    R\"packed(" << packer.packed() << ")packed\",\n";
    }
    out << "};\n} // namespace\n\nstd::span<const std::string_view> " << name << "() {\n    return " << name
        << "_texts;\n}\n\n";
}

} // namespace

int main(int argc, char** argv) {
    auto entries = rules::read_entries(rules::catalogue_texts());
    if (argc != 2 || !entries) {
        std::cerr << (entries ? "catalogue_packer OUTPUT" : entries.error()) << '\n';
        return 1;
    }
    std::ofstream out(argv[1], std::ios::binary);
    out << "// Made by catalogue_packer from rules/; do not edit.\n#include \"rules/catalogue_text.hpp\"\n\n"
           "namespace rules {\n\n";
    write(out, "packed_rules", entries->rules);
    write(out, "packed_motifs", entries->motifs);
    out << "} // namespace rules\n";
    return out.flush() ? 0 : 1;
}
