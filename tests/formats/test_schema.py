"""The schema of plans against the reader: what the reader takes is valid; what it refuses for a reason that a schema can
express is not. Both use one field list; this holds them to it."""
import collections
import copy
import json
import pathlib
import tempfile
import tomllib
import unittest

import jsonschema

from judges import BAD, GOOD, ROOT, faults, output_of, run

# Why the reader refuses what a schema cannot: names that lead nowhere, circles, fields against each other, bounds of a
# quantity, texts that are no TOML at all for tomllib. Everything else in tests/plans/bad must be refused by both.
REFERENCES = {"stop-of-a-box", "stop-of-a-plain-switch", "stop-of-itself", "stop-of-nothing", "stop-of-one-twice",
              "accept-of-nothing", "reading-of-nothing", "circular-from", "dangling-from", "dangling-stock", "stock-of-no-plan", "like-nothing", "set-of-nobody",
              "two-sets-of-one-name", "from-itself", "from-near-miss", "from-the-right-name-of-another-kind", "like-in-a-circle",
              "like-itself", "set-with-a-load-twice", "set-with-a-near-miss", "starts-with-itself", "starts-with-nobody",
              "stock-near-miss", "set-with-more-loads-than-ways", "plug-where-no-outlet-is", "method-on-a-cord"}
AGAINST_EACH_OTHER = {"generator-power-of-a-panel", "conductors-open", "conductors-that-do-not-arrive", "curve-on-a-fuse", "fuse-in-a-plug-without-one",
                      "load-of-the-other-voltage",
                      "more-poles-than-conductors", "motor-rating-above-rating", "opens-against-poles", "shaft-power-above-input",
                      "reading-without-residual-part", "standard-against-kind", "two-volts-on-two-wires", "voltage-range-falls", "watts-against-amps"}
BOUNDS = {"ambient-below-absolute-zero", "current-of-lightning", "drop-limit-above-all", "frequency-zero",
          "length-below-every-number", "length-in-millimetres", "length-of-a-town", "length-zero", "local-limit-above-eight", "power-factor-nan",
          "section-impossible", "section-of-a-finger", "voltage-below-every-number"}
# What the text is, not what it says: the same values, written otherwise, would be right.
WRITING = {"format-is-a-fraction", "line-too-long", "lone-carriage-returns"}
MULTI_LINE = {"multi-line-text"}  # the same text on one line would be right


def writes(value):
    """A value as TOML."""
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, (int, float)):
        return repr(value)
    if isinstance(value, str):
        return json.dumps(value, ensure_ascii=False)
    if isinstance(value, list):
        return "[" + ", ".join(map(writes, value)) + "]"
    return "{ " + ", ".join(f"{json.dumps(k)} = {writes(v)}" for k, v in value.items()) + " }"


def as_toml(plan):
    """A plan as TOML, its elements under headers so that no line grows too long."""
    lines = [f"{key} = {writes(value)}" for key, value in plan.items() if not isinstance(value, (dict, list))]
    lines += [f"{key} = {writes(value)}" for key, value in plan.items() if isinstance(value, list) and not all(isinstance(i, dict) for i in value)]

    def table(name, content):
        lines.append(f"[{name}]")
        lines.extend(f"{json.dumps(k)} = {writes(v)}" for k, v in content.items())
    for key, value in plan.items():
        if isinstance(value, dict) and value and all(isinstance(v, dict) for v in value.values()):
            for name, content in value.items():
                table(f"{key}.{json.dumps(name)}", content)
        elif isinstance(value, dict):
            table(key, value)
        elif isinstance(value, list) and value and all(isinstance(i, dict) for i in value):
            for item in value:
                lines.append(f"[[{key}]]")
                lines.extend(f"{json.dumps(k)} = {writes(v)}" for k, v in item.items())
    return "\n".join(lines) + "\n"


class Schema(unittest.TestCase):
    @classmethod
    def setUpClass(cls):
        cls.schema = json.loads(run("schema").stdout)
        jsonschema.Draft202012Validator.check_schema(cls.schema)
        cls.validator = jsonschema.Draft202012Validator(cls.schema)

    def plan(self, path):
        return tomllib.loads((ROOT / path).read_text(encoding="utf-8"))

    def test_every_plan_that_the_reader_takes_is_valid(self):
        report = output_of("check", "--format", "json", "--full", *GOOD)
        self.assertEqual([], report["errors"])
        for path in GOOD:
            # An id of no rule is a caution for the reader; an editor offers those that there are.
            self.assertEqual([], [f for f in faults(self.plan(path), self.validator) if not f.startswith("accept/") or "no-such-rule" not in f], path)

    def test_every_bad_plan_is_refused_unless_no_schema_can(self):
        no_toml = refused = 0
        for path in BAD:
            name = pathlib.Path(path).stem
            try:
                told = faults(self.plan(path), self.validator)
            except (tomllib.TOMLDecodeError, UnicodeDecodeError):
                no_toml += 1
                continue
            beyond = name in REFERENCES | AGAINST_EACH_OTHER | BOUNDS | WRITING | MULTI_LINE
            self.assertEqual(not beyond, bool(told), (path, told[:3]))
            refused += bool(told)
        self.assertGreaterEqual(no_toml, 5)
        self.assertGreaterEqual(refused, 30)

    def test_every_field_has_a_description(self):
        counted = 0
        def walk(node, path):
            nonlocal counted
            if isinstance(node, dict):
                if "properties" in node:
                    for key, field in node["properties"].items():
                        self.assertGreater(len(field.get("description", "") or field.get("anyOf", [{}])[0].get("description", "")), 2, path + [key])
                        counted += 1
                for key, inner in node.items():
                    if key not in ("if", "then"):  # of fields that are described beside them
                        walk(inner, path + [key])
            elif isinstance(node, list):
                for inner in node:
                    walk(inner, path)
        walk(self.schema, [])
        self.assertGreater(counted, 150)

    def fragment(self, path):
        """What the schema says of a field, its description aside."""
        node = self.schema
        for key in path:
            if "properties" not in node and "anyOf" in node:
                node = node["anyOf"][0]
            node = node["items"] if isinstance(key, int) else node.get("properties", {}).get(key) or node["additionalProperties"]
        return json.dumps({k: v for k, v in node.items() if k != "description"})

    def variants(self):
        """The plan that uses every field, each value replaced by values of every sort."""
        base = self.plan("tests/plans/every-field.toml")
        values = ["3 m", "50 ft", "1.5 mm2", "14 AWG", "1/0 AWG", "16 A", "30 mA", "230 V", "220-240 V", "1600 W", "2 hp", "1 1/2 hp", "0.8 ohm", "35 degC",
                  "-5 degC", "8 in3", "50 Hz", "3 %", "1,5 m", "1.5", "5 m ", " 5 m", "5. m", ".5 m", "1e3 m", "3 M", "230-230 V", "14.0 AWG", "37 AWG",
                  "1.5/0 AWG", "+-5 degC", "+5 degC", "3  m", "0.5 mΩ", "2.5 mm²", "20 °C", "unknown", "", "x", "no", "L-N", "L1-L2-N", "N-L", "true",
                  "supply.panel", "box.gone", "saw", "A", "I", "2026-05-02", "2026-5-2", "yes\n", True, False, 0, 1, 3, 1000, 1001, -1, 0.5, 1.0, 0.04, 1.01,
                  ["saw"], ["load.saw"], [], [1], {}, {"x": 1}]
        made = []

        def walk(node, path):
            for key, value in list(node.items()) if isinstance(node, dict) else list(enumerate(node)):
                here = path + [key]
                if isinstance(value, dict) or (isinstance(value, list) and value and isinstance(value[0], dict)):
                    walk(value, here)
                    continue
                made.append(here)
        walk(base, [])
        alike = collections.Counter()
        for path in made:
            kind = self.fragment(path)
            alike[kind] += 1
            # Fields of one type are read by one function: two of them see every value, the others a few.
            for value in values if alike[kind] <= 2 else ["3 m", "16 A", "unknown", "x", True, 3, ["saw"]]:
                plan = copy.deepcopy(base)
                spot = plan
                for key in path[:-1]:
                    spot = spot[key]
                spot[path[-1]] = value
                yield path, value, plan

    def test_reader_and_schema_agree_on_every_field(self):
        """The reader takes it: valid. The reader says that it is of the wrong type, unit or word: not valid."""
        wrong_type = ("needs a unit", "is a whole number, not", "is true or false, not", "cannot be unknown", "is a text, not", "is a word, not",
                      "is a text with a unit, not", "is a list of names, not", "a name in ", "has a comma", "is no unit", "has no number", "is not a number", "there is no region",
                      "there is no pattern", "there is no plug", "there is no type", "there is no inlet", "there is no gauge", "is one voltage", "is a table, not", "is a number, not", "has a sign",
                      "is a length; ", "is a current; ", "is a voltage; ", "is a temperature; ", "is an impedance; ", "is a power; ", "is a section; ")
        with tempfile.TemporaryDirectory() as folder:
            cases = {}
            for number, (path, value, plan) in enumerate(self.variants()):
                name = pathlib.Path(folder) / f"{number:05}.toml"
                name.write_text(as_toml(plan), encoding="utf-8")
                cases[str(name)] = (path, value, plan)
            said = output_of("check", "--format", "json", "--full", folder)
        errors = {}
        for error in said["errors"]:
            errors.setdefault(error["path"], []).append(error["message"])
        taken = refused = 0
        apart = []
        for name, (path, value, plan) in cases.items():
            told = errors.get(name)
            part = jsonschema.Draft202012Validator(self.schema["properties"][path[0]])
            valid = part.is_valid(plan[path[0]])  # the rest is the same in every case, and valid
            if value == 1.0 and isinstance(value, float):
                continue  # an integer for JSON Schema
            if told is None:
                taken += 1
                if not valid and path[0] == "accept" and path[-1] == "rule":
                    continue  # an editor offers the rules that there are; for the reader a new one is a caution
                if not valid:
                    apart.append(("the reader takes it, the schema does not", path, value, faults(plan, self.validator)[:2]))
            elif any(words in message for message in told for words in wrong_type):
                refused += 1
                if valid:
                    apart.append(("the schema takes it, the reader does not", path, value, told[:2]))
        self.assertEqual([], apart)
        self.assertGreater(taken, 300)
        self.assertGreater(refused, 2000)

    def test_what_an_editor_shows(self):
        """One message for a wrong value, a default where there is one, an example of each quantity, ids to complete."""
        length = self.schema["properties"]["box"]["additionalProperties"]["properties"]["cable"]["properties"]["length"]
        self.assertNotIn("anyOf", length)
        self.assertEqual(["3 m"], length["examples"])
        said = [e.message for e in jsonschema.Draft202012Validator(length).iter_errors("3 A")]
        self.assertEqual(1, len(said))
        self.assertIn("does not match '^(unknown|", said[0])
        for good in ("unknown", "3 m", "50 ft"):
            self.assertTrue(jsonschema.Draft202012Validator(length).is_valid(good))
        plan = self.schema["properties"]["plan"]["properties"]
        self.assertEqual("30 degC", plan["ambient"]["default"])
        self.assertEqual("urn:benchfeed:plan:1", self.schema["$id"])
        rules = self.schema["properties"]["accept"]["items"]["properties"]["rule"]["enum"]
        self.assertEqual([r["rule"] for r in output_of("rules", "--format", "json")["rules"]], rules)
        counted = 0

        def walk(node):
            nonlocal counted
            if isinstance(node, dict):
                for key in ("default",):
                    if key in node and not isinstance(node[key], dict):
                        counted += 1
                        self.assertTrue(jsonschema.Draft202012Validator({k: v for k, v in node.items() if k != "default"}).is_valid(node[key]), node)
                for example in node.get("examples", []) if isinstance(node.get("examples", []), list) else []:
                    counted += 1
                    self.assertTrue(jsonschema.Draft202012Validator(node).is_valid(example), node)
                for inner in node.values():
                    walk(inner)
            elif isinstance(node, list):
                for inner in node:
                    walk(inner)
        walk(self.schema)
        self.assertGreater(counted, 60)

    def test_common_files_have_a_schema(self):
        common = json.loads(run("schema", "--common").stdout)
        jsonschema.Draft202012Validator.check_schema(common)
        judge = jsonschema.Draft202012Validator(common)
        good = {"format": 1, "common": {"title": "x"}, "load": {"saw": {"plate": {"current": "7 A"}}}, "local": {"voltage_drop_limit": "3 %", "source": "x"},
                "stock": {"lead": {"type": "H07RN-F", "section": "1.5 mm2", "cores": 3}}}
        self.assertEqual([], faults(good, judge))
        for key, value in (("site", {"wet": "dry"}), ("plan", {}), ("together", [])):
            self.assertTrue(faults({**good, key: value}, judge))
        self.assertTrue(faults({"format": 1}, judge))


if __name__ == "__main__":
    unittest.main()
