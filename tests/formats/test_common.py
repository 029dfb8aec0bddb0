"""Common files on a disk: what is read, what is refused, where things are told."""
import json
import os
import pathlib
import shutil
import socket
import subprocess
import tempfile
import unittest

from judges import PROGRAM, ROOT, faults, run, schema

import jsonschema

HEAD = "format = 1\n\n[common]\ntitle = \"the school\"\n\n"
SECRET = "the secret word 4711"


def demo(*common, name="heron-lane.toml"):
    """The demo plan with these names of common files."""
    text = (ROOT / "data/plans" / name).read_text(encoding="utf-8")
    return text.replace("[plan]\n", "[plan]\ncommon = [" + (",\n" if len(common) > 9 else ", ").join(json.dumps(c) for c in common) + "]\n", 1)


def moved(text, *headers):
    """Tables taken out of a text, and the text without them."""
    taken = ""
    for header in headers:
        start = text.index(header)
        end = text.find("\n[", start + 1)
        end = len(text) if end < 0 else end + 1
        taken += text[start:end]
        text = text[:start] + text[end:]
    return taken, text


class Common(unittest.TestCase):
    def setUp(self):
        self.folder = tempfile.TemporaryDirectory()
        self.root = pathlib.Path(self.folder.name) / "root"
        (self.root / "plans").mkdir(parents=True)
        self.outside = pathlib.Path(self.folder.name) / "outside.toml"
        self.outside.write_text(HEAD + f"# {SECRET}\n[stock.lead2]\ntype = \"{SECRET}\"\n")

    def tearDown(self):
        self.folder.cleanup()

    def put(self, name, text):
        path = self.root / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding="utf-8")
        return path

    def check(self, *arguments):
        result = run("check", *arguments, cwd=self.root)
        told = (result.stdout + result.stderr).decode()
        self.assertNotIn(SECRET, told)
        self.assertNotIn("Sanitizer", told)
        return result.returncode, told

    def refused(self, words, *common):
        self.put("plans/bench.toml", demo(*common))
        for format in ("text", "json", "sarif", "junit"):
            code, told = self.check("plans/bench.toml", "--format", format)
            self.assertEqual(2, code, told)
            if format == "text":
                self.assertIn(words, " ".join(told.replace("|", " ").split()))

    def test_shared_house(self):
        shared, rest = moved(demo("../school.toml"), "[supply.", "[device.", "[stock.house]", "[outlet.wall]", "[stock.lead]")
        self.put("school.toml", HEAD + shared)
        self.put("plans/bench.toml", rest)
        self.put("alone.toml", (ROOT / "data/plans/heron-lane.toml").read_text())
        code, told = self.check("plans/bench.toml")
        self.assertEqual(0, code, told)
        alone = self.check("alone.toml")[1]
        self.assertEqual([line for line in alone.splitlines() if ".toml" not in line], [line for line in told.splitlines() if ".toml" not in line])
        # A what-if reaches a common stock, and the place is told in both files.
        code, told = self.check("plans/bench.toml", "--set", "stock.lead.section=0.75 mm2")
        self.assertEqual(1, code, told)
        self.put("school.toml", HEAD + shared.replace('section   = "1.5 mm2"', 'section   = "0.75 mm2"'))
        code, told = self.check("plans/bench.toml")
        self.assertEqual(1, code)
        # In JSON and SARIF the common file is named.
        result = json.loads(run("check", "plans/bench.toml", "--format", "json", "--full", cwd=self.root).stdout)
        self.assertEqual([], faults(result, jsonschema.Draft202012Validator(schema("output.schema.json"))))
        files = {o["place"]["file"] for o in result["plans"][0]["outcomes"] if o["place"]}
        self.assertEqual({None, "school.toml"}, files)
        sarif = json.loads(run("check", "plans/bench.toml", "--format", "sarif", cwd=self.root).stdout)
        uris = {r["locations"][0]["physicalLocation"]["artifactLocation"]["uri"] for r in sarif["runs"][0]["results"]}
        self.assertEqual({"plans/bench.toml", "school.toml"}, uris)

    def test_folder_with_common_files(self):
        shared, rest = moved(demo("common/lead.toml"), "[stock.lead]")
        self.put("common/lead.toml", HEAD + shared)
        self.put("bench.toml", rest)
        code, told = self.check(".")
        self.assertEqual(0, code, told)
        self.assertIn("1 common file is judged with the plans that use it", " ".join(told.split()))
        code, told = self.check("common/lead.toml")
        self.assertEqual(0, code)
        self.assertIn("a common file without a mistake", told)
        self.put("common/lead.toml", HEAD + shared.replace("section", "sektion"))
        code, told = self.check(".")
        self.assertEqual(2, code)
        self.assertIn("stock.lead has no field sektion", told)
        self.assertIn("lead.toml:8:1", told)
        self.assertIn("which this plan reads", told)

    def test_out_of_the_root(self):
        words = "leads out of ., the folder below which common files are read (--root)"
        self.refused('"../../outside.toml" ' + words, "../../outside.toml")
        self.refused('"../../no-such-file" ' + words, "../../no-such-file")
        self.refused("is an absolute path", str(self.outside))
        self.refused("is an absolute path", "/etc/passwd")
        (self.root / "link.toml").symlink_to(self.outside)
        self.refused('"../link.toml" ' + words, "../link.toml")
        (self.root / "folder").symlink_to(self.outside.parent)
        self.refused(words, "../folder/outside.toml")
        # A root that is said takes the place of the working directory.
        self.put("plans/bench.toml", demo("../school.toml"))
        self.put("school.toml", HEAD)
        self.assertEqual(0, self.check("plans/bench.toml")[0])
        code, told = self.check("plans/bench.toml", "--root", "plans")
        self.assertEqual(2, code)
        self.assertIn("leads out of plans", told)
        self.assertEqual(2, self.check("plans/bench.toml", "--root", "nowhere")[0])
        up = subprocess.run([PROGRAM, "check", "bench.toml", "--root", ".."], cwd=self.root / "plans", capture_output=True)
        self.assertEqual(0, up.returncode, up.stdout)
        self.assertEqual(2, subprocess.run([PROGRAM, "check", "bench.toml"], cwd=self.root / "plans", capture_output=True).returncode)

    def test_links_inside_are_followed(self):
        self.put("real.toml", HEAD)
        (self.root / "link.toml").symlink_to("real.toml")
        self.put("plans/bench.toml", demo("../link.toml", "../real.toml"))  # one file under two names
        self.assertEqual(0, self.check("plans/bench.toml")[0])
        (self.root / "plans/linked").symlink_to("../plans")
        self.put("plans/bench.toml", demo("linked/../real.toml"))
        self.assertEqual(0, self.check("plans/bench.toml")[0])

    def test_no_common_file(self):
        for name, text in {"text": SECRET, "plan.toml": demo(), "empty": "", "broken.toml": f"x = [ {SECRET}\n[a]\nb = {SECRET}\n",
                           "wrong.toml": f"common = \"{SECRET}\"\n"}.items():
            self.put(name, text)
            self.refused(f'"../{name}" is no common file: it has no [common]', "../" + name)
        self.refused("is not there", "../absent.toml")
        self.refused("is no plain file", "..")
        self.refused("is no name of a file", "")
        self.refused("is no name of a file", "\u0000")
        os.mkfifo(self.root / "pipe")
        self.refused("is no plain file", "../pipe")
        listening = socket.socket(socket.AF_UNIX)
        listening.bind(str(self.root / "socket"))
        self.refused("is no plain file", "../socket")
        listening.close()
        os.symlink("/dev/zero", self.root / "zero")
        self.refused("leads out of", "../zero")
        closed = self.put("closed.toml", HEAD)
        closed.chmod(0)
        if os.geteuid() != 0:
            self.refused("cannot be read", "../closed.toml")
        loop = self.root / "loop"
        loop.symlink_to("loop")
        self.put("plans/bench.toml", demo("../loop"))
        self.assertEqual(2, self.check("plans/bench.toml")[0])
        self.put("large.toml", HEAD + "#" * 80 + "\n" + ("# " + "x" * 70 + "\n") * 70000)
        self.refused("has more than 4 MiB", "../large.toml")

    def test_itself_and_ten_thousand_names(self):
        self.put("self.toml", "format = 1\n[common]\ncommon = [\"self.toml\"]\n")
        self.refused("leads back to itself", "../self.toml")
        self.put("plans/bench.toml", demo("bench.toml"))
        self.assertIn("is no common file", self.check("plans/bench.toml")[1])
        self.put("many.toml", HEAD + "".join(f"[load.t{i}]\nkind = \"tool\"\nplate = {{ current = \"3 A\" }}\n" for i in range(10000)))
        for i in range(30):
            self.put(f"plans/{i}.toml", demo("../many.toml"))
        (self.root / "plans/bench.toml").unlink()
        code, told = self.check("plans")
        self.assertEqual(0, code, told)
        self.put("other.toml", (self.root / "many.toml").read_text())
        self.put("plans/twice.toml", demo("../many.toml", "../other.toml"))
        code, told = self.check("plans/twice.toml")
        self.assertEqual(2, code)
        self.assertIn("load.t0 is there twice", told)

    def test_size_never_writes_a_common_file(self):
        shared, rest = moved(demo("../school.toml"), "[stock.lead]")
        school = self.put("school.toml", HEAD + shared)
        bench = self.put("plans/bench.toml", rest.replace('length = "5 m"', 'length = "24 m"'))
        before = school.read_bytes(), bench.read_bytes()
        result = run("size", "plans/bench.toml", "--write", "plans/bench.toml", cwd=self.root)
        self.assertEqual(2, result.returncode, result.stdout)
        self.assertIn("stock.lead is in a common file", " ".join(result.stderr.decode().split()))
        self.assertEqual(before, (school.read_bytes(), bench.read_bytes()))

    def test_no_output_takes_the_place_of_a_common_file(self):
        shared, rest = moved(demo("../school.toml"), "[stock.lead]")
        school = self.put("school.toml", HEAD + shared)
        self.put("plans/bench.toml", rest)
        before = school.read_bytes()
        for command in (["check", "plans/bench.toml", "--output", "school.toml"], ["flatten", "plans/bench.toml", "--output", "./school.toml"],
                        ["size", "plans/bench.toml", "--write", "school.toml"], ["check", "plans/bench.toml", "--report", "school.toml"]):
            result = run(*command, cwd=self.root)
            self.assertEqual(2, result.returncode, command)
            self.assertIn(b"nothing was written", result.stderr)
            self.assertEqual(before, school.read_bytes())
            self.assertEqual([], list(self.root.glob("school.toml.*")))

    def test_ten_thousand_common_files_are_not_looked_for(self):
        self.refused("10000 common files are named here; at most 64 are read", *[f"no-{i}.toml" for i in range(10000)])

    def test_other_commands(self):
        shared, rest = moved(demo("../school.toml"), "[stock.lead]", "[supply.")
        self.put("school.toml", HEAD + shared)
        self.put("plans/bench.toml", rest)
        for command in (["together"], ["parts"], ["card"], ["size"], ["compare", "plans/bench.toml"], ["check", "--try", "box.junction.cable.length=1 m to 9 m"]):
            result = run(*command, "plans/bench.toml", cwd=self.root)
            self.assertIn(result.returncode, (0, 1), (command, result.stderr))
        # What is the same for people is told by its digest: that of the plan alone would not see the common file change.
        digest = [line for line in run("card", "plans/bench.toml", cwd=self.root).stdout.decode().splitlines() if "digest" in line]
        self.put("school.toml", HEAD + shared + "# changed\n")
        self.assertNotEqual(digest, [line for line in run("card", "plans/bench.toml", cwd=self.root).stdout.decode().splitlines() if "digest" in line])


if __name__ == "__main__":
    unittest.main()
