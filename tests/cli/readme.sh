#!/usr/bin/env bash
# Every console block of README.md and data/README.md is run in the root of the project and must print what stands below its line.
#   readme.sh ROOT BENCHFEED [--write]     --write puts the real output there
set -u
root=$1 program=$2 write=${3:-}
program=$(realpath "$program")
cd "$root" || exit 2
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
ln -s "$program" "$work/benchfeed"
export PATH="$work:$PATH"
unset NO_COLOR COLUMNS
failures=0 blocks=0 in_block=0 command=""
run() { (eval "$1") 2>&1; }
check() {
    run "$command" > "$work/real"
    cat "$work/real" >> "$work/new.md"
    if ! diff -u "$work/shown" "$work/real" > "$work/diff"; then
        echo "$file: \$ $command"
        cat "$work/diff"
        failures=$((failures + 1))
    fi
    blocks=$((blocks + 1))
}
look_at() {
    : > "$work/new.md"
    in_block=0
    while IFS= read -r line; do
        if [ $in_block = 0 ]; then
            printf '%s\n' "$line" >> "$work/new.md"
            [ "$line" = '```console' ] && in_block=1 && command=""
        elif [ "$line" = '```' ]; then
            check
            printf '%s\n' "$line" >> "$work/new.md"
            in_block=0
        elif [ -z "$command" ]; then
            command=${line#\$ }
            printf '%s\n' "$line" >> "$work/new.md"
            : > "$work/shown"
        else
            printf '%s\n' "$line" >> "$work/shown"
        fi
    done < "$file"
    if [ "$write" = --write ]; then cp "$work/new.md" "$file"; fi
}
for file in README.md data/README.md; do look_at; done
[ "$write" = --write ] && exit 0
echo "$blocks blocks, $failures differ"
[ $blocks -ge 13 ] && [ $failures = 0 ]
