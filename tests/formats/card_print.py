"""The sheets on paper, as a browser prints them and as the program writes them: how many pages, how large the type, how large the
blanks, nothing on anything else, no name cut.

Not run by ctest: it wants chromium and poppler-utils. BENCHFEED is the program, BENCHFEED_ROOT the root of the project.
"""
import pathlib
import re
import tempfile
import unittest

from judges import ROOT, run
from printed import PAPERS, html_of, laid_out, long_bench, printed, written

SMALL = ("A5", "half-letter")
MAKERS = (("printed", printed), ("written", written))
# Most pages on small and on large paper, front and back counted: up to eight outlets one sheet of twice the small size, folded.
MOST = {2: (4, 2), 4: (4, 2), 8: (4, 3), 14: (7, 4), 24: (9, 6)}


def demo(name):
    return (ROOT / "data" / "plans" / f"{name}.toml").read_text(encoding="utf-8")


def scenario(name):
    return (ROOT / "tests" / "plans" / "scenarios" / f"{name}.toml").read_text(encoding="utf-8")


LONG_NAMES = "green circular table saw with the long fence and the sliding carriage near the north window"
PLANS = {"US": demo("maple-row"), "fails": demo("crooked-barn"), "UK": demo("hawthorn-yard"), "three lines": scenario("alder-hall-eu"),
         "long names": long_bench(4, LONG_NAMES), **{f"{n} outlets": long_bench(n) for n in MOST}}


class Printed(unittest.TestCase):
    def setUp(self):
        folder = tempfile.TemporaryDirectory()
        self.addCleanup(folder.cleanup)
        self.at = pathlib.Path(folder.name)

    def each(self, sheet, look, plans=PLANS):
        """Looks at each plan on each paper, made in both ways."""
        for name, plan in plans.items():
            for paper in PAPERS:
                for how, make in MAKERS:
                    with self.subTest(plan=name, paper=paper, how=how, sheet=sheet):
                        look(name, plan, paper, make(plan, paper, sheet, self.at))

    def holds_paper_and_type(self, pdf, paper):
        for wanted, found in zip(PAPERS[paper], pdf.size):
            self.assertAlmostEqual(wanted, found, delta=1)
        sizes = pdf.points()
        self.assertGreaterEqual(min(sizes), 6.9, sizes[min(sizes)][:9])
        foot = {word for size, words in sizes.items() if size < 8.9 for word in words}
        self.assertLessEqual(foot & {"ohm.", "O1", "Expected:", "trip", "switch", "PULL", "terminals", "H05VV-F"}, set())
        body = sum(len(words) for size, words in sizes.items() if size >= 8.9)
        self.assertGreater(body, 2 * len(foot))
        self.assertGreaterEqual(max(sizes), 16)
        self.assertEqual([], pdf.overlapping())
        text = pdf.text()
        for page in range(1, pdf.count + 1):
            self.assertIn(f"{page}of{pdf.count}", text)

    def test_the_card(self):
        def look(name, plan, paper, pdf):
            self.holds_paper_and_type(pdf, paper)
            if number := re.match(r"(\d+) outlets", name):
                self.assertLessEqual(pdf.count, MOST[int(number[1])][paper not in SMALL])
            text = pdf.text()
            labels = re.findall(r'^label *= *"([^"]*)"', plan, re.M)
            for label in labels:
                self.assertIn("".join(label.removeprefix("the ").split()), text)
            for outlet in set(re.findall(r"^\[outlet\.([a-z0-9-]+)\]", plan, re.M)) - {"wall"}:
                if not labels or name.endswith("outlets"):
                    self.assertIn(outlet.replace("-", ""), text)
            strong = {word for size, words in pdf.points().items() if size >= 13.9 for word in words}
            self.assertLessEqual({"isolation.", "Blades"}, strong)
            self.assertNotIn("andmore", text)
        self.each("card", look)

    def test_the_other_sheets(self):
        few = {name: PLANS[name] for name in ("US", "three lines", "long names", "8 outlets")}
        for sheet, most in (("diagram", 2), ("wiring", 6)):
            def look(_, __, paper, pdf, most=most):
                self.holds_paper_and_type(pdf, paper)
                self.assertLessEqual(pdf.count, most)
            self.each(sheet, look, few)

    def test_blanks(self):
        """15 mm by 8 mm for each test and outlet: in the browser's layout, in the PDF and in the drawing."""
        for number in (2, 8, 24):
            plan = long_bench(number)
            text = run("card", "-", stdin=plan.encode()).stdout.decode()
            tests = text[text.index("DEAD tests"): text.index("Tested\n")]
            wanted = tests.count("______")
            self.assertGreaterEqual(wanted, 5 * number)
            for paper in PAPERS:
                with self.subTest(outlets=number, paper=paper):
                    boxes = laid_out(html_of(plan, paper, "card", self.at),
                                     "const r=[];for(const e of document.querySelectorAll('.box')){const b=e.getBoundingClientRect();"
                                     "r.push([b.width*25.4/96,b.height*25.4/96])}return r")
                    self.assertEqual(wanted, len(boxes))
                    for width, height in boxes:
                        self.assertGreaterEqual(width, 14.99)
                        self.assertGreaterEqual(height, 7.99)
                    pdf = written(plan, paper, "card", self.at)
                    large = [1 for w, h in pdf.rectangles() if abs(w - 15) < 0.02 and abs(h - 8) < 0.02]
                    self.assertEqual(wanted, len(large))
                    signs = [1 for w, h in pdf.rectangles() if w >= 45 and h >= 12]
                    self.assertGreaterEqual(len(signs), 2)
                    drawing = run("card", "-", "--format", "svg", "--paper", paper, stdin=plan.encode()).stdout.decode()
                    self.assertEqual(wanted, len(re.findall(r'<rect class="blank"[^>]* width="15" height="8"', drawing)))

    def test_pdf_is_the_same_every_time_and_says_what_it_is(self):
        plan = demo("heron-lane")
        first = written(plan, "A4", "card", self.at)
        data = first.path.read_bytes()
        self.assertEqual("Heron Lane bench", first.title)
        self.assertIn("Oct  4", first.made)
        self.assertIn("2026", first.made)
        self.assertTrue(first.fonts_embedded())
        self.assertIn(b"/StructTreeRoot", data)
        self.assertEqual(data, written(plan, "A4", "card", self.at).path.read_bytes())
        undated = written(plan.replace('date     = "2026-10-04"', ""), "A4", "card", self.at)
        self.assertIn("1970", undated.made)

    def test_drawing_has_the_size_of_its_paper(self):
        plan = demo("heron-lane").encode()
        for paper, (width, height) in PAPERS.items():
            pages = written(plan.decode(), paper, "card", self.at).count
            whole = run("card", "-", "--format", "svg", "--paper", paper, stdin=plan).stdout.decode()
            self.assertIn(f'viewBox="0 0 {width:g} {round(height * pages, 2):g}"', whole)
            for page in range(1, pages + 1):
                one = run("card", "-", "--format", "svg", "--paper", paper, "--page", str(page), stdin=plan).stdout.decode()
                self.assertIn(f'width="{width:g}mm" height="{height:g}mm"', one)
                self.assertIn(f"{page} of {pages}", one)

    def test_a_phone(self):
        """360 px: no scrolling sideways, no word broken inside, no type under 14 px."""
        for name in ("US", "fails", "long names"):
            for sheet in ("card", "diagram", "wiring"):
                with self.subTest(plan=name, sheet=sheet):
                    found = laid_out(html_of(PLANS[name], "A4", sheet, self.at),
                                     "let least=99,cut=[];const w=document.createTreeWalker(document.querySelector('body'),4);"
                                     "while(w.nextNode()){const n=w.currentNode,p=n.parentElement;if(!n.data.trim()||p.closest('svg,script,caption,thead'))continue;"
                                     "least=Math.min(least,parseFloat(getComputedStyle(p).fontSize));"
                                     "for(const m of n.data.matchAll(/[^\\s\\u00a0]{2,24}/g)){const r=document.createRange();r.setStart(n,m.index);"
                                     "r.setEnd(n,m.index+m[0].length);if(r.getClientRects().length>1&&!/[-\\/]/.test(m[0]))cut.push(m[0])}}"
                                     "return [document.documentElement.scrollWidth,least,cut]", 360)
                    self.assertLessEqual(found[0], 360)
                    self.assertGreaterEqual(found[1], 14)
                    self.assertEqual([], found[2])

    def test_blanks_of_tables_can_be_written_into(self):
        """Answers on a screen and on paper, changes and signatures on the smallest paper: as wide and as high as a pen needs."""
        seen = ("const r=[];for(const e of document.querySelectorAll('td.blank')){const b=e.getBoundingClientRect();"
                "r.push([e.dataset.head,b.width*25.4/96,b.height*25.4/96])}return r")
        page = self.at / "asked.of.html"
        plan = ROOT / "tests" / "plans" / "short" / "three-tools.toml"
        self.assertEqual(0, run("questions", plan, "--format", "html", "--paper", "A5", "--output", page).returncode)
        for width, least in ((None, 39.9), (900, 39.9), (360, 75)):
            with self.subTest(page="questions", width=width):
                blanks = laid_out(page, seen, width)
                self.assertGreater(len(blanks), 10)
                self.assertGreaterEqual(min(w for _, w, _ in blanks), least)
                self.assertGreaterEqual(min(h for *_, h in blanks), 8.9)
        rooms = {"revision": 15, "date": 18, "what": 28, "re-checked": 18, "sign": 45, "meter used": 18, "next test due": 18}
        blanks = laid_out(html_of(PLANS["US"], "half-letter", "card", self.at), seen)
        self.assertEqual(set(rooms), {head for head, *_ in blanks})
        for head, width, height in blanks:
            self.assertGreaterEqual(width, rooms[head] - 0.1, head)
            self.assertGreaterEqual(height, 6.9, head)

    def test_black_and_white(self):
        """What is beyond its rating is black in a grey print, and the words say so as well."""
        import subprocess
        pdf = written(PLANS["fails"], "A4", "card", self.at)
        self.assertIn("%OVER", pdf.text())
        subprocess.run(["pdftoppm", "-gray", "-r", "100", "-f", "1", "-l", "1", pdf.path, self.at / "grey"], check=True)
        image = next(self.at.glob("grey*.pgm")).read_bytes()
        width, height = map(int, re.match(rb"P5\s+(\d+) (\d+)", image).groups())
        pixels = image[-width * height:]
        black = [row for row in range(height) if pixels[row * width: (row + 1) * width].count(0) > 30]
        self.assertGreater(len(black), 20)


if __name__ == "__main__":
    unittest.main()
