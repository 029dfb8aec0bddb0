"""SARIF judged by a general validator with the official schema and its rules, from npm (package.json beside this file).

    npm ci --ignore-scripts --prefix tests/formats && python3 tests/formats/sarif_validator.py

Debian carries none for SARIF. This one has 100 MB, so .ci/run alone fetches it, pinned and without install scripts.
"""
import collections
import json
import os
import pathlib
import stat
import subprocess
import tempfile
import unittest

import jsonschema

from judges import BAD, GOOD, ROOT, faults, output_of, run
from test_common import HEAD, demo, moved

PACKAGE = ROOT / "tests/formats/node_modules/@microsoft/sarif-multitool-linux"

# What the validator advises and we leave out: a home page (there is none), version control (no hidden state in a
# result), snippets and context (they repeat the plan), ids of numbers, dynamic text in messages, addresses on a network.
ADVICE = {"SARIF2002", "SARIF2003", "SARIF2005", "SARIF2006", "SARIF2009", "SARIF2010", "SARIF2011", "SARIF2012"}


def complaints(log):
    """Rule and level of everything that the validator says."""
    program = PACKAGE / "Sarif.Multitool"
    os.chmod(program, os.stat(program).st_mode | stat.S_IXUSR)
    with tempfile.TemporaryDirectory() as folder:
        report, told = pathlib.Path(folder) / "report.sarif", pathlib.Path(folder) / "told.sarif"
        report.write_bytes(log)
        subprocess.run([program, "validate", report, "--quiet", "true", "--output", told, "--log", "ForceOverwrite",
                        "--level", "Error;Warning;Note"], check=False, capture_output=True)
        found = json.loads(told.read_text(encoding="utf-8-sig"))["runs"][0]
    return collections.Counter((r["ruleId"], r.get("level", "warning")) for r in found.get("results", []))


def changed_logs(root):
    """Reports of plans on a common file before and after changes: of compare, and held against an earlier report."""
    shared, rest = moved(demo("../school.toml"), "[stock.lead]", "[supply.", "[device.")
    for side, section in (("old", "1.5 mm2"), ("new", "0.75 mm2")):
        (root / side / "plans").mkdir(parents=True)
        (root / side / "school.toml").write_text(HEAD + shared.replace('"1.5 mm2"', f'"{section}"'), encoding="utf-8")
        (root / side / "plans/bench one.toml").write_text(rest, encoding="utf-8")
        (root / side / "plans/longer.toml").write_text(rest.replace('"5 m"', '"5 m"' if side == "old" else '"60 m"'), encoding="utf-8")
    before = run("check", "plans", "--format", "sarif", cwd=root / "old").stdout
    (root / "before.sarif").write_bytes(before)
    return {"common": before,
            "compare": run("compare", root / "old/plans", "plans", "--old-root", root / "old", "--format", "sarif", cwd=root / "new").stdout,
            "baseline": run("check", "plans", "--format", "sarif", "--baseline", root / "before.sarif", cwd=root / "new").stdout}


class Validator(unittest.TestCase):
    def test_changes(self):
        official = json.loads((PACKAGE / "sarif-2.1.0.json").read_text(encoding="utf-8-sig"))
        validator = jsonschema.validators.validator_for(official)(official)
        with tempfile.TemporaryDirectory() as folder:
            logs = changed_logs(pathlib.Path(folder))
        results = {name: json.loads(log)["runs"][0]["results"] for name, log in logs.items()}
        self.assertTrue(any(r["level"] == "error" for r in results["compare"]))
        self.assertTrue(any(r.get("fixes") for r in results["compare"]))
        self.assertEqual({"new", "unchanged"}, {r["baselineState"] for r in results["baseline"]} & {"new", "unchanged"})
        for name, log in logs.items():
            with self.subTest(name):
                self.assertEqual([], faults(json.loads(log), validator))
                self.assertEqual({}, {k: n for k, n in complaints(log).items() if k[0] not in ADVICE or k[1] == "error"})

    def test_the_official_schema(self):
        official = json.loads((PACKAGE / "sarif-2.1.0.json").read_text(encoding="utf-8-sig"))
        validator = jsonschema.validators.validator_for(official)(official)
        for plans in (GOOD[:40], BAD, ["data/plans/crooked-barn.toml"], ["no-such-plan.toml"]):
            self.assertEqual([], faults(output_of("check", "--format", "sarif", *plans), validator))

    def test_the_rules_of_the_validator(self):
        for plans in (GOOD[:60] + BAD, ["data/plans/heron-lane.toml"], ["no-such-plan.toml"]):
            told = complaints(run("check", "--format", "sarif", *plans).stdout)
            self.assertEqual({}, {k: n for k, n in told.items() if k[0] not in ADVICE or k[1] == "error"})

    def test_the_validator_finds_a_planted_fault(self):
        log = output_of("check", "--format", "sarif", "data/plans/heron-lane.toml")
        log["runs"][0]["results"][0]["ruleIndex"] = 999
        log["runs"][0]["results"][0]["locations"][0]["physicalLocation"]["region"]["endLine"] = 1
        told = complaints(json.dumps(log).encode())
        self.assertTrue({k for k in told if k[1] == "error"}, told)


if __name__ == "__main__":
    unittest.main()
