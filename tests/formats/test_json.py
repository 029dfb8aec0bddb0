"""JSON of check, rules and tables, against the schema that the project keeps for it."""
import collections
import copy
import json
import unittest

import jsonschema

from judges import BAD, GOOD, ROOT, faults, output_of, run, schema

OUTPUT = jsonschema.Draft202012Validator(schema("output.schema.json"))

# Rules about two ratings that meet: the figures are those of the pair, which may be permitted as it is.
PAIRS = {"heat.element-unprotected", "heat.cable-unprotected", "heat.plug-pattern-mismatch"}


class Json(unittest.TestCase):
    @classmethod
    def setUpClass(cls):
        cls.all = output_of("check", "--format", "json", "--full", *GOOD, *BAD, code=2)

    def test_every_output_follows_the_schema(self):
        self.assertEqual([], faults(self.all, OUTPUT))
        self.assertEqual([], faults(output_of("rules", "--format", "json", code=0), OUTPUT))
        tables = output_of("tables", "--format", "json", code=0)
        self.assertEqual([], faults(tables, OUTPUT))
        self.assertGreater(len(tables["tables"]), 90)
        for table in tables["tables"]:
            whole = output_of("tables", table["table"], "--format", "json", code=0)
            self.assertEqual([], faults(whole, OUTPUT), table["table"])

    def test_the_schema_refuses_what_is_not_the_output(self):
        one = output_of("check", "--format", "json", "--full", "data/plans/crooked-barn.toml", code=1)
        spoilt = []
        for path, value in [
            (["format"], 1), (["plans", 0, "verdict"], "safe"), (["plans", 0, "outcomes", 0, "outcome"], "pass"),
            (["plans", 0, "outcomes", 0, "value"], 16), (["plans", 0, "outcomes", 0, "value", "unit"], "VA"),
            (["plans", 0, "outcomes", 0, "place", "line"], 0), (["plans", 0, "counts", "fail"], -1),
            (["plans", 0, "sets", 0, "loads", 0], "saw"), (["plans", 0, "extra"], 1), (["extra"], 1),
        ]:
            copied = copy.deepcopy(one)
            spot = copied
            for key in path[:-1]:
                spot = spot[key]
            spot[path[-1]] = value
            spoilt.append((path, copied))
        for key in one["plans"][0]["outcomes"][0]:
            copied = copy.deepcopy(one)
            del copied["plans"][0]["outcomes"][0][key]
            spoilt.append((["without", key], copied))
        for path, copied in spoilt:
            self.assertNotEqual([], faults(copied, OUTPUT), path)

    def test_every_plan_is_there_in_the_order_of_the_arguments(self):
        self.assertEqual(GOOD, [plan["path"] for plan in self.all["plans"]])
        self.assertEqual(BAD, list(dict.fromkeys(error["path"] for error in self.all["errors"])))

    def test_an_outcome_has_one_key_and_counts_are_true(self):
        for plan in self.all["plans"]:
            keys = [(o["rule"], o["at"], o["part"], o["set"]) for o in plan["outcomes"]]
            self.assertEqual([], [k for k, n in collections.Counter(keys).items() if n > 1], plan["path"])
            counted = collections.Counter(o["outcome"] for o in plan["outcomes"] if o["accepted"] is None)
            for verdict in ("ok", "cannot judge", "caution", "fail"):
                self.assertEqual(counted[verdict], plan["counts"][verdict], plan["path"])

    def test_a_verdict_follows_from_value_limit_and_bound(self):
        compared = 0
        for plan in self.all["plans"]:
            for o in plan["outcomes"]:
                if o["margin"] is None or o["outcome"] not in ("ok", "fail"):
                    continue
                value, limit = o["value"]["number"], o["limit"]["number"]
                left = limit - value if o["bound"] == "at most" else value - limit
                self.assertAlmostEqual(left, o["margin"]["number"], delta=2e-5 * max(abs(value), abs(limit)))
                # A part below its device can be in order when its loads cannot exceed it: the figures are those of the pair.
                if o["outcome"] == "ok" and o["rule"] not in PAIRS:
                    self.assertGreaterEqual(left, -1e-4 * abs(limit), (plan["path"], o["rule"], o["at"]))
                compared += 1
        self.assertGreater(compared, 2000)

    def test_a_place_shows_what_the_plan_says_there(self):
        shown = 0
        for plan in self.all["plans"]:
            lines = (ROOT / plan["path"]).read_text(encoding="utf-8").split("\n")
            for o in plan["outcomes"]:
                if o["place"] is None:
                    continue
                place = o["place"]
                piece = lines[place["line"] - 1][place["column"] - 1:]
                self.assertTrue(piece and not piece[0].isspace(), (plan["path"], o["rule"], place))
                shown += 1
        self.assertGreater(shown, 3000)

    def test_what_is_in_order_has_no_cure_and_no_consequence(self):
        for plan in self.all["plans"]:
            for o in plan["outcomes"]:
                self.assertNotEqual("", o["headline"], (plan["path"], o["rule"]))
                if o["outcome"] == "ok":
                    self.assertEqual(("", [], []), (o["consequence"], o["remedies"], o["questions"]), o["rule"])
                if o["outcome"] == "cannot judge":
                    self.assertIsNotNone(o["question"] or o["sources"] or o["consequence"], o["rule"])

    def test_text_and_json_tell_the_same(self):
        for path in GOOD[:40]:
            said = run("check", "--quiet", path).stdout.decode()
            plan = next(p for p in self.all["plans"] if p["path"] == path)
            self.assertEqual(" ".join(said.split()), plan["headline"])

    def test_the_same_bytes_from_run_to_run(self):
        first = run("check", "--format", "json", "--full", *GOOD).stdout
        for jobs in ("1", "2", "7"):
            self.assertEqual(first, run("check", "--format", "json", "--full", "--jobs", jobs, *GOOD).stdout)

    def test_a_name_that_is_no_utf8_comes_out_as_valid_json(self):
        result = run("check", "--format", "json", "--full", b"no-such-\xff\xfe.toml".decode("utf-8", "surrogateescape"))
        self.assertEqual(2, result.returncode)
        self.assertEqual([], faults(json.loads(result.stdout.decode("utf-8")), OUTPUT))


if __name__ == "__main__":
    unittest.main()
