"""JUnit XML, read by python3-junitparser and by Python's own XML parser."""
import pathlib
import tempfile
import unittest
import xml.etree.ElementTree as ElementTree

import junitparser

from judges import BAD, GOOD, ROOT, output_of, run


def report(*arguments):
    result = run("check", "--format", "junit", *arguments)
    return result.stdout, result.returncode


def suites_of(content):
    with tempfile.TemporaryDirectory() as folder:
        path = pathlib.Path(folder) / "report.xml"
        path.write_bytes(content)
        return list(junitparser.JUnitXml.fromfile(str(path)))


class Junit(unittest.TestCase):
    @classmethod
    def setUpClass(cls):
        cls.content, code = report(*GOOD, *BAD)
        assert code == 2
        cls.suites = {suite.name: suite for suite in suites_of(cls.content)}
        cls.json = output_of("check", "--format", "json", "--full", *GOOD, *BAD)

    def expected(self, outcomes, level):
        """What a case must say, worked out from the JSON."""
        def reaches(o):
            if o["accepted"] is not None:
                return False
            return (o["counts_as_fail"] or (o["outcome"] == "cannot judge" and level != "fail")
                    or (o["outcome"] == "caution" and level == "caution"))
        if any(reaches(o) for o in outcomes):
            return junitparser.Failure
        return None if any(o["outcome"] != "cannot judge" for o in outcomes) else junitparser.Skipped

    def compare(self, suites, level):
        seen = {None: 0, junitparser.Failure: 0, junitparser.Skipped: 0}
        for plan in self.json["plans"]:
            suite = suites[plan["path"]]
            cases = {case.name: case for case in suite}
            self.assertLessEqual({o["rule"] for o in plan["outcomes"]}, set(cases), plan["path"])
            for name, case in cases.items():
                wanted = self.expected([o for o in plan["outcomes"] if o["rule"] == name], level)
                told = type(case.result[0]) if case.result else None
                self.assertEqual(wanted, told, (plan["path"], name))
                seen[told] += 1
            self.assertEqual(len(cases), suite.tests)
            self.assertEqual(sum(isinstance(r, junitparser.Failure) for c in suite for r in c.result), suite.failures)
            self.assertEqual(sum(isinstance(r, junitparser.Skipped) for c in suite for r in c.result), suite.skipped)
            self.assertEqual(0, suite.errors)
        for count in seen.values():
            self.assertGreater(count, 50)

    def test_a_suite_for_each_plan_and_a_case_for_each_rule(self):
        self.assertEqual(set(GOOD) | set(BAD), set(self.suites))
        self.compare(self.suites, "fail")

    def test_what_fails_follows_the_level_asked_for(self):
        for level in ("unknown", "caution"):
            content, _ = report("--fail-on", level, *GOOD)
            self.compare({suite.name: suite for suite in suites_of(content)}, level)

    def test_an_unreadable_plan_is_an_error(self):
        for path in BAD:
            (case,) = list(self.suites[path])
            self.assertEqual("plan.unreadable", case.name)
            self.assertIsInstance(case.result[0], junitparser.Error)
            self.assertEqual(1, self.suites[path].errors)

    def test_a_region_has_no_case_for_rules_that_it_does_not_have(self):
        families = {r["rule"]: r["families"].split() for r in output_of("rules", "--format", "json")["rules"]}
        for plan in self.json["plans"]:
            family = "nec" if plan["region"] == "US" else "iec"
            self.assertEqual({rule for rule, of in families.items() if family in of}, {case.name for case in self.suites[plan["path"]]})

    def test_hostile_words_come_out_as_text(self):
        plan = (ROOT / "data/plans/crooked-barn.toml").read_text(encoding="utf-8")
        hostile = plan.replace('[load.saw]\n', '[load.saw]\nlabel = "</failure><script>&\\"\'\\uFFFF\\u0007]]>"\n', 1)
        with tempfile.TemporaryDirectory() as folder:
            path = pathlib.Path(folder) / "a&b<\"'>.toml"
            path.write_text(hostile, encoding="utf-8")
            content, code = report(path)
        self.assertEqual(1, code)
        root = ElementTree.fromstring(content)
        self.assertEqual(str(path), root[0].get("name"))
        self.assertIn("</failure><script>&", "".join(root.itertext()))
        self.assertEqual({"testsuites", "testsuite", "testcase", "failure", "skipped", "system-out"}, {e.tag for e in root.iter()})

    def test_a_path_that_is_no_utf8(self):
        content, code = report(b"no-such-\xff\xed\xa0\x80.toml")
        self.assertEqual(2, code)
        self.assertEqual("no-such-????.toml", ElementTree.fromstring(content)[0].get("name"))


if __name__ == "__main__":
    unittest.main()
