#!/usr/bin/env bash
# Builds programs of others against benchfeed: with find_package and with pkg-config.
#   run.sh ROOT CMAKE COMPILER VERSION BUILD    installs BUILD into an empty prefix first
#   run.sh ROOT CMAKE COMPILER VERSION --prefix DIR    DIR holds bin/, include/ and lib/ already
set -euo pipefail
root=$1 cmake=$2 compiler=$3 version=$4
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
fail() { echo "FAIL: $*"; exit 1; }
if [ "$5" = --prefix ]; then
    prefix=$6
else
    prefix=$work/prefix
    "$cmake" --install "$5" --prefix "$prefix" > "$work/install.log"
    # Nothing that is installed says where it was built. Debug information does, so programs are looked at without it.
    find "$prefix" -type f \( -name '*.a' -o -name '*.so*' -o -path '*/bin/*' \) -exec strip --strip-debug {} +
    for path in "$5" "$root"; do
        if grep -rlF -- "$path" "$prefix"; then fail "these name $path"; fi
    done
    [ -f "$prefix/share/man/man1/benchfeed.1.gz" ] || fail "no manual page"
    # Moved as a whole it still works.
    mv "$prefix" "$work/elsewhere" && prefix=$work/elsewhere
    [ "$("$prefix/bin/benchfeed" --version)" = "benchfeed $version" ] || fail "version of the program"
fi
headers=$(dirname "$(find "$prefix" -path '*/benchfeed/check.hpp')")
if grep -rlP '#include (<(nlohmann|fmt|toml\+\+)|"(?!benchfeed/))' "$headers"; then
    fail "these show a library of ours, or a folder that a program of others may have as well"
fi

sed -n '/^```cpp$/,/^```$/p' "$root/README.md" | sed '1d;$d' > "$work/example.cpp"
[ -s "$work/example.cpp" ] || fail "README.md has no example in C++"
(cd "$headers/.." && find benchfeed -name '*.hpp' | sort | sed 's/.*/#include <&>/') > "$work/all_headers.cpp"
[ "$(wc -l < "$work/all_headers.cpp")" -gt 50 ] || fail "headers are missing"

judge() {  # judge HOW FOLDER
    "$2/figures" < "$root/data/plans/heron-lane.toml" > "$work/figures" || fail "$1: the worked examples"
    diff "$root/tests/consumer/figures.expected" "$work/figures" || fail "$1: the worked examples print other figures"
    "$2/example" "$root/data/plans/crooked-barn.toml" > "$work/report" || fail "$1: the example"
    [ "$(head -1 "$work/report")" = "Do not use yet: the saw switch leaves a live conductor in the tool when it is" ] ||
        fail "$1: the report begins with $(head -1 "$work/report")"
    "$2/neighbour" < "$root/data/plans/heron-lane.toml" > "$work/json" || fail "$1: heron-lane is not judged"
    grep -q '"name":"neighbour","version":"'"$version"'"' "$work/json" || fail "$1: the tool is not named"
}

"$cmake" -S "$root/tests/consumer" -B "$work/found" -G Ninja -DCMAKE_PREFIX_PATH="$prefix" -DCMAKE_CXX_COMPILER="$compiler" \
    -DEXAMPLE="$work/example.cpp" -DALL_HEADERS="$work/all_headers.cpp" > "$work/configure.log"
"$cmake" --build "$work/found" > "$work/build.log" || { cat "$work/build.log"; fail "find_package: it does not build"; }
judge find_package "$work/found"
# A version that promises nothing to this one is not taken.
mkdir "$work/later" && printf 'cmake_minimum_required(VERSION 3.25)\nproject(later LANGUAGES NONE)\nfind_package(benchfeed 99 REQUIRED)\n' \
    > "$work/later/CMakeLists.txt"
if "$cmake" -S "$work/later" -B "$work/later/build" -DCMAKE_PREFIX_PATH="$prefix" > "$work/later.log" 2>&1; then
    fail "find_package(benchfeed 99) takes version $version"
fi

mkdir "$work/asked"
PKG_CONFIG_PATH=$(dirname "$(find "$prefix" -name benchfeed.pc)")
export PKG_CONFIG_PATH
[ "$(pkg-config --modversion benchfeed)" = "$version" ] || fail "version of pkg-config"
read -ra flags <<< "$(pkg-config --cflags benchfeed)"
read -ra libraries <<< "$(pkg-config --libs benchfeed)"
library=$(dirname "$(find "$prefix" -name 'libbenchfeed.a' -o -name 'libbenchfeed.so')")
"$compiler" -std=c++20 ${CXXFLAGS:-} "${flags[@]}" "$work/example.cpp" -o "$work/asked/example" "${libraries[@]}" -Wl,-rpath,"$library"
"$compiler" -std=c++20 ${CXXFLAGS:-} "${flags[@]}" "$root/tests/consumer/figures.cpp" -o "$work/asked/figures" "${libraries[@]}" \
    -Wl,-rpath,"$library"
"$compiler" -std=c++20 ${CXXFLAGS:-} -I"$root/tests/consumer" "${flags[@]}" "$root/tests/consumer/neighbour.cpp" -o "$work/asked/neighbour" \
    "${libraries[@]}" -Wl,-rpath,"$library"
judge pkg-config "$work/asked"

# Nothing leaves a shared library but what is marked to.
if [ -e "$library/libbenchfeed.so" ]; then
    nm -D --defined-only "$library/libbenchfeed.so" | awk '{ print $3 }' > "$work/shown"
    if grep -vE '^(_ZNK?9benchfeed|benchfeed_)' "$work/shown" > "$work/foreign"; then fail "foreign names leave it: $(head -3 "$work/foreign")"; fi
    [ "$(wc -l < "$work/shown")" -gt 60 ] || fail "names are missing"
    [ "$(wc -l < "$work/shown")" -lt 400 ] || fail "$(wc -l < "$work/shown") names leave it"
fi
# Other languages: a program in C, and Python where there is a library to load. Both get the words of the program.
plain() { sed 's/"path":"[^"]*"/"path":""/g' "$1"; }
cc -std=c99 -Wall -Wextra -Werror -pedantic ${CXXFLAGS:-} "${flags[@]}" "$root/tests/consumer/caller.c" -o "$work/asked/caller" \
    "${libraries[@]}" -lstdc++ -lm -Wl,-rpath,"$library"
# What heron-lane is with these values, what it is with two of them, and one that cannot be read.
asked=("heron-lane" "crooked-barn" "heron-lane|box.junction.cable.length=60 m" "heron-lane|plan.ambient=45 degC|box.junction.cable.length=45 m"
       "heron-lane|box.junction.cable.length=3 A")
codes=""
for one in "${asked[@]}"; do
    IFS='|' read -ra words <<< "$one"
    plan=$root/data/plans/${words[0]}.toml sets=("${words[@]:1}") code=0 expected=0
    "$prefix/bin/benchfeed" check --format json --full "${sets[@]/#/--set=}" "$plan" > "$work/by-program" 2> /dev/null || expected=$?
    "$work/asked/caller" "${sets[@]}" < "$plan" > "$work/by-c" || code=$?
    [ "$code" = "$expected" ] || fail "the program in C: exit code $code at $one, and $expected from benchfeed"
    diff <(plain "$work/by-program") <(plain "$work/by-c") > "$work/difference" || fail "the program in C tells other things of $one: $(head -c 600 "$work/difference")"
    codes+=$code
    if command -v valgrind > /dev/null && [ ${#sets[@]} = 0 ] && [[ ${CXXFLAGS:-} != *-fsanitize* ]]; then
        code=0
        valgrind -q --suppressions="$root/tests/valgrind.supp" --error-exitcode=98 --leak-check=full --errors-for-leak-kinds=all \
            "$work/asked/caller" < "$plan" > /dev/null || code=$?
        [ "$code" = "$expected" ] || fail "the program in C under valgrind: exit code $code at $one"
    fi
    # A sanitizer would have to be Python's as well.
    [ -e "$library/libbenchfeed.so" ] && [[ ${CXXFLAGS:-} != *-fsanitize* ]] || continue
    code=0
    python3 "$root/tests/consumer/caller.py" "$library/libbenchfeed.so" "$plan" "${sets[@]}" > "$work/by-python" || code=$?
    [ "$code" = "$expected" ] || fail "Python: exit code $code at $one, and $expected from benchfeed"
    # As caller.py prints it, out of what the program said.
    python3 -c '
import json, sys
found = json.load(sys.stdin)
for plan in found["plans"]: print(plan["verdict"] + ": " + plan["headline"])
for fault in found["errors"]: print(str(fault["place"]["line"] if fault["place"] else fault["field"]) + ": " + fault["message"])' < "$work/by-program" > "$work/expected"
    [ -s "$work/expected" ] || fail "benchfeed says nothing of $one"
    diff "$work/expected" "$work/by-python" || fail "Python tells other things of $one"
done
# Sets that changed nothing would have been compared with each other for nothing.
[ "$codes" = 01112 ] || fail "exit codes $codes of: ${asked[*]}"
echo "built and run by find_package and by pkg-config: $(basename "$(ls "$library"/libbenchfeed.a "$library"/libbenchfeed.so 2> /dev/null | head -1)")"
