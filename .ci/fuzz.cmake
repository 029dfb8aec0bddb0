# The same with the fuzzers of tests/fuzz beside the tests: they share every object, so CI builds both in one folder.
include("${CMAKE_CURRENT_LIST_DIR}/checked.cmake")
set(BENCHFEED_FUZZ ON CACHE BOOL "")
