#!/usr/bin/env bash
# The commands as a person and a CI job meet them: exit codes, streams, folders, closed output, environment.
#   cli.sh ROOT BENCHFEED
set -u
cd "$1" || exit 2
benchfeed=$2
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
passed=0 failed=0
is() {  # is WHAT EXPECTED REAL
    if [ "$2" = "$3" ]; then passed=$((passed + 1)); else failed=$((failed + 1)); echo "FAIL $1: expected '$2', got '$3'"; fi
}
exits() {  # exits CODE ARGUMENTS...
    local code=$1
    shift
    "$benchfeed" "$@" > "$work/out" 2> "$work/err" < /dev/null
    is "exit code of: $*" "$code" $?
}
has() { grep -qF -- "$1" "$work/$2" && passed=$((passed + 1)) || { failed=$((failed + 1)); echo "FAIL: '$1' is not in $2"; }; }

exits 0 check data/plans/heron-lane.toml
has "Sawing: 12.3 A of 16 A at the bench plug, 77 %; 3.7 A left" out
is "nothing on standard error" "" "$(cat "$work/err")"
exits 0 check data/plans/hawthorn-yard.toml
exits 0 check data/plans/maple-row.toml
exits 1 check data/plans/crooked-barn.toml
for rule in $(sed -n 's/^# expect: \([^ ]*\) fail.*/\1/p' data/plans/crooked-barn.toml | sort -u); do has "$rule" out; done
exits 2 check tests/plans/bad/everything-at-once.toml
has "13 mistakes in" out
exits 2 check data/plans/no-such-plan.toml
has "cannot open data/plans/no-such-plan.toml" err
exits 2 check
exits 2 check --fail-on nonsense data/plans/heron-lane.toml
exits 2
exits 2 wibble

# What each level of --fail-on asks for.
exits 1 check --fail-on caution data/plans/heron-lane.toml
exits 1 check --strict data/plans/heron-lane.toml
exits 0 check --fail-on unknown data/plans/heron-lane.toml
exits 0 check tests/plans/rules/running-drop-cannot-judge.toml
exits 1 check --fail-on unknown tests/plans/rules/running-drop-cannot-judge.toml
exits 1 check tests/plans/rules/plug-overloaded-cannot-judge.toml

# Many plans: all are told, the worst code wins, one broken file hides no other.
mkdir "$work/plans" && cp data/plans/heron-lane.toml tests/plans/bad/key-twice.toml data/plans/crooked-barn.toml "$work/plans"
exits 2 check --quiet "$work/plans"
has "3 plans: 1 without a finding at the level asked for, 1 with, 1 unreadable" out
has "No problem found" out
has "Do not use yet" out
mkdir "$work/empty"
exits 2 check "$work/empty"

# Standard input, what-if, streams.
"$benchfeed" check - < data/plans/crooked-barn.toml > "$work/out"
is "a plan on standard input" 1 $?
has "standard input:" out
exits 1 check --set load.saw.latched=true --set switch.saw.no_volt=false data/plans/heron-lane.toml
exits 2 check --set 'box.junction.cable.length=3 A' data/plans/heron-lane.toml
has 'length is a length; "3 A" is a current' out
exits 2 check --set 'box.gone.ways=3' data/plans/heron-lane.toml
is "a reader that goes away does not change the answer" "1" "$("$benchfeed" check data/plans/crooked-barn.toml | head -1 > /dev/null; echo "${PIPESTATUS[0]}")"

# Colour only on a terminal, or when asked for.
exits 1 check data/plans/crooked-barn.toml
is "no colour in a pipe" 0 "$(grep -c $'\033' "$work/out")"
exits 1 --color always check data/plans/crooked-barn.toml
has $'\033[1;31m' out
exits 1 check --color never data/plans/crooked-barn.toml

# The same answer whatever the locale.
"$benchfeed" check data/plans/heron-lane.toml > "$work/plain"
LC_ALL=de_DE.UTF-8 LANG=tr_TR.UTF-8 TZ=Asia/Tokyo "$benchfeed" check data/plans/heron-lane.toml > "$work/foreign"
cmp -s "$work/plain" "$work/foreign"
is "the locale changes nothing" 0 $?

# explain, rules, tables.
exits 0 rules
rules=$(sed -n 's/^\([a-z]*\.[a-z-]*\) (.*/\1/p' "$work/out")
is "thirty rules" 30 "$(echo "$rules" | wc -l)"
for rule in $rules; do
    exits 0 explain "$rule"
    has "What it cannot see" out
done
exits 2 explain heat.nonsense
exits 0 tables
has "iec-b52-2 (iec, memory)" out
exits 0 tables nec-400-5-a-1
has "14 AWG  15" out
exits 2 tables nonsense
exits 0 --version
has "benchfeed 0.1.0" out
exits 0 --help
exits 0 check --help

# Hostile input ends in words and exit code 2, never in a crash.
printf '[!]\n' > "$work/a.toml"
printf '\377\376' > "$work/b.toml"
head -c 100000 /dev/zero > "$work/c.toml"
printf 'a = %s\n' "$(printf '[%.0s' $(seq 3000))" > "$work/d.toml"
for file in a b c d; do exits 2 check "$work/$file.toml"; done
exits 2 check "$work"/no/such/folder

echo "$passed passed, $failed failed"
[ $failed = 0 ]
