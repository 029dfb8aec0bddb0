#!/usr/bin/env bash
# Headers of lib are documented: every type, every function of a type, and nothing that doxygen warns of. Data members,
# values of an enumeration and free functions may stand without words where name and types say all.
#   doxygen.sh ROOT
set -euo pipefail
cd "$1"
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
{
    echo "INPUT = lib"
    echo "FILE_PATTERNS = *.hpp"
    echo "EXCLUDE = lib/benchfeed/text/toml_wrapper.hpp"
    printf '%s = YES\n' RECURSIVE QUIET JAVADOC_AUTOBRIEF DISTRIBUTE_GROUP_DOC GENERATE_XML EXTRACT_STATIC
    printf '%s = NO\n' GENERATE_HTML GENERATE_LATEX WARN_NO_PARAMDOC
    echo "WARN_LOGFILE = $work/warnings"
    echo "OUTPUT_DIRECTORY = $work"
} > "$work/Doxyfile"
doxygen "$work/Doxyfile"
seen=$(find "$work/xml" -name 'struct*.xml' -o -name 'class*.xml' | wc -l)
[ "$seen" -gt 150 ] || { echo "only $seen types seen"; exit 1; }
if grep -vE 'Member .*\((variable|enumvalue)\)|=default' "$work/warnings"; then exit 1; fi
echo "$seen types, all documented"
