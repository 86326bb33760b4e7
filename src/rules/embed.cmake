# Writes rules/**.yaml as string literals.
file(GLOB_RECURSE files RELATIVE ${FOLDER} ${FOLDER}/*.yaml)
list(FILTER files EXCLUDE REGEX "^phrases/") # words that captions are read with: src/collection
list(SORT files)
set(out "// Made by embed.cmake from rules/; do not edit.\n#include \"rules/catalogue_text.hpp\"\n\nnamespace rules {\nnamespace {\n")
string(APPEND out "constexpr CatalogueText texts[] = {\n")
foreach(file IN LISTS files)
  file(READ ${FOLDER}/${file} text)
  string(APPEND out "    {\"${file}\",\n     R\"yaml_text(${text})yaml_text\"},\n")
endforeach()
string(APPEND out "};\n} // namespace\n\nstd::span<const CatalogueText> catalogue_texts() { return texts; }\n\n} // namespace rules\n")
file(WRITE ${OUTPUT} "${out}")
