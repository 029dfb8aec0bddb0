# clang with the address and undefined behaviour sanitizers. lld links the forty programs in a tenth of the time.
set(CMAKE_CXX_COMPILER clang++-14 CACHE STRING "")
set(CMAKE_BUILD_TYPE Debug CACHE STRING "")
set(CMAKE_CXX_FLAGS "-O1 -g1" CACHE STRING "")
set(CMAKE_EXE_LINKER_FLAGS "-fuse-ld=lld" CACHE STRING "")
set(BENCHFEED_TESTS ON CACHE BOOL "")
set(BENCHFEED_WERROR ON CACHE BOOL "")
set(BENCHFEED_SANITIZE "address,undefined" CACHE STRING "")
