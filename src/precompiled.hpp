#pragma once
// What most files read first, compiled once a room. Every file still includes what it uses: ci/style reads
// them all without this one.

#include <algorithm>
#include <array>
#include <cstdint>
#include <fstream>
#include <functional>
#include <iterator>
#include <map>
#include <memory>
#include <optional>
#include <set>
#include <span>
#include <string>
#include <string_view>
#include <utility>
#include <variant>
#include <vector>

#if __has_include(<fmt/format.h>)
#include <fmt/format.h>
#include <fmt/ranges.h>
#endif
