#!/usr/bin/env python3
"""analyze.py [--gate | --write] SOURCE BUILD [PART...]: gcc -fanalyzer and clang-tidy over each C
file, as TAP.

Reads BUILD/compile_commands.json; with PARTs only the files whose path holds one. What was found
clean is not looked at again before the file, what it includes, its flags, the programs or their
configuration change: BUILD/analysis keeps a note of each, and analysed.txt beside this file those
of the last --write, so that a fresh tree looks at what has changed since. --gate: a program of
another version than those this tree is clean with finds other things, and is passed over with a
word.
"""
import collections
import concurrent.futures
import functools
import hashlib
import json
import os
import re
import shlex
import subprocess
import sys

GATE, WRITE = (sys.argv[1] == option for option in ("--gate", "--write"))
if GATE or WRITE:
    del sys.argv[1]
ROOT, BUILD = (os.path.abspath(a) for a in sys.argv[1:3])
PARTS = sys.argv[3:]
NOTES = os.path.join(BUILD, "analysis")
HELP = os.path.join(ROOT, "tests", "tree", "analyze.h")
KEPT = os.path.join(ROOT, "tests", "tree", "analysed.txt")
# Neither follows the cleanup attribute of g_autofree, so what they take for a leak is none:
# LeakSanitizer and valgrind see those that are.
GCC_OFF = ["malloc-leak", "file-leak", "fd-leak",
           # GCC 12 means places in g_autofree it cannot name; valgrind and clang see what is unset
           "use-of-uninitialized-value"]
TIDY_OFF = "Potential leak of memory"
# Past a g_return_if_fail() of ours there is no fault of ours: those paths are left out.
DEFINES = ["-DG_DISABLE_CHECKS"]
# What a command says about its own files and its own product.
WITH_VALUE = {"-o", "-MF", "-MQ", "-MT"}
ALONE = {"-MD", "-MMD", "-c", "-fdiagnostics-color=always"}


def bare(command):
    """The flags of a command of the build: without ccache, compiler, source and product."""
    words = shlex.split(command)
    while words and os.path.basename(words[0]) != "cc" and not words[0].startswith("-"):
        words.pop(0)
    flags, skip = [], False
    for word in words[1:-1]:
        if not skip and word not in WITH_VALUE | ALONE and not word.startswith("-W"):
            flags.append(word)
        skip = not skip and word in WITH_VALUE
    return flags


def commands():
    """Each C file once, in the first target it stands in."""
    with open(os.path.join(BUILD, "compile_commands.json"), encoding="utf-8") as text:
        entries = json.load(text)
    seen = collections.OrderedDict()
    for entry in entries:
        path = os.path.normpath(os.path.join(entry["directory"], entry["file"]))
        if path.startswith(BUILD + os.sep) or not path.endswith(".c"):
            continue
        if not PARTS or any(part in path for part in PARTS):
            seen.setdefault(path, (bare(entry["command"]), entry["output"]))
    return seen


def included():
    """By product: what it was made from, as ninja noted it."""
    said = subprocess.run(["ninja", "-C", BUILD, "-t", "deps"], capture_output=True, text=True,
                          check=True).stdout
    made, files = {}, None
    for line in said.splitlines():
        if line.startswith("    "):
            files.append(os.path.normpath(os.path.join(BUILD, line.strip())))
        elif ": #deps" in line:
            files = made.setdefault(line.split(": #deps")[0], [])
    return made


class Stamps:
    """Ours by content, the system's by age and size; each asked once."""

    def __init__(self):
        self.known = {}

    def of(self, path):
        if path not in self.known:
            try:
                if path.startswith(ROOT + os.sep):
                    with open(path, "rb") as content:
                        self.known[path] = hashlib.sha256(content.read()).hexdigest()
                else:
                    about = os.stat(path)
                    self.known[path] = f"{about.st_mtime_ns} {about.st_size}"
            except OSError:
                self.known[path] = "gone"
        return self.known[path]


def gcc(path, flags):
    # -O0: the code as it is written.
    return ["gcc", *flags, "-O0", *DEFINES, "-include", HELP, "-fanalyzer", "-Werror",
            *(f"-Wno-analyzer-{name}" for name in GCC_OFF), "-c", path, "-o", os.devnull]


def tidy(path, flags):
    return ["clang-tidy", "--quiet", f"--config-file={os.path.join(ROOT, '.clang-tidy')}", path,
            "--", *flags, *DEFINES]


def findings(said):
    """What clang-tidy found, each with its trace."""
    found = re.split(r"(?m)^(?=\S+:\d+:\d+: (?:error|warning):)", said)
    return "".join(one for one in found[1:] if TIDY_OFF not in one.split("\n", 1)[0])


TOOLS = {"gcc -fanalyzer": gcc, "clang-tidy": tidy}
CLEAN_WITH = {"gcc -fanalyzer": "12", "clang-tidy": "14"}


def version(tool):
    """What the program says of itself, or nothing where there is none."""
    try:
        return subprocess.run([tool.split()[0], "--version"], capture_output=True, text=True,
                              check=True).stdout
    except OSError:
        return ""


def passed_over(tool):
    number = re.search(r"\b(\d+)\.\d+\.\d+", version(tool))
    if number and (not GATE or number[1] == CLEAN_WITH[tool]):
        return None
    return f"clean with version {CLEAN_WITH[tool]}, here is {number[1] if number else 'none'}"


@functools.cache
def kept():
    """The keys that were clean at the last --write."""
    try:
        with open(KEPT, encoding="utf-8") as text:
            return frozenset(text.read().split())
    except OSError:
        return frozenset()


def anywhere(text):
    """The same wherever tree and build stand."""
    return text.replace(BUILD, "BUILD").replace(ROOT, "ROOT")


def look(tool, path, flags, note):
    """What is wrong, or nothing; clean is noted."""
    if note and (os.path.exists(note) or os.path.basename(note) in kept()):
        return ""
    done = subprocess.run(TOOLS[tool](path, flags), cwd=BUILD, capture_output=True, text=True)
    said = done.stderr if tool.startswith("gcc") else findings(done.stdout)
    if not said and done.returncode and not TIDY_OFF in done.stdout:
        said = f"{tool} ended with {done.returncode} on {path}: {done.stderr}"
    if not said and note:
        open(note, "w", encoding="utf-8").close()
    return said


def clean(key):
    return os.path.exists(os.path.join(NOTES, key)) or key in kept()


def jobs():
    made, stamps = included(), Stamps()
    tools = [tool for tool in TOOLS if not passed_over(tool)]
    settings = {tool: " ".join([version(tool), TIDY_OFF, *TOOLS[tool]("", [])]) for tool in tools}
    for read in (HELP, os.path.join(ROOT, ".clang-tidy")):
        for tool in tools:
            settings[tool] += stamps.of(read)
    for path, (flags, product) in commands().items():
        for tool in tools:
            note = None
            if product in made:
                key = hashlib.sha256(anywhere("\n".join(
                    [tool, settings[tool], *flags,
                     *(f"{one} {stamps.of(one)}" for one in made[product])])).encode())
                note = os.path.join(NOTES, key.hexdigest()[:24])
            yield tool, path, flags, note


def main():
    os.makedirs(NOTES, exist_ok=True)
    wanted = list(jobs())
    keep = {os.path.basename(note) for *_, note in wanted if note}
    if not PARTS:
        for old in set(os.listdir(NOTES)) - keep:
            os.remove(os.path.join(NOTES, old))
    if not wanted and not all(passed_over(tool) for tool in TOOLS):
        sys.exit("analyze.py: no file to look at: is the build set up?")
    print(f"1..{len(TOOLS)}")
    faults = collections.defaultdict(list)
    with concurrent.futures.ThreadPoolExecutor(os.cpu_count()) as pool:
        # Those that take longest first: nothing waits for one at the end.
        wanted.sort(key=lambda job: -os.path.getsize(job[1]))
        for job, said in zip(wanted, pool.map(lambda job: look(*job), wanted)):
            if said:
                faults[job[0]].append(said)
    if WRITE:
        with open(KEPT, "w", encoding="utf-8") as text:
            text.writelines(f"{one}\n" for one in sorted(keep) if clean(one))
    bad = 0
    for n, tool in enumerate(TOOLS, 1):
        if passed_over(tool):
            print(f"ok {n} {tool} # SKIP {passed_over(tool)}")
            continue
        looked = sum(job[0] == tool for job in wanted)
        bad += bool(faults[tool])
        print(f"{'not ok' if faults[tool] else 'ok'} {n} {tool}, {looked} files")
        for said in faults[tool]:
            for line in said.splitlines():
                print("# " + line)
    return 1 if bad else 0


sys.exit(main())
