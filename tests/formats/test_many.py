"""A repository of 300 plans with 20 common files: the recipes of data/README.md run in git as they stand there."""
import collections
import gzip
import json
import os
import pathlib
import shutil
import subprocess
import tempfile
import unittest
import xml.etree.ElementTree as ElementTree

import jsonschema

from judges import PROGRAM, ROOT, faults, run, schema
from test_common import HEAD, demo, moved
from test_docs import block

PLANS, COMMON = 300, 20
OUTPUT = jsonschema.Draft202012Validator(schema("output.schema.json"))


def repository(root):
    """Demo plans with other lengths, each on one of 20 common files that hold its stocks; one in twenty fails."""
    (root / "common").mkdir(parents=True)
    (root / "plans").mkdir()
    shared, rest = moved(demo("COMMON"), "[stock.house]", "[stock.lead]", "[stock.run]", "[supply.", "[device.")
    for i in range(COMMON):
        (root / f"common/house-{i:02}.toml").write_text(HEAD.replace("the school", f"house {i}") + shared, encoding="utf-8")
    for i in range(PLANS):
        text = rest.replace('"COMMON"', f'"../common/house-{i % COMMON:02}.toml"').replace("Heron Lane bench", f"Bench {i}")
        length = 60 if i % 20 == 7 else 3 + i % 5
        (root / f"plans/bench-{i:03}.toml").write_text(text.replace('length = "5 m"', f'length = "{length} m"', 1), encoding="utf-8")


class Many(unittest.TestCase):
    @classmethod
    def setUpClass(cls):
        cls.folder = tempfile.TemporaryDirectory()
        cls.made = pathlib.Path(cls.folder.name) / "made"
        repository(cls.made)

    @classmethod
    def tearDownClass(cls):
        cls.folder.cleanup()

    def setUp(self):
        self.work = tempfile.TemporaryDirectory()
        self.root = pathlib.Path(self.work.name)
        (self.root / "bin").mkdir()
        (self.root / "bin/benchfeed").symlink_to(PROGRAM)
        self.repository = self.root / "repository"
        shutil.copytree(self.made, self.repository)
        self.git("init", "-q")
        self.commit()

    def tearDown(self):
        self.work.cleanup()

    def environment(self, **more):
        return {**os.environ, "PATH": f"{self.root / 'bin'}:{os.environ['PATH']}", "HOME": str(self.root), "GIT_CONFIG_NOSYSTEM": "1",
                "GIT_AUTHOR_NAME": "x", "GIT_AUTHOR_EMAIL": "x@example.org", "GIT_COMMITTER_NAME": "x", "GIT_COMMITTER_EMAIL": "x@example.org", **more}

    def git(self, *arguments, check=True):
        return subprocess.run(["git", *arguments], cwd=self.repository, env=self.environment(), capture_output=True, check=check)

    def commit(self, check=True):
        self.git("add", "plans", "common")
        return self.git("commit", "-qm", "x", check=check)

    def check(self, *arguments):
        return run("check", *arguments, cwd=self.repository)

    def edit(self, name, old, new):
        path = self.repository / name
        text = path.read_text(encoding="utf-8")
        self.assertIn(old, text)
        path.write_text(text.replace(old, new, 1), encoding="utf-8")

    def line_of(self, name, words):
        lines = (self.repository / name).read_text(encoding="utf-8").split("\n")
        return 1 + next(i for i, line in enumerate(lines) if words in line)

    def job(self, **variables):
        return subprocess.run(["sh", "-c", block("CI job")], cwd=self.repository, env=self.environment(**variables), capture_output=True, text=True)

    # ---- one report of all ------------------------------------------------------------------------------

    def test_overview(self):
        result = self.check("plans")
        lines = result.stdout.decode().splitlines()
        self.assertEqual(1, result.returncode)
        self.assertLessEqual(len(lines), 60)
        self.assertTrue(lines[0].startswith("300 plans: 15 fail; "), lines[0])
        named = [line for line in lines if line.startswith("fail ")]
        self.assertEqual(15, len(named))
        self.assertNotIn("bench-000", result.stdout.decode())
        narrow = run("check", "plans", cwd=self.repository, environment={"COLUMNS": "40"}).stdout.decode()
        self.assertLessEqual(max(map(len, narrow.splitlines())), 80)
        self.assertEqual(1, len(self.check("plans", "--quiet").stdout.splitlines()))
        # What each level lists.
        everything = self.check("plans", "--show", "caution").stdout.decode()
        self.assertEqual(0, self.check("plans", "--show", "fail", "plans/bench-000.toml", "plans/bench-001.toml").stdout.decode().count("bench-000"))
        self.assertGreaterEqual(everything.count(".toml"), 15)
        by_rule = self.check("plans", "--by-rule").stdout.decode()
        self.assertRegex(by_rule, r"fail +15 plans +\d+ checks  volts.running-drop")

    def test_markdown(self):
        result = self.check("plans", "--format", "markdown", "--by-rule")
        lines = result.stdout.decode().splitlines()
        rows = [line for line in lines if line.startswith("| fail | plans/")]
        self.assertEqual(15, len(rows))
        self.assertIn("| volts.running-drop | fail | 15 |", result.stdout.decode())
        hostile = "plans/a|b `x` <img src=x> @all #1 [l](http:) www.toml"
        (self.repository / hostile).parent.mkdir(exist_ok=True)
        (self.repository / "plans/a|b `x` <img src=x> @all #1 [l]www.x.toml").write_text(demo("none.toml"))
        told = self.check("plans", "--format", "markdown").stdout.decode()
        row = next(line for line in told.splitlines() if line.startswith("| unreadable"))
        for raw in ("<img", "@all", " #1", "`x`", "[l]", "www.x", " a|b"):
            self.assertNotIn(raw, row.replace("\\`", "").replace("\\[", "").replace("\\|", ""))
        self.assertEqual(7, row.replace("\\|", "").count("|"))

    def test_sizes(self):
        sarif = self.check("plans", "--format", "sarif").stdout
        results = json.loads(sarif)["runs"][0]["results"]
        self.assertLess(len(results), 5000)
        self.assertLess(len(sarif), 5_000_000)
        self.assertLess(len(gzip.compress(sarif)), 10_000_000)
        self.assertTrue(all(r["kind"] != "pass" for r in results))
        self.assertLessEqual(max(len(r.get("relatedLocations", [])) for r in results), 1000)
        found = self.check("plans", "--format", "json").stdout
        self.assertLess(len(found), 10_000_000)
        told = json.loads(found)
        self.assertEqual([], faults(told, OUTPUT))
        self.assertTrue(all(o["outcome"] != "ok" and "steps" not in o for p in told["plans"] for o in p["outcomes"]))
        one = json.loads(self.check("plans/bench-000.toml", "--format", "json", "--full").stdout)
        self.assertEqual([], faults(one, OUTPUT))
        self.assertTrue(any(o["outcome"] == "ok" and o["steps"] for o in one["plans"][0]["outcomes"]))
        ElementTree.fromstring(self.check("plans", "--format", "junit").stdout)
        only = json.loads(self.check("plans", "--format", "json", "--show", "fail").stdout)
        self.assertEqual({"fail"}, {o["outcome"] for p in only["plans"] for o in p["outcomes"]})

    def test_the_place_of_a_result_is_what_cures(self):
        log = json.loads(self.check("plans/bench-007.toml", "--format", "sarif").stdout)
        run_of = log["runs"][0]
        self.assertEqual("benchfeed/", run_of["automationDetails"]["id"])
        self.assertIn("%SRCROOT%", run_of["originalUriBaseIds"])
        drops = [r for r in run_of["results"] if r["ruleId"] == "volts.running-drop" and r["level"] == "error"]
        self.assertTrue(drops)
        line = self.line_of("plans/bench-007.toml", '"60 m"')
        for result in drops:
            self.assertEqual(line, result["locations"][0]["physicalLocation"]["region"]["startLine"])
            self.assertTrue(result["relatedLocations"])
        causes = collections.Counter((r["ruleId"], r["partialFingerprints"]["outcome/v1"]) for r in run_of["results"])
        self.assertEqual({1}, set(causes.values()))

    def test_fixes_cure(self):
        self.edit("plans/bench-000.toml", 'length = "3 m"', 'length = "24 m"')
        log = json.loads(self.check("plans/bench-000.toml", "--format", "sarif").stdout)
        fixed = [r for r in log["runs"][0]["results"] if r.get("fixes")]
        self.assertTrue(fixed)
        for result in fixed:
            for fix in result["fixes"]:
                lines = (self.repository / "plans/bench-000.toml").read_text(encoding="utf-8").split("\n")
                for replacement in fix["artifactChanges"][0]["replacements"]:
                    region = replacement["deletedRegion"]
                    self.assertEqual(region["startLine"], region["endLine"])
                    line = lines[region["startLine"] - 1]
                    lines[region["startLine"] - 1] = line[:region["startColumn"] - 1] + replacement["insertedContent"]["text"] + line[region["endColumn"] - 1:]
                path = self.repository / "plans/cured.toml"
                path.write_text("\n".join(lines), encoding="utf-8")
                after = json.loads(self.check("plans/cured.toml", "--format", "sarif").stdout)["runs"][0]["results"]
                key = result["partialFingerprints"]["outcome/v1"]
                self.assertNotIn((key, "error"), [(r["partialFingerprints"]["outcome/v1"], r["level"]) for r in after])

    def test_baseline(self):
        before = self.repository / "before.sarif"
        before.write_bytes(self.check("plans", "--format", "sarif").stdout)
        self.edit("plans/bench-007.toml", '"60 m"', '"4 m"')
        self.edit("plans/bench-000.toml", 'length = "3 m"', 'length = "60 m"')
        results = json.loads(self.check("plans", "--format", "sarif", "--baseline", "before.sarif").stdout)["runs"][0]["results"]
        states = collections.defaultdict(set)
        for r in results:
            if r["level"] == "error":
                states[r["baselineState"]].add(r["locations"][0]["physicalLocation"]["artifactLocation"]["uri"])
        self.assertEqual({"plans/bench-000.toml"}, states["new"])
        self.assertEqual({"plans/bench-007.toml"}, states["absent"])
        self.assertEqual(14, len(states["unchanged"]))
        again = json.loads(self.check("plans/bench-007.toml", "plans/bench-001.toml", "--format", "sarif", "--baseline", "before.sarif").stdout)
        self.assertTrue(again["runs"][0]["results"])
        for bad in ("plans/bench-000.toml", "no-such.sarif"):
            self.assertEqual(2, self.check("plans", "--format", "sarif", "--baseline", bad).returncode)
        self.assertEqual(2, self.check("plans", "--baseline", "before.sarif").returncode)

    # ---- the job ----------------------------------------------------------------------------------------

    def test_job_with_every_kind_of_change(self):
        self.git("mv", "plans/bench-119.toml", "plans/moved to another name.toml")
        self.edit("plans/moved to another name.toml", 'length = "7 m"', 'length = "40 m"')
        shutil.copy(ROOT / "data/plans/maple-row.toml", self.repository / "plans/new one.toml")
        (self.repository / "plans/bench-200.toml").unlink()
        self.edit("plans/bench-004.toml", 'length = "7 m"', 'length = "60 m"')
        self.commit()
        summary = self.root / "summary.md"
        result = self.job(SUMMARY=str(summary))
        self.assertEqual(1, result.returncode, result.stderr)
        told = " ".join(result.stdout.split())
        self.assertIn("Something got worse in 2 plans. 300 plans before, 300 now: 1 changed, 1 renamed, 1 new, 1 removed, 297 as before.", told)
        self.assertIn("plans/moved to another name.toml: was plans/bench-119.toml;", told)
        self.assertIn("length 7 m -> 40 m", told)
        self.assertIn("length 7 m -> 60 m", told)
        self.assertIn("removed plans/bench-200.toml", told)
        self.assertNotIn("bench-003", told)
        self.assertLess(len(result.stdout.splitlines()), 160)
        self.assertIn("moved to another name.toml", summary.read_text())
        changes = json.loads((self.repository / "reports/changes.sarif").read_text())["runs"][0]["results"]
        for name in ("plans/bench-004.toml", "plans/moved%20to%20another%20name.toml"):
            places = {(r["locations"][0]["physicalLocation"]["region"]["startLine"]) for r in changes
                      if r["locations"][0]["physicalLocation"]["artifactLocation"]["uri"] == name and r["level"] == "error"}
            self.assertEqual({self.line_of(name.replace("%20", " "), ' m", grip')}, places)
        as_json = json.loads(run("compare", "plans", "plans", "--format", "json", cwd=self.repository).stdout)
        self.assertEqual([], faults(as_json, OUTPUT))

    def test_job_without_a_change(self):
        self.edit("plans/bench-000.toml", "format = 1", "# a remark\nformat = 1")
        self.commit()
        result = self.job()
        self.assertEqual(1, result.returncode)  # fifteen plans fail as they did
        self.assertIn("Nothing got worse in any plan. 300 plans before, 300 now: 1 changed, 299 as before.", " ".join(result.stdout.split()))

    def test_a_change_at_a_line_is_told_at_that_line(self):
        changes = {
            "lead": ("plans/bench-010.toml", 'length = "3 m"', 'length = "60 m"'),
            "switch": ("plans/bench-010.toml", 'motor_rating = "8 A"', 'motor_rating = "2 A"'),
            "load": ("plans/bench-010.toml", 'power_in = "1600 W"', 'power_in = "5200 W"'),
            "device": ("common/house-10.toml", 'rating     = "16 A"', 'rating     = "63 A"'),
            "common stock": ("common/house-10.toml", 'section   = "1.5 mm2"', 'section   = "0.75 mm2"'),
        }
        for what, (name, old, new) in changes.items():
            with self.subTest(what):
                self.git("checkout", "-q", "--", ".")
                if old not in (self.repository / name).read_text():
                    old = next(line for line in (self.repository / name).read_text().splitlines() if old.split(" = ")[0].split()[0] in line)
                self.edit(name, old, new)
                line = self.line_of(name, new)
                before = self.root / "before"
                shutil.rmtree(before, ignore_errors=True)
                shutil.copytree(self.made, before)
                log = json.loads(run("compare", before / "plans", "plans", "--old-root", before, "--format", "sarif", cwd=self.repository).stdout)
                errors = [r for r in log["runs"][0]["results"] if r["level"] == "error"]
                self.assertTrue(errors, what)
                self.assertIn((name, line), {(r["locations"][0]["physicalLocation"]["artifactLocation"]["uri"], r["locations"][0]["physicalLocation"]["region"]["startLine"]) for r in errors})

    def test_hook(self):
        hook = self.repository / ".git/hooks/pre-commit"
        hook.parent.mkdir(exist_ok=True)
        hook.write_text(block("pre-commit hook"))
        hook.chmod(0o755)
        self.edit("plans/bench-004.toml", 'length = "7 m"', 'length = "60 m"')
        refused = self.commit(check=False)
        self.assertEqual(1, refused.returncode)
        told = refused.stderr.decode()
        self.assertLessEqual(len(told.splitlines()), 40, told)
        self.assertIn("length 7 m -> 60 m", told)
        self.edit("plans/bench-004.toml", 'length = "60 m"', 'length = "6 m"')
        self.assertEqual(0, self.commit(check=False).returncode)
        # A common file that makes plans worse is told too.
        self.edit("common/house-03.toml", 'section   = "1.5 mm2"', 'section   = "0.75 mm2"')
        refused = self.commit(check=False)
        self.assertEqual(1, refused.returncode, refused.stderr)
        self.assertIn(b"worse", refused.stderr)

    # ---- many machines ----------------------------------------------------------------------------------

    @unittest.skipUnless(shutil.which("parallel") and shutil.which("jq"), "GNU parallel and jq are not installed")
    def test_two_workers(self):
        whole = self.check("plans", "--format", "json")
        result = subprocess.run(["sh", "-c", block("many machines")], cwd=self.repository, env=self.environment(HOSTS="2/:", SIZE="40"), capture_output=True, text=True)
        self.assertEqual(whole.returncode, result.returncode, result.stderr)
        joined = json.loads((self.repository / "reports/benchfeed.json").read_text())
        self.assertEqual([], faults(joined, OUTPUT))
        alone = json.loads(whole.stdout)
        self.assertEqual(alone["plans"], joined["plans"])
        log = json.loads((self.repository / "reports/benchfeed.sarif").read_text())
        self.assertEqual(8, len(log["runs"]))
        self.assertEqual(8, len({run_of["automationDetails"]["id"] for run_of in log["runs"]}))
        keys = sorted(r["properties"]["planUri"] + r["partialFingerprints"]["outcome/v1"] for run_of in log["runs"] for r in run_of["results"])
        self.assertEqual(sorted(r["properties"]["planUri"] + r["partialFingerprints"]["outcome/v1"]
                                for r in json.loads(self.check("plans", "--format", "sarif").stdout)["runs"][0]["results"]), keys)
        (self.repository / "plans/broken name.toml").write_text("format = 2\n")
        result = subprocess.run(["sh", "-c", block("many machines")], cwd=self.repository, env=self.environment(HOSTS="2/:", SIZE="40"), capture_output=True, text=True)
        self.assertEqual(2, result.returncode)


if __name__ == "__main__":
    unittest.main()
