# For clang-tidy: without precompiled headers, so that every file includes what it needs.
set(CMAKE_CXX_COMPILER clang++-14 CACHE STRING "")
set(BENCHFEED_PCH OFF CACHE BOOL "")
set(BENCHFEED_UNITY OFF CACHE BOOL "")
set(BENCHFEED_TESTS OFF CACHE BOOL "")
