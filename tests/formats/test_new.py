"""new: a plan that the reader takes, from nothing, from what a person knows, and from a conversation."""
import json
import os
import pathlib
import pty
import re
import signal
import subprocess
import tempfile
import time
import tomllib
import unittest

import jsonschema

from judges import PROGRAM, ROOT, faults, run

# What people know of ten benches, in the words of plates and shops.
KNOWN = {
    "three tools": ["--region", "EU", "--device", "B16 30 mA", "--lead", "3 m H07RN-F 3G1.5", "--tool", "saw 1600 W 7.0 A universal",
                    "--tool", "router 1400 W", "--extractor", "1200 W", "--switch", "2 poles 16(10) A no-volt"],
    "UK": ["--region", "UK", "--device", "BS 3036 30 A", "--plug", "BS 1363 13 A", "--lead", "5 m 3183Y 3G1.5", "--tool", "table saw 1500 W induction"],
    "US": ["--region", "US", "--device", "20 A 5 mA", "--lead", "10 ft SJOOW 12/3", "--tool", "saw 1800 W 15 A universal", "--switch", "2 poles 20 A"],
    "CH": ["--region", "CH", "--device", "C13 30 mA type A 6 kA", "--tool", "Säge 1400 W", "--tool", "router 800 W soft start"],
    "AU": ["--region", "AU", "--device", "20 A", "--lead", "8 m H07RN-F 3G1.0", "--tool", "saw 1800W 8.2A"],
    "240 V saw in the US": ["--region", "US", "--tool", "cabinet saw 3 hp 13 A 240 V induction", "--switch", "2 poles 20 A 3 hp no-volt coil 240 V"],
    "both voltages in the US": ["--region", "US", "--tool", "cabinet saw 3 hp 13 A 240 V induction", "--tool", "router 12 A universal", "--extractor", "8 A starts with cabinet-saw"],
    "three-phase planer": ["--region", "EU", "--supply", "230/400 V TN-S loop 0.4 ohm 3 kA", "--tool", "planer 3 kW 6.4 A 400 V induction",
                           "--tool", "sander 300 W universal", "--load", "lamp 20 W light"],
    "a planer that says three-phase": ["--region", "CH", "--device", "C13 3-pole 30 mA", "--tool", "planer 2.2 kW three-phase 5.0 A induction", "--extractor", "1200 W"],
    "one line of three": ["--region", "EU", "--supply", "230/400 V", "--tool", "saw 1200 W"],
    "eight tools": ["--region", "EU", *(word for n in range(1, 9) for word in ("--tool", f"t{n} {n}00 W"))],
}


class New(unittest.TestCase):
    def test_a_starter_for_every_region_checks_to_questions_only(self):
        validator = jsonschema.Draft202012Validator(json.loads(run("schema").stdout))
        regions = json.loads(run("schema").stdout)["properties"]["plan"]["properties"]["region"]["enum"]
        self.assertGreaterEqual(set(regions), {"EU", "UK", "US"})
        for region in regions:
            made = run("new", "--region", region)
            self.assertEqual(0, made.returncode, region)
            self.assertEqual([], faults(tomllib.loads(made.stdout.decode()), validator))
            result = run("check", "--format", "json", "--full", "-", stdin=made.stdout)
            self.assertEqual(1, result.returncode, "it has open essential questions")
            (plan,) = json.loads(result.stdout)["plans"]
            told = {(o["rule"], o["outcome"]) for o in plan["outcomes"]
                    if o["outcome"] == "fail" or (o["outcome"] == "caution" and not o["questions"])}
            self.assertLessEqual(told, {("plan.unknown", "caution"), ("plan.assumed", "caution")}, region)
            self.assertGreaterEqual(plan["counts"]["cannot judge"], 5)
            questions = sum(len(o["questions"]) for o in plan["outcomes"])
            self.assertGreater(questions, 20, region)
            for line in made.stdout.decode().splitlines():
                self.assertLessEqual(len(line), 120, line)
                # A remark behind a value on more than 80 columns makes a common formatter of TOML give up (taplo 0.9).
                if "=" in line.split("#")[0] and "#" in line:
                    self.assertLessEqual(len(re.sub(r"\s+([=#])\s*", r" \1 ", line)), 80, line)
            self.assertEqual("#:schema benchfeed.schema.json", made.stdout.decode().splitlines()[0])

    def test_what_a_person_knows_becomes_a_plan_that_is_judged_at_once(self):
        validator = jsonschema.Draft202012Validator(json.loads(run("schema").stdout))
        for name, arguments in KNOWN.items():
            with self.subTest(name):
                made = run("new", *arguments)
                self.assertEqual((0, b""), (made.returncode, made.stderr))
                plan = tomllib.loads(made.stdout.decode())
                self.assertEqual([], faults(plan, validator))
                tools = arguments.count("--tool") + arguments.count("--extractor")
                self.assertEqual(tools, len(plan["switch"]))
                self.assertEqual(tools + arguments.count("--load"), len(plan["load"]))
                for load in plan["load"].values():
                    self.assertIn(load["from"].removeprefix("outlet."), plan["outlet"])
                result = run("check", "--format", "json", "-", stdin=made.stdout)
                self.assertIn(result.returncode, (0, 1))
                (judged,) = json.loads(result.stdout)["plans"]
                self.assertGreater(judged["counts"]["ok"], 5)
                for line in made.stdout.decode().splitlines():
                    self.assertLessEqual(len(line), 120, line)

    def test_every_answer_stands_in_the_plan(self):
        plan = tomllib.loads(run("new", *KNOWN["three tools"]).stdout.decode())
        self.assertEqual(("16 A", "B", "30 mA"), (plan["device"]["breaker"]["rating"], plan["device"]["breaker"]["curve"], plan["device"]["breaker"]["residual"]["trip"]))
        self.assertEqual(("H07RN-F", "1.5 mm2", 3, "3 m"), (*(plan["stock"]["cord"][k] for k in ("type", "section", "cores")), plan["box"]["bench"]["cable"]["length"]))
        saw = plan["load"]["saw"]
        self.assertEqual(("tool", "universal", {"current": "7.0 A", "power_in": "1600 W"}), (saw["kind"], saw["motor"], saw["plate"]))
        self.assertEqual((2, "16 A", "10 A", True), tuple(plan["switch"]["saw"][k] for k in ("poles", "rating", "motor_rating", "no_volt")))
        self.assertEqual("switch.saw", plan["switch"]["extractor"]["like"])
        self.assertEqual("unknown", plan["load"]["router"]["motor"])
        wired = tomllib.loads(run("new", *KNOWN["three-phase planer"]).stdout.decode())
        self.assertEqual(("IEC 60309 16 A 3P+N+E", "IEC 60309 16 A 3P+N+E", 5), (wired["outlet"]["wall"]["pattern"], wired["outlet"]["planer"]["pattern"], wired["stock"]["cord"]["cores"]))
        self.assertEqual(["L1-N", "L2-N"], [wired["switch"]["sander"]["conductors"], wired["outlet"]["lamp"]["conductors"]])
        swiss = tomllib.loads(run("new", *KNOWN["a planer that says three-phase"]).stdout.decode())
        self.assertEqual((3, "L1-L2-L3", "T25"), (swiss["device"]["breaker"]["poles"], swiss["load"]["planer"]["conductors"], swiss["outlet"]["wall"]["pattern"]))
        self.assertEqual(2, run("new", "--region", "US", "--tool", "planer 2 hp three-phase").returncode, "no such outlet is usual there")
        self.assertEqual(2, tomllib.loads(run("new", "--region", "US", "--device", "2-pole 20 A").stdout.decode())["device"]["breaker"]["poles"])
        self.assertEqual(("flat PVC", "13 A"), (tomllib.loads(run("new", "--region", "UK", "--lead", "2 m T&E").stdout.decode())["stock"]["cord"]["type"],
                                                tomllib.loads(run("new", *KNOWN["UK"]).stdout.decode())["box"]["bench"]["fuse"]))

    def test_a_word_that_is_not_understood_is_named_and_nothing_is_written(self):
        for option, answer, word in (("--tool", "saw 1600 Q", '"Q"'), ("--lead", "3 m H99 3G1.5", '"H99"'), ("--device", "B16 blue", '"blue"'),
                                     ("--lead", "3x1.5", "does not say whether one core is protective"), ("--outlet", "CEE 9/9", "there is no pattern"),
                                     ("--extractor", "900 W starts with lathe", "is no load of this bench"), ("--supply", "230 V lots", '"lots"')):
            result = run("new", "--region", "EU", option, answer)
            self.assertEqual((2, b""), (result.returncode, result.stdout), answer)
            told = " ".join(result.stderr.decode().split())
            self.assertIn(f"error: {option}: ", told)
            self.assertIn(word, told)
            self.assertIn("write: ", told)
        result = run("new", "--region", "EU", "--tool", "saw 1 Q", "--lead", "x", "--switch", "2 poles", "--switch", "y")
        for option in ("--tool", "--lead", "--switch"):
            self.assertIn(f"error: {option}: ", result.stderr.decode(), "all at once")

    def test_answers_that_do_not_fit_together(self):
        result = run("new", "--region", "EU", "--outlet", "CEE 7/7", "--tool", "saw 900 W")
        self.assertEqual((2, b""), (result.returncode, result.stdout))
        self.assertIn("these answers do not fit together", result.stderr.decode())

    def test_small_letters_and_unknown_regions(self):
        self.assertEqual(run("new", "--region", "EU").stdout, run("new", "--region", "eu").stdout)
        missed = run("new", "--region", "Mars")
        self.assertEqual((2, b""), (missed.returncode, missed.stdout))
        self.assertIn(b"write one of ", missed.stderr)
        self.assertEqual(2, run("new").returncode)


# Answers by line: three wrong ones, each asked again, and two that are not known.
SPOKEN = ["Atlantis", "eu", "", "B16 30 mA", "CEE 9/9", "CEE 7/3", "don't know", "3x1.5", "3 m H07RN-F 3G1.5", "saw 1600 W 7.0 A universal",
          "router 1400 X", "router 1400 W", "", "1200 W starts with saw", "", "", "2 poles 16(10) A no-volt"]


class Conversation(unittest.TestCase):
    def test_over_a_pipe(self):
        with tempfile.TemporaryDirectory() as folder:
            path = pathlib.Path(folder) / "bench.toml"
            result = run("new", "--ask", "--output", path, stdin="\n".join(SPOKEN).encode() + b"\n")
            self.assertEqual(0, result.returncode, result.stderr.decode())
            told = result.stderr.decode()
            for words in ("One of AU, CH, EU, UK, US", "without that nothing can be judged", "there is no pattern", "does not say whether one core is protective",
                          '"X" in "router 1400 X" is not understood', "Look: ", "2 of 9. ", "Enter alone: not known."):
                self.assertIn(" ".join(words.split()), " ".join(told.split()))
            self.assertNotIn("\033", told)
            # Checked at the end.
            self.assertIn("checks of parts and sets", " ".join(told.split()))
            spoken = tomllib.loads(path.read_text())
            given = tomllib.loads(run("new", "--region", "EU", "--device", "B16 30 mA", "--outlet", "CEE 7/3", "--lead", "3 m H07RN-F 3G1.5", "--tool", "saw 1600 W 7.0 A universal",
                                      "--tool", "router 1400 W", "--extractor", "1200 W starts with saw", "--switch", "2 poles 16(10) A no-volt").stdout.decode())
            self.assertEqual(given, spoken, "the same as by arguments")

    def test_what_is_given_is_not_asked(self):
        result = run("new", "--ask", *KNOWN["three tools"], stdin=b"\n" * 4)
        self.assertEqual(0, result.returncode)
        self.assertNotIn("3 m H07RN-F 3G1.5, or", result.stderr.decode())
        self.assertEqual("saw", next(iter(tomllib.loads(result.stdout.decode())["load"])))

    def test_an_end_before_the_last_question_writes_nothing(self):
        for lines in range(len(SPOKEN) - 1):
            with tempfile.TemporaryDirectory() as folder:
                path = pathlib.Path(folder) / "bench.toml"
                path.write_text("as it was")
                result = run("new", "--ask", "--output", path, stdin="".join(l + "\n" for l in SPOKEN[:lines]).encode())
                self.assertEqual(2, result.returncode, lines)
                self.assertIn("nothing is written", result.stderr.decode())
                self.assertEqual(["bench.toml"], os.listdir(folder))
                self.assertEqual("as it was", path.read_text())

    def talk(self, folder, lines, ending=b""):
        """The exit code, and what a terminal shows, when somebody types these lines."""
        ours, theirs = pty.openpty()
        with subprocess.Popen([PROGRAM, "new", "--ask", "--output", os.path.join(folder, "bench.toml")], stdin=theirs, stdout=theirs, stderr=theirs,
                              cwd=ROOT, env={**os.environ, "TERM": "xterm"}, start_new_session=True) as process:
            os.close(theirs)
            shown = b""

            def hear():
                nonlocal shown
                deadline = time.monotonic() + 30
                while not shown.endswith(b"> ") and time.monotonic() < deadline:
                    try:
                        piece = os.read(ours, 65536)
                    except OSError:
                        return
                    if not piece:
                        return
                    shown += piece

            for line in lines:
                hear()
                os.write(ours, line.encode() + b"\n")
                shown += b"\n"
            hear()
            if ending == b"\x03":
                process.send_signal(signal.SIGINT)
            elif ending:
                os.write(ours, ending)
            shown += b"\n"
            hear()
            code = process.wait(timeout=30)
            os.close(ours)
        return code, shown.decode()

    def test_in_a_terminal(self):
        with tempfile.TemporaryDirectory() as folder:
            code, shown = self.talk(folder, SPOKEN)
            self.assertEqual(0, code, shown)
            self.assertNotRegex(shown, "\033\\[[0-9;]*[A-HJKfsu]", "no cursor is moved: a screen reader hears plain lines")
            self.assertEqual(["bench.toml"], os.listdir(folder))
            self.assertEqual("saw", next(iter(tomllib.loads((pathlib.Path(folder) / "bench.toml").read_text())["load"])))

    def test_ctrl_d_and_ctrl_c_leave_nothing_behind(self):
        for ending, expected in ((b"\x04", 2), (b"\x03", 130)):
            with tempfile.TemporaryDirectory() as folder:
                code, shown = self.talk(folder, SPOKEN[:5], ending)
                self.assertEqual(expected, code, shown)
                self.assertEqual([], os.listdir(folder))


if __name__ == "__main__":
    unittest.main()
