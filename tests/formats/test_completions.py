"""Completions for three shells and the manual page: loaded by the shells and by groff, complete against --help."""
import os
import pathlib
import re
import shutil
import subprocess
import tempfile
import unittest

from judges import PROGRAM, ROOT, output_of, run


def commands():
    return re.findall(r"^  ([a-z]+) ", run("--help").stdout.decode().split("Subcommands:")[1], re.M)


def options(command):
    return sorted(set(re.findall(r"--[a-z-]+", run(command, "--help").stdout.decode().split("Options:")[1].split("\n\n")[0])) - {"--help"})


class Shells(unittest.TestCase):
    def setUp(self):
        self.folder = tempfile.TemporaryDirectory()
        self.root = pathlib.Path(self.folder.name)
        (self.root / "bin").mkdir()
        (self.root / "bin/benchfeed").symlink_to(PROGRAM)
        for name in ("a.toml", "b.toml", "c.txt"):
            shutil.copy(ROOT / "data/plans/heron-lane.toml", self.root / name)
        self.environment = {**os.environ, "PATH": f"{self.root / 'bin'}:{os.environ['PATH']}", "HOME": str(self.root), "TERM": "xterm"}

    def tearDown(self):
        self.folder.cleanup()

    def written(self, shell):
        path = self.root / f"_benchfeed.{shell}"
        result = run("completions", shell, "--output", path)
        self.assertEqual((0, b""), (result.returncode, result.stderr))
        return path

    def bash(self, *words):
        script = ('source "$1"; shift; COMP_WORDS=("$@"); COMP_CWORD=$(($# - 1)); _benchfeed; printf "%s\\n" "${COMPREPLY[@]}"')
        result = subprocess.run(["bash", "--norc", "-c", script, "bash", self.written("bash"), "benchfeed", *words], cwd=self.root, env=self.environment, capture_output=True, check=True)
        self.assertEqual(b"", result.stderr)
        return sorted(filter(None, result.stdout.decode().split("\n")))

    def fish(self, line):
        script = f"source {self.written('fish')}; complete -C '{line}'"
        result = subprocess.run(["fish", "--no-config", "-c", script], cwd=self.root, env=self.environment, capture_output=True, check=True)
        return sorted(word.split("\t")[0] for word in result.stdout.decode().splitlines())

    def zsh(self, line):
        """What zsh offers in a pseudo-terminal of its own."""
        path = self.written("zsh")
        (self.root / "functions").mkdir(exist_ok=True)
        shutil.copy(path, self.root / "functions/_benchfeed")
        script = f"""
            zmodload zsh/zpty
            zpty z zsh -f -i
            zpty -w z 'PS1= PROMPT= RPROMPT=; unsetopt zle_bracketed_paste; fpath=({self.root}/functions $fpath)'
            zpty -w z 'autoload -Uz compinit; compinit -u -d {self.root}/dump; LISTMAX=0; setopt list_rows_first no_always_last_prompt'
            zpty -w z 'zstyle ":completion:*" list-prompt ""; zstyle ":completion:*" verbose no; bindkey "^I" list-choices; echo READY'
            zpty -r -m z _ '*READY*READY*'
            zpty -n -w z $'{line}\\t'
            sleep 1.5
            zpty -w z $'\\x03'
            zpty -w z 'echo OVER'
            zpty -r -m z told '*OVER*OVER*'
            print -r -- "$told"
        """
        result = subprocess.run(["zsh", "-f", "-c", script], cwd=self.root, env=self.environment, capture_output=True, timeout=60)
        return re.sub(rb"\x1b\[[0-9;?]*[A-Za-z]", b"", result.stdout).decode(errors="replace").split()

    def test_bash(self):
        self.assertEqual(sorted(commands()), [word for word in self.bash("") if not word.startswith("-")])
        self.assertEqual(["check"], self.bash("che"))
        for command in commands():
            self.assertLessEqual(set(options(command)), set(self.bash(command, "--")), command)
        self.assertEqual(["json", "junit", "markdown", "sarif", "text"], self.bash("check", "--format", ""))
        self.assertEqual(["caution", "fail", "unknown"], self.bash("check", "a.toml", "--fail-on", ""))
        self.assertEqual(["a.toml", "b.toml", "bin"], self.bash("check", ""))
        self.assertEqual(["json", "text"], self.bash("rules", "--format", ""))
        rules = [rule["rule"] for rule in output_of("rules", "--format", "json")["rules"]]
        self.assertEqual(sorted(rules), self.bash("explain", ""))
        self.assertIn("bs-4f3a", self.bash("tables", "bs-4f"))
        self.assertEqual(["auto", "always", "never"], sorted(self.bash("--color", ""), key=["auto", "always", "never"].index))

    def test_fish(self):
        self.assertIsNotNone(shutil.which("fish"))
        self.assertLessEqual(set(commands()), set(self.fish("benchfeed ")))
        self.assertEqual(["json", "junit", "markdown", "sarif", "text"], self.fish("benchfeed check --format "))
        for command in commands():
            self.assertLessEqual(set(options(command)), set(self.fish(f"benchfeed {command} --")) | {"--no-fail-on-worse"}, command)
        self.assertLessEqual({"a.toml", "b.toml"}, set(self.fish("benchfeed check ")))
        self.assertIn("plan.unreadable", self.fish("benchfeed explain plan."))

    def test_zsh(self):
        self.assertIsNotNone(shutil.which("zsh"))
        subprocess.run(["zsh", "-n", self.written("zsh")], check=True)
        self.assertLessEqual(set(commands()), set(self.zsh("benchfeed ")))
        self.assertLessEqual({"json", "junit", "markdown", "sarif", "text"}, set(self.zsh("benchfeed check --format=")))
        told = self.zsh("benchfeed check ")
        self.assertLessEqual({"a.toml", "b.toml"}, set(told))
        self.assertNotIn("c.txt", told)

    def test_manual_page(self):
        page = self.written("man")
        result = subprocess.run(["groff", "-man", "-Tutf8", "-ww", page], capture_output=True, check=True)
        self.assertEqual(b"", result.stderr)
        text = re.sub(r"\x1b\[[0-9;]*m|.\x08", "", result.stdout.decode())
        for command in commands():
            self.assertIn(f"benchfeed {command}", text)
            for option in options(command):
                self.assertIn(option, text, command)
        self.assertIn("130 interrupted", text)

    def test_manual_page_of_every_command(self):
        installed = set(re.search(r"foreach\(command ([a-z ]+)\)", (ROOT / "cli/CMakeLists.txt").read_text()).group(1).split())
        self.assertEqual(set(commands()), installed)
        for command in commands():
            page = run("completions", "man", "--command", command).stdout
            result = subprocess.run(["groff", "-man", "-Tutf8", "-ww"], input=page, capture_output=True, check=True)
            self.assertEqual(b"", result.stderr, command)
            text = re.sub(r"\x1b\[[0-9;]*m|.\x08", "", result.stdout.decode())
            self.assertIn(f"benchfeed-{command} - ", re.sub(" +", " ", text))
            for option in options(command):
                self.assertIn(option, text, command)
        for words, told in ((("man", "--command", "nothing"), "there is no command nothing; `benchfeed --help` lists them"),
                            (("bash", "--command", "check"), "--command is for the manual page: completions man --command check")):
            result = run("completions", *words)
            self.assertEqual((2, b"", f"benchfeed: {told}\n"), (result.returncode, result.stdout, result.stderr.decode()))

    def test_help_is_enough(self):
        for command in commands():
            told = run(command, "--help").stdout.decode()
            for option in options(command):
                line = next(line for line in told.splitlines() if option in line)
                self.assertGreater(len(line.replace(option, "").strip()), 10, (command, option))
        self.assertIn("Exit codes", run("--help").stdout.decode())


if __name__ == "__main__":
    unittest.main()
