"""What every command says of six plans, at 80 and at 40 columns, approved whole: one text for each plan and width
(BENCHFEED_APPROVE=1 writes them anew and says which).
"""
import os
import fcntl
import os
import pty
import struct
import subprocess
import termios
import threading
import unittest

from judges import PROGRAM, ROOT, holds_as_approved

GOLDEN = ROOT / "tests" / "golden" / "said"
SHORT = ROOT / "tests" / "plans" / "short" / "three-tools.toml"
WORST = ROOT / "data" / "plans" / "crooked-barn.toml"
PLANS = [*sorted((ROOT / "data" / "plans").glob("*.toml")), SHORT, ROOT / "tests" / "plans" / "scenarios" / "elm-yard-uk.toml"]
COMMANDS = [["check"], ["check", "--full"], ["check", "--about", "plan.assumed"], ["check", "--set", "plan.ambient=40 degC"], ["together"], ["size"], ["parts"],
            ["questions"], ["accepted"], ["card"], ["flatten"], ["compare"]]
WIDE_ANYWAY = {"flatten"}  # the lines of a plan are its owner's


def on_terminal(columns, *arguments, cwd):
    """Exit code, what is printed to a terminal so wide, and standard error."""
    ours, theirs = pty.openpty()
    fcntl.ioctl(theirs, termios.TIOCSWINSZ, struct.pack("HHHH", 24, columns, 0, 0))
    read = bytearray()

    def listen():
        while True:
            try:
                part = os.read(ours, 65536)
            except OSError:  # a terminal without anybody on it
                return
            if not part:
                return
            read.extend(part)

    listener = threading.Thread(target=listen)
    listener.start()
    made = subprocess.run([PROGRAM, "--color", "never", *arguments], stdin=subprocess.DEVNULL, stdout=theirs, stderr=subprocess.PIPE, cwd=cwd)
    os.close(theirs)
    listener.join()
    os.close(ours)
    return made.returncode, bytes(read).replace(b"\r\n", b"\n"), made.stderr


def said(command, plan, columns):
    """The command as written, and what it does. In the folder of the plan, so that no path depends on where the tree is."""
    words = [*command, *([os.path.relpath(WORST, plan.parent)] if command[0] == "compare" else []), plan.name]
    return " ".join(["benchfeed", *words]), on_terminal(columns, *words, cwd=plan.parent)


class Said(unittest.TestCase):
    def test_as_approved(self):
        GOLDEN.mkdir(parents=True, exist_ok=True)
        self.assertEqual(len(PLANS), 6)
        for plan in PLANS:
            for columns in (80, 40):
                text = b""
                for command in COMMANDS:
                    head, (code, out, error) = said(command, plan, columns)
                    self.assertIn(code, (0, 1), error)
                    text += f"$ {head}\n".encode() + out + error + f"exit code {code}\n\n".encode()
                with self.subTest(f"{plan.stem} {columns}"):
                    holds_as_approved(self, GOLDEN / f"{plan.stem}.{columns}.txt", text)

    def test_nothing_runs_over(self):
        for plan in PLANS:
            for columns in (80, 40, 30):
                for command in COMMANDS:
                    if command[0] in WIDE_ANYWAY:
                        continue
                    for line in said(command, plan, columns)[1][1].decode().splitlines():
                        self.assertLessEqual(len(line), columns, (plan.name, command, line))


if __name__ == "__main__":
    unittest.main()
