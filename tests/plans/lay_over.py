"""Whole plans from the few lines in which each differs from another one.

    lay_over.py FOLDER OUT     every plan under FOLDER, whole, as OUT/NAME.toml

A plan under tests/plans/rules is TOML with comments that say how it is meant:

    # over: bench-without-findings-eu      it is laid over that plan, which may itself be laid over another one
    # without: load.saw.no_volt            what of the plan below is left out, before anything is laid over it
    # expect: ...                          what the rules are to find (tests/plans/expectations.hpp)

Laid over field by field: new elements are added, tables are merged, any other value replaces what was there, lists of sets and
of acceptances too. A plan without `over` is whole already and is copied as it is. What would be a slip of the hand is refused: a
second `over`, `without` and nothing below, a path that is not there, a name that two folders have.
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


def without(plan, path, left=None):
    """The plan without what stands at "load.saw.plate"; it must be there. `left` of the path are still to go."""
    key, _, rest = (left or path).partition(".")
    if not isinstance(plan, dict) or key not in plan:
        raise ValueError(f"`without` leaves out what is not there: {path}")
    if not rest:
        return {name: value for name, value in plan.items() if name != key}
    return {name: without(value, path, rest) if name == key else value for name, value in plan.items()}


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


def below(text):
    """The name of the plan that a text is laid over; nothing where it is whole."""
    for line in re.findall(r"^\s*#\s*(?:over|without)\s*:.*$", text, re.M):
        if not re.match(r"# (over|without): \S", line):
            raise ValueError(f"write it as `# over: NAME` or `# without: PATH`: {line}")
    names = said(text, "over")
    if len(names) > 1:
        raise ValueError(f"a plan is laid over one other: {', '.join(names)}")
    if not names and said(text, "without"):
        raise ValueError("`without`, and no `over` from which to leave anything out")
    return names[0] if names else None


class Plans:
    """The plans of a folder by name, each read once."""

    def __init__(self, folder):
        self.paths = {}
        for path in sorted(pathlib.Path(folder).rglob("*.toml")):
            if path.stem in self.paths:
                raise ValueError(f"{path}: {self.paths[path.stem]} has that name already")
            self.paths[path.stem] = path
        self.texts = {name: path.read_text(encoding="utf-8") for name, path in self.paths.items()}

    def data(self, name, behind=()):
        """A plan as data. A plan laid over itself is refused, and so is one that nobody wrote."""
        if name in behind:
            raise ValueError(f"{name} is laid over itself: {', '.join(behind)}")
        if name not in self.texts:
            raise ValueError(f"it is laid over {name}, which is no plan of this folder")
        text = self.texts[name]
        above, base = tomllib.loads(text), below(text)
        if base is None:
            return above
        plan = self.data(base, (*behind, name))
        for path in said(text, "without"):
            plan = without(plan, path)
        return laid_over(plan, above)

    def whole(self, name):
        """A plan as text. What its comments say stays; the place of a mistake in them is told by its file."""
        text = self.texts[name]
        if below(text) is None:
            return text
        comments = [line for line in text.split("\n") if re.match(r"# (?!(over|without): )", line)]
        return "\n".join(comments) + "\n" + as_toml(self.data(name))


def main(folder, out):
    try:
        plans, out = Plans(folder), pathlib.Path(out)
    except ValueError as problem:
        sys.exit(str(problem))
    if not plans.paths:
        sys.exit(f"{folder}: no plan lies here")
    out.mkdir(parents=True, exist_ok=True)
    for old in out.glob("*.toml"):
        if old.stem not in plans.paths:
            old.unlink()
    for name, path in plans.paths.items():
        try:
            text = plans.whole(name)
        except (ValueError, tomllib.TOMLDecodeError) as problem:
            sys.exit(f"{path}: {problem}")
        file = out / f"{name}.toml"
        if not file.exists() or file.read_text(encoding="utf-8") != text:
            file.write_text(text, encoding="utf-8")


if __name__ == "__main__":
    main(*sys.argv[1:])
