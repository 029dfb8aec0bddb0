"""JSON of together and size over all plans, against the schema that the project keeps for it."""
import copy
import json
import unittest

import jsonschema

from judges import BAD, GOOD, faults, output_of, run, schema

OUTPUT = jsonschema.Draft202012Validator(schema("output.schema.json"))
BARN = "data/plans/crooked-barn.toml"


def without(value):
    """Every copy of an object that lacks one key, anywhere, each with its place."""
    def places(at, where):
        if isinstance(at, dict):
            for key, inner in at.items():
                yield (*where, key)
                yield from places(inner, (*where, key))
        elif isinstance(at, list) and at:
            yield from places(at[0], (*where, 0))
    for where in places(value, ()):
        copied = copy.deepcopy(value)
        spot = copied
        for key in where[:-1]:
            spot = spot[key]
        del spot[where[-1]]
        yield where, copied


class Advice(unittest.TestCase):
    def each(self, command, *options):
        """Output of every plan that can be read, and that nothing else is printed for the others."""
        for path in GOOD:
            result = run(command, path, "--format", "json", *options)
            self.assertIn(result.returncode, (0, 1), path)
            yield path, json.loads(result.stdout.decode("utf-8"))

    def test_together_follows_the_schema(self):
        sets = rooms = broken = 0
        for path, said in self.each("together", "--room"):
            self.assertEqual([], faults(said, OUTPUT), path)
            self.assertEqual(path, said["path"])
            sets += len(said["largest_allowed"]["sets"])
            rooms += len(said["room"])
            broken += sum(one["forbidden_by"] is not None for one in said["smallest_forbidden"]["sets"])
        self.assertGreater(min(sets, rooms, broken), 20)

    def test_size_follows_the_schema(self):
        stocks = cords = uncured = 0
        for path, said in self.each("size"):
            self.assertEqual([], faults(said, OUTPUT), path)
            self.assertEqual(path, said["path"])
            stocks += len(said["stocks"])
            cords += len(said["longest_cords"])
            uncured += len(said["uncured"])
        self.assertGreater(min(stocks, cords, uncured), 20)

    def test_what_cannot_be_read_gives_no_json(self):
        for command in ("together", "size"):
            for path in BAD[:10]:
                result = run(command, path, "--format", "json")
                self.assertEqual((2, b""), (result.returncode, result.stdout), path)

    def test_the_schema_refuses_what_is_not_the_output(self):
        for said, spoilt in (
            (output_of("together", BARN, "--format", "json", "--room"),
             [(["pairs", 0, "answer"], "maybe"), (["loads", 0, "at"], "saw"), (["extra"], 1), (["format"], 2),
              (["pairs", 0, "loads"], ["load.saw"]), (["sets", 0, "weakest", "rating"], 16)]),
            (output_of("size", BARN, "--format", "json"),
             [(["stocks", 0, "after"], "1.5"), (["verdict"], "safe"), (["copper_after", "unit"], "kg"),
              (["trials"], -1), (["extra"], 1), (["stocks", 0, "extra"], 1)]),
        ):
            self.assertEqual([], faults(said, OUTPUT))
            for where, value in spoilt:
                copied = copy.deepcopy(said)
                spot = copied
                for key in where[:-1]:
                    spot = spot[key]
                spot[where[-1]] = value
                self.assertNotEqual([], faults(copied, OUTPUT), where)
            for where, copied in without(said):
                self.assertNotEqual([], faults(copied, OUTPUT), where)


if __name__ == "__main__":
    unittest.main()
