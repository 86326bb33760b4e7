#pragma once
// Catch2 2 (Debian 12) and 3 (newer systems) put their headers in different places; tests include this one.
#if CATCH_MAJOR >= 3
#include <catch2/catch_all.hpp>
#else
#include <catch2/catch.hpp>
#endif
