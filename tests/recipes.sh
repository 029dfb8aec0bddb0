#!/usr/bin/env bash
# The recipes of DEVELOPERS.md, done as they stand there in a copy of the tree: the new rule is judged, the new region fails a
# bench without residual protection, the new column is in the JSON and in its schema.
#   tests/recipes.sh ROOT FOLDER      FOLDER: where the copy and its build go; it is emptied
set -euo pipefail
root=$(realpath "$1") work=$2
fail() { echo "recipes: $1"; exit 1; }

rm -rf "$work"
mkdir -p "$work/tree"
work=$(realpath "$work")
(cd "$root" && git ls-files -z | xargs -0 cp --parents -t "$work/tree")
cd "$work/tree"

# A block with a path is a file; a block of sh is run; everything else is for reading.
python3 - > "$work/done.sh" << 'END'
import pathlib, re, shlex
text = pathlib.Path("DEVELOPERS.md").read_text().split("\n## Recipes\n", 1)[1]
blocks = re.findall(r"^(`{3,})(\w+)(?: (\S+))?\n(.*?)^\1$", text, re.M | re.S)
assert len(blocks) > 8, "few blocks of recipes"
for _, language, path, body in blocks:
    if path:
        print(f"mkdir -p {shlex.quote(str(pathlib.Path(path).parent))}")
        print(f"[ ! -e {shlex.quote(path)} ] || {{ echo {shlex.quote(path)} is there already; exit 1; }}")
        print(f"cat > {shlex.quote(path)} << 'OF_THE_RECIPE'\n{body}OF_THE_RECIPE")
    elif language == "sh":
        for line in body.replace("\\\n", " ").splitlines():
            print(line)
END
bash -euo pipefail "$work/done.sh" || fail "a command failed"
clang-format-14 --dry-run --Werror lib/benchfeed/rules/common/child_in_reach.cpp lib/benchfeed/rules/rules.hpp \
    lib/benchfeed/rules/registry.cpp lib/benchfeed/report/json.cpp 2> /dev/null || [ -z "$(command -v clang-format-14)" ] || fail "format"

cmake -S . -B "$work/build" -G Ninja -DCMAKE_BUILD_TYPE=Debug -DCMAKE_CXX_FLAGS=-O0 -DBENCHFEED_TESTS=ON -DBENCHFEED_WERROR=ON > /dev/null
cmake --build "$work/build" --target benchfeed_cli plans unit_tables > "$work/build.log" 2>&1 || { tail -40 "$work/build.log"; fail "it does not build"; }

# What is approved is written anew, as the table above the recipes says; what a plan announces is no golden.
BENCHFEED_APPROVE=1 "$work/build/tests/plans" > "$work/plans.log" || true
"$work/build/tests/plans" > "$work/plans.log" || { tail -60 "$work/plans.log"; fail "a plan"; }
BENCHFEED_APPROVE=1 "$work/build/tests/unit_tables" > "$work/tables.log" || true
# SAFETY.md counts figures by grade: the test prints the rows that it asks for.
sed -n 's/.*SAFETY.md wants: \(| [a-z ]* |\)\(.*\)/s~^\1.*~\1\2~/p' "$work/tables.log" > "$work/safety.sed"
sed -i -f "$work/safety.sed" SAFETY.md
"$work/build/tests/unit_tables" > "$work/tables.log" || { tail -60 "$work/tables.log"; fail "a table"; }

benchfeed=$work/build/benchfeed plans=$work/build/tests/rule-plans
said() { "$benchfeed" check "$plans/$1.toml" --format json || [ $? -eq 1 ] || fail "$1 is not read"; }
said child-in-reach-fires | grep -q '"restart.child-in-reach"' || fail "the new rule says nothing"
said child-in-reach-holds | grep -q '"restart.child-in-reach"' && fail "the new rule says something where children are away"
code=0; "$benchfeed" check "$plans/no-residual-protection-nz-fires.toml" > "$work/nz.txt" || code=$?
[ $code -eq 1 ] || fail "the new region: exit code $code"
grep -q 'trips at 30 mA' "$work/nz.txt" || { cat "$work/nz.txt"; fail "the new region does not miss residual protection"; }
"$benchfeed" check "$plans/bench-without-findings-nz.toml" --quiet || fail "the new region fails a bench without findings"
said child-in-reach-fires > "$work/out.json"
grep -q '"share":' "$work/out.json" || fail "the new column"
python3 - "$work/out.json" data/schemas/output.schema.json << 'END' || fail "the new column is not as its schema says"
import json, sys
import jsonschema
out, schema = (json.load(open(path)) for path in sys.argv[1:])
jsonschema.Draft202012Validator(schema).validate(out)
END
echo "recipes: a rule, a region, a column"
