"""What lay_over.py makes of plans that lie over each other, and what it refuses, naming the file."""
import pathlib
import subprocess
import sys
import tempfile
import tomllib
import unittest

SCRIPT = pathlib.Path(__file__).with_name("lay_over.py")
BASE = '[site]\nchildren = false\n[load.saw]\nplate = { current = "5 A", voltage = "230 V" }\n[[together]]\nloads = ["saw"]\n'


class LayOver(unittest.TestCase):
    def setUp(self):
        kept = tempfile.TemporaryDirectory()
        self.addCleanup(kept.cleanup)
        self.folder, self.out = pathlib.Path(kept.name, "plans"), pathlib.Path(kept.name, "out")

    def made(self, plans):
        """Result of the script for plans by the path under the folder."""
        for name, text in plans.items():
            path = self.folder / f"{name}.toml"
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_text(text, encoding="utf-8")
        return subprocess.run([sys.executable, "-B", str(SCRIPT), str(self.folder), str(self.out)], capture_output=True, text=True)

    def refused(self, plans, *words):
        made = self.made(plans)
        self.assertEqual(1, made.returncode, made.stderr)
        for word in words:
            self.assertIn(word, made.stderr)
        self.assertNotIn("Traceback", made.stderr)

    def test_laid_over_field_by_field(self):
        above = '# over: base\n# without: load.saw.plate.voltage, together\n# expect: x\n[load.saw]\nplate = { current = "6 A" }\n[load.lamp]\nmotor = "none"\n'
        made = self.made({"a/base": BASE, "b/above": above})
        self.assertEqual((0, ""), (made.returncode, made.stderr))
        self.assertEqual(["above.toml", "base.toml"], sorted(path.name for path in self.out.iterdir()))
        self.assertEqual(BASE, (self.out / "base.toml").read_text())
        text = (self.out / "above.toml").read_text()
        self.assertTrue(text.startswith("# expect: x\n"), text)
        self.assertEqual({"site": {"children": False}, "load": {"saw": {"plate": {"current": "6 A"}}, "lamp": {"motor": "none"}}}, tomllib.loads(text))

    def test_a_plan_that_is_gone_leaves_nothing_behind(self):
        self.made({"base": BASE, "gone": "# over: base\n"})
        (self.folder / "gone.toml").unlink()
        self.assertEqual(0, self.made({}).returncode)
        self.assertEqual(["base.toml"], [path.name for path in self.out.iterdir()])

    def test_two_plans_below(self):
        self.refused({"base": BASE, "other": BASE, "above": "# over: base\n# over: other\n"}, "above.toml", "base, other")
        self.refused({"above": "# over: base, other\n"}, "above.toml", "base, other")

    def test_nothing_below(self):
        self.refused({"above": "# over: base\n"}, "above.toml", "base, which is no plan")
        self.refused({"above": "# without: site\n" + BASE}, "above.toml", "no `over`")

    def test_what_is_not_there_to_leave_out(self):
        for path in ("load.drill", "load.saw.plate.power", "site.children.young", "together.loads"):
            self.refused({"base": BASE, "above": f"# over: base\n# without: {path}\n"}, "above.toml", path)
        self.refused({"above": "# over: base\n# without: site, site\n"}, "above.toml", "site")

    def test_laid_over_itself(self):
        self.refused({"one": "# over: two\n", "two": "# over: one\n"}, "one.toml", "laid over itself")

    def test_a_name_in_two_folders(self):
        self.refused({"a/base": BASE, "b/base": BASE}, "a/base.toml", "b/base.toml")

    def test_written_another_way(self):
        for line in ("#over: base", "# over : base", "  # over: base", "# without:load.saw"):
            self.refused({"base": BASE, "above": line + "\n"}, "above.toml", line.strip())

    def test_no_plan_at_all(self):
        self.folder.mkdir()
        self.refused({}, "no plan lies here")


if __name__ == "__main__":
    unittest.main()
