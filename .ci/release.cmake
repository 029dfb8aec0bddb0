# What is shipped: the program and the library alone.
set(CMAKE_BUILD_TYPE Release CACHE STRING "")
set(BENCHFEED_TESTS OFF CACHE BOOL "")
