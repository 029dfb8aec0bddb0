# The library shared and without a sanitizer, as a program in another language loads it. Not optimised: it is built for one
# test, in half the time.
set(CMAKE_BUILD_TYPE Debug CACHE STRING "")
set(CMAKE_CXX_FLAGS_DEBUG "-O0" CACHE STRING "")
set(BENCHFEED_TESTS OFF CACHE BOOL "")
set(BUILD_SHARED_LIBS ON CACHE BOOL "")
