"""The CI job and the hook of data/README.md, run as they stand there in a repository made for it."""
import os
import pathlib
import re
import shutil
import subprocess
import tempfile
import unittest
import xml.etree.ElementTree as ElementTree
import json

from judges import PROGRAM, ROOT


def block(name):
    """The shell text of data/README.md that calls itself so."""
    for text in re.findall(r"^```sh\n(.*?)^```$", (ROOT / "data/README.md").read_text(encoding="utf-8"), re.S | re.M):
        if f"# {name}\n" in text:
            return text
    raise AssertionError(f"data/README.md has no block \"# {name}\"")


class Docs(unittest.TestCase):
    def setUp(self):
        self.folder = tempfile.TemporaryDirectory()
        self.root = pathlib.Path(self.folder.name)
        (self.root / "bin").mkdir()
        (self.root / "bin/benchfeed").symlink_to(PROGRAM)
        self.repository = self.root / "repository"
        (self.repository / "plans").mkdir(parents=True)
        self.git("init", "-q")
        self.put("good.toml", "data/plans/heron-lane.toml")
        self.git("add", ".")
        self.git("commit", "-qm", "first")

    def tearDown(self):
        self.folder.cleanup()

    def environment(self):
        return {**os.environ, "PATH": f"{self.root / 'bin'}:{os.environ['PATH']}", "HOME": str(self.root), "GIT_CONFIG_NOSYSTEM": "1",
                "GIT_AUTHOR_NAME": "x", "GIT_AUTHOR_EMAIL": "x@example.org", "GIT_COMMITTER_NAME": "x", "GIT_COMMITTER_EMAIL": "x@example.org"}

    def git(self, *arguments, check=True):
        return subprocess.run(["git", *arguments], cwd=self.repository, env=self.environment(), capture_output=True, check=check)

    def put(self, name, source):
        shutil.copy(ROOT / source, self.repository / "plans" / name)

    def job(self, **variables):
        return subprocess.run(["sh", "-c", block("CI job")], cwd=self.repository, env={**self.environment(), **variables}, capture_output=True)

    def test_ci_job(self):
        result = self.job(BASE="HEAD")
        self.assertEqual(0, result.returncode, result.stderr)
        self.assertEqual([], [r for r in json.loads((self.repository / "reports/benchfeed.sarif").read_text())["runs"][0]["results"] if r["level"] == "error"])
        self.assertEqual("plans/good.toml", ElementTree.parse(self.repository / "reports/benchfeed.xml").getroot()[0].get("name"))
        self.put("bad.toml", "data/plans/crooked-barn.toml")
        result = self.job(BASE="HEAD")
        self.assertEqual(1, result.returncode)
        errors = [r for r in json.loads((self.repository / "reports/benchfeed.sarif").read_text())["runs"][0]["results"] if r["level"] == "error"]
        self.assertGreater(len(errors), 10)
        self.put("broken.toml", "tests/plans/bad/key-twice.toml")
        self.assertEqual(2, self.job(BASE="HEAD").returncode)

    def test_ci_job_tells_what_got_worse(self):
        good = self.repository / "plans/good.toml"
        good.write_text(good.read_text().replace('length = "5 m"', 'length = "30 m"'))
        result = self.job(BASE="HEAD")
        self.assertEqual(1, result.returncode)
        self.assertIn(b"Something got worse in 1 plan. 1 plans before, 1 now: 1 changed.", result.stdout)
        self.assertIn(b"length 5 m -> 30 m", result.stdout)

    def test_hook(self):
        hook = self.repository / ".git/hooks/pre-commit"
        hook.parent.mkdir(exist_ok=True)
        hook.write_text(block("pre-commit hook"))
        hook.chmod(0o755)

        def commit():
            self.git("add", "plans")
            return self.git("commit", "-qm", "x", check=False)
        (self.repository / "other.txt").write_text("x")
        self.git("add", "other.txt")
        self.assertEqual(0, commit().returncode, "nothing of it is a plan")
        self.put("second.toml", "data/plans/maple-row.toml")
        self.assertEqual(0, commit().returncode)
        self.put("with space.toml", "data/plans/crooked-barn.toml")
        refused = commit()
        self.assertEqual(1, refused.returncode)
        self.assertIn(b"plans/with space.toml", refused.stderr)
        # What is staged counts, not what lies in the tree.
        self.put("with space.toml", "data/plans/heron-lane.toml")
        self.assertEqual(1, self.git("commit", "-qm", "x", check=False).returncode)
        self.assertEqual(0, commit().returncode)


if __name__ == "__main__":
    unittest.main()
