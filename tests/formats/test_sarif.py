"""SARIF 2.1.0: what the text of the standard asks for and a consumer relies on. A validator of others: sarif_validator.py."""
import json
import pathlib
import tempfile
import unittest
import urllib.parse

from judges import BAD, GOOD, ROOT, output_of, run

LEVELS = {"fail": ("fail", "error"), "caution": ("fail", "warning"), "ok": ("pass", "none"), "cannot judge": ("open", "none")}


def key_of(outcome):
    return "/".join([outcome["rule"], outcome["at"], outcome["part"], outcome["set"] or ""])


def results(log):
    return log["runs"][0]["results"]


class Sarif(unittest.TestCase):
    @classmethod
    def setUpClass(cls):
        cls.log = output_of("check", "--format", "sarif", "--show", "ok", *GOOD, *BAD, code=2)
        cls.json = output_of("check", "--format", "json", "--full", *GOOD, *BAD, code=2)

    def test_every_outcome_is_told_with_kind_and_level(self):
        """As a result of its own, or in the one that has its cause or its place in another set."""
        by_plan, told = {}, {}
        for result in results(self.log):
            if result["ruleId"] == "plan.unreadable" and result["kind"] == "fail":
                continue
            path = urllib.parse.unquote(result["properties"]["planUri"])
            key = result["partialFingerprints"]["outcome/v1"]
            self.assertNotIn(key, by_plan.setdefault(path, {}), "one result for each cause")
            by_plan[path][key] = result
            place = key.rsplit("/", 1)[0]
            told.setdefault(path, set()).update([key, *result["properties"].get("follows", []), *(f"{place}/{s}" for s in result["properties"].get("also", []))])
        for plan in self.json["plans"]:
            found = by_plan[plan["path"]]
            for o in plan["outcomes"]:
                result = found.get(key_of(o))
                if not result:
                    # A lesser verdict of the same place in another set is no finding of its own (rules/summary.cpp).
                    worse = [k for k in told[plan["path"]] if k.rsplit("/", 1)[0] == key_of(o).rsplit("/", 1)[0]]
                    self.assertTrue(key_of(o) in told[plan["path"]] or worse, (plan["path"], key_of(o)))
                    continue
                self.assertEqual(LEVELS[o["outcome"]], (result["kind"], result["level"]))
                self.assertEqual(o["accepted"] is not None, bool(result.get("suppressions")))
                place = o["place"]
                if place:
                    region = {"startLine": place["line"], "startColumn": place["column"], "endLine": place["end_line"], "endColumn": place["end_column"]}
                    places = [result["locations"][0], *result.get("relatedLocations", [])]
                    self.assertIn(region, [one["physicalLocation"]["region"] for one in places])

    def test_what_is_told_without_being_asked(self):
        told = results(output_of("check", "--format", "sarif", *GOOD))
        self.assertNotIn("pass", {r["kind"] for r in told})
        self.assertLess(len(told), len(results(self.log)) / 4)
        self.assertEqual({"error"}, {r["level"] for r in results(output_of("check", "--format", "sarif", "--show", "fail", *GOOD))})

    def test_a_level_stands_with_kind_fail_alone(self):
        for result in results(self.log):
            self.assertEqual(result["kind"] == "fail", result["level"] != "none")

    def test_every_mistake_of_an_unreadable_plan_is_a_result_at_its_line(self):
        told = [r for r in results(self.log) if r["ruleId"] == "plan.unreadable" and r["kind"] == "fail"]
        self.assertEqual(len(self.json["errors"]), len(told))
        for error, result in zip(self.json["errors"], told):
            self.assertEqual("error", result["level"])
            region = result["locations"][0]["physicalLocation"]["region"]
            self.assertEqual((error["place"] or {"line": 1})["line"], region["startLine"])
        self.assertFalse(self.log["runs"][0]["invocations"][0]["executionSuccessful"])
        good = output_of("check", "--format", "sarif", "data/plans/heron-lane.toml", code=0)
        self.assertTrue(good["runs"][0]["invocations"][0]["executionSuccessful"])

    def test_rules_and_their_indices(self):
        rules = self.log["runs"][0]["tool"]["driver"]["rules"]
        listed = [r["rule"] for r in output_of("rules", "--format", "json", code=0)["rules"]]
        self.assertEqual(listed, [rule["id"] for rule in rules])
        for rule in rules:
            for text in (rule["shortDescription"]["text"], rule["fullDescription"]["text"], rule["help"]["text"], rule["help"]["markdown"]):
                self.assertGreater(len(text), 5, rule["id"])
        for result in results(self.log):
            self.assertEqual(result["ruleId"], rules[result["ruleIndex"]]["id"])

    def test_columns_count_code_points(self):
        self.assertEqual("unicodeCodePoints", self.log["runs"][0]["columnKind"])
        plan = (ROOT / "data/plans/crooked-barn.toml").read_text(encoding="utf-8")
        spot = 'title    = "Crooked Barn bench"'
        self.assertIn(spot, plan)
        wide = plan.replace('plug      = "CEE 7/7"', '"plug"  =    "CEE 7/7" # \U0001F527é', 1)
        with tempfile.TemporaryDirectory() as folder:
            path = pathlib.Path(folder) / "wide \U0001F6E0 plan.toml"
            path.write_text('# \U0001F527é\n' + wide, encoding="utf-8")
            log = output_of("check", "--format", "sarif", path)
            lines = path.read_text(encoding="utf-8").split("\n")
        for result in results(log):
            for place in [result["locations"][0], *result.get("relatedLocations", [])]:
                region = place["physicalLocation"]["region"]
                line = lines[region["startLine"] - 1]
                if '"CEE 7/7"' not in line or "\U0001F527" not in line or region["startColumn"] == 1:
                    continue
                self.assertEqual('"CEE 7/7"', line[region["startColumn"] - 1:region["endColumn"] - 1])
                uri = place["physicalLocation"]["artifactLocation"]["uri"]
                self.assertTrue(uri.isascii() and " " not in uri, uri)
                self.assertEqual(str(path), urllib.parse.unquote(urllib.parse.urlparse(uri).path))
                return
        self.fail("the plug is not among the results")

    def test_fingerprints_stay_under_unrelated_edits(self):
        path = ROOT / "data/plans/crooked-barn.toml"
        text = path.read_text(encoding="utf-8")
        moved = "# one\n# two\n\n" + text.replace("format = 1", "format = 1\n", 1)
        moved = moved.replace("[site]", '[[change]]\nrevision = "1"\ndate = "2026-01-01"\nwhat = "x"\n\n[site]', 1)
        moved += '\n[box.spare]\nfrom = "box.junction"\n'
        with tempfile.TemporaryDirectory() as folder:
            edited = pathlib.Path(folder) / "crooked-barn.toml"
            edited.write_text(moved, encoding="utf-8")
            after = {r["partialFingerprints"]["outcome/v1"] for r in results(output_of("check", "--format", "sarif", edited, code=1))}
        before = {r["partialFingerprints"]["outcome/v1"] for r in results(output_of("check", "--format", "sarif", path, code=1))}
        self.assertEqual(set(), before - after)

    def test_the_same_bytes_from_run_to_run(self):
        first = run("check", "--format", "sarif", "--jobs", "1", *GOOD).stdout
        self.assertEqual(first, run("check", "--format", "sarif", "--jobs", "3", *GOOD).stdout)
        json.loads(first)


if __name__ == "__main__":
    unittest.main()
