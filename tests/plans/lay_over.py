"""Whole plans from the few lines in which each differs from another one.

    lay_over.py FOLDER OUT     every plan under FOLDER, whole, as OUT/NAME.toml

A plan under tests/plans/rules is TOML with comments that say how it is meant:

    # over: bench-without-findings-eu      it is laid over that plan, which may itself be laid over another one
    # without: load.saw.no_volt            what of the plan below is left out, before anything is laid over it
    # expect: ...                          what the rules are to find (tests/plans/expectations.hpp)

Laid over field by field: new elements are added, tables are merged, any other value replaces what was there, lists of sets and
of acceptances too. A plan without `over` is whole already and is copied as it is.
"""
import json
import pathlib
import re
import sys
import tomllib


def laid_over(below, above):
    merged = dict(below)
    for key, value in above.items():
        both = isinstance(value, dict) and isinstance(merged.get(key), dict)
        merged[key] = laid_over(merged[key], value) if both else value
    return merged


def without(plan, path):
    """The plan without what stands at "load.saw.plate"; it must be there."""
    key, _, rest = path.partition(".")
    if key not in plan:
        raise KeyError(path)
    if not rest:
        return {name: value for name, value in plan.items() if name != key}
    return {name: without(value, rest) if name == key else value for name, value in plan.items()}


def key_of(name):
    return name if re.fullmatch(r"[A-Za-z0-9_-]+", name) else json.dumps(name, ensure_ascii=False)


def written(value):
    if isinstance(value, dict):
        return "{ " + ", ".join(f"{key_of(key)} = {written(inner)}" for key, inner in value.items()) + " }"
    if isinstance(value, list):
        return "[" + ", ".join(map(written, value)) + "]"
    return json.dumps(value, ensure_ascii=False)


def as_toml(plan):
    """Elements are [kind.name], everything in them stands in one line; what has no table comes first."""
    lines = [f"{key} = {written(value)}" for key, value in plan.items() if not isinstance(value, (dict, list))]
    for kind, group in plan.items():
        if isinstance(group, list):
            tables = [(f"[[{kind}]]", table) for table in group]
        elif isinstance(group, dict) and group and all(isinstance(element, dict) for element in group.values()):
            tables = [(f"[{kind}.{key_of(name)}]", element) for name, element in group.items()]
        elif isinstance(group, dict):
            tables = [(f"[{kind}]", group)]
        else:
            continue
        for head, table in tables:
            lines += ["", head, *(f"{key_of(key)} = {written(value)}" for key, value in table.items())]
    return "\n".join(lines) + "\n"


def said(text, word):
    """The values of the comments "# word: a, b"."""
    return [value.strip() for line in re.findall(rf"^# {word}: (.*)$", text, re.M) for value in line.split(",")]


class Plans:
    """The plans of a folder by name, each read once."""

    def __init__(self, folder):
        self.paths = {path.stem: path for path in sorted(pathlib.Path(folder).rglob("*.toml"))}
        self.texts = {name: path.read_text(encoding="utf-8") for name, path in self.paths.items()}

    def data(self, name, behind=()):
        """A plan as data. A plan laid over itself is refused, and so is one that nobody wrote."""
        if name in behind:
            raise ValueError(f"{name} is laid over itself: {', '.join(behind)}")
        text = self.texts[name]
        above = tomllib.loads(text)
        for below in said(text, "over"):
            plan = self.data(below, (*behind, name))
            for path in said(text, "without"):
                plan = without(plan, path)
            return laid_over(plan, above)
        return above

    def whole(self, name):
        """A plan as text. What its comments say stays; the place of a mistake in them is told by its file."""
        text = self.texts[name]
        if not said(text, "over"):
            return text
        comments = [line for line in text.split("\n") if re.match(r"# (?!(over|without): )", line)]
        return "\n".join(comments) + "\n" + as_toml(self.data(name))


def main(folder, out):
    plans, out = Plans(folder), pathlib.Path(out)
    out.mkdir(parents=True, exist_ok=True)
    for old in out.glob("*.toml"):
        if old.stem not in plans.paths:
            old.unlink()
    for name, path in plans.paths.items():
        try:
            text = plans.whole(name)
        except (KeyError, ValueError, tomllib.TOMLDecodeError) as problem:
            sys.exit(f"{path}: {problem}")
        file = out / f"{name}.toml"
        if not file.exists() or file.read_text(encoding="utf-8") != text:
            file.write_text(text, encoding="utf-8")


if __name__ == "__main__":
    main(*sys.argv[1:])
