#!/usr/bin/env bash
# Headers of lib are documented: every type, every function of a type, and nothing that doxygen warns of. Data members,
# values of an enumeration and free functions may stand without words where name and types say all.
#   doxygen.sh ROOT           looks, and leaves nothing behind
#   doxygen.sh ROOT FOLDER    and writes the reference pages: FOLDER/html/index.html (the target reference_pages)
set -euo pipefail
cd "$1"
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
common() {  # what both runs ask of doxygen
    echo "INPUT = lib/benchfeed"
    echo "EXCLUDE = lib/benchfeed/text/toml_wrapper.hpp"
    echo "PREDEFINED = BENCHFEED_API="
    printf '%s = YES\n' RECURSIVE QUIET JAVADOC_AUTOBRIEF DISTRIBUTE_GROUP_DOC MACRO_EXPANSION EXPAND_ONLY_PREDEF
    printf '%s = NO\n' GENERATE_LATEX HAVE_DOT
    echo "WARN_LOGFILE = $work/warnings"
}
if [ $# -gt 1 ]; then
    mkdir -p "$2"
    {
        common
        echo "INPUT += lib/reference"
        echo "EXCLUDE += lib/benchfeed/rules/common"
        echo "FILE_PATTERNS = *.hpp *.h *.md"
        echo "USE_MDFILE_AS_MAINPAGE = lib/reference/mainpage.md"
        echo "EXAMPLE_PATH = tests/consumer"
        echo "PROJECT_NAME = benchfeed"
        echo "STRIP_FROM_PATH = lib"
        echo "STRIP_FROM_INC_PATH = lib"
        printf '%s = YES\n' EXTRACT_ALL GENERATE_HTML
        echo "CLASS_GRAPH = NO"
        echo "OUTPUT_DIRECTORY = $2"
    } > "$work/Doxyfile"
    doxygen "$work/Doxyfile"
    if [ -s "$work/warnings" ]; then cat "$work/warnings"; exit 1; fi
    [ -s "$2/html/examples.html" ] || { echo "no page of examples"; exit 1; }
    grep -q 'withstood_energy' "$2/html/examples.html" || { echo "the page of examples shows none"; exit 1; }
    exit
fi
{
    common
    echo "FILE_PATTERNS = *.hpp"
    printf '%s = YES\n' GENERATE_XML EXTRACT_STATIC
    printf '%s = NO\n' GENERATE_HTML WARN_NO_PARAMDOC
    echo "OUTPUT_DIRECTORY = $work"
} > "$work/Doxyfile"
doxygen "$work/Doxyfile"
seen=$(find "$work/xml" -name 'struct*.xml' -o -name 'class*.xml' | wc -l)
[ "$seen" -gt 150 ] || { echo "only $seen types seen"; exit 1; }
if grep -vE 'Member .*\((variable|enumvalue)\)|=default' "$work/warnings"; then exit 1; fi
echo "$seen types, all documented"
