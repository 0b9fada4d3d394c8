#!/usr/bin/env python3
"""check_tree.py SOURCE [BUILD]: house rules, as TAP: rooms, widths, lengths, words."""
import json
import os
import re
import shlex
import subprocess
import sys
import tempfile

import check_languages
import check_manual
import check_sources

ROOT = sys.argv[1]
BUILD = sys.argv[2] if len(sys.argv) > 2 else None
LONGEST_LINE = 100
LONGEST_FUNCTION = 80
LONGEST_FILE = 700
# What must not even compile, by room; the first of each is one that must.
WRONG = {
    "science": ["science/drill.h", "sqlite3.h", "gtk/gtk.h", "gio/gio.h", "archive.h", "model/farm/farm.h"],
    "model": ["sqlite3.h", "gtk/gtk.h", "cairo.h", "xlsxwriter.h", "print/page/document.h"],
    "yard": ["yard/yard.h", "sqlite3.h", "gtk/gtk.h", "cairo.h", "print/page/document.h"],
    "report": ["xlsxwriter.h", "gtk/gtk.h", "sqlite3.h", "app/desk/page.h"],
    "print": ["qrencode.h", "gtk/gtk.h", "sqlite3.h", "report/workbook.h"],
    "app": ["gtk/gtk.h", "sqlite3.h", "archive.h", "xlsxwriter.h", "tool/tool.h"],
    "tool": ["report/workbook.h", "gtk/gtk.h", "sqlite3.h", "archive.h", "app/desk/page.h"],
}


def files(under, suffixes):
    for folder, _, names in os.walk(os.path.join(ROOT, under)):
        for name in sorted(names):
            if name.endswith(suffixes):
                path = os.path.join(folder, name)
                yield os.path.relpath(path, ROOT), open(path, encoding="utf-8").read()


def code_files():
    yield from files("src", (".c", ".h"))
    yield from files("tests", (".c", ".h"))


def includes():
    """(file, line number, what it includes) of our own headers."""
    for path, text in files("src", (".c", ".h")):
        if path.startswith("src/see/"):
            continue
        for n, line in enumerate(text.splitlines(), 1):
            found = re.match(r'#include "([^"]+/[^"]+)"', line)
            if found:
                yield path[len("src/"):], n, found[1]


def read_arrows():
    """DEVELOPERS.md's table: folder -> the folders it may see, by a row for each."""
    text = open(os.path.join(ROOT, "DEVELOPERS.md"), encoding="utf-8").read()
    table = text.split("<!-- arrows -->")[1].split("<!-- end of arrows -->")[0]
    rows = re.findall(r"^\| `([^`]+)` \| (.*?) \|$", table, re.M)
    return {folder: set(re.findall(r"`([^`]+)`", sees)) for folder, sees in rows}


def arrows():
    """Between folders only where the table has an arrow, and every arrow of it is used; no way
    leads back. What a room may see of another is walled off by its include path."""
    table = read_arrows()
    used = set()
    for path, n, header in includes():
        here, there = os.path.dirname(path), os.path.dirname(header)
        if here == there or here.split("/")[0] != there.split("/")[0]:
            continue
        used.add((here, there))
        if there not in table.get(here, ()):
            yield f"src/{path}:{n}: no arrow leads from {here} to {there} in DEVELOPERS.md"
    for here, sees in table.items():
        for there in sorted(sees):
            if (here, there) not in used:
                yield f"DEVELOPERS.md: the arrow from {here} to {there} is not used"
    for circle in find_circles(table):
        yield f"DEVELOPERS.md: arrows in a circle: {' '.join(circle)}"


def find_circles(graph):
    """Tarjan's components of more than one node."""
    number, low, stack, circles = {}, {}, [], []

    def walk(node):
        number[node] = low[node] = len(number)
        stack.append(node)
        for other in sorted(graph.get(node, ())):
            if other not in number:
                walk(other)
            if other in stack:
                low[node] = min(low[node], low[other])
        if low[node] == number[node]:
            circle = stack[stack.index(node):]
            del stack[stack.index(node):]
            if len(circle) > 1:
                circles.append(sorted(circle))

    for node in sorted(graph):
        if node not in number:
            walk(node)
    return circles


# A unit and its private half, which need each other.
HALVES = [{"science/drill", "science/drill_cover"},
          {"model/work/care", "model/work/care_dry_mass"},
          {"model/season/outlook", "model/season/picked"}]


def circles():
    """A unit is NAME.c, NAME.h and NAME_private.h."""
    graph = {}
    for path, _, header in includes():
        unit, other = (re.sub(r"(_private)?\.[ch]$", "", name) for name in (path, header))
        graph.setdefault(unit, set())
        if other != unit:
            graph[unit].add(other)
    found = find_circles(graph)
    for circle in found:
        if set(circle) not in HALVES:
            yield f"{len(circle)} files in a circle: {' '.join(circle)}"
    for half in HALVES:
        if sorted(half) not in found:
            yield f"tests/tree: {' '.join(sorted(half))} need each other no more"


def names():
    """One name for one thing, whatever room it is in."""
    units, types = {}, {}
    for path, text in files("src", (".c", ".h")):
        base = os.path.basename(path)
        if base != "main.c" and not path.startswith("src/see/"):
            units.setdefault(base, []).append(path)
        if path.endswith(".h") and not path.startswith("src/see/"):
            for name in set(re.findall(r"^\} (Bed\w+);|^G_DECLARE_\w+ \((Bed\w+),|"
                                       r"^typedef struct \w+ (Bed\w+);", text, re.M)):
                types.setdefault("".join(name), []).append(path)
    for name, paths in list(units.items()) + list(types.items()):
        if len(paths) > 1:
            yield f"{name} is there twice: {' '.join(paths)}"


def compiles(command, header):
    """Whether a file of the room that includes @header gets past the compiler."""
    with tempfile.NamedTemporaryFile("w", suffix=".c") as probe:
        probe.write(f"#include <{header}>\nint probe;\n")
        probe.flush()
        words = shlex.split(command["command"])
        flags = [w for w in words[1:] if w.startswith(("-I", "-D", "-std", "-isystem"))]
        done = subprocess.run(["cc", "-fsyntax-only", *flags, probe.name], capture_output=True,
                              cwd=command["directory"], check=False)
        return done.returncode == 0


def walls():
    if not BUILD:
        return
    commands = json.load(open(os.path.join(BUILD, "compile_commands.json"), encoding="utf-8"))
    for room, headers in WRONG.items():
        # A library of the room, not a program or a file that meson made.
        command = next(c for c in commands if f"/src/{room}/" in "/" + c["file"].lstrip("./")
                       and f"libbed{room}.a.p" in c["output"]
                       or room == "tool" and "bedlog-tool.p/main.c" in c["output"])
        if not compiles(command, headers[0]):
            yield f"src/{room}: {headers[0]} should compile there and does not"
        for header in headers[1:]:
            if compiles(command, header):
                yield f"src/{room}: {header} compiles there and should not"


def one_door():
    for path, text in files("src", (".c",)):
        if path.startswith("src/model/"):
            continue
        for n, line in enumerate(text.splitlines(), 1):
            if re.search(r'"\s*(INSERT|UPDATE|DELETE) ', line):
                yield f"{path}:{n}: writes SQL outside the model"


def widths():
    for path, text in code_files():
        for n, line in enumerate(text.splitlines(), 1):
            if len(line) > LONGEST_LINE:
                yield f"{path}:{n}: {len(line)} columns"
            if line != line.rstrip() or "\t" in line:
                yield f"{path}:{n}: a tab, or space at the end"


def functions(text):
    """(line, name, length) of each function in GNU layout: name at column 0, { at column 0."""
    lines = text.splitlines()
    start, name = None, None
    for n, line in enumerate(lines):
        if re.match(r"[a-z_]\w* \(", line):
            name = line.split(" ")[0]
        elif line == "{" and name:
            start = n
        elif line == "}" and start is not None:
            yield start + 1, name, n - start - 1
            start, name = None, None


def bodies(text):
    """(line, what stands before the name, name and parameters, body) of each function."""
    lines = text.splitlines()
    for line, name, length in functions(text):
        head = max(n for n in range(line) if lines[n].startswith(name + " ("))
        yield line, lines[head - 1], " ".join(lines[head:line - 1]), lines[line:line + length]


def asked_to_the_end():
    """A question that failed looks empty until bed_query_finish() is asked: who makes one asks,
    or hands it on to who made it ask, or to a function of the file that asks."""
    sources = {path: (text, list(bodies(text))) for path, text in files("src", (".c",))}
    makers = {head.split(" ")[0] for _, found in sources.values() for _, kind, head, _ in found
              if kind == "BedQuery *"}
    for path, (text, found) in sources.items():
        here = {head.split(" ")[0] for _, kind, head, _ in found if kind == "static BedQuery *"}
        makes = re.compile(r"\b(" + "|".join(makers | here) + r") \(")
        if "sqlite3_step" in text and not path.startswith("src/model/"):
            yield f"{path}: steps through a statement outside the model"
        ends = ["bed_query_finish"] + [
            head.split(" ")[0] for _, _, head, body in found
            if "bed_query_finish (" in "\n".join(body) and not makes.search("\n".join(body))]
        asks = re.compile(r"\b(" + "|".join(ends) + r") \(")
        for line, kind, head, body in found:
            inside = "\n".join(body)
            if "BedQuery *" not in kind and len(makes.findall(inside)) > len(asks.findall(inside)):
                yield f"{path}:{line}: {head.split(' ')[0]} makes a question and does not finish it"


def lengths():
    for path, text in files("src", (".c",)):
        count = text.count("\n")
        if count > LONGEST_FILE:
            yield f"{path}: {count} lines"
        for n, name, length in functions(text):
            if length > LONGEST_FUNCTION:
                yield f"{path}:{n}: {name} has {length} lines"


def strings():
    listed = set(open(os.path.join(ROOT, "po/POTFILES.in")).read().split())
    marked = set()
    for path, text in list(files("src", (".c", ".h"))):
        if re.search(r'\b(_|N_|N?C_|NP_|OF_|ngettext) \(\s*"', text):
            marked.add(path)
    for path, text in list(files("ui", (".ui",))) + list(files("data", (".in",))):
        if 'translatable="yes"' in text or path.endswith((".desktop.in", ".metainfo.xml.in")):
            marked.add(path)
    for path in sorted(marked - listed):
        yield f"{path}: has strings for translators and is not in po/POTFILES.in"
    for path in sorted(listed):
        if not os.path.exists(os.path.join(ROOT, path)):
            yield f"po/POTFILES.in: {path} is not there"


def forbidden_words():
    """The words of po/glossary.md's last column, between backquotes: never said."""
    text = open(os.path.join(ROOT, "po/glossary.md"), encoding="utf-8").read()
    cells = [row.split("|")[3] for row in text.splitlines() if row.startswith("| ")]
    said = sorted({word for cell in cells for word in re.findall(r"`([^`]+)`", cell)})
    return re.compile(r"(?<!\w)(" + "|".join(map(re.escape, said)) + r")(?!\w)", re.I)


# Out of strings that are looked at themselves.
WRITTEN_BY_RELEASE = ("docs/figures.md", "docs/file-format.md", "docs/manual/figures.md")


def said_strings():
    """(file, line, text) of what people read: strings for translators, whole, and pages."""
    string = r'"(?:[^"\\\n]|\\.)*"'
    together = re.compile(rf"\b(?:_|N_|N?C_|NP_|OF_|ngettext) \([\s\\]*((?:{string}[\s,\\]*)+)")
    for path, text in files("src", (".c", ".h")):
        for found in together.finditer(text):
            words = re.sub(r'"[\s\\]*"', "", found[1])
            yield path, text.count("\n", 0, found.start()) + 1, words
    for path, text in (*files("ui", (".ui",)), *files("data", (".in", ".xml")),
                       *files("docs", (".md",)), ("README.md", open(
                           os.path.join(ROOT, "README.md"), encoding="utf-8").read())):
        if path not in WRITTEN_BY_RELEASE:
            yield path, 1, " ".join(text.split())


def words():
    """One word for one thing: po/glossary.md."""
    never = forbidden_words()
    for path, line, text in said_strings():
        for found in never.finditer(text):
            yield f"{path}:{line}: “{found[0]}”: po/glossary.md has another word for it"
    if not never.search("Be wary: 3 logs wetted"):
        yield "po/glossary.md: nothing of it is forbidden"


# In a label, besides its first word.
WITH_CAPITAL = {"Bedlog", "Ctrl", "Alt", "Shift", "Esc", "Enter", "Page", "Down", "Up"}


def capitals():
    """Titles, menus and buttons are written alike, as sentences are."""
    label = re.compile(r'\bN?_ \("_?((?:[^"\\\n]|\\.){2,40})"\)|translatable="yes">_?([^<]{2,40})<')
    looked = 0
    for path, text in (*files("src/app", (".c",)), *files("ui", (".ui",))):
        for found in label.finditer(text):
            words = (found[1] or found[2]).replace("_", "")
            looked += 1
            for inner in re.findall(r"(?<=[a-z,] )[A-Z][a-z]+", words):
                if inner not in WITH_CAPITAL:
                    yield f"{path}: “{words}”: {inner} has a capital within"
    if looked < 300:
        yield f"tests/tree: only {looked} labels were found"


CAUTIONS = ("src/model/work/caution.c", "src/print/drill/drill_guide_first.c",
            "src/print/field/field_sheet_kinds.c")
# How it is used.
OF_THE_SHEET = ("Top to bottom", "Cut along", "Lay the sheet", "Mark each hole", "Stick it on card",
                "Move it round")


def cautions():
    """docs/safety.md has every caution as it stands beside the work, and each form's and wood's
    defers to local rules."""
    safety = " ".join(open(os.path.join(ROOT, "docs/safety.md"), encoding="utf-8").read().split())
    found = 0
    for path, line, text in said_strings():
        text = text.strip().strip('"')
        if path in CAUTIONS and len(text) > 70 and text not in safety and not text.startswith(
                OF_THE_SHEET):
            yield f"{path}:{line}: not in docs/safety.md: {text}"
        if path == CAUTIONS[0]:
            found += 1
            if not re.search("ocal (food )?rules", text):
                yield f"{path}:{line}: does not defer to local rules: {text}"
    if found < 10:
        yield f"{CAUTIONS[0]}: only {found} cautions found"
    for sheet in dict(files("src/print/field", (".c",)))[CAUTIONS[2]].split("[BED_PAPER_")[1:]:
        kind = sheet.split("]")[0]
        if not re.search("LOCAL|ocal (food )?rules|MOVING|those of the drilling guide", sheet):
            yield f"{CAUTIONS[2]}: the cautions of {kind} do not defer to local rules"


def traps():
    """Measured traps (DEVELOPERS.md): spin buttons lose text, a whole-list change is slow."""
    for path, text in list(files("src", (".c",))) + list(files("ui", (".ui",))):
        for n, line in enumerate(text.splitlines(), 1):
            if "GtkSpinButton" in line or re.search(r"items_changed \([^,]*, 0, n", line):
                yield f"{path}:{n}: {line.strip()}"


def letters():
    """What letters need is measured in letters: a grower may have made them twice as large. And
    nothing moves by itself but what the platform stops where it was asked to."""
    for path, text in files("ui", (".css",)):
        for n, line in enumerate(text.splitlines(), 1):
            if re.search(r"(font-size|min-width|min-height): [\d.]+px|@keyframes|(transition|animation): ", line):
                yield f"{path}:{n}: {line.strip()}"
    for path, text in files("src/app", (".c",)):
        for m in re.finditer(r"set_size_request \([^;]*\b(\d\d+|[A-Z][A-Z_]+)\b[^;]*;|set_absolute_size|set_font_size"
                             r"|adw_(timed|spring)_animation", text):
            if "bed_plot_to_px" not in m.group() and path != "src/app/widgets/plot.c":
                yield f"{path}:{text.count(chr(10), 0, m.start()) + 1}: {m.group().split(chr(10))[0]}"


# Its words are the program's own, and what is marked in them is escaped.
OWN_WORDS = ("src/app/manual/manual_page.c", "src/app/manual/manual_text.c", "src/app/widgets/compat.c")


def typed():
    """What is typed is no SQL and no pattern of it, no markup, no link, no word of a shell."""
    wrong = (r"LIKE \?\d(?! ESCAPE)|\b(WHERE|AND|OR)\b[^\"]*'%s'|= '%s'|\b(system|popen) \(|g_spawn_command"
             r"|_(set|from|with|parse)_markup \(|tooltip_markup|markup_printf|write_url"
             r"|use_markup \((?!.*FALSE)|with_mnemonic \((?!_)")
    for path, text in files("src", (".c",)):
        for n, line in enumerate(text.splitlines(), 1):
            if re.search(wrong, line) and path not in OWN_WORDS:
                yield f"{path}:{n}: {line.strip()}"


# A rule of the trade is one function or view (the head of views.sql); each is known here by how
# it was spelled where it was needed. DAY is what a date is held against.
DAY = r"(\?\d|bed_(today|now) \(\)|[\w.]*\w*_on\b)"
SPELLED_AGAIN = {
    "bed_alive () or bed_stood ()": r"(\(|AND |WHERE )[\w.]*retired_on IS NULL(?!\")"
                                    rf"|retired_on (<|>|<=|>=) {DAY}|retired_on, '9999'\)",
    "bed_lies ()": r"since (<=|<) .*until (IS|>)|until, '9999'\) > \S+ AND \S*since <="
                   r"|(until|taken_out) IS NULL OR\b",
    "bed_pick_share ()": r"mass( \* 1\.0)?( \* \w+\.logs)? /\s*(\(SELECT count|sum \(\w+\.logs)",
    "hours_paid": r"labour_rate FROM farm|minutes \*",
    "bed_part_cost ()": r"cost[\w, ()]* \* \w+\.(mass|pieces)",
    "equipment_owned": r"salvage[\w, ()]*\) \* (coalesce|part|share)|coalesce \(salvage",
    "log_waiting": r"NOT EXISTS \(SELECT 1 FROM place x WHERE x\.log = l\.id",
    "soak_month": r"BETWEEN 5 AND 10",
    "log_forced": r"<> 'totem'|'Lentinula edodes'\) =",
    "bed_run_over ()": r"' months'",
    "bed_rest_over ()": r"7 \* [\w. (]*rest_weeks",
    "bed_rest_weeks ()": r"rest_weeks FROM farm|coalesce ?\(\w*\.?rest_weeks",
    "bed_out_of_sight ()": r"'sold', 'lost'|'lost', 'sold'",
    "main_spawn": r"coalesce ?\(\w+\.mass, \w+\.pieces, 0\) DESC",
    "bed_flush_over ()": r"taken_out[\w, ()]*, '\+14 days'|'-14 days'",
    "soak_summary.hours_since": r"put_in\) \+ 1800",
}
# Rules between two records hold their days against each other, not a log against a day.
OF_TWO = "src/model/farm/rules_pairs.c"


def sql_texts():
    """(file, line, view, text): the strings of src, those that follow each other put together,
    and the views one by one."""
    for path, text in files("src", (".c", ".h")):
        string = r'"(?:[^"\\\n]|\\.)*"'
        for found in re.finditer(rf"{string}(?:[ \t]*\\?\n\s*{string})*", text):
            if path != OF_TWO:
                line = text.count("\n", 0, found.start()) + 1
                yield path, line, "", re.sub(r'"[ \t]*\\?\n\s*"', "\n", found.group())
    path = "data/schema/views.sql"
    text = re.sub(r"--.*", "", dict(files("data/schema", (".sql",)))[path])
    for found in re.finditer(r"CREATE TEMP VIEW (\w+).*?;", text, re.S):
        yield path, text.count("\n", 0, found.start()) + 1, found[1], found.group()


def trade():
    """A rule is spelled in the view of its name, where it has one, and nowhere else."""
    for path, line, view, sql in sql_texts():
        for rule, spelled in SPELLED_AGAIN.items():
            if rule.split(".")[0] == view:
                continue
            for found in re.finditer(spelled.replace(" ", r"\s+"), sql, re.S):
                words = " ".join(found.group().split())
                yield f"{path}:{line + sql.count(chr(10), 0, found.start())}: {words}: ask {rule}"


def left_open():
    for path, text in list(files("src", (".c", ".h"))) + list(files("ui", (".ui",))):
        for n, line in enumerate(text.splitlines(), 1):
            if re.search(r"TODO|FIXME|\bXXX\b|not implemented", line):
                yield f"{path}:{n}: {line.strip()}"


def scripts():
    done = subprocess.run(["sh", "-n", os.path.join(ROOT, "dev")], capture_output=True, text=True)
    if done.returncode:
        yield done.stderr


FORMATTER = "14"  # another version breaks lines elsewhere


def formatted():
    """./dev lint puts it right."""
    version = subprocess.run(["clang-format", "--version"], capture_output=True, text=True,
                             check=False).stdout
    if f"version {FORMATTER}." not in version:
        print(f"# clang-format {FORMATTER} is not here: the format is not looked at")
        return
    paths = [os.path.join(ROOT, path) for path, _ in code_files()
             if not path.startswith("src/see/")]
    done = subprocess.run(["clang-format", "--dry-run", *paths], capture_output=True, text=True,
                          check=False)
    for line in done.stderr.splitlines():
        if "warning:" in line:
            yield os.path.relpath(line.split(": warning:")[0], ROOT) + ": not in the format"


def settings():
    yield from check_sources.settings(ROOT)


def constants():
    yield from check_sources.constants(ROOT)


def manual():
    yield from check_manual.check(ROOT)


def languages():
    """In each language one word for one thing, too."""
    yield from check_languages.check(ROOT)


CHECKS = [arrows, circles, names, walls, one_door, asked_to_the_end, widths, lengths, strings, words,
          capitals, cautions, traps, letters, typed, trade, left_open, scripts, settings, constants,
          manual, languages, formatted]
print(f"1..{len(CHECKS)}")
failed = 0
for number, check in enumerate(CHECKS, 1):
    faults = list(check())
    for fault in faults[:40]:
        print("#", fault)
    print("not ok" if faults else "ok", number, f"/tree/{check.__name__}")
    failed += bool(faults)
sys.exit(1 if failed else 0)
