"""flatten PLAN: one text that says what the plan and its common files say, remarks kept."""
import pathlib
import tomllib
import unittest

from judges import GOOD, ROOT, run
from test_common import HEAD, Common as Base, demo, moved


class Flatten(unittest.TestCase):
    setUp, tearDown, put = Base.setUp, Base.tearDown, Base.put

    def flat(self, name="plans/bench.toml"):
        result = run("flatten", name, cwd=self.root)
        self.assertEqual(0, result.returncode, result.stderr)
        text = result.stdout.decode()
        self.put("flat.toml", text)
        tomllib.loads(text)  # a reader of others agrees that it is TOML
        return text

    def same_answer(self, name="plans/bench.toml"):
        def lines(path):
            return [line for line in run("check", path, cwd=self.root).stdout.decode().splitlines() if ".toml" not in line and "|" not in line]
        self.assertEqual(lines(name), lines("flat.toml"))

    def test_plans_without_common_files_stay_as_they_are(self):
        for path in GOOD[:40]:
            result = run("flatten", path)
            self.assertEqual((0, (ROOT / path).read_bytes()), (result.returncode, result.stdout), path)

    def test_house_and_stocks(self):
        shared, rest = moved(demo("../school.toml"), "[supply.", "[device.", "[stock.house]", "[outlet.wall]", "[stock.lead]")
        self.put("school.toml", HEAD + "# the lead that all benches have\n" + shared.replace('cores     = 3', 'cores     = 3  # counted'))
        self.put("plans/bench.toml", rest)
        text = self.flat()
        self.assertNotIn("common", text)
        self.assertIn("cores = 3  # counted", text)
        for remark in [line for line in rest.splitlines() if line.startswith("#")]:
            self.assertIn(remark, text)
        self.same_answer()
        self.assertEqual(tomllib.loads(demo("x"))["stock"], tomllib.loads(text)["stock"])

    def test_patterns(self):
        saw, rest = moved(demo("../tools.toml"), "[load.saw]")
        fields = "".join(line + "\n" for line in saw.splitlines()[1:] if line.split(" ")[0] not in ("from", "[load.saw]"))
        self.put("tools.toml", HEAD + "[load.big-saw]\n" + fields + "[load.other]\nkind = \"tool\"\n")
        for written in ("[load.saw]\nfrom = \"outlet.saw\"\nlike = \"load.big-saw\"   # ours\n",
                        "[load.saw]\nlike = \"load.big-saw\"\nfrom = \"outlet.saw\"\n[load.saw.plate]\ncurrent = \"7.0 A\"\n",
                        ):
            self.put("plans/bench.toml", rest + "\n" + written)
            text = self.flat()
            self.assertNotIn("like", text.split("[load.saw]")[1].split("\n[")[0])
            self.assertNotIn("load.other", text)
            self.same_answer()
        top = "load.saw.from = \"outlet.saw\"\nload.saw.like = \"load.big-saw\"\n"
        self.put("plans/bench.toml", rest.replace("[plan]\n", "[plan]\n", 1).replace("format = 1\n", "format = 1\n" + top, 1).replace("[load.", "[load.", 1))
        if run("check", "plans/bench.toml", "--quiet", cwd=self.root).returncode != 2:
            self.flat()
            self.same_answer()

    def test_limits(self):
        self.put("school.toml", HEAD + "[local]\nvoltage_drop_limit = \"2 %\"  # decided in 2026\nsource = \"the school\"\n")
        for own in ("", "\n[local]\nvoltage_drop_limit = \"4 %\"  # ours\nsource = \"own\"\n", "\n[local]\nlong_run_share = \"70 %\"\nsource = \"own\""):
            self.put("plans/bench.toml", demo("../school.toml") + own)
            local = tomllib.loads(self.flat())["local"]
            self.assertEqual("2 %", local["voltage_drop_limit"])
            self.assertEqual("own" if own else "the school", local["source"])
            self.same_answer()

    def test_what_cannot_be_read_is_not_written(self):
        self.put("plans/bench.toml", demo("../school.toml"))
        result = run("flatten", "plans/bench.toml", "--output", "flat.toml", cwd=self.root)
        self.assertEqual(2, result.returncode)
        self.assertFalse((self.root / "flat.toml").exists() and (self.root / "flat.toml").read_text())


del Base  # its tests are another file's
if __name__ == "__main__":
    unittest.main()
