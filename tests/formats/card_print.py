"""The card in a browser's printer: one page on every paper, every outlet's name in it, and long benches broken between rows.

Not run by ctest: it wants chromium and poppler-utils. BENCHFEED is the program, BENCHFEED_ROOT the root of the project.
"""
import os
import pathlib
import re
import subprocess
import tempfile
import unittest

from judges import ROOT, run

PAPERS = {"A5": (148, 210), "A4": (210, 297), "letter": (215.9, 279.4), "half-letter": (139.7, 215.9)}
BROWSER = os.environ.get("CHROMIUM", "chromium")


def long_bench(outlets):
    """Heron Lane with so many switched outlets behind its box."""
    demo = (ROOT / "data" / "plans" / "heron-lane.toml").read_text(encoding="utf-8")
    plan = demo[: demo.index("[switch.saw]")].replace("ways      = 8", "ways      = 40")
    names = ["saw", "router", "jigsaw", "extractor", "planer", "drill", "sander", "lathe"]
    for i in range(outlets):
        name = names[i % 8] + (f"-{i // 8 + 1}" if i >= 8 else "")
        body = ('like = "switch.saw"' if i else
                'cable = { stock = "run", length = "2 m", grip = true, ends = "ferrule", route = "carcass" }\nkind = "rocker"\n'
                'standard = "IEC 61058"\npoles = 2\nrating = "16 A"\nmotor_rating = "10 A"\nno_volt = true\ncoil = "230 V"')
        plan += (f'[switch.{name}]\nfrom = "box.junction"\n{body}\n[outlet.{name}]\nfrom = "switch.{name}"\npattern = "CEE 7/3"\n'
                 f'earth = "tested"\nfaces = "side"\n[load.{name}]\nfrom = "outlet.{name}"\nkind = "tool"\nplate = {{ current = '
                 f'"{4 + i % 4}.0 A", voltage = "230 V" }}\nmotor = "universal"\nsoft_start = true\nlatched = true\ncutter = true\n'
                 'class = "II"\nduty = "minutes"\n')
    return plan


class Printed(unittest.TestCase):
    def setUp(self):
        self.folder = tempfile.TemporaryDirectory()
        self.at = pathlib.Path(self.folder.name)

    def tearDown(self):
        self.folder.cleanup()

    def printed(self, plan, paper, sheet="card"):
        """Pages, their size in mm, and the words of the PDF."""
        page, pdf = self.at / "card.html", self.at / "card.pdf"
        made = run("card", "-", "--format", "html", "--paper", paper, "--sheet", sheet, "--output", page, stdin=plan.encode())
        self.assertIn(made.returncode, (0, 1), made.stderr)
        subprocess.run([BROWSER, "--headless", "--no-sandbox", "--disable-gpu", "--no-pdf-header-footer", f"--print-to-pdf={pdf}", page.as_uri()],
                       check=True, capture_output=True, timeout=120)
        info = subprocess.run(["pdfinfo", pdf], check=True, capture_output=True, text=True).stdout
        width, height = (float(v) * 25.4 / 72 for v in re.search(r"Page size:\s+([\d.]+) x ([\d.]+)", info).groups())
        words = subprocess.run(["pdftotext", "-raw", pdf, "-"], check=True, capture_output=True, text=True).stdout
        pages = int(re.search(r"Pages:\s+(\d+)", info).group(1))
        subprocess.run(["pdftoppm", "-r", "60", "-png", pdf, self.at / "page"], check=True)
        self.assertEqual(pages, len(list(self.at.glob("page-*.png"))))
        for picture in self.at.glob("page-*.png"):
            picture.unlink()
        return pages, (width, height), words

    def test_one_page_on_every_paper(self):
        plans = [(p.stem, p.read_text(encoding="utf-8")) for p in sorted((ROOT / "data" / "plans").glob("*.toml"))]
        for name, plan in [*plans, ("eight outlets", long_bench(8))]:
            for paper, size in PAPERS.items():
                with self.subTest(plan=name, paper=paper):
                    pages, printed, words = self.printed(plan, paper)
                    self.assertEqual(1, pages)
                    for wanted, found in zip(size, printed):
                        self.assertAlmostEqual(wanted, found, delta=1)
                    flat = " ".join(words.split())
                    for outlet in set(re.findall(r"^\[outlet\.([a-z]+)\]", plan, re.M)) - {"wall"}:
                        self.assertIn(outlet, flat)

    def drawn_height(self):
        """The highest line of type, in mm, that holds an outlet's name in the PDF printed last."""
        words = subprocess.run(["pdftotext", "-bbox", self.at / "card.pdf", "-"], check=True, capture_output=True, text=True).stdout
        heights = [float(b) - float(a) for a, b in re.findall(r'yMin="([\d.]+)" xMax="[\d.]+" yMax="([\d.]+)">router<', words)]
        return max(heights) * 25.4 / 72

    def test_the_diagram_alone(self):
        """One page, and its words larger than on the card."""
        demo = (ROOT / "data" / "plans" / "heron-lane.toml").read_text(encoding="utf-8")
        for paper in PAPERS:
            with self.subTest(paper=paper):
                self.printed(demo, paper)
                on_card = self.drawn_height()
                pages, _, words = self.printed(demo, paper, "diagram")
                self.assertEqual(1, pages)
                self.assertIn("CHECKED ON PAPER, NOT INSPECTED", " ".join(words.split()))
                self.assertGreater(self.drawn_height(), 1.05 * on_card)
                # A letter of 1.45 mm is seen under five minutes of arc at one metre (physics); a line of type is 1.6 times as high.
                self.assertGreater(self.drawn_height(), 1.6 * 1.45)

    def test_a_long_bench_breaks_between_rows(self):
        plan = long_bench(24)
        for paper in PAPERS:
            with self.subTest(paper=paper):
                pages, _, words = self.printed(plan, paper)
                self.assertGreater(pages, 1)
                self.assertLess(pages, 8)
                for outlet in re.findall(r"^\[outlet\.([a-z0-9-]+)\]", plan, re.M):
                    if outlet != "wall":
                        self.assertIn(f"the {outlet.replace('-', ' ')} outlet", " ".join(words.split()))

    def test_the_sheet_of_the_cores(self):
        plan = (ROOT / "data" / "plans" / "maple-row.toml").read_text(encoding="utf-8")
        pages, _, words = self.printed(plan, "A4", "wiring")
        self.assertLessEqual(pages, 2)
        self.assertIn("1 black", words)


if __name__ == "__main__":
    unittest.main()
