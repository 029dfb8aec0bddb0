"""compare OLD NEW: differences in words, verdicts that moved and why, tests to repeat, exit codes."""
import json
import pathlib
import re
import tempfile
import unittest

import jsonschema

from judges import GOOD, ROOT, faults, output_of, run, schema

HERON, BARN = "data/plans/heron-lane.toml", "data/plans/crooked-barn.toml"
OUTPUT = jsonschema.Draft202012Validator(schema("output.schema.json"))


def compare(*edits, code=None, base=HERON, options=()):
    """The demo plan against itself with pieces of its text replaced."""
    text = (ROOT / base).read_text(encoding="utf-8")
    for old, new in edits:
        assert text.count(old) >= 1, old
        text = text.replace(old, new, 1)
    with tempfile.TemporaryDirectory() as folder:
        changed = pathlib.Path(folder) / "new.toml"
        changed.write_text(text, encoding="utf-8")
        told = output_of("compare", base, changed, "--format", "json", *options, code=code)
        words = run("compare", base, changed, *options).stdout.decode()
    assert faults(told, OUTPUT) == [], faults(told, OUTPUT)
    return told, words


class Compare(unittest.TestCase):
    def test_nothing_differs(self):
        for path in GOOD:
            told = output_of("compare", path, path, "--format", "json", code=0)
            self.assertEqual(([], [], []), (told["differences"], told["moved"], told["tests"]), path)
        self.assertEqual(b"Nothing differs that has a meaning.\n", run("compare", HERON, HERON).stdout)

    def test_writing_differs_but_not_meaning(self):
        told, _ = compare(('length = "5 m"', 'length = "500 cm"'), ('rating     = "16 A"', 'rating     = "16000 mA"'),
                          ("format = 1", "# a remark\nformat = 1"), ('plug      = "CEE 7/7"', 'plug = "CEE 7/7"'), code=0)
        self.assertEqual([], told["differences"])

    def test_a_longer_cord(self):
        told, words = compare(('length = "5 m"', 'length = "60 m"'), code=1)
        (difference,) = told["differences"]
        self.assertEqual(("box.junction.cable", "changed", ["1.5 mm2"]), (difference["path"], difference["kind"], difference["unchanged"]))
        self.assertIn("the bench cord [box.junction.cable]: length 5 m -> 60 m, 1.5 mm2 unchanged", words)
        moved = {(m["rule"], m["at"]): m for m in told["moved"]}
        drop = moved["volts.running-drop", "load.saw"]
        self.assertEqual(("worse", "ok", "fail"), (drop["direction"], drop["before"]["outcome"], drop["after"]["outcome"]))
        self.assertEqual(["box.junction.cable"], drop["because"])
        tests = " / ".join(t["test"] for t in told["tests"])
        for part in ("protective conductor", "insulation", "fault loop"):
            self.assertIn(part, tests)
        self.assertTrue(words.startswith("Something got worse: 1 difference, "))
        self.assertLessEqual(max(map(len, words.splitlines())), 80)

    def test_better_again(self):
        told = output_of("compare", BARN, HERON, "--format", "json")
        self.assertEqual([], faults(told, OUTPUT))
        self.assertGreater(told["better"], 10)

    def test_exit_codes(self):
        worse = (HERON, HERON, "--set", "box.junction.cable.length=60 m")
        self.assertEqual(1, run("compare", *worse).returncode)
        self.assertEqual(1, run("compare", "--fail-on-worse", *worse).returncode)
        self.assertEqual(0, run("compare", "--no-fail-on-worse", *worse).returncode)
        self.assertEqual(0, run("compare", HERON, HERON, "--set", "box.junction.cable.length=4 m").returncode)
        self.assertEqual(2, run("compare", HERON, "gone.toml").returncode)
        self.assertEqual(2, run("compare", "tests/plans/bad/key-twice.toml", HERON).returncode)
        self.assertEqual(2, run("compare", HERON).returncode)
        self.assertEqual(2, run("compare", HERON, HERON, "--set", "box.junction.cable.length=4 A").returncode)

    def test_words_are_no_reason_for_a_test(self):
        told, _ = compare(('revision = "3"', 'revision = "4"'), ('title    = "Heron Lane bench"', 'title = "Another name"'), code=0)
        self.assertEqual(["plan"], [d["path"] for d in told["differences"]])
        self.assertEqual([], told["tests"])

    def test_a_new_tool(self):
        planer = '[outlet.planer]\nfrom = "switch.router"\nlike = "outlet.saw"\n\n[load.planer]\nfrom = "outlet.planer"\nmotor = "universal"\nplate = { current = "9 A" }\n\n[[together]]\nname  = "sawing"'
        told, words = compare(('[[together]]\nname  = "sawing"', planer), code=1)
        kinds = {d["path"]: d["kind"] for d in told["differences"]}
        self.assertEqual(("added", "added"), (kinds["outlet.planer"], kinds["load.planer"]))
        self.assertIn(("restart.no-volt-missing", "load.planer"), {(m["rule"], m["at"]) for m in told["moved"]} | {("restart.no-volt-missing", "load.planer")})
        self.assertIn("the planer [load.planer] is new", words)

    def test_a_stock_names_its_cables(self):
        told, _ = compare(('[stock.lead]\ntype      = "H07RN-F"\nsection   = "1.5 mm2"', '[stock.lead]\ntype      = "H07RN-F"\nsection   = "1.0 mm2"'), code=1)
        self.assertEqual(["stock.lead"], [d["path"] for d in told["differences"]])
        self.assertTrue(all("stock.lead" in m["because"] for m in told["moved"] if m["at"] == "box.junction"))
        self.assertIn("the saw outlet", next(t for t in told["tests"] if "protective" in t["test"])["where"])

    def test_a_release_is_tried_again(self):
        told, _ = compare(('rating       = "16 A"\nmotor_rating = "10 A"', 'rating       = "20 A"\nmotor_rating = "12 A"'))
        self.assertTrue(any("stays off" in t["test"] for t in told["tests"]))
        self.assertEqual(["switch.saw"], [d["path"] for d in told["differences"]], "switches that are like it are told there")


class Stale(unittest.TestCase):
    """[[reading]] of both plans, of a bench that has changed between them."""

    def compared(self, old, new):
        readings = "".join(f'[[reading]]\ntest = "{test}"\nat = "{at}"\nfound = "{found}"\ndate = "2026-10-05"\n' for test, at, found in (
            ("protective", "outlet.saw", "0.09 ohm"), ("protective", "outlet.lamp", "0.07 ohm"), ("insulation", "outlet.lamp", "> 500 Mohm"),
            ("insulation", "box.junction", "> 500 Mohm"), ("residual", "device.b16", "28 ms")))
        with tempfile.TemporaryDirectory() as folder:
            before, after = (pathlib.Path(folder) / name for name in ("old.toml", "new.toml"))
            before.write_text(old + readings, encoding="utf-8")
            after.write_text(new + readings, encoding="utf-8")
            told = json.loads(run("compare", "--format", "json", before, after).stdout)
            self.assertEqual([], faults(told, OUTPUT))
            words = " ".join(run("compare", before, after).stdout.decode().split())
        return {(one["test"], one["at"]): one for one in told["stale"]}, words

    def test_what_is_expected_has_changed(self):
        plan = (ROOT / "data/plans/heron-lane.toml").read_text(encoding="utf-8")
        stale, words = self.compared(plan, re.sub(r'length = "2 m"', 'length = "9 m"', plan, count=1))
        saw = stale["protective", "outlet.saw"]
        self.assertEqual(("0.09 ohm", "0.19 ohm", ["switch.saw.cable"]), (saw["before"], saw["after"], saw["because"]))
        self.assertIn("0.09 ohm then, 0.19 ohm now; changed since: the run to the saw switch", words)
        # The way of the lamp is as it was; what is insulated behind the box is not; the device opens as before.
        self.assertEqual({("protective", "outlet.saw"), ("insulation", "box.junction")}, set(stale))

    def test_something_was_rewired_and_the_same_is_expected(self):
        plan = (ROOT / "data/plans/heron-lane.toml").read_text(encoding="utf-8")
        stale, words = self.compared(plan, plan.replace('terminals = "lever"', 'terminals = "screw"', 1))
        self.assertIn(("protective", "outlet.lamp"), stale)
        self.assertEqual(stale["protective", "outlet.lamp"]["before"], stale["protective", "outlet.lamp"]["after"])
        self.assertIn("0.07 ohm on 2026-10-05; changed since: the junction box", words)

    def test_other_words_leave_readings_as_they_are(self):
        plan = (ROOT / "data/plans/heron-lane.toml").read_text(encoding="utf-8")
        stale, words = self.compared(plan, plan.replace('title    = "Heron Lane bench"', 'title    = "Bench 7"', 1))
        self.assertEqual({}, stale)
        self.assertNotIn("Readings", words)


if __name__ == "__main__":
    unittest.main()
