"""new --region R: a plan that the reader takes, that fails nothing and asks everything."""
import tomllib
import unittest

import jsonschema
import json

from judges import faults, run


class New(unittest.TestCase):
    def test_a_starter_for_every_region_checks_to_questions_only(self):
        validator = jsonschema.Draft202012Validator(json.loads(run("schema").stdout))
        regions = json.loads(run("schema").stdout)["properties"]["plan"]["properties"]["region"]["enum"]
        self.assertGreaterEqual(set(regions), {"EU", "UK", "US"})
        for region in regions:
            made = run("new", "--region", region)
            self.assertEqual(0, made.returncode, region)
            self.assertEqual([], faults(tomllib.loads(made.stdout.decode()), validator))
            result = run("check", "--format", "json", "-", stdin=made.stdout)
            self.assertEqual(1, result.returncode, "it has open essential questions")
            (plan,) = json.loads(result.stdout)["plans"]
            told = {(o["rule"], o["outcome"]) for o in plan["outcomes"]
                    if o["outcome"] == "fail" or (o["outcome"] == "caution" and not o["questions"])}
            self.assertLessEqual(told, {("plan.unknown", "caution"), ("plan.assumed", "caution")}, region)
            self.assertGreaterEqual(plan["counts"]["cannot judge"], 5)
            questions = sum(len(o["questions"]) for o in plan["outcomes"])
            self.assertGreater(questions, 20, region)
            for line in made.stdout.decode().splitlines():
                self.assertLessEqual(len(line), 120, line)

    def test_small_letters_and_unknown_regions(self):
        self.assertEqual(run("new", "--region", "EU").stdout, run("new", "--region", "eu").stdout)
        missed = run("new", "--region", "Mars")
        self.assertEqual((2, b""), (missed.returncode, missed.stdout))
        self.assertIn(b"write one of ", missed.stderr)
        self.assertEqual(2, run("new").returncode)


if __name__ == "__main__":
    unittest.main()
