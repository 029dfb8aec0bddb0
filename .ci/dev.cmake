# For everyday work: quick to build again, warnings are errors. cmake -C .ci/dev.cmake -S . -B build-dev -G Ninja
set(CMAKE_BUILD_TYPE Debug CACHE STRING "")
set(CMAKE_CXX_FLAGS "-O1" CACHE STRING "")
set(BENCHFEED_UNITY OFF CACHE BOOL "")  # a change compiles one file, not its group
set(BENCHFEED_TESTS ON CACHE BOOL "")
set(BENCHFEED_WERROR ON CACHE BOOL "")
