"""Sheets, questions and reports as pages: judged by axe-core in a browser, light and dark, and by html-validate.

Not run by ctest: it wants chromium and what `npm ci` puts beside this file. BENCHFEED is the program.
"""
import html
import json
import pathlib
import re
import subprocess
import tempfile
import unittest

from judges import ROOT, run
from printed import PAPERS, POINT, Pdf, browse, html_of, laid_out

HERE = pathlib.Path(__file__).parent
AXE = HERE / "node_modules" / "axe-core" / "axe.min.js"
# Titles are the bench's own; drawings take no focus and need no word against it.
RULES = {"extends": ["html-validate:recommended", "html-validate:a11y"],
         "rules": {"long-title": "off", "no-trailing-whitespace": "off", "svg-focusable": "off"}}
READ = "".join(f'[[reading]]\ntest = "{test}"\nat = "{at}"\nfound = "{found}"\ndate = "2026-10-05"\n' for test, at, found in (
    ("protective", "outlet.saw", "2 ohm"), ("loop", "outlet.wall", "> 1 ohm"), ("insulation", "box.junction", "> 500 Mohm"),
    ("residual", "device.b16", "28 ms")))
SHEETS = [(plan.stem, sheet) for plan in sorted((ROOT / "data" / "plans").glob("*.toml")) for sheet in ("card", "wiring", "diagram")]


class Pages(unittest.TestCase):
    maxDiff = None

    @classmethod
    def setUpClass(cls):
        cls.folder = tempfile.TemporaryDirectory()
        cls.addClassCleanup(cls.folder.cleanup)
        at = pathlib.Path(cls.folder.name)
        cls.pages = {}
        for name, sheet in SHEETS:
            page = at / f"{name}-{sheet}.html"
            html_of((ROOT / "data" / "plans" / f"{name}.toml").read_text(encoding="utf-8"), "A4", sheet, at).rename(page)
            cls.pages[f"{name} {sheet}"] = page
        read = at / "read.toml"
        read.write_text((ROOT / "data/plans/heron-lane.toml").read_text(encoding="utf-8") + READ, encoding="utf-8")
        cls.pages["readings card"] = html_of(read.read_text(encoding="utf-8"), "A5", "card", at).rename(at / "read-card.html")
        cls.pages["three-tools questions"] = at / "three-tools-questions.html"
        run("questions", ROOT / "tests/plans/short/three-tools.toml", "--format", "html", "--output", cls.pages["three-tools questions"])
        for plan in (*sorted((ROOT / "data" / "plans").glob("*.toml")), read):
            page = at / f"{plan.stem}-report.html"
            run("check", "--quiet", "--report", page, plan)
            cls.pages[f"{plan.stem} report"] = page

    def test_the_validator_finds_nothing(self):
        config = pathlib.Path(self.folder.name) / "htmlvalidate.json"
        config.write_text(json.dumps({"root": True, **RULES}))
        told = subprocess.run([str(HERE / "node_modules/.bin/html-validate"), "--config", str(config), "--formatter", "json",
                               *map(str, self.pages.values())], capture_output=True, text=True)
        found = sorted({f"{pathlib.Path(one['filePath']).name}: {m['ruleId']}: {m['message']}" for one in json.loads(told.stdout or "[]")
                        for m in one["messages"]})
        self.assertEqual([], found[:40])
        self.assertEqual(0, told.returncode, told.stderr)

    def test_the_validator_finds_what_is_wrong(self):
        bad = pathlib.Path(self.folder.name) / "bad.html"
        bad.write_text("<!DOCTYPE html><html><head><title>x</title></head><body><p><div></p></body></html>")
        config = pathlib.Path(self.folder.name) / "htmlvalidate.json"
        config.write_text(json.dumps({"root": True, **RULES}))
        told = subprocess.run([str(HERE / "node_modules/.bin/html-validate"), "--config", str(config), str(bad)],
                              capture_output=True)
        self.assertNotEqual(0, told.returncode)

    def axe(self, page, dark=False, width=1000):
        source = page.read_text(encoding="utf-8")
        source = re.sub(r'<meta http-equiv="Content-Security-Policy"[^>]*>', "", source)  # it forbids what judges it
        if dark:
            source = source.replace("(prefers-color-scheme:dark)", "(min-width:1px)")
        asked = page.with_name("asked.html")
        (page.parent / "axe.js").write_bytes(AXE.read_bytes())
        asked.write_text(source.replace("</body>", "<script src=\"axe.js\"></script><script>axe.run(document,{runOnly:{type:'tag',values:['wcag2a',"
                         "'wcag2aa','wcag21a','wcag21aa','wcag22aa','best-practice']}}).then(r=>{document.title='found:'+JSON.stringify("
                         "[r.violations.map(v=>v.id+': '+v.nodes.slice(0,3).map(n=>n.html.slice(0,160)).join(' | ')),r.passes.length])})</script></body>"),
                         encoding="utf-8")
        dom = browse("--virtual-time-budget=20000", f"--window-size={width},900", "--dump-dom", asked.as_uri()).decode("utf-8")
        told = re.search(r"<title>found:(.*?)</title>", dom, re.S)
        self.assertTrue(told, "axe did not answer")
        return json.loads(html.unescape(told[1]))

    def test_axe_finds_nothing(self):
        for name, page in self.pages.items():
            for dark in (False, True) if not name.endswith("report") else (False,):
                for width in (1000, 360):
                    with self.subTest(page=name, dark=dark, width=width):
                        violations, passes = self.axe(page, dark, width)
                        self.assertEqual([], violations)
                        self.assertGreater(passes, 10)

    def test_words_in_drawings_can_be_read(self):
        """axe leaves them open: what lies behind them it does not say. Behind them lies the paper, or a hatching of thin lines."""
        script = """const shown = [...document.querySelectorAll('svg text')].filter(t => t.getClientRects().length);
            const paper = e => { for (; e; e = e.parentElement) { const c = getComputedStyle(e).backgroundColor;
                if (c !== 'rgba(0, 0, 0, 0)') return c; } return 'rgb(255, 255, 255)'; };
            const turned = e => e && (getComputedStyle(e).filter === 'invert(1)' || turned(e.parentElement));
            const ink = t => { const c = getComputedStyle(t).fill; return turned(t) ? c.replace(/[0-9]+/g, v => 255 - v) : c; };
            return [...new Set(shown.map(t => [ink(t), paper(t)].join(' on ')))]"""

        def light(colour):
            parts = [int(v) / 255 for v in re.findall(r"\d+", colour)[:3]]
            return sum(w * (c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4) for w, c in zip((0.2126, 0.7152, 0.0722), parts))
        seen = 0
        for name, page in self.pages.items():
            for dark in (False, True) if not name.endswith("report") else (False,):
                source = re.sub(r'<meta http-equiv="Content-Security-Policy"[^>]*>', "", page.read_text(encoding="utf-8"))
                if dark:
                    source = source.replace("(prefers-color-scheme:dark)", "(min-width:1px)")
                shown = page.with_name("drawn.html")
                shown.write_text(source, encoding="utf-8")
                for pair in laid_out(shown, script, 1000):
                    words, paper = map(light, pair.split(" on "))
                    self.assertGreaterEqual((max(words, paper) + 0.05) / (min(words, paper) + 0.05), 4.5, (name, dark, pair))
                    seen += 1
        self.assertGreater(seen, len(self.pages))

    def test_a_printed_report_wastes_no_page(self):
        for name, page in self.pages.items():
            if not name.endswith("report"):
                continue
            pdf = page.with_suffix(".pdf")
            browse("--no-pdf-header-footer", f"--print-to-pdf={pdf}", page.as_uri())
            with self.subTest(page=name):
                pdf = Pdf(pdf)
                self.assertEqual("letter" if name.startswith("maple") else "A4",
                                 next(paper for paper, size in PAPERS.items() if all(abs(a - b) < 1 for a, b in zip(size, pdf.size))))
                height = pdf.size[1] / POINT
                for words in pdf.pages[:-1]:  # the foot has the number of the page
                    self.assertGreater(max(bottom for _, _, _, bottom, _ in words if bottom < 0.94 * height), 0.25 * height)

    def test_the_list_of_contents_leads_to_every_section(self):
        for name, page in self.pages.items():
            if not name.endswith("report"):
                continue
            text = page.read_text(encoding="utf-8")
            self.assertEqual(re.findall(r'<section id="([a-z-]+)">\s*<h2>([^<]*)</h2>', text),
                             re.findall(r'<li><a href="#([a-z-]+)">([^<]*)</a></li>', text), name)

    def test_axe_finds_what_is_wrong(self):
        bad = pathlib.Path(self.folder.name) / "grey.html"
        bad.write_text('<!DOCTYPE html><html lang="en"><head><title>x</title></head><body><main><h1>x</h1><p style="color:#bbb;background:#fff">'
                       "hard to read</p></main></body></html>")
        self.assertTrue(any(v.startswith("color-contrast") for v in self.axe(bad)[0]))


if __name__ == "__main__":
    unittest.main()
