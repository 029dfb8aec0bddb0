"""Runs as a CI job meets them: many plans, exit codes, interruption, streams, files, locales, encodings."""
import contextlib
import fcntl
import json
import os
import pathlib
import pty
import re
import resource
import shutil
import signal
import struct
import subprocess
import tempfile
import termios
import time
import unittest

from judges import BAD, GOOD, PROGRAM, ROOT, RULE_PLANS, run

HERON, BARN, BROKEN = "data/plans/heron-lane.toml", "data/plans/crooked-barn.toml", "tests/plans/bad/key-twice.toml"


@contextlib.contextmanager
def folder():
    with tempfile.TemporaryDirectory() as name:
        os.chmod(name, 0o755)
        yield pathlib.Path(name)


def run_as_nobody(*arguments, cwd):
    """Root may read everything: what cannot be read is looked at by somebody else."""
    program = os.open(PROGRAM, os.O_PATH)
    try:
        extra = {"user": 65534, "group": 65534, "extra_groups": []} if os.geteuid() == 0 else {}
        return subprocess.run([f"/proc/self/fd/{program}", *map(str, arguments)], pass_fds=[program], capture_output=True, cwd=cwd, **extra)
    finally:
        os.close(program)


def without_progress(aside):
    """What is left on standard error: a machine under load may take longer than a second."""
    return b"".join(line for line in aside.splitlines(True) if not (line.startswith(b"benchfeed: ") and line.endswith(b" plans\n")))


def on_a_terminal(*arguments, wide=80, **variables):
    """What the program writes to a terminal so many columns wide."""
    ours, theirs = pty.openpty()
    environment = {**{k: v for k, v in os.environ.items() if k != "NO_COLOR"}, "TERM": "xterm"}
    fcntl.ioctl(theirs, termios.TIOCSWINSZ, struct.pack("HHHH", 24, wide, 0, 0))
    with subprocess.Popen([PROGRAM, *arguments], stdin=theirs, stdout=theirs, stderr=theirs, cwd=ROOT, env={**environment, **variables}) as process:
        os.close(theirs)
        told = b""
        with contextlib.suppress(OSError):
            while piece := os.read(ours, 65536):
                told += piece
        os.close(ours)
        process.wait()
    return told.decode()


class ManyPlans(unittest.TestCase):
    def test_results_come_in_the_order_of_the_arguments_whatever_the_jobs(self):
        plans = [*GOOD[::-1], *BAD, HERON, HERON]
        for style in ("text", "json", "sarif", "junit"):
            alone = run("check", "--format", style, "--jobs", 1, *plans)
            for jobs in (2, 5):
                together = run("check", "--format", style, "--jobs", jobs, *plans)
                self.assertEqual((alone.returncode, alone.stdout, without_progress(alone.stderr)), (together.returncode, together.stdout, without_progress(together.stderr)))
        headings = [line[3:] for line in run("check", *plans).stdout.decode().splitlines() if line.startswith("== ")]
        self.assertEqual(plans, headings)

    def test_one_broken_file_never_hides_the_others(self):
        with folder() as here:
            for name, source in (("a.toml", HERON), ("b.toml", BROKEN), ("sub/c.toml", BARN), ("sub/d.txt", BARN)):
                (here / name).parent.mkdir(exist_ok=True)
                shutil.copy(ROOT / source, here / name)
            result = run("check", "--quiet", here, here / "gone.toml")
            told = result.stdout.decode()
            self.assertEqual(2, result.returncode)
            self.assertIn("No problem found", told)
            self.assertIn("Do not use yet", told)
            self.assertIn("poles is written twice", told)
            self.assertIn("4 plans: 1 without a finding at the level asked for, 1 with, 2 unreadable", told)
            self.assertNotIn("d.txt", told)
            report = json.loads(run("check", "--format", "json", here, here / "gone.toml").stdout)
            self.assertEqual([str(here / "a.toml"), str(here / "sub/c.toml")], [p["path"] for p in report["plans"]])
            self.assertEqual({str(here / "b.toml"), str(here / "gone.toml")}, {e["path"] for e in report["errors"]})

    def test_a_pattern_that_no_shell_expanded(self):
        with folder() as here:
            for name in ("b1.toml", "a1.toml", "a2.toml", "c*.toml"):
                shutil.copy(ROOT / HERON, here / name)
            heads = lambda *patterns: [pathlib.Path(l[3:]).name for l in run("check", "--quiet", *patterns).stdout.decode().splitlines() if l.startswith("== ")]
            self.assertEqual(["a1.toml", "a2.toml", "b1.toml"], heads(here / "[ab]?.toml"))
            self.assertEqual(["c*.toml", "b1.toml"], heads(here / "c*.toml", here / "b1.toml"))  # a file of that name is a file
            missed = run("check", here / "z*.toml")
            self.assertEqual((2, b""), (missed.returncode, missed.stdout))
            self.assertIn(b"no file matches", missed.stderr)

    def test_a_folder_that_cannot_be_read_is_an_error(self):
        with folder() as here:
            (here / "open").mkdir()
            (here / "locked").mkdir()
            for name in ("a.toml", "open/b.toml", "locked/c.toml"):
                shutil.copy(ROOT / HERON, here / name)
                os.chmod(here / name, 0o644)
            os.chmod(here / "open", 0o755)
            os.chmod(here / "locked", 0o000)
            result = run_as_nobody("check", "--quiet", ".", cwd=here)
            self.assertEqual(2, result.returncode)
            self.assertIn(b"cannot read folder ./locked: Permission denied", result.stderr)
            self.assertEqual(2, result.stdout.count(b"No problem found"))
            self.assertIn(b"3 plans: 2 without a finding at the level asked for, 0 with, 1 unreadable", result.stdout)
            report = json.loads(run_as_nobody("check", "--format", "json", ".", cwd=here).stdout)
            self.assertEqual(["./locked"], [e["path"] for e in report["errors"]])
            os.chmod(here / "a.toml", 0o000)
            result = run_as_nobody("check", "--quiet", ".", cwd=here)
            self.assertIn(b"cannot open ./a.toml: Permission denied", result.stderr)
            os.chmod(here / "locked", 0o755)

    def test_folders_without_plans_loops_and_folders_that_look_like_plans(self):
        with folder() as here:
            self.assertEqual(2, run("check", here).returncode)
            self.assertIn(b"there is no .toml file in", run("check", here).stderr)
            (here / "loop").symlink_to(here)
            (here / "not-a-plan.toml").mkdir()
            shutil.copy(ROOT / HERON, here / "not-a-plan.toml" / "inner.toml")
            result = run("check", "--quiet", here)
            self.assertEqual((0, 1), (result.returncode, result.stdout.count(b"No problem")))
            (here / "itself.toml").symlink_to("itself.toml")
            self.assertEqual(2, run("check", here / "itself.toml").returncode)

    def test_standard_input_beside_files(self):
        text = (ROOT / BARN).read_bytes()
        report = json.loads(run("check", "--format", "json", HERON, "-", stdin=text).stdout)
        self.assertEqual([HERON, "standard input"], [p["path"] for p in report["plans"]])
        sarif = json.loads(run("check", "--format", "sarif", "-", stdin=text).stdout)
        self.assertEqual("stdin", sarif["runs"][0]["results"][0]["locations"][0]["physicalLocation"]["artifactLocation"]["uri"])

    def test_progress_only_when_it_takes_longer_than_a_second(self):
        began = time.monotonic()
        aside = run("check", "--quiet", *GOOD[:20]).stderr
        if time.monotonic() - began < 1:
            self.assertEqual(b"", aside)
        with subprocess.Popen([PROGRAM, "check", "--quiet", "--jobs", "2", HERON, "-", BARN], cwd=ROOT, stdin=subprocess.PIPE,
                              stdout=subprocess.PIPE, stderr=subprocess.PIPE) as process:
            time.sleep(1.5)
            told, aside = process.communicate((ROOT / HERON).read_bytes())
        self.assertEqual(1, process.returncode)
        self.assertTrue(aside.startswith(b"benchfeed: 1 of 3 plans\n"), aside)
        self.assertNotIn(b" of 3 plans", told)


    def test_a_terminal_says_what_takes_so_long_and_the_line_goes(self):
        tools = [word for n in range(40) for word in ("--tool", f"t{n} {100 + 37 * n} W {1 + n * 0.31:.2f} A")]
        with folder() as here:
            (here / "many.toml").write_bytes(run("new", "--region", "EU", *tools).stdout)
            began = time.monotonic()
            shown = on_a_terminal("together", str(here / "many.toml"))
            if time.monotonic() - began > 2:
                self.assertIn("benchfeed: looking for sets ...\r\033[K", shown)
            self.assertNotIn("looking", on_a_terminal("together", HERON))


class ExitCodes(unittest.TestCase):
    def test_every_documented_code(self):
        unknown, essential = f"{RULE_PLANS}/running-drop-cannot-judge.toml", f"{RULE_PLANS}/plug-overloaded-cannot-judge.toml"
        for code, arguments in [
            (0, ["check", HERON]), (1, ["check", BARN]), (2, ["check", BROKEN]), (2, ["check", "gone.toml"]), (2, ["check"]),
            (2, ["check", BARN, BROKEN]), (2, ["check", BROKEN, HERON]), (1, ["check", HERON, BARN]),
            (0, ["check", unknown]), (1, ["check", "--fail-on", "unknown", unknown]), (1, ["check", essential]),
            (1, ["check", "--strict", HERON]), (0, ["check", "--fail-on", "unknown", HERON]), (1, ["check", "--fail-on", "caution", HERON]),
            (2, ["check", "--set", "nonsense", HERON]), (2, ["check", "--format", "yaml", HERON]), (2, ["check", "--jobs", "0", HERON]),
            (0, ["rules"]), (0, ["tables"]), (0, ["tables", "bs-4f3a"]), (2, ["tables", "none-such"]), (0, ["explain", "plan.unreadable"]),
            (0, ["schema"]), (0, ["new", "--region", "US"]), (2, ["new"]), (2, ["new", "--region", "XX"]), (0, ["completions", "man"]),
            (2, ["completions", "csh"]), (0, ["compare", HERON, HERON]), (1, ["compare", HERON, BARN]), (0, ["compare", "--no-fail-on-worse", HERON, BARN]),
            (2, ["compare", HERON, BROKEN]), (2, ["compare", "gone.toml", HERON]), (2, ["compare", HERON]),
            (2, ["rules", "--format", "sarif"]), (2, ["explain", "none-such"]), (2, []), (2, ["wibble"]), (2, ["check", "--wibble", HERON]), (0, ["--version"]), (0, ["--help"]),
        ]:
            for style in (["--format", "json"], ["--format", "sarif"], ["--format", "junit"], []) if arguments[:1] == ["check"] else ([],):
                if style and "--format" in arguments:
                    continue
                self.assertEqual(code, run(*arguments, *style).returncode, (arguments, style))


class Interrupted(unittest.TestCase):
    def interrupted(self, which, *arguments):
        with subprocess.Popen([PROGRAM, *arguments], cwd=ROOT, stdin=subprocess.PIPE, stdout=subprocess.PIPE, stderr=subprocess.PIPE) as process:
            time.sleep(0.4)  # it waits for its standard input
            process.send_signal(which)
            code = process.wait(timeout=10)
        return code

    def test_codes(self):
        for jobs in ("1", "2"):
            self.assertEqual(130, self.interrupted(signal.SIGINT, "check", "--jobs", jobs, "-", HERON))
            self.assertEqual(143, self.interrupted(signal.SIGTERM, "check", "--jobs", jobs, "-", HERON))
            self.assertEqual(129, self.interrupted(signal.SIGHUP, "check", "--jobs", jobs, "-", HERON))

    def test_nothing_half_written(self):
        with folder() as here:
            report = here / "report.json"
            report.write_text("the old one")
            for which, code in ((signal.SIGINT, 130), (signal.SIGTERM, 143), (signal.SIGHUP, 129)):
                self.assertEqual(code, self.interrupted(which, "check", "--format", "json", "--output", str(report), HERON, "-"))
                self.assertEqual(["report.json"], os.listdir(here))
                self.assertEqual("the old one", report.read_text())


class Output(unittest.TestCase):
    def test_a_reader_that_goes_away_does_not_change_the_answer(self):
        command = f'"$0" check {BARN} | head -1 > /dev/null; echo "${{PIPESTATUS[0]}}" >&2'
        result = subprocess.run(["bash", "-c", command, PROGRAM], cwd=ROOT, capture_output=True)
        self.assertEqual("1", result.stderr.decode().strip())
        ours, theirs = os.pipe()
        os.close(ours)
        for style in ("text", "json", "sarif", "junit"):
            result = subprocess.run([PROGRAM, "check", "--format", style, *GOOD, BARN], cwd=ROOT, stdout=theirs, stderr=subprocess.PIPE)
            self.assertEqual((1, b""), (result.returncode, without_progress(result.stderr)), style)
        os.close(theirs)

    def test_a_closed_standard_output_is_told(self):
        for style in ("text", "json", "sarif", "junit"):
            result = subprocess.run(["bash", "-c", f'exec "$0" check --format {style} {BARN} >&-', PROGRAM], cwd=ROOT, capture_output=True)
            self.assertEqual(2, result.returncode)
            self.assertIn(b"cannot write the report: standard output is closed", result.stderr)

    def test_a_full_device_is_told(self):
        with open("/dev/full", "wb") as full:
            result = subprocess.run([PROGRAM, "check", HERON], cwd=ROOT, stdout=full, stderr=subprocess.PIPE)
        self.assertEqual(2, result.returncode)
        self.assertIn(b"cannot write the report: No space left on device", result.stderr)

    def test_a_file_is_whole_or_untouched(self):
        with folder() as here:
            for style in ("text", "json", "sarif", "junit"):
                report = here / f"report.{style}"
                result = run("check", "--format", style, "--output", report, BARN)
                self.assertEqual((1, b"", b""), (result.returncode, result.stdout, result.stderr))
                self.assertEqual(run("check", "--format", style, BARN).stdout, report.read_bytes())
                self.assertEqual(0o644, report.stat().st_mode & 0o777)
            report.chmod(0o640)
            run("check", "--output", report, BARN)
            self.assertEqual(0o640, report.stat().st_mode & 0o777)
            (here / "link").symlink_to("report.text")
            run("check", "--output", here / "link", HERON)
            self.assertTrue((here / "link").is_symlink())
            self.assertEqual(run("check", HERON).stdout, (here / "report.text").read_bytes())
            self.assertEqual(5, len(os.listdir(here)))

            def no_room():
                signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
                resource.setrlimit(resource.RLIMIT_FSIZE, (20000, 20000))
            before = report.read_bytes()
            result = subprocess.run([PROGRAM, "check", "--format", "sarif", "--output", report, *GOOD], cwd=ROOT, capture_output=True, preexec_fn=no_room)
            self.assertEqual(2, result.returncode)
            self.assertIn(b"cannot write", result.stderr)
            self.assertEqual(before, report.read_bytes())
            self.assertEqual(5, len(os.listdir(here)))

    def test_a_place_that_cannot_be_written(self):
        with folder() as here:
            for target in (here / "no/such/folder/report", here):
                result = run("check", HERON, "--output", target)
                self.assertEqual((2, b""), (result.returncode, result.stdout), target)
                self.assertIn(b"benchfeed: cannot write", result.stderr)
            shutil.copy(ROOT / HERON, here / "plan.toml")
            os.chmod(here / "plan.toml", 0o644)
            (here / "report").write_text("old")
            result = run_as_nobody("check", "plan.toml", "--output", "report", cwd=here)
            self.assertEqual(2, result.returncode)
            self.assertEqual("old", (here / "report").read_text())
        self.assertEqual(0, run("check", HERON, "--output", "/dev/null").returncode)
        self.assertTrue(pathlib.Path("/dev/null").is_char_device())


class Surroundings(unittest.TestCase):
    def test_the_locale_changes_nothing(self):
        plain = run("check", *GOOD, environment={"LC_ALL": "C"}).stdout
        with folder() as here:
            for name, point in (("de_DE", ","), ("tr_TR", ",")):
                subprocess.run(["localedef", "-i", name, "-f", "UTF-8", here / f"{name}.UTF-8"], check=True, capture_output=True)
                foreign = {"LOCPATH": str(here), "LC_ALL": f"{name}.UTF-8", "LANG": f"{name}.UTF-8", "TZ": "Asia/Tokyo"}
                told = subprocess.run(["locale", "decimal_point"], env={**os.environ, **foreign}, capture_output=True).stdout.decode().strip()
                self.assertEqual(point, told, "the locale is not in force")
                self.assertEqual(plain, run("check", *GOOD, environment=foreign).stdout)
                for style in ("json", "sarif", "junit"):
                    self.assertEqual(run("check", "--format", style, *GOOD).stdout, run("check", "--format", style, *GOOD, environment=foreign).stdout)
                self.assertEqual(2, run("check", "--set", "box.junction.cable.length=3,5 m", HERON, environment=foreign).returncode)

    def test_colour(self):
        self.assertIn("\033[1;31m", on_a_terminal("check", BARN))
        self.assertNotIn("\033", on_a_terminal("check", BARN, NO_COLOR="1"))
        self.assertIn("\033", on_a_terminal("check", BARN, NO_COLOR=""))
        self.assertNotIn("\033", on_a_terminal("check", "--color", "never", BARN))
        self.assertIn("\033", on_a_terminal("check", "--color", "always", BARN, NO_COLOR="1"))
        for terminal in ("dumb", ""):
            self.assertNotIn("\033", on_a_terminal("check", BARN, TERM=terminal), terminal)
        for style in ("json", "sarif", "junit"):
            self.assertNotIn("\033", on_a_terminal("check", "--format", style, BARN))
        self.assertNotIn(b"\033", run("check", BARN).stdout)

    def test_level_place_and_cure_stand_out(self):
        lines = on_a_terminal("check", BARN)
        for inked in ("\033[1;31mfail\033[0m: ", "\033[36m[switch.saw]\033[0m", "\033[1;32mCure"):
            self.assertIn(inked, lines)

    def test_no_line_runs_over_on_narrow_terminals(self):
        for wide in (30, 40, 64, 80, 120, 200):
            for arguments in (("check", BARN), ("check", "--full", BARN), ("check", "--about", "load.saw", BARN)):
                lines = re.sub("\033\\[[0-9;]*m", "", on_a_terminal(*arguments, wide=wide)).split("\r\n")
                # Lines to add to a plan are copied as they are, and steps are as long as their longest word.
                lines = [line for line in lines if not line.startswith("      ")]
                self.assertLessEqual(max(map(len, lines)), min(wide, 120), (wide, arguments))
                self.assertGreater(len(lines), 20)

    def test_input_that_is_no_utf8(self):
        text = (ROOT / HERON).read_text(encoding="utf-8").replace("Heron Lane bench", "Heron Länë bench")
        with folder() as here:
            for encoding in ("latin-1", "utf-16", "utf-32"):
                (here / f"{encoding}.toml").write_bytes(text.encode(encoding))
            (here / "cut.toml").write_bytes(text.encode("utf-8").replace("ë".encode(), b"\xc3"))
            (here / "long.toml").write_bytes(text.encode("utf-8").replace("ë".encode(), b"\xc0\xaf\xf5\x80"))
            for plan in sorted(here.iterdir()):
                for style in ("text", "json", "sarif", "junit"):
                    result = run("check", "--format", style, plan)
                    self.assertEqual(2, result.returncode, plan)
                    result.stdout.decode("utf-8")
            (here / "marked.toml").write_bytes(b"\xef\xbb\xbf" + text.encode("utf-8"))
            self.assertEqual(0, run("check", here / "marked.toml").returncode)


if __name__ == "__main__":
    unittest.main()
