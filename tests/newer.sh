#!/usr/bin/env bash
# benchfeed with headers of other versions than the system has: builds it and runs the unit tests, plans and bad plans.
#   newer.sh ROOT BUILD FOLDER... [-- CMAKE ARGUMENTS...]    each FOLDER holds headers: tomlplusplus-3.4.0/include, fmt-11.2.0/include
# fmt comes without a library of that version, so it is taken as headers alone. Run by hand; README.md says what was tried.
set -euo pipefail
root=$1 build=$2
shift 2
flags=-DFMT_HEADER_ONLY folders=()
while [ $# -gt 0 ] && [ "$1" != -- ]; do
    [ -d "$1" ] || { echo "no folder $1"; exit 2; }
    folders+=("$(realpath "$1")")
    flags+=" -isystem ${folders[-1]}"
    shift
done
[ $# -eq 0 ] || shift
cmake -S "$root" -B "$build" -G Ninja -DBENCHFEED_TESTS=ON -DBENCHFEED_WHOLE_PROGRAM=OFF -DCMAKE_CXX_FLAGS="$flags" "$@"
cmake --build "$build"
# What was compiled read these headers and not the system's.
(cd "$build" && ninja -t deps | sed -n 's/^    //p' | sort -u | xargs realpath -m > read)
for folder in "${folders[@]}"; do grep -qF "$folder/" "$build/read" || { echo "nothing read a header of $folder"; exit 1; }; done
ctest --test-dir "$build" --output-on-failure -j2 -R '^(unit_|published|plans|laws|door_|cli$)'
