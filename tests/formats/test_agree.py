"""One judgement, told in four formats and an exit code: over every plan they agree."""
import collections
import json
import re
import unittest
import xml.etree.ElementTree

from judges import GOOD, output_of, run


def failing(outcome):
    """What makes the exit code 1 at the usual level."""
    return outcome["counts_as_fail"]


class OneJudgement(unittest.TestCase):
    @classmethod
    def setUpClass(cls):
        cls.plans = output_of("check", "--format", "json", "--full", *GOOD)["plans"]
        results = json.loads(run("check", "--format", "sarif", "--show", "ok", *GOOD).stdout)["runs"][0]["results"]
        cls.results = collections.defaultdict(list)
        for result in results:
            cls.results[result["properties"]["planUri"]].append(result)
        suites = xml.etree.ElementTree.fromstring(run("check", "--format", "junit", *GOOD).stdout)
        cls.suites = {suite.get("name"): suite for suite in suites}

    def test_every_plan_is_in_each(self):
        self.assertEqual(GOOD, [plan["path"] for plan in self.plans])
        self.assertEqual(set(GOOD), set(self.results))
        self.assertEqual(set(GOOD), set(self.suites))

    def test_the_worst_outcome_is_the_verdict(self):
        order = ["ok", "caution", "cannot judge", "fail"]
        for plan in self.plans:
            worst = max((order.index(o["outcome"]) for o in plan["outcomes"] if o["accepted"] is None), default=0)
            self.assertEqual(order[worst], plan["verdict"], plan["path"])

    def test_sarif_has_the_same_outcomes(self):
        """One result for each cause: what has it too is named there, and no result says what no outcome does."""
        levels = {"fail": "error", "caution": "warning", "cannot judge": "none", "ok": "none"}
        for plan in self.plans:
            outcomes = {"/".join([o["rule"], o["at"], o["part"], o["set"] or ""]): o for o in plan["outcomes"]}
            told = set()
            for result in self.results[plan["path"]]:
                key = result["partialFingerprints"]["outcome/v1"]
                self.assertEqual(levels[outcomes[key]["outcome"]], result["level"], (plan["path"], key))
                more = result["properties"]
                told.update([key, *more.get("follows", []), *(f"{key.rsplit('/', 1)[0]}/{s}" for s in more.get("also", []))])
            places = {key.rsplit("/", 1)[0] for key in told}
            self.assertEqual([], [k for k in outcomes if k not in told and k.rsplit("/", 1)[0] not in places], plan["path"])
            kinds = collections.Counter(r["kind"] for r in self.results[plan["path"]])
            self.assertEqual(sum(o["outcome"] == "ok" for o in outcomes.values()), kinds["pass"], plan["path"])

    def test_junit_fails_the_rules_that_do(self):
        for plan in self.plans:
            failed = {case.get("name") for case in self.suites[plan["path"]] if case.find("failure") is not None}
            self.assertEqual({o["rule"] for o in plan["outcomes"] if failing(o)}, failed, plan["path"])

    def test_the_exit_code_follows(self):
        for plan in self.plans:
            expected = 1 if any(failing(o) for o in plan["outcomes"]) else 0
            told = run("check", "--quiet", plan["path"])
            self.assertEqual(expected, told.returncode, plan["path"])
            self.assertEqual(re.sub(r"\s+", " ", plan["headline"]), re.sub(r"\s+", " ", told.stdout.decode()).strip(), plan["path"])


if __name__ == "__main__":
    unittest.main()
