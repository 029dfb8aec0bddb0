"""[[accept]] in every format and in the exit codes."""
import json
import unittest

import junitparser

from judges import RULE_PLANS, output_of, run
from test_junit import report, suites_of

RULES = RULE_PLANS + "/"


def plug(plan):
    return next(o for o in plan["outcomes"] if o["rule"] == "heat.plug-overloaded" and o["at"] == "box.junction")


class Accept(unittest.TestCase):
    def test_a_matched_caution(self):
        path = RULES + "accept-unmatched-holds.toml"
        (plan,) = output_of("check", "--format", "json", "--strict", path, code=0)["plans"]
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
        (plan,) = output_of("check", "--format", "json", path, code=0)["plans"]
        self.assertIsNotNone(plug(plan)["accepted"])
        self.assertEqual(1, run("check", "--strict", path).returncode)
        text = " ".join(run("check", path).stdout.decode().split())
        self.assertIn("accepted at revision 1 of 2026-05-02, 2 revisions ago", text)

    def test_a_fail_is_never_accepted(self):
        path = RULES + "accept-of-a-fail-fires.toml"
        (plan,) = output_of("check", "--format", "json", path, code=1)["plans"]
        self.assertEqual(("fail", None), (plug(plan)["outcome"], plug(plan)["accepted"]))
        self.assertIn("it fails, and a fail cannot be accepted", " ".join(run("check", "--full", path).stdout.decode().split()))

    def test_an_undecided_essential_rule_is_never_accepted(self):
        (plan,) = output_of("check", "--format", "json", RULES + "accept-of-an-essential-question-fires.toml", code=1)["plans"]
        self.assertTrue(all(o["accepted"] is None for o in plan["outcomes"]))

    def test_a_question_of_another_rule_can_be(self):
        path = RULES + "accept-of-a-question-holds.toml"
        before = run("check", "--fail-on", "unknown", RULES + "running-drop-cannot-judge.toml").returncode
        self.assertEqual((1, 0), (before, run("check", "--fail-on", "unknown", path).returncode))

    def test_each_unmatched_one_says_why(self):
        (plan,) = output_of("check", "--format", "json", RULES + "accept-unmatched-fires.toml")["plans"]
        (told,) = [o for o in plan["outcomes"] if o["rule"] == "plan.accept-unmatched"]
        self.assertEqual("5 acceptances cover nothing", told["headline"])
        text = " ".join(run("check", "--full", RULES + "accept-unmatched-fires.toml").stdout.decode().split())
        for words in ("there is no rule heat.no-such-rule", "there is no such finding", "it is in order", "accepted already"):
            self.assertIn(words, text)
        self.assertEqual(4, len(told["related"]))


if __name__ == "__main__":
    unittest.main()
