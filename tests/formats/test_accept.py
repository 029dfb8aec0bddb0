"""[[accept]] in every format and in the exit codes."""
import json
import pathlib
import tempfile
import unittest

import jsonschema
import junitparser

from judges import ROOT, RULE_PLANS, faults, output_of, run, schema
from test_junit import report, suites_of

RULES = RULE_PLANS + "/"


def plug(plan):
    return next(o for o in plan["outcomes"] if o["rule"] == "heat.plug-overloaded" and o["at"] == "box.junction")


class Accept(unittest.TestCase):
    def test_a_matched_caution(self):
        path = RULES + "accept-unmatched-holds.toml"
        (plan,) = output_of("check", "--format", "json", "--full", "--strict", path, code=0)["plans"]
        self.assertEqual("caution", plug(plan)["outcome"])
        self.assertEqual("2", plug(plan)["accepted"]["revision"])
        self.assertEqual((0, 1), (plan["counts"]["caution"], plan["counts"]["accepted"]))
        self.assertEqual("ok", plan["verdict"])
        text = run("check", path).stdout.decode()
        self.assertIn("No problem found in what was checked; 1 finding is accepted.", text)
        self.assertIn("\nAccepted\n  - caution heat.plug-overloaded: ", text)
        self.assertIn("accepted at revision 2, which is this one: two minutes a week", text.replace("\n    ", " "))
        result = next(r for r in output_of("check", "--format", "sarif", path)["runs"][0]["results"] if r.get("suppressions"))
        self.assertEqual("inSource", result["suppressions"][0]["kind"])
        self.assertIn("two minutes a week", result["suppressions"][0]["justification"])
        (suite,) = suites_of(report("--strict", path)[0])
        case = next(c for c in suite if c.name == "heat.plug-overloaded")
        self.assertEqual([], case.result)
        self.assertIn("accepted caution", case.system_out)

    def test_an_older_revision_still_counts_and_asks_for_a_look(self):
        path = RULES + "accept-outdated-fires.toml"
        (plan,) = output_of("check", "--format", "json", "--full", path, code=0)["plans"]
        self.assertIsNotNone(plug(plan)["accepted"])
        self.assertEqual(1, run("check", "--strict", path).returncode)
        text = " ".join(run("check", path).stdout.decode().split())
        self.assertIn("accepted at revision 1 of 2026-05-02, 2 revisions ago", text)

    def test_a_fail_is_never_accepted(self):
        path = RULES + "accept-of-a-fail-fires.toml"
        (plan,) = output_of("check", "--format", "json", "--full", path, code=1)["plans"]
        self.assertEqual(("fail", None), (plug(plan)["outcome"], plug(plan)["accepted"]))
        self.assertIn("it fails, and a fail cannot be accepted", " ".join(run("check", "--full", path).stdout.decode().split()))

    def test_an_undecided_essential_rule_is_never_accepted(self):
        (plan,) = output_of("check", "--format", "json", "--full", RULES + "accept-of-an-essential-question-fires.toml", code=1)["plans"]
        self.assertTrue(all(o["accepted"] is None for o in plan["outcomes"]))

    def test_a_question_of_another_rule_can_be(self):
        path = RULES + "accept-of-a-question-holds.toml"
        before = run("check", "--fail-on", "unknown", RULES + "running-drop-cannot-judge.toml").returncode
        self.assertEqual((1, 0), (before, run("check", "--fail-on", "unknown", path).returncode))

    def test_each_unmatched_one_says_why(self):
        (plan,) = output_of("check", "--format", "json", "--full", RULES + "accept-unmatched-fires.toml")["plans"]
        (told,) = [o for o in plan["outcomes"] if o["rule"] == "plan.accept-unmatched"]
        self.assertEqual("5 acceptances cover nothing", told["headline"])
        text = " ".join(run("check", "--full", RULES + "accept-unmatched-fires.toml").stdout.decode().split())
        for words in ("there is no rule heat.no-such-rule", "there is no such finding", "it is in order", "accepted already"):
            self.assertIn(words, text)
        self.assertEqual(4, len(told["related"]))

    def test_a_last_day_is_held_against_the_date_that_is_said(self):
        text = (ROOT / RULES / "accept-unmatched-holds.toml").read_text(encoding="utf-8")
        head = next(line for line in text.splitlines() if line.startswith("[[accept]]"))
        with tempfile.TemporaryDirectory() as folder:
            path = pathlib.Path(folder) / "bench.toml"
            path.write_text(text.replace(head, head + '\nuntil = "2027-06-01"', 1), encoding="utf-8")

            def told(*options):
                (plan,) = output_of("check", "--format", "json", "--full", path, *options)["plans"]
                return plug(plan)["accepted"], plan
            accepted, plan = told()
            self.assertIsNotNone(accepted)
            self.assertIn("no date was given: --today YYYY-MM-DD", [item["why"] for item in plan["not_checked"]])
            for day in ("2026-01-01", "2027-06-01"):
                accepted, plan = told("--today", day)
                self.assertIsNotNone(accepted, day)
                self.assertNotIn("--today", json.dumps(plan["not_checked"]))
            accepted, plan = told("--today", "2027-06-02")
            self.assertIsNone(accepted)
            over = next(o for o in plan["outcomes"] if o["rule"] == "plan.accept-outdated" and o["outcome"] == "caution")
            self.assertEqual("1 acceptance has had its time", over["headline"])
            self.assertEqual([], [o for o in plan["outcomes"] if o["rule"] == "plan.accept-unmatched" and o["outcome"] != "ok"])
            self.assertEqual(1, run("check", "--strict", path, "--today", "2027-06-02").returncode)
            self.assertEqual(2, run("check", path, "--today", "soon").returncode)
            # The list of all.
            known = jsonschema.Draft202012Validator(schema("output.schema.json"))
            other = ROOT / RULES / "accept-outdated-fires.toml"
            for day, states, code in ((None, ["holds", "other revision"], 0), ("2030-01-01", ["over", "other revision"], 1)):
                options = ["--today", day] if day else []
                listed = output_of("accepted", path, other, "--format", "json", *options, code=code)
                self.assertEqual([], faults(listed, known))
                self.assertEqual(states, [a["state"] for a in listed["acceptances"]])
                words = run("accepted", path, other, *options).stdout.decode()
                self.assertEqual(day is None, "was not judged" in words)
                self.assertIn(", until 2027-06-01.", " ".join(words.split()))
            path.write_text(text.replace(head, head + '\nuntil = "next year"', 1), encoding="utf-8")
            self.assertIn(b'"next year" is no date', run("check", path).stdout)


if __name__ == "__main__":
    unittest.main()
