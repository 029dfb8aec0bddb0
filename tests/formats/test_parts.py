"""parts PLAN: the same list in three formats, a failing plan told in each, hostile words harmless in each."""
import csv
import io
import json
import pathlib
import re
import tempfile
import unittest

import jsonschema

from judges import GOOD, ROOT, faults, output_of, run, schema

HERON, BARN = "data/plans/heron-lane.toml", "data/plans/crooked-barn.toml"
OUTPUT = jsonschema.Draft202012Validator(schema("output.schema.json"))
COLUMNS = ["kind", "group", "what", "count", "unit", "for", "choose", "notes", "worked"]

HOSTILE = {
    "formula": "=cmd()|' /C calc'!A0",
    "formula with plus": "+1+2",
    "formula with minus": "-2+3",
    "formula with at": "@SUM(A1)",
    "formula behind a space": "  =1+1",
    "formula behind a semicolon": "the saw;=1+1",
    "script": "<script>alert(1)</script>",
    "quotes and commas": "a \\\"b\\\", c, \\\"\\\"",
    "tab and return": "a\\tb\\r=1",
    "terminal": "\\u001b[31mred\\u0007",
    "right to left": "\u202eelbat\u202c",
    "emoji": "saw \U0001fa9a table",
    "long": "x" * 300,
}


def rows_of(text):
    return list(csv.DictReader(io.StringIO(text, newline="")))


class Parts(unittest.TestCase):
    def test_every_plan_has_a_list_that_follows_the_schema(self):
        for path in GOOD:
            self.assertEqual([], faults(output_of("parts", path, "--format", "json", code=0), OUTPUT), path)

    def test_the_schema_refuses_what_is_not_the_list(self):
        told = output_of("parts", HERON, "--format", "json", code=0)
        for change in (lambda t: t.update(extra=1), lambda t: t.pop("warning"), lambda t: t["parts"][0].update(count=0),
                       lambda t: t["cables"][0]["cuts"][0].update(at="saw"), lambda t: t["parts"][0].pop("choose")):
            spoilt = json.loads(json.dumps(told))
            change(spoilt)
            self.assertNotEqual([], faults(spoilt, OUTPUT))

    def test_csv_is_read_by_a_reader_of_others_and_says_the_same(self):
        for path in GOOD:
            for sold in ([], ["--sold", "5 m, 10 m, 25 m"]):
                raw = run("parts", path, "--format", "csv", *sold).stdout
                self.assertEqual(raw.count(b"\n"), raw.count(b"\r\n"), path)
                rows = rows_of(raw.decode())
                self.assertTrue(all(list(row) == COLUMNS and None not in row.values() for row in rows), path)
                told = output_of("parts", path, "--format", "json", *sold, code=0)
                listed = [row for row in rows if row["kind"] == "part" and row["group"] != "cable"]
                self.assertEqual([(p["group"], str(p["count"] or "")) for p in told["parts"]],
                                 [(row["group"], row["count"]) for row in listed], path)
                feet = told["cables"] and next(r["unit"] for r in rows if r["group"] == "cable") == "ft"
                factor = 0.3048 if feet else 1
                cuts = [cut["cut"]["number"] for c in told["cables"] for cut in c["cuts"] if cut["cut"]]
                found = [float(r["count"]) * factor for r in rows if r["kind"] == "cut" and r["count"]]
                self.assertEqual(len(cuts), len(found), path)
                for a, b in zip(cuts, found):
                    self.assertAlmostEqual(a, b, delta=1e-4 * a)

    def test_packs_hold_their_cuts(self):
        seen = 0
        for path in GOOD[:60]:
            told = output_of("parts", path, "--format", "json", "--sold", "5 m, 10 m, 25 m", code=0)
            for cable in told["cables"]:
                cuts = {cut["at"]: cut["cut"]["number"] for cut in cable["cuts"] if cut["cut"]}
                for pack in (cable["packs"] or {"packs": []})["packs"]:
                    used = sum(cuts[at] for at in pack["cuts"])
                    self.assertAlmostEqual(pack["sold"]["number"] - used, pack["left"]["number"], delta=1e-3)
                    self.assertGreaterEqual(pack["left"]["number"], -1e-6)
                    seen += 1
        self.assertGreater(seen, 60)

    def test_lines_fit_the_screen(self):
        for path in GOOD:
            text = run("parts", path, "--sold", "5 m, 10 m").stdout.decode()
            wide = [line for line in text.splitlines() if len(line) > 80 and " " in line.strip()]
            self.assertEqual([], wide, path)

    def test_a_failing_plan_says_so_first_in_every_format(self):
        self.assertTrue(run("parts", BARN).stdout.decode().startswith("DO NOT BUY YET"))
        told = output_of("parts", BARN, "--format", "json", code=0)
        self.assertTrue(told["do_not_buy"] and told["warning"].startswith("DO NOT BUY YET"))
        self.assertEqual("warning", rows_of(run("parts", BARN, "--format", "csv").stdout.decode())[0]["kind"])
        for path in GOOD:
            judged = output_of("check", path, "--format", "json", "--full")["plans"][0]
            open_essential = any(o["counts_as_fail"] for o in judged["outcomes"])
            told = output_of("parts", path, "--format", "json", code=0)
            self.assertEqual(open_essential, told["do_not_buy"], path)

    def test_a_what_if_is_called_one(self):
        change = ("--set", "box.junction.cable.length=7 m")
        self.assertIn("What if: box.junction.cable.length=7 m", run("parts", HERON, *change).stdout.decode())
        self.assertEqual(["box.junction.cable.length=7 m"],
                         output_of("parts", HERON, "--format", "json", *change, code=0)["what_if"])
        self.assertIn("what if", [r["kind"] for r in rows_of(run("parts", HERON, "--format", "csv", *change).stdout.decode())])

    def test_hostile_words_are_harmless_in_every_format(self):
        text = (ROOT / HERON).read_text(encoding="utf-8")
        for name, words in HOSTILE.items():
            hostile = text.replace('[switch.saw]\n', f'[switch.saw]\nlabel = "{words}"\n', 1)
            hostile = hostile.replace('title    = "Heron Lane bench"', f'title    = "{words}"', 1)
            hostile = hostile.replace('[stock.lead]\n', f'[stock.lead]\nlabel = "{words}"\n', 1)
            with tempfile.TemporaryDirectory() as folder:
                plan = pathlib.Path(folder) / "plan.toml"
                plan.write_text(hostile, encoding="utf-8")
                result = run("parts", plan)
                self.assertEqual(0, result.returncode, (name, result.stderr))
                shown = result.stdout.decode()
                self.assertIsNone(re.search("[\x00-\x09\x0b-\x1f\x7f\u0080-\u009f\u202a-\u202e\u2066-\u2069]", shown), name)
                told = output_of("parts", plan, "--format", "json", code=0)
                self.assertEqual([], faults(told, OUTPUT), name)
                sheet = run("parts", plan, "--format", "csv").stdout.decode()
                rows = rows_of(sheet)
                self.assertEqual(len(rows_of(run("parts", HERON, "--format", "csv").stdout.decode())), len(rows), name)
                for row in rows:
                    for cell in row.values():
                        self.assertIsNone(re.match(r"\s*[=+\-@\t\r]", cell), (name, cell))
                        self.assertIsNone(re.search(r";\s*[=+\-@]", cell), (name, cell))
                        self.assertNotIn("\r", cell)

    def test_names_cannot_hold_what_labels_can(self):
        text = (ROOT / HERON).read_text(encoding="utf-8")
        for name in ("a,b", "a\\nb", "<b>", "=x", "a b"):
            with tempfile.TemporaryDirectory() as folder:
                plan = pathlib.Path(folder) / "plan.toml"
                plan.write_text(text.replace("[switch.saw]", f'[switch."{name}"]', 1), encoding="utf-8")
                self.assertEqual(2, run("parts", plan).returncode, name)

    def test_the_same_bytes_from_run_to_run(self):
        for form in ("text", "csv", "json"):
            first = run("parts", BARN, "--format", form).stdout
            self.assertEqual(first, run("parts", BARN, "--format", form).stdout)


if __name__ == "__main__":
    unittest.main()
