"""Our reading of TOML against Python's tomllib: the same values, and the same texts refused, the limits of plans set wide."""
import datetime
import json
import os
import pathlib
import subprocess
import tempfile
import tomllib
import unittest

from judges import PLANS, ROOT

PROGRAM = os.environ["BENCHFEED_TOML"]
# Nested deeper than anything is handed to the parser: right TOML, and refused.
TOO_DEEP = {"braces-in-braces", "lists-in-lists", "table-twenty-deep"}
# Python's integers have no end; TOML asks for 64 bits.
BEYOND_64_BITS = {"ways-beyond-integers"}
# JSON, by which the two are compared, has no such numbers.
NO_JSON = {"length-is-infinite", "length-is-nan", "power-factor-nan"}

def plain(value):
    if isinstance(value, dict):
        return {key: plain(item) for key, item in value.items()}
    if isinstance(value, list):
        return [plain(item) for item in value]
    if isinstance(value, (datetime.date, datetime.time)):
        return {"a date or time": True}
    return value


def ours(value):
    if isinstance(value, dict):
        return {"a date or time": True} if list(value) == ["a date or time"] else {k: ours(v) for k, v in value.items()}
    return [ours(v) for v in value] if isinstance(value, list) else value


def read_by_us(paths):
    lines = subprocess.run([PROGRAM, *map(str, paths)], capture_output=True, check=True).stdout.decode("utf-8").split("\n")
    return [json.loads(line) for line in lines if line]


def read_by_others(path):
    try:
        return plain(tomllib.loads(pathlib.Path(path).read_bytes().decode("utf-8")))
    except (tomllib.TOMLDecodeError, UnicodeDecodeError):
        return None


class Toml(unittest.TestCase):
    def compare(self, paths):
        alike = refused = 0
        for path, told in zip(paths, read_by_us(paths), strict=True):
            other = read_by_others(path)
            self.assertEqual(other is not None, told["ok"], (path, pathlib.Path(path).read_bytes()[:200]))
            if other is None:
                refused += 1
                continue
            self.assertEqual(other, ours(told["value"]), path)
            alike += 1
        return alike, refused

    def test_every_plan_and_every_table(self):
        tables = sorted((ROOT / "data").rglob("*.toml"))
        alike, refused = self.compare([ROOT / p for p in PLANS if pathlib.Path(p).stem not in TOO_DEEP | NO_JSON | BEYOND_64_BITS] + tables)
        self.assertGreater(alike, 280)
        self.assertGreaterEqual(refused, 5)

    def test_small_texts(self):
        texts = [
            "a = 1", "a = -7", "a = 1_000", "a = 0x1F", "a = 0o17", "a = 0b101", "a = 1.5e3", "a = -0.25", 'a = "x\\u00e9\\n"', "a = 'c:\\x'",
            'a.b."c d" = true', "[a]\nb = 1\n[a.c]\nd = 2", "[[a]]\nb = 1\n[[a]]\nb = 2\n[a.c]\nd = 3", "a = { b = 1, c = { d = [1, 2] } }",
            "a = [1, 'x', [true]]", "a = [\n 1,\n 2, # c\n]", "a = 2026-05-02", "a = 07:32:00", "a = 1\r\nb = 2\r\n", "# nothing", "",
            '"" = 1', "a = 9223372036854775807", "1 = 2", "-a_ = 3",
            # refused by both
            "a", "a =", "a = 01", "a = 1__0", "a = .5", "a = 1.", "a = [1", "a = {b = 1", "a = {b = 1,}", "a = {b = 1\n}", "[a", "[a]]", "[[a]",
            "a = 1\na = 2", "[a]\n[a]", "a = 1\n[a]", "a = { b = 1 }\n[a.c]", "a = 'x", 'a = "\\q"', 'a = "\\ud800"', "a = tru",
            "a = 1 b = 2", "= 1", "a b = 1", "é = 1", "a = 2026-13-01", "[a.b]\n[a]\nb = 1", "a = [1]\n[[a]]\nb = 1", "[]", "a..b = 1", "a = 0xZ", "a = +0x1",
        ]
        with tempfile.TemporaryDirectory() as folder:
            paths = []
            for number, text in enumerate(texts):
                paths.append(pathlib.Path(folder) / f"{number:03}.toml")
                paths[-1].write_bytes(text.encode("utf-8"))
            alike, refused = self.compare(paths)
        self.assertEqual((25, len(texts) - 25), (alike, refused))


if __name__ == "__main__":
    unittest.main()
