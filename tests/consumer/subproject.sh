#!/usr/bin/env bash
# benchfeed inside another project's build: nothing of the host changes, nothing of ours is built or installed unasked, and
# neither the argument parser nor gzip is needed.
# By hand: it compiles the whole library.
#   subproject.sh ROOT CMAKE COMPILER HOW [CMAKE ARGUMENTS...]    HOW is add_subdirectory or FetchContent
set -euo pipefail
root=$1 cmake=$2 compiler=$3 how=$4
shift 4
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
fail() { echo "FAIL: $*"; exit 1; }
"$cmake" -S "$root/tests/consumer/host" -B "$work/build" -G Ninja -DHOW="$how" -DBENCHFEED="$root" -DCMAKE_CXX_COMPILER="$compiler" \
    -DCMAKE_BUILD_TYPE=Debug -DCMAKE_CXX_FLAGS=-O0 -DCMAKE_DISABLE_FIND_PACKAGE_CLI11=ON -DBENCHFEED_GZIP=/nowhere "$@" > "$work/configure.log" 2>&1 ||
    { cat "$work/configure.log"; fail "$how: it does not configure"; }
"$cmake" --build "$work/build" > "$work/build.log" || { grep -A20 FAILED "$work/build.log"; fail "$how: it does not build"; }
"$work/build/neighbour" < "$root/data/plans/heron-lane.toml" > "$work/json" || fail "$how: heron-lane is not judged"
grep -q '"name":"neighbour"' "$work/json" || fail "$how: the tool is not named"
"$cmake" --install "$work/build" --prefix "$work/prefix" > /dev/null
installed=$(cd "$work/prefix" && find . -type f -o -type l | sort)
[ "$installed" = ./bin/neighbour ] || fail "$how: the host asked for its program alone, and has $installed"
echo "inside another build by $how"
