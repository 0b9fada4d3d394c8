"""What docs/sources.md says can be set is a field or an input cell; every constant that bends a
figure stands there with its value and its mark. For check_tree.py."""
import glob
import os
import re

HEADING = "## Constants that bend a figure"
MARKS = ("published", "memory", "common practice, no source", "ours, no source")
# Where a number in a #define is one that bends a figure, unless its name is in PLAIN.
CONSTANTS = ("science/*.[ch]", "model/season/*.[ch]", "model/work/*.[ch]", "model/farm/weather.c",
             "model/farm/functions.c", "model/farm/run*.c", "print/drill/drill_farm.c",
             "yard/advice.c", "yard/pile.c", "report/sheet_budget.c", "report/sheet_next.c")
# Units, bounds on input, steps of a reckoning, what is shown and how long is reckoned.
PLAIN = (r"\w+_PER_\w+|MOST_\w+|MAX_\w+|LEAST_RATE|LEAST_GAIN|NEAR_ENOUGH|CLOSE_ENOUGH|GUARD"
         r"|STEPS|GOLDEN_STEPS|HALVINGS|TURNS|DRAWS|MIDDLE|TENTH|SEED|RATES|LEVELS|MASSES|SHAPES"
         r"|TEN_PERCENT|MONTH|YEAR|DAYS|COMMON_YEAR|FIRST_WORD|AGES_SHOWN|FARTHEST_DAYS"
         r"|SAID_DECIMALS|BED_SEASON_NEVER|BED_DUE_DAYS_AHEAD|BED_CROP_SEASONS|\w*TIME_LIMIT_MS")


def read(root, path):
    return open(os.path.join(root, path), encoding="utf-8").read()


def fields(root):
    """kind.field of everything that a form asks for"""
    found = set()
    for table in re.finditer(r"^static const BedField (\w+)_fields\[\] = \{(.*?)^\};",
                             read(root, "src/model/farm/fields.c"), re.M | re.S):
        found |= {f"{table[1]}.{name}" for name in re.findall(r'\b[A-Z]+ \("(\w+)"', table[2])}
    return found


def input_cells(root):
    return {name for path in glob.glob(os.path.join(root, "src/report/sheet_*.c"))
            for figure in re.findall(r"BED_FIGURE \((.*?)\),\n", read(root, path), re.S)
            if "BED_STYLE_INPUT" in figure for name in re.findall(r'\.name = "(\w+)"', figure)}


def settings(root):
    known = fields(root) | input_cells(root)
    under = False  # a heading that says so
    for n, line in enumerate(read(root, "docs/sources.md").splitlines(), 1):
        said = re.search(r"\bsettings?\b", line, re.I)
        if line.startswith("#"):
            under = said
        if line.startswith("#") or not line or not (said or under):
            continue
        named = set(re.findall(r"`([a-z_]+\.[a-z_]+|[A-Z][a-z]+_[a-z]+)`", line))
        if not named:
            yield f"docs/sources.md:{n}: a setting, and no field is named"
        for name in sorted(named - known):
            yield f"docs/sources.md:{n}: {name} is no field and no input cell"


def rows(root):
    """(file, name, value, mark)"""
    table = read(root, "docs/sources.md").split(HEADING)[1].split("\n## ")[0]
    return re.findall(r"^\| `(\S+\.[ch])` `(\S+)` \| (.*?) \| .*? \| (.*?) \|$", table, re.M)


def constants(root):
    listed = rows(root)
    for path, name, value, mark in listed:
        code = re.sub(r"\\\n\s*", " ", read(root, "src/" + path))
        if not re.search(rf"{re.escape(name)}\b[^;#]{{0,160}}?(?<![\d.]){re.escape(value)}(?![\d.])",
                         code):
            yield f"docs/sources.md: {path} has no {name} of {value}"
        if not mark.startswith(MARKS):
            yield f"docs/sources.md: {name}: “{mark}” is no mark"
    for pattern in CONSTANTS:
        for full in sorted(glob.glob(os.path.join(root, "src", pattern))):
            path = os.path.relpath(full, os.path.join(root, "src"))
            code = re.sub(r"\\\n\s*", " ", open(full, encoding="utf-8").read())
            for name in re.findall(r'^#define (\w+)\s+"?[-(]*[\d.]+', code, re.M):
                if not re.fullmatch(PLAIN, name) and (path, name) not in [r[:2] for r in listed]:
                    yield f"src/{path}: {name} is not in docs/sources.md"
