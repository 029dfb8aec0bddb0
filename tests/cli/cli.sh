#!/usr/bin/env bash
# The commands as a person and a CI job meet them: exit codes, streams, folders, closed output, environment.
#   cli.sh ROOT BENCHFEED RULE_PLANS
set -u
cd "$1" || exit 2
benchfeed=$2
rules=$3
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
exits 1 check --full data/plans/crooked-barn.toml
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
exits 0 check $rules/running-drop-cannot-judge.toml
exits 1 check --fail-on unknown $rules/running-drop-cannot-judge.toml
exits 1 check $rules/plug-overloaded-cannot-judge.toml

# Many plans: all are told, the worst code wins, one broken file hides no other.
mkdir "$work/plans" && cp data/plans/heron-lane.toml tests/plans/bad/key-twice.toml data/plans/crooked-barn.toml "$work/plans"
exits 2 check --quiet "$work/plans"
is "of many plans the quiet answer is one sentence" "3 plans: 1 cannot be read, 1 fails; 1 has no finding." "$(cat "$work/out")"
exits 2 check "$work/plans"
has "poles is written twice" out
has "fail           " out
exits 2 check --each --quiet "$work/plans"
has "3 plans: 1 without a finding at the level asked for, 1 with, 1 unreadable" out
has "No problem found" out
has "Do not use yet" out
mkdir "$work/empty"
exits 2 check "$work/empty"

# Standard input, what-if, streams.
"$benchfeed" check --full - < data/plans/crooked-barn.toml > "$work/out"
is "a plan on standard input" 1 $?
has "standard input:" out
exits 1 check --set load.saw.latched=true --set switch.saw.no_volt=false data/plans/heron-lane.toml
exits 2 check --set 'box.junction.cable.length=3 A' data/plans/heron-lane.toml
has 'length is a length; "3 A" is a current' out
exits 2 check --set 'box.gone.ways=3' data/plans/heron-lane.toml
# A list as the plan writes it, or the names alone.
exits 0 check --set 'together.sawing.loads=["saw", "extractor"]' data/plans/heron-lane.toml
cp "$work/out" "$work/listed"
exits 0 check --set 'together.sawing.loads=saw, extractor' data/plans/heron-lane.toml
cmp -s "$work/listed" "$work/out"
is "both spellings of a list say the same" 0 $?
is "a reader that goes away does not change the answer" "1" "$("$benchfeed" check data/plans/crooked-barn.toml | head -1 > /dev/null; echo "${PIPESTATUS[0]}")"

# Colour only on a terminal, or when asked for.
exits 1 check data/plans/crooked-barn.toml
is "no colour in a pipe" 0 "$(grep -c $'\033' "$work/out")"
exits 1 --color always check data/plans/crooked-barn.toml
has $'\033[1;31m' out
exits 1 check --color never data/plans/crooked-barn.toml

# All of it, or all of one thing: an element by its path or its name, a set, a rule, the plan.
exits 1 check --full data/plans/crooked-barn.toml
has "    Worked:" out
has "data/plans/crooked-barn.toml:94:16, [switch.saw] poles = 1" out
for thing in load.saw saw stock.run together.sanding heat.reel-wound plan; do
    exits 1 check --about "$thing" data/plans/crooked-barn.toml
    has "$thing: " out
    is "no line of --about $thing is wider than a panel front" 0 "$(awk 'length > 80' "$work/out" | wc -l)"
done
exits 1 check --about load.saw data/plans/crooked-barn.toml
has "fail restart.no-volt-missing (standard)" out
has "In order" out
exits 1 check --about heat.reel-wound data/plans/crooked-barn.toml
is "findings of other rules are left out" 1 "$(grep -cE '^(fail|caution|cannot judge) ' "$work/out")"
exits 2 check --about load.lathe data/plans/crooked-barn.toml
has "nothing in the plan is called load.lathe" err
exits 2 check --about load.saw --quiet data/plans/crooked-barn.toml
exits 2 check --full --about load.saw data/plans/crooked-barn.toml

# The same answer whatever the locale.
"$benchfeed" check data/plans/heron-lane.toml > "$work/plain"
LC_ALL=de_DE.UTF-8 LANG=tr_TR.UTF-8 TZ=Asia/Tokyo "$benchfeed" check data/plans/heron-lane.toml > "$work/foreign"
cmp -s "$work/plain" "$work/foreign"
is "the locale changes nothing" 0 $?

# explain, rules, tables.
exits 0 rules
rules=$(sed -n 's/^\([a-z]*\.[a-z-]*\) (.*/\1/p' "$work/out")
is "every rule that has a page" "$(find lib/benchfeed/rules -name '*.md' | wc -l)" "$(echo "$rules" | wc -l)"
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
exits 0 tables cables --region uk
has "flat PVC        fixed wiring, solid cores; called 6242Y, twin and earth, T&E" out
is "cables of the other family are left out" 0 "$(grep -c SJOOW "$work/out")"
exits 0 tables patterns --region US
has "1-15" out
has "NO EARTH" out
is "patterns of other regions are left out" 0 "$(grep -c 'CEE 7' "$work/out")"
exits 0 tables devices
has "IEC 61009       circuit breaker, curve B, C or D; ends overload and short" out
exits 2 tables cables --region Mars
exits 0 --version
has "benchfeed 0.1.0" out
exits 0 --help
exits 0 check --help

# together: exit 1 when a set of the plan does not fit.
exits 0 together data/plans/heron-lane.toml
has "x the saw, the router and the extractor. The bench plug: 18.3 A of 16 A (heat," out
is "no line is wider than a panel front" 0 "$(awk 'length > 80' "$work/out" | wc -l)"
exits 1 together data/plans/crooked-barn.toml
exits 0 together --room --all --format json data/plans/maple-row.toml
has '"largest_allowed": {' out
exits 1 together --set load.saw.plate.current="15 A" --set load.saw.plate.power_in= data/plans/heron-lane.toml
exits 2 together data/plans/no-such-plan.toml
exits 2 together tests/plans/bad/key-twice.toml
exits 2 together

# size: exit 1 when no size cures something; --write keeps everything but the sizes.
exits 0 size data/plans/heron-lane.toml
has "stock.lead: 1.5 mm2 stays (H07RN-F, 3 cores)" out
exits 1 size data/plans/crooked-barn.toml --write "$work/barn.toml"
is "two lines differ" 2 "$(diff data/plans/crooked-barn.toml "$work/barn.toml" | grep -c '^>')"
has "stock.reel: 2.5 mm2 instead of 1.5 mm2" out
exits 1 size "$work/barn.toml" --format json
has '"proven_least": true' out
printf 'currency = "EUR"\n[price."H07RN-F"]\n"1.5 mm2" = 2.0\n"2.5 mm2" = 1.5\n' > "$work/prices.toml"
exits 0 size data/plans/heron-lane.toml --price "$work/prices.toml"
has "stock.lead: 2.5 mm2 instead of 1.5 mm2" out
exits 2 size data/plans/heron-lane.toml --price data/plans/heron-lane.toml
exits 2 size data/plans/heron-lane.toml --price "$work/no-such-file"
exits 2 size data/plans/heron-lane.toml --write "$work/no/such/folder.toml"
exits 2 size data/plans/heron-lane.toml --set load.saw.latched=false --write "$work/x.toml"
is "nothing is written for a what-if" "no" "$([ -e "$work/x.toml" ] && echo yes || echo no)"
exits 2 size tests/plans/bad/key-twice.toml

# parts: exit 0 whatever is found, which the list says; 2 for what cannot be read.
exits 0 parts data/plans/heron-lane.toml
has "cut = (5 m + 2 * 0.2 m + 0.3 m) * (1 + 10 %) = 6.27 m" out
is "no line is wider than a panel front" 0 "$(awk 'length > 80' "$work/out" | wc -l)"
exits 0 parts data/plans/crooked-barn.toml
is "a failing plan says so first" "DO NOT BUY YET" "$(head -c 14 "$work/out")"
exits 0 parts data/plans/heron-lane.toml --allow waste="5 %" --allow free-end="0 m"
has "cut = (5 m + 2 * 0 m + 0.3 m) * (1 + 5 %) = 5.565 m" out
has "5 % (yours)" out
exits 0 parts data/plans/heron-lane.toml --sold "5 m, 10 m"
has "10 m: 6.27 m; 3.73 m left" out
printf '[sold."H07RN-F"]\n"3 x 1.5 mm2" = ["7 m"]\n' > "$work/sold.toml"
exits 0 parts data/plans/heron-lane.toml --stock "$work/sold.toml"
has "7 m: 6.27 m; 0.73 m left" out
exits 0 parts data/plans/heron-lane.toml --sold "6 m"
has "No sold length holds 6.27 m" out
exits 2 parts data/plans/heron-lane.toml --sold "6 A"
has "a sold length is a length" err
exits 2 parts data/plans/heron-lane.toml --stock data/plans/heron-lane.toml
has "a list of sold lengths has no format" err
exits 2 parts data/plans/heron-lane.toml --stock "$work/no-such-file"
exits 2 parts data/plans/heron-lane.toml --allow slack="1 m"
has '"slack" is no allowance' err
exits 2 parts data/plans/heron-lane.toml --format html
exits 2 parts data/plans/no-such-plan.toml
exits 2 parts tests/plans/bad/key-twice.toml

# check --report: a page besides the report.
exits 0 check data/plans/heron-lane.toml --report "$work/page.html"
has "Sawing: 12.3 A of 16 A at the bench plug, 77 %; 3.7 A left" out
is "a page" "<!DOCTYPE html>" "$(head -1 "$work/page.html")"
is "no script" 0 "$(grep -ci '<script' "$work/page.html")"
exits 2 check data/plans/heron-lane.toml --report "$work/no/such/page.html"
exits 2 check data/plans --report "$work/page.html"
exits 2 check data/plans/heron-lane.toml --report "$work/page.html" --try 'box.junction.cable.length=1 m to 30 m'

# check --try: a table, and the exit code of the plan as it stands.
exits 0 check --try 'box.junction.cable.length="1 m to 30 m"' data/plans/heron-lane.toml
has "from 18.31 m on: 1 fail, 1 caution, by" out
exits 1 check --try 'stock.run.section=1.0 mm2, 2.5 mm2' data/plans/crooked-barn.toml
exits 2 check --try 'box.junction.cable.length=1 m to 3 A' data/plans/heron-lane.toml
exits 2 check --try 'box.junction.cable.length=1 A to 3 A' data/plans/heron-lane.toml
exits 2 check --try 'box.junction.cable.length=1 m to 3 m' data/plans

# Hostile input ends in words and exit code 2, never in a crash.
printf '[!]\n' > "$work/a.toml"
printf '\377\376' > "$work/b.toml"
head -c 100000 /dev/zero > "$work/c.toml"
printf 'a = %s\n' "$(printf '[%.0s' $(seq 3000))" > "$work/d.toml"
for file in a b c d; do exits 2 check "$work/$file.toml"; done
exits 2 check "$work"/no/such/folder

# An output that is an input, by whatever name or link, is refused, and nothing is touched.
mkdir "$work/lost" "$work/lost/inner"
plan="$work/lost/p.toml"
cp data/plans/heron-lane.toml "$plan"
ln "$plan" "$work/lost/hard.toml"
ln -s p.toml "$work/lost/soft.toml"
ln -s lost "$work/link"
printf 'currency = "EUR"\n[price."H07RN-F"]\n"1.5 mm2" = 2.0\n' > "$work/lost/prices"
cp "$work/lost/prices" "$work/prices-before"
untouched() {  # untouched WHAT
    cmp -s data/plans/heron-lane.toml "$plan"; is "the plan is untouched: $1" 0 $?
    cmp -s "$work/prices-before" "$work/lost/prices"; is "the price list is untouched: $1" 0 $?
    is "nothing else was made: $1" "hard.toml inner p.toml prices soft.toml" "$(ls "$work/lost" | tr '\n' ' ' | sed 's/ $//')"
    is "links are links: $1" "2 p.toml" "$(stat -c %h "$plan") $(readlink "$work/lost/soft.toml")"
}
refused() {  # refused ARGUMENTS...
    exits 2 "$@"
    has "name" err
    is "nothing on standard output: $*" "" "$(cat "$work/out")"
    untouched "$*"
}
for name in "$plan" "$work/lost/hard.toml" "$work/lost/soft.toml" "$work/lost/inner/../p.toml" "$work/link/p.toml"; do
    refused check "$plan" --output "$name"
    refused check "$name" --output "$plan"
    refused check "$plan" --report "$name"
    refused check --quiet "$work/lost" --output "$name"
    refused check --format json data/plans/maple-row.toml "$plan" --output "$name"
    refused check "$plan" --try 'box.junction.cable.length=1 m to 30 m' --output "$name"
    refused size "$plan" --output "$name"
    refused together "$plan" --output "$name"
    refused card "$plan" --format html --output "$name"
    refused parts "$plan" --output "$name"
    refused compare "$plan" data/plans/maple-row.toml --output "$name"
    refused compare data/plans/maple-row.toml "$plan" --output "$name"
done
refused size "$plan" --price "$work/lost/prices" --output "$work/lost/inner/../prices"
refused size "$plan" --price "$work/lost/prices" --write "$work/lost/prices"
refused parts "$plan" --stock "$work/lost/prices" --output "$work/lost/prices"
refused check "$plan" --report "$work/lost/new" --output "$work/lost/inner/../new"
refused size "$plan" --write "$plan" --output "$plan"
"$benchfeed" check - --output "$plan" < "$plan" > "$work/out" 2> "$work/err"
is "a plan on standard input is not overwritten either" 2 $?
untouched "standard input"
"$benchfeed" check "$plan" >> "$plan" 2> "$work/err"
is "nor does standard output go into it" 2 $?
untouched "standard output"
exits 0 size "$plan" --write "$work/lost/soft.toml"  # meant to be written anew; a link stays a link
is "a link is written through" "p.toml" "$(readlink "$work/lost/soft.toml")"
exits 0 check "$plan" --output /dev/null --report /dev/null

# A folder's pipes, sockets and devices are skipped and told; a pipe named by itself is read.
mkdir "$work/odd"
cp data/plans/heron-lane.toml "$work/odd"
mkfifo "$work/odd/pipe.toml"
ln -s /dev/zero "$work/odd/zero.toml"
ends() {  # ends CODE ARGUMENTS...: as exits, within ten seconds
    local code=$1
    shift
    timeout 10 "$benchfeed" "$@" > "$work/out" 2> "$work/err" < /dev/null
    is "exit code of: $*" "$code" $?
}
ends 0 check --quiet "$work/odd"
has "$work/odd/pipe.toml is a pipe and no file: skipped" err
has "$work/odd/zero.toml is a device and no file: skipped" err
ends 0 check --quiet "$work/odd/*.toml"
has "$work/odd/pipe.toml is a pipe and no file: skipped" err
rm "$work/odd/heron-lane.toml"
ends 2 check --quiet "$work/odd"
has "there is no .toml file in $work/odd" err
timeout 10 cat data/plans/heron-lane.toml > "$work/odd/pipe.toml" &
ends 0 check --quiet "$work/odd/pipe.toml"
has "No problem found" out
wait

# What cannot be written is exit code 2, whatever was found.
for words in --help --version "check --help" "check data/plans/heron-lane.toml" rules; do
    # shellcheck disable=SC2086
    "$benchfeed" $words > /dev/full 2> "$work/err"
    is "a full device: $words" 2 $?
    has "cannot write" err
    # shellcheck disable=SC2086
    "$benchfeed" $words >&- 2> "$work/err"
    is "standard output closed: $words" 2 $?
    has "standard output is closed" err
done
"$benchfeed" check --quiet data/plans/heron-lane.toml --output "$work/closed.txt" >&- <&- 2>&-
is "nothing goes to a closed standard output" 0 $?
is "a file does not take the place of a closed stream" 1 "$(grep -c "No problem found" "$work/closed.txt")"
mkdir "$work/small"
echo old > "$work/small/report.json"
(ulimit -f 8; exec "$benchfeed" check --format json data/plans --output "$work/small/report.json" 2> "$work/err")
is "a file may not grow beyond a limit" 2 $?
has "cannot write $work/small/report.json" err
(ulimit -f 8; exec "$benchfeed" check --format json data/plans > "$work/small.json" 2> "$work/err")
is "nor may that of standard output" 2 $?
is "the old file stays, and no other" "old report.json" "$(cat "$work/small/report.json") $(ls "$work/small")"

# Interrupted while it reads a pipe: the file stays, and nothing is left beside it.
mkfifo "$work/endless"
for signal in HUP:129 TERM:143; do
    "$benchfeed" check "$work/endless" --output "$work/small/report.json" 2> /dev/null &
    for _ in $(seq 100); do [ "$(ls "$work/small" | wc -l)" = 2 ] && break; sleep 0.1; done
    is "it waits, with a file beside the old one" 2 "$(ls "$work/small" | wc -l)"
    kill "-${signal%:*}" $!
    wait $!
    is "interrupted by ${signal%:*}" "${signal#*:}" $?
    is "the old file stays, and no other" "old report.json" "$(cat "$work/small/report.json") $(ls "$work/small")"
done

echo "$passed passed, $failed failed"
[ $failed = 0 ]
