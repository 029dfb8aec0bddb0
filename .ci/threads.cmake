# The thread sanitizer over `check --jobs`, and the library shared.
set(CMAKE_BUILD_TYPE Debug CACHE STRING "")
set(CMAKE_CXX_FLAGS "-O1 -g1" CACHE STRING "")
set(BENCHFEED_TESTS OFF CACHE BOOL "")
set(BUILD_SHARED_LIBS ON CACHE BOOL "")
set(BENCHFEED_SANITIZE "thread" CACHE STRING "")
