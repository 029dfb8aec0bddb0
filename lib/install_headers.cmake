# Runs at install: `headers` is where they went.
file(GLOB_RECURSE files ${headers}/*.hpp)
foreach(file IN LISTS files)
    file(READ ${file} text)
    string(REGEX REPLACE "#include \"([a-z_]+/[a-z_]+\\.hpp)\"" "#include \"benchfeed/\\1\"" installed "${text}")
    string(REPLACE "benchfeed/benchfeed/" "benchfeed/" installed "${installed}")
    file(WRITE ${file} "${installed}")
endforeach()
