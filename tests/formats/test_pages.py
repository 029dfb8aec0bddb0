"""The pages of the rules: their headings, and their examples run as plans.

    An example is two fragments of a plan. What is said over the first one ("This fails:", "This is a caution:", "This cannot be
    judged:") has to come true when it is laid over the plan without findings of the EU, or of the region that the first line of the
    fragment names ("# in the US"). The second one ("This does not:", "This is none:", "This can:") is laid over the first: it is the
    repair, so that rule may have nothing left to say, and no other rule fails for it. Laid over as tests/plans/lay_over.py does.
"""
import json
import pathlib
import re
import sys
import tempfile
import tomllib
import unittest

from judges import ROOT, output_of, run

sys.path.append(str(ROOT / "tests/plans"))
from lay_over import as_toml, laid_over

PAGES = {page.read_text(encoding="utf-8").split("\n")[0].removeprefix("# "): page
         for page in sorted((ROOT / "lib/benchfeed/rules").rglob("*.md"))}
HEADINGS = ["Why it hurts", "How it is judged", "What it cannot see", "Example", "Sources"]
# What the words over the two fragments claim: the outcome of the first one, and how the second one is called then.
CLAIMS = {"This fails": ("fail", "This does not"),
          "This is a caution": ("caution", "This is none"),
          "This cannot be judged": ("cannot judge", "This can")}
REGIONS = {"# in the UK": "UK", "# in the US": "US", "# in Switzerland": "CH", "# in Australia": "AU"}
COLUMNS = 90
INDENT = 4  # of a fragment where `explain` prints it


def fragments(text):
    """What is said over each block of the example, and the block: "This fails", TOML."""
    example = re.search(r"^## Example\n(.*?)^## ", text, re.S | re.M)[1]
    return re.findall(r"^(This [a-z ]+):[^\n]*\n(?:[^\n`]+\n)*\n```\n(.*?)^```$", example, re.S | re.M)


def region(block):
    first = block.split("\n")[0]
    return REGIONS[first] if first.startswith("# in ") else "EU"


def base(name):
    return tomllib.loads((ROOT / f"tests/plans/rules/bench-without-findings-{name.lower()}.toml").read_text(encoding="utf-8"))


class Pages(unittest.TestCase):
    maxDiff = None

    @classmethod
    def setUpClass(cls):
        """All examples in one run: "heat.dust.0" is the first fragment over the plan without findings, "heat.dust.1" the second over that."""
        cls.examples = {rule: fragments(page.read_text(encoding="utf-8")) for rule, page in PAGES.items()}
        with tempfile.TemporaryDirectory() as folder:
            for rule, blocks in cls.examples.items():
                plan = base(region(blocks[0][1])) if blocks else {}
                for number, (_, block) in enumerate(blocks):
                    plan = laid_over(plan, tomllib.loads(block))
                    (pathlib.Path(folder) / f"{rule}.{number}.toml").write_text(as_toml(plan), encoding="utf-8")
            report = json.loads(run("check", "--format", "json", "--full", folder).stdout)
        cls.judged = {pathlib.Path(plan["path"]).stem: plan["outcomes"] for plan in report["plans"]}
        cls.errors = {pathlib.Path(error["path"]).stem: f"{error['field']}: {error['message']}" for error in report["errors"]}

    def outcomes(self, rule, number):
        """{outcome: headlines} of one rule. What cannot be read as a plan is a fail of plan.unreadable and nothing else."""
        example = f"{rule}.{number}"
        if example in self.errors:
            self.assertEqual("plan.unreadable", rule, self.errors[example])
            return {"fail": [self.errors[example]]}
        found = {}
        for outcome in self.judged[example]:
            if outcome["rule"] == rule:
                found.setdefault(outcome["outcome"], []).append(outcome["headline"])
        return found

    def test_every_rule_has_a_page(self):
        self.assertEqual(sorted(rule["rule"] for rule in output_of("rules", "--format", "json")["rules"]), sorted(PAGES))

    def test_headings(self):
        for rule, page in PAGES.items():
            with self.subTest(rule):
                self.assertEqual(HEADINGS, re.findall(r"^## (.*)$", page.read_text(encoding="utf-8"), re.M))

    def test_two_fragments_that_say_what_they_claim(self):
        for rule, blocks in self.examples.items():
            with self.subTest(rule):
                said = [words for words, _ in blocks]
                self.assertEqual(2, len(blocks), said)
                self.assertIn(said[0], CLAIMS)
                self.assertEqual(CLAIMS[said[0]][1], said[1])

    def test_lines_fit(self):
        for rule, blocks in self.examples.items():
            for line in "".join(block for _, block in blocks).split("\n"):
                with self.subTest(rule):
                    self.assertLessEqual(len(line) + INDENT, COLUMNS, line)

    def test_the_first_comes_true(self):
        for rule, blocks in self.examples.items():
            with self.subTest(rule):
                found = self.outcomes(rule, 0)
                self.assertIn(CLAIMS[blocks[0][0]][0], found, found)

    def test_the_second_repairs_it(self):
        for rule in self.examples:
            with self.subTest(rule):
                self.assertEqual({}, {outcome: said for outcome, said in self.outcomes(rule, 1).items() if outcome != "ok"})

    def test_the_second_breaks_nothing_else(self):
        fails = {example: {outcome["rule"] for outcome in outcomes if outcome["outcome"] == "fail"} for example, outcomes in self.judged.items()}
        for rule in self.examples:
            if f"{rule}.0" in fails:
                with self.subTest(rule):
                    self.assertLessEqual(fails[f"{rule}.1"], fails[f"{rule}.0"])


if __name__ == "__main__":
    unittest.main()
