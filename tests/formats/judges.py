"""What the tests of formats share: running benchfeed, validating JSON by a general validator.

    python3 -m unittest discover, through ctest: BENCHFEED is the program, BENCHFEED_ROOT the root of the project,
    BENCHFEED_RULE_PLANS the folder into which tests/plans/lay_over.py wrote the rule plans.
"""
import difflib
import json
import os
import pathlib
import subprocess

import jsonschema

ROOT = pathlib.Path(os.environ["BENCHFEED_ROOT"])
PROGRAM = os.environ["BENCHFEED"]
RULE_PLANS = os.path.relpath(os.environ["BENCHFEED_RULE_PLANS"], ROOT)  # tests/plans/rules, each plan whole
PLANS = sorted(os.path.relpath(p, ROOT) for folder in ("data/plans", "tests/plans", RULE_PLANS) for p in (ROOT / folder).rglob("*.toml")
               if ROOT / "tests/plans/rules" not in p.parents)
BAD = [p for p in PLANS if "/bad/" in p]
GOOD = [p for p in PLANS if "/bad/" not in p]


def run(*arguments, stdin=b"", environment=None, cwd=ROOT):
    """benchfeed with these arguments; result with bytes in stdout and stderr."""
    variables = {**os.environ, **(environment or {})}
    return subprocess.run([PROGRAM, *(a if isinstance(a, (str, bytes)) else str(a) for a in arguments)], input=stdin, capture_output=True, env=variables, cwd=cwd)


def output_of(*arguments, code=None):
    """Parsed JSON of a command."""
    result = run(*arguments)
    if code is not None:
        assert result.returncode == code, (arguments, result.returncode, result.stderr)
    return json.loads(result.stdout.decode("utf-8"))


def schema(name):
    with open(ROOT / "data" / "schemas" / name, encoding="utf-8") as file:
        found = json.load(file)
    jsonschema.Draft202012Validator.check_schema(found)
    return found


def faults(instance, validator):
    """Every complaint of the validator, each with its place."""
    return [f"{'/'.join(map(str, e.absolute_path))}: {e.message[:300]}" for e in validator.iter_errors(instance)]


def holds_as_approved(test, path, now):
    """Bytes that somebody read and approved. BENCHFEED_APPROVE=1 writes what differs and names it; the test fails all the same,
    for it held nothing against anything (tests/support/approved.hpp is this in C++)."""
    approved = path.read_bytes() if path.exists() else b""
    if path.exists() and approved == now:
        return
    if os.environ.get("BENCHFEED_APPROVE"):
        path.write_bytes(now)
    what = "written anew, read it" if os.environ.get("BENCHFEED_APPROVE") else "not as approved"
    lines = difflib.unified_diff(approved.decode().splitlines(), now.decode().splitlines(), lineterm="", n=0)
    test.fail("\n".join([f"{what}: {path.name}", *[line[:200] for line in lines if not line.startswith(("---", "+++"))][:16]]))
