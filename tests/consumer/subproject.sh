#!/usr/bin/env bash
# benchfeed inside another project's build: nothing of the host changes, nothing of ours is built or installed unasked, and
# neither the argument parser nor gzip is needed.
#   subproject.sh ROOT CMAKE COMPILER [CMAKE ARGUMENTS...]
# By add_subdirectory it is configured alone: FetchContent takes the same way from there on, and the library takes long to build.
set -euo pipefail
root=$1 cmake=$2 compiler=$3
shift 3
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
fail() { echo "FAIL: $*"; exit 1; }
for how in add_subdirectory FetchContent; do
    "$cmake" -S "$root/tests/consumer/host" -B "$work/$how" -G Ninja -DHOW="$how" -DBENCHFEED="$root" -DCMAKE_CXX_COMPILER="$compiler" \
        -DCMAKE_BUILD_TYPE=Debug -DCMAKE_CXX_FLAGS=-O0 -DCMAKE_DISABLE_FIND_PACKAGE_CLI11=ON -DBENCHFEED_GZIP=/nowhere "$@" > "$work/configure.log" 2>&1 ||
        { cat "$work/configure.log"; fail "$how: it does not configure"; }
done
build=$work/FetchContent
"$cmake" --build "$build" > "$work/build.log" || { grep -A20 FAILED "$work/build.log"; fail "it does not build"; }
"$build/neighbour" < "$root/data/plans/heron-lane.toml" > "$work/json" || fail "heron-lane is not judged"
grep -q '"name":"neighbour"' "$work/json" || fail "the tool is not named"
"$cmake" --install "$build" --prefix "$work/prefix" > /dev/null
installed=$(cd "$work/prefix" && find . -type f -o -type l | sort)
[ "$installed" = ./bin/neighbour ] || fail "the host asked for its program alone, and has $installed"
echo "inside another build"
