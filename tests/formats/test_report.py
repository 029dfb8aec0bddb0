"""check --report: one page that loads nothing, read by parsers of others; its numbers are those of the JSON."""
import html.parser
import pathlib
import re
import tempfile
import unittest
import xml.etree.ElementTree as ElementTree

from judges import GOOD, PLANS, ROOT, output_of, run

HERON, BARN, ROW = "data/plans/heron-lane.toml", "data/plans/crooked-barn.toml", "data/plans/maple-row.toml"
DEMOS = [p for p in GOOD if p.startswith("data/plans/")]
VOID = {"meta"}
HOSTILE = ["<script>alert(1)</script>", "\\\" onload=\\\"alert(1)", "' & </title></style></svg>", "\\u001b[31mred",
           "\u202eelbat", "saw \U0001fa9a table", "x" * 300, "]]> <!-- --> &lt;b&gt;", "url(javascript:alert(1))"]


class Page(html.parser.HTMLParser):
    """Tags that open and close in pairs, the figures of every table row, all text."""

    def __init__(self, text):
        super().__init__(convert_charrefs=True)
        self.open, self.tags, self.rows, self.words, self.tables, self.faults = [], [], [], [], [], []
        self.feed(text)
        self.close()

    def handle_starttag(self, tag, attributes):
        given = dict(attributes)
        self.tags.append((tag, given))
        if tag not in VOID:
            self.open.append(tag)
        if tag == "table":
            self.tables.append(given)
        if tag == "tr":
            self.rows.append({"table": self.tables[-1], "tr": given, "figures": [], "shown": []})
        if tag == "data":
            self.rows[-1]["figures"].append(float(given["value"]))

    def handle_startendtag(self, tag, attributes):
        self.tags.append((tag, dict(attributes)))

    def handle_endtag(self, tag):
        if not self.open or self.open.pop() != tag:
            self.faults.append(f"</{tag}> at {self.getpos()}")

    def handle_data(self, data):
        self.words.append(data)
        if self.open and self.open[-1] == "data":
            self.rows[-1]["shown"].append(data)

    def of(self, kind):
        return [row for row in self.rows if row["table"].get("class") == kind and row["figures"]]


def page_of(plan, *options, code=None):
    with tempfile.TemporaryDirectory() as folder:
        file = pathlib.Path(folder) / "page.html"
        result = run("check", plan, "--report", file, *options)
        if code is not None:
            assert result.returncode == code, (plan, result.returncode, result.stderr)
        return file.read_text(encoding="utf-8")


class Report(unittest.TestCase):
    def test_pages_are_well_formed_and_load_nothing(self):
        for plan in GOOD:
            text = page_of(plan)
            page = Page(text)
            self.assertEqual(([], []), (page.faults, page.open), plan)
            for tag, given in page.tags:
                self.assertNotIn(tag, {"script", "link", "img", "iframe", "object", "embed", "use", "image", "base", "form"})
                for name, value in given.items():
                    if tag == "a" and name == "href":  # the list of contents leads to places of the page itself
                        self.assertRegex(value, "^#[a-z-]+$")
                        continue
                    self.assertFalse(name.startswith("on") or name in {"href", "src", "style", "xlink:href"}, (plan, name))
                    if name != "xmlns":
                        self.assertNotRegex(value or "", r"(?i)https?:|javascript:|//", (plan, name))
            self.assertNotRegex(re.search("<style>(.*?)</style>", text, re.S)[1], r"(?i)url\(|@import|https?:")
            self.assertIn("default-src 'none'", text)

    def test_drawings_are_xml(self):
        for plan in GOOD[:60] + DEMOS:
            text = page_of(plan)
            drawings = re.findall("<svg.*?</svg>", text, re.S)
            self.assertGreaterEqual(len(drawings), 1, plan)
            names = []
            for drawing in drawings:
                root = ElementTree.fromstring(drawing)
                self.assertTrue(root.find("{http://www.w3.org/2000/svg}title").text)
                own = {e.get("id") for e in root.iter() if e.get("id")}
                names += own
                used = set(re.findall(r"url\(#([^)]*)\)", drawing))
                self.assertLessEqual(used, own)
                for e in root.iter():
                    for name in ("x", "y", "x1", "x2", "y1", "y2", "width", "height", "cx", "cy"):
                        if e.get(name) is not None:
                            self.assertRegex(e.get(name), r"^-?\d+(\.\d{1,2})?$")
                    for name in ("width", "height"):
                        if e.get(name) is not None:
                            self.assertGreaterEqual(float(e.get(name)), 0)
            self.assertEqual(len(names), len(set(names)), plan)

    def test_black_on_white(self):
        for plan in DEMOS:
            self.assertEqual({"#000", "#fff"}, set(re.findall(r"#[0-9a-f]{3,6}\b", page_of(plan))))

    def test_figures_are_those_of_the_json(self):
        seen = {"loads": 0, "volts": 0, "start": 0}
        for plan in GOOD:
            page, told = Page(page_of(plan)), output_of("check", plan, "--format", "json", "--full")["plans"][0]
            near = lambda a, b: abs(a - b) <= 2e-5 * max(abs(a), abs(b), 1e-9)
            weakest = [r for r in page.of("loads") if r["tr"].get("class") == "weakest"]
            amps = [o for o in told["outcomes"] if o["value"] and o["limit"] and o["limit"]["unit"] == "A" and o["set"]]
            for row in page.of("loads"):
                drawn, rated, share = row["figures"]
                here = [o for o in amps if (o["at"], o["part"]) == (row["tr"]["data-at"], row["tr"]["data-part"])
                        and near(o["value"]["number"], drawn) and near(o["limit"]["number"], rated)]
                # Of two limits of one rule at one part (its rating, and what it carries for hours, which only warns) the
                # outcome tells the worse: without a limit then. Of the amps and the watts of a source, too: what is open.
                other = [o for o in told["outcomes"] if (o["at"], o["part"]) == (row["tr"]["data-at"], row["tr"]["data-part"])
                         and (o["outcome"] == "caution" and o["limit"] is None or o["outcome"] == "cannot judge")
                         and o["value"] and near(o["value"]["number"], drawn)]
                self.assertTrue(here or other, (plan, row))
                self.assertTrue(near(100 * drawn / rated, share), (plan, row))
                seen["loads"] += bool(here)
            sets = [s for s in told["sets"] if s["weakest"] and s["name"] != "everything"]
            if sets:
                worst = max(sets, key=lambda s: s["weakest"]["current"]["number"] / s["weakest"]["rating"]["number"])["weakest"]
                self.assertEqual(1, len(weakest), plan)
                self.assertTrue(near(weakest[0]["figures"][2], 100 * worst["current"]["number"] / worst["rating"]["number"]), plan)
            lost = {(o["at"], o["set"]): o["value"] for o in told["outcomes"]
                    if o["rule"] == "volts.running-drop" and o["set"] and o["value"] and o["value"]["unit"] == "%"}
            for (at, name), value in lost.items():
                rows = [r for r in page.of("volts") if r["tr"]["data-at"] == at and r["table"]["data-set"] == name]
                self.assertTrue(any(near(r["figures"][1], value["number"]) for r in rows), (plan, at, name, value, rows))
                seen["volts"] += 1
            starts = [o for o in told["outcomes"] if o["rule"] == "trip.start-surge" and o["value"]]
            for table in {(r["table"]["data-at"], r["table"]["data-set"]) for r in page.of("start")}:
                figures = [r["figures"][0] for r in page.of("start") if (r["table"]["data-at"], r["table"]["data-set"]) == table]
                here = [o["value"]["number"] for o in starts if (o["at"], o["set"]) == table]
                # Of several motors at one device an outcome tells one; the picture has the greatest start.
                same = any(near(a, b) for a in here for b in figures[:2])
                self.assertTrue(same or all(a < figures[0] for a in here), (plan, table, here, figures))
                seen["start"] += same
        self.assertGreater(seen["loads"], 1500)
        self.assertGreater(seen["volts"], 300)
        self.assertGreater(seen["start"], 60)

    def test_shown_figures_are_their_values_in_three_or_four_digits(self):
        for plan in DEMOS:
            for row in Page(page_of(plan)).rows:
                for value, shown in zip(row["figures"], row["shown"]):
                    number = float(re.match(r"[\d.]+", shown)[0])
                    scale = 1e-3 if " mA" in shown else 1e3 if " kA" in shown else 1
                    self.assertAlmostEqual(value, number * scale, delta=6e-3 * max(value, 1e-9), msg=(plan, shown))

    def test_the_page_says_what_the_text_says(self):
        for plan in GOOD:
            text = " ".join(run("check", "--quiet", plan).stdout.decode().split())
            words = " ".join(" ".join(Page(page_of(plan)).words).split())
            self.assertIn(text, words, plan)
            self.assertIn("No plan shows a loose terminal", words)
            self.assertIn("Not checked", words)
            told = output_of("check", plan, "--format", "json", "--full")["plans"][0]
            for o in told["outcomes"]:
                if o["outcome"] == "fail" and o["accepted"] is None:
                    self.assertIn(o["rule"], words, plan)

    def test_hostile_words_are_words(self):
        text = (ROOT / HERON).read_text(encoding="utf-8")
        plain = Page(page_of(HERON))
        for words in HOSTILE:
            hostile = text.replace('title    = "Heron Lane bench"', f'title    = "{words}"', 1)
            for name in ("[switch.saw]\n", "[load.saw]\n", "[outlet.lamp]\n"):
                hostile = hostile.replace(name, f'{name}label = "{words}"\n', 1)
            with tempfile.TemporaryDirectory() as folder:
                plan = pathlib.Path(folder) / "plan.toml"
                plan.write_text(hostile, encoding="utf-8")
                told = page_of(plan)
            page = Page(told)
            self.assertEqual(([], []), (page.faults, page.open), words)
            self.assertEqual([t for t, _ in plain.tags], [t for t, _ in page.tags], words)
            self.assertEqual([sorted(a) for _, a in plain.tags], [sorted(a) for _, a in page.tags], words)
            for drawing in re.findall("<svg.*?</svg>", told, re.S):
                ElementTree.fromstring(drawing)
            self.assertIsNone(re.search("[\x00-\x09\x0b-\x1f\x7f\u0080-\u009f\u202a-\u202e\u2066-\u2069]", told), words)

    def test_written_whole_or_not_at_all(self):
        with tempfile.TemporaryDirectory() as folder:
            file = pathlib.Path(folder) / "page.html"
            file.write_text("old")
            bad = next(p for p in PLANS if "/bad/" in p)
            self.assertEqual(2, run("check", bad, "--report", file).returncode)
            self.assertEqual("old", file.read_text())
            self.assertEqual(2, run("check", HERON, ROW, "--report", file).returncode)
            self.assertEqual("old", file.read_text())
            self.assertEqual(2, run("check", HERON, "--report", pathlib.Path(folder) / "no" / "page.html").returncode)
            self.assertEqual(1, run("check", BARN, "--report", file).returncode)
            self.assertEqual(["page.html"], [p.name for p in pathlib.Path(folder).iterdir()])
            first = file.read_bytes()
            run("check", BARN, "--report", file, "--format", "json", "--full")
            self.assertEqual(first, file.read_bytes())

    def test_the_text_is_the_same_with_and_without_a_page(self):
        for plan in DEMOS:
            with tempfile.TemporaryDirectory() as folder:
                with_page = run("check", plan, "--report", pathlib.Path(folder) / "p.html").stdout
            self.assertEqual(run("check", plan).stdout, with_page)

    def test_a_what_if_is_called_one(self):
        self.assertIn("What if: box.junction.cable.length=7 m", page_of(HERON, "--set", "box.junction.cable.length=7 m"))


if __name__ == "__main__":
    unittest.main()
