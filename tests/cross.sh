#!/usr/bin/env bash
# Builds the program for 64-bit ARM and runs it in an emulator: it must say what the program of this machine says. By hand;
# Debian 12: dpkg --add-architecture arm64; apt-get install g++-aarch64-linux-gnu qemu-user libfmt-dev:arm64
# libtomlplusplus-dev:arm64
#   cross.sh ROOT HOST_BUILD    HOST_BUILD has the program and benchfeed_make_tables of this machine
set -euo pipefail
root=$1 host=$(realpath "$2")
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
cat > "$work/toolchain.cmake" <<'END'
set(CMAKE_SYSTEM_NAME Linux)
set(CMAKE_SYSTEM_PROCESSOR aarch64)
set(CMAKE_CXX_COMPILER aarch64-linux-gnu-g++)
set(CMAKE_LIBRARY_ARCHITECTURE aarch64-linux-gnu)
END
configure() { cmake -S "$root" -B "$work/build" -G Ninja -DCMAKE_TOOLCHAIN_FILE="$work/toolchain.cmake" -DBENCHFEED_TESTS=OFF -DBENCHFEED_WHOLE_PROGRAM=OFF "$@"; }
# Without a program that runs here it says so, and what to do.
if configure > "$work/log" 2>&1; then echo "configures without a program for this machine"; exit 1; fi
grep -q BENCHFEED_HOST_TOOLS "$work/log" || { cat "$work/log"; exit 1; }
rm -rf "$work/build"
configure -DBENCHFEED_HOST_TOOLS="$host/lib" > "$work/log"
cmake --build "$work/build"
file "$work/build/benchfeed" | grep -q aarch64
for plan in "$root"/data/plans/*.toml; do
    for command in check card "card --sheet wiring" parts size; do
        here=0 there=0
        "$host/benchfeed" $command "$plan" > "$work/here" || here=$?
        qemu-aarch64 -L /usr/aarch64-linux-gnu -E LD_LIBRARY_PATH=/usr/lib/aarch64-linux-gnu "$work/build/benchfeed" $command "$plan" > "$work/there" || there=$?
        [ -s "$work/here" ] || { echo "the program of this machine says nothing of $plan"; exit 1; }
        [ "$here" = "$there" ] && cmp "$work/here" "$work/there" || { echo "$command $plan differs"; exit 1; }
    done
done
echo "the same words from an ARM program: $(ls "$root"/data/plans/*.toml | wc -l) plans"
