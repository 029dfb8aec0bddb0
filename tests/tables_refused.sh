#!/bin/bash
# The program of the build refuses tables in which something is missing that a rule relies on, says what, and writes
# nothing.
#   tables_refused.sh PROGRAM TABLES
set -eu
program=$1 tables=$2
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
faults=0

# refused NAME FILE SED-EXPRESSION WHAT-IT-SAYS
refused() {
    rm -rf "$work/tables" "$work/out"
    cp -r "$tables" "$work/tables"
    chmod -R u+w "$work/tables"
    sed -i "$3" "$work/tables/$2"
    if cmp -s "$work/tables/$2" "$tables/$2"; then
        echo "$1: the table is as it was"
        faults=1
        return
    fi
    status=0
    "$program" "$work/out.cpp" "$work/out" $(find "$work/tables" -name '*.toml') 2> "$work/said" || status=$?
    if [ $status -ne 1 ] || ! grep -qF "$4" "$work/said" || [ -e "$work/out.cpp" ] || [ -e "$work/out" ]; then
        echo "$1: ended with $status and said:"
        cat "$work/said"
        faults=1
    fi
}

refused "a region without residual practice" common/residual-practice.toml '/^  \["CH"/d; /{ row = "CH"/d' \
    "residual-practice: has no row for CH of table regions"
refused "a region without its words" common/region-words.toml '/^  \["UK"/d' \
    "region-words: has no row for UK of table regions"
refused "a region without tests" common/sheet-tests.toml '/^  \["EU"/d; /{ row = "EU"/d' \
    "sheet-tests: has no row for EU of table regions"
refused "a region that nothing is written of" common/regions.toml '/^  \["AU"/{p;s/"AU"/"NZ"/}' \
    "has no row for NZ of table regions"
refused "a fact that is not there" iec/iec-411-3-3.toml '/^trip = /d' "table iec-411-3-3 has no fact trip"
refused "a fact in another quantity" iec/iec-411-3-3.toml '/^trip = /s/"mA"/"V"/' \
    "the facts that column trip names are no one quantity"
refused "a table that is not there" common/residual-practice.toml 's/"nec-210-8-rooms"/"nec-210-9-rooms"/' \
    "nec-210-9-rooms is to be a table and is none"
refused "two words of one name" common/control-cores.toml 's/\["stop", 2\]/["Start and Stop", 2]/' \
    "word Start and Stop makes a name that another makes too"
refused "a closed column of numbers" common/control-cores.toml 's/name = "live", unit = "1"/&, closed = true/' \
    "only words can be closed, or name something"
exit $faults
