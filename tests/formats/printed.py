"""Sheets on paper: made as HTML and printed by a browser, or written as PDF, and read back by programs of others.

What is read comes from the PDF (poppler; its own streams for what is drawn) or from the browser's layout, never from figures of our
own. BENCHFEED is the program, CHROMIUM the browser.
"""
import json
import os
import re
import subprocess
import zlib

from judges import ROOT, run

PAPERS = {"A5": (148, 210), "A4": (210, 297), "letter": (215.9, 279.4), "half-letter": (139.7, 215.9)}
BROWSER = os.environ.get("CHROMIUM", "chromium")
POINT = 25.4 / 72  # mm
# A line of a text is as high in poppler as ascent and descent of its type together. Liberation Sans, hhea: 1854 + 434 of 2048.
LINE = (1854 + 434) / 2048


def long_bench(outlets, label=""):
    """Heron Lane with so many switched outlets behind its box; `label` stands in the names of tools and outlets."""
    demo = (ROOT / "data" / "plans" / "heron-lane.toml").read_text(encoding="utf-8")
    plan = demo[: demo.index("[switch.saw]")].replace("ways      = 8", "ways      = 40")
    names = ["saw", "router", "jigsaw", "extractor", "planer", "drill", "sander", "lathe"]
    for i in range(outlets):
        name = names[i % 8] + (f"-{i // 8 + 1}" if i >= 8 else "")
        body = ('like = "switch.saw"' if i else
                'cable = { stock = "run", length = "2 m", grip = true, ends = "ferrule", route = "carcass" }\nkind = "rocker"\n'
                'standard = "IEC 61058"\npoles = 2\nrating = "16 A"\nmotor_rating = "10 A"\nno_volt = true\ncoil = "230 V"')

        def named(what):
            return f'label = "the {what} of the {label} {name.replace("-", " ")}"\n' if label else ""
        plan += (f'[switch.{name}]\nfrom = "box.junction"\n{named("switch")}{body}\n[outlet.{name}]\n{named("outlet")}from = "switch.{name}"\n'
                 f'pattern = "CEE 7/3"\nearth = "tested"\nfaces = "side"\n[load.{name}]\n{named("tool")}from = "outlet.{name}"\nkind = "tool"\n'
                 f'plate = {{ current = "{4 + i % 4}.0 A", voltage = "230 V" }}\nmotor = "universal"\nsoft_start = true\nlatched = true\n'
                 'cutter = true\nclass = "II"\nduty = "minutes"\n')
    return plan


def browse(*arguments):
    return subprocess.run([BROWSER, "--headless", "--no-sandbox", "--disable-gpu", *map(str, arguments)], check=True, capture_output=True,
                          timeout=180).stdout


def html_of(plan, paper, sheet, at):
    page = at / "sheet.html"
    made = run("card", "-", "--format", "html", "--paper", paper, "--sheet", sheet, "--output", page, stdin=plan.encode())
    assert made.returncode in (0, 1), made.stderr
    return page


def printed(plan, paper, sheet, at):
    """The PDF that the browser prints."""
    pdf = at / "printed.pdf"
    browse("--no-pdf-header-footer", f"--print-to-pdf={pdf}", html_of(plan, paper, sheet, at).as_uri())
    return Pdf(pdf)


def written(plan, paper, sheet, at):
    """The PDF that the program writes."""
    pdf = at / "written.pdf"
    made = run("card", "-", "--format", "pdf", "--paper", paper, "--sheet", sheet, "--output", pdf, stdin=plan.encode())
    assert made.returncode in (0, 1), made.stderr
    return Pdf(pdf)


class Pdf:
    """Words with their boxes, and rectangles, of a PDF."""

    def __init__(self, path):
        self.path = path
        info = self.ask("pdfinfo", path)
        self.size = tuple(float(v) * POINT for v in re.search(r"Page size:\s+([\d.]+) x ([\d.]+)", info).groups())
        self.count = int(re.search(r"Pages:\s+(\d+)", info)[1])
        self.title = (re.search(r"^Title:\s+(.*)$", info, re.M) or ["", ""])[1]
        self.made = (re.search(r"^CreationDate:\s+(.*)$", info, re.M) or ["", ""])[1]
        self.pages = [[(float(a), float(b), float(c), float(d), word) for a, b, c, d, word in
                       re.findall(r'<word xMin="([-\d.]+)" yMin="([-\d.]+)" xMax="([-\d.]+)" yMax="([-\d.]+)">(.*?)</word>', page)]
                      for page in self.ask("pdftotext", "-bbox", path, "-").split("<page ")[1:]]

    @staticmethod
    def ask(*command):
        return subprocess.run(list(map(str, command)), check=True, capture_output=True, text=True).stdout

    def text(self):
        """All words in the order of reading, without spaces: names may break anywhere."""
        return "".join(self.ask("pdftotext", "-raw", self.path, "-").split())

    def points(self):
        """Sizes of type, and the words set in them."""
        sizes = {}
        for page in self.pages:
            for _, top, _, bottom, word in page:
                sizes.setdefault(round((bottom - top) / LINE, 1), []).append(word)
        return sizes

    def overlapping(self):
        """Pairs of words that lie on one another by more than a tenth of their height and width."""
        found = []
        for page in self.pages:
            for i, (l1, t1, r1, b1, one) in enumerate(page):
                for l2, t2, r2, b2, other in page[:i]:
                    # Boxes of lines are higher than the letters in them.
                    deep = min(b1, b2) - max(t1, t2) - 0.35 * min(b1 - t1, b2 - t2)
                    wide = min(r1, r2) - max(l1, l2)
                    if deep > 0 and wide > 1.5:
                        found.append((one, other))
        return found

    def rectangles(self):
        """Width and height in mm of every rectangle that is drawn; a PDF of cairo says them as such."""
        found = []
        for stream in re.findall(rb"stream\r?\n(.*?)\r?\nendstream", self.path.read_bytes(), re.S):
            try:
                words = zlib.decompress(stream).decode("latin-1")
            except zlib.error:
                continue
            found += [(abs(float(w)) * POINT, abs(float(h)) * POINT) for w, h in
                      re.findall(r"[-\d.]+ [-\d.]+ ([-\d.]+) ([-\d.]+) re\s+S", words)]
        return found

    def fonts_embedded(self):
        rows = self.ask("pdffonts", self.path).splitlines()[2:]
        return bool(rows) and all(re.search(r"\byes (yes|no) +(yes|no)\b", row) for row in rows)


def laid_out(page, script, width=None):
    """What a script finds in a page as the browser lays it out: on paper, or on a screen of a width in px."""
    source = page.read_text(encoding="utf-8")
    if width is None:
        source = source.replace("@media print", "@media all").replace("@media screen", "@media not all")
    asked = page.with_name("asked.html")
    asked.write_text(source.replace("</body>", f"<script>document.title='found:'+JSON.stringify((function(){{{script}}})());</script></body>"),
                     encoding="utf-8")
    frame = page.with_name("frame.html")
    frame.write_text(f'<!DOCTYPE html><title>x</title><iframe id="f" src="{asked.name}" style="border:0;width:{width or 1000}px;height:900px"></iframe>'
                     "<script>f.onload=()=>{document.title=f.contentDocument.title}</script>", encoding="utf-8")
    dom = browse("--allow-file-access-from-files", "--virtual-time-budget=4000", "--dump-dom", frame.as_uri()).decode("utf-8")
    import html
    return json.loads(html.unescape(re.search(r"<title>found:(.*?)</title>", dom, re.S)[1]))
