#!/usr/bin/env python3
"""add_field.py SOURCE SCRATCH: a text field is added in the middle of a kind, in the three places
that DEVELOPERS.md tells ("A field"), in a scratch copy that is then built and tested. What is
written from the table of fields is written anew, as the failing test says. As TAP."""
import os
import shutil
import subprocess
import sys

ROOT, SCRATCH = sys.argv[1:]
TREE, BUILD = os.path.join(SCRATCH, "tree"), os.path.join(SCRATCH, "build")

# Place, what is there, what is put after it.
PLACES = [
    ("src/model/farm/fields.c",
     '  MEASURE ("basal_area", N_ ("Basal area"), BASAL_AREA, 0, 100 * CM2_PER_M2),\n',
     '  TEXT ("slope", N_ ("Slope")),\n'),
    ("data/schema/tables.sql", None, "\n-- schema {next}\nALTER TABLE stand ADD COLUMN slope TEXT;\n"),
    ("src/app/form/forms.c", 'GROUP (NULL, "name", "area", "grows", ', '"slope", '),
]
MODEL = ["fields", "value", "texts", "csv", "csv_round", "farm", "open", "check", "rescue", "two"]
TESTS = MODEL + ["versions", "tool-steps", "app form"]
PROGRAMS = [f"tests/model/test-model-{name}" for name in MODEL + ["versions"]] + [
    "tests/model/write-farm", "src/tool/bedlog-tool", "tests/tool/test-tool-steps",
    "tests/app/test-app-form", "data/gschemas.compiled"]


def copy():
    shutil.rmtree(SCRATCH, ignore_errors=True)
    skip = shutil.ignore_patterns("_build*", ".git", "__pycache__")
    shutil.copytree(ROOT, TREE, symlinks=True, ignore=skip)


def add():
    for place, before, words in PLACES:
        path = os.path.join(TREE, place)
        text = open(path, encoding="utf-8").read()
        if before is None:
            text += words.format(next=text.count("\n-- schema ") + 1)
        else:
            assert text.count(before) == 1, f"{place} has not once: {before}"
            text = text.replace(before, before + words)
        open(path, "w", encoding="utf-8").write(text)


def run(*words, **more):
    return subprocess.run(words, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True,
                          check=False, **more)


def build():
    env = dict(os.environ, CCACHE_BASEDIR=SCRATCH, CCACHE_NOHASHDIR="1")
    done = run("meson", "setup", "--buildtype=plain", "-Dc_args=-O0", BUILD, TREE, env=env)
    return done if done.returncode else run("ninja", "-C", BUILD, *PROGRAMS, env=env)


def write_derived():
    """What the failing tests ask for: ./dev release and the tool's own words."""
    newest = open(os.path.join(TREE, "data/schema/tables.sql")).read().count("\n-- schema ")
    tool = os.path.join(BUILD, "src/tool/bedlog-tool")
    docs = run(tool, "format")
    open(os.path.join(TREE, "docs/file-format.md"), "w", encoding="utf-8").write(docs.stdout)
    farm = os.path.join(TREE, f"tests/farms/schema-{newest}.bedlog")
    run(os.path.join(BUILD, "tests/model/write-farm"), farm)
    run("gzip", "-9n", farm)


def say(number, name, done):
    for line in done.stdout.splitlines()[-60:] if done.returncode else []:
        print("#", line)
    print("not ok" if done.returncode else "ok", number, "/add-field/" + name, flush=True)
    return done.returncode != 0


print("1..3")
copy()
add()
failed = say(1, "builds", build())
if not failed:
    before = run("meson", "test", "-C", BUILD, "--no-rebuild", "versions", "--print-errorlogs",
                 env=dict(os.environ, BEDLOG_SOURCE=TREE))
    told = "./dev release" in before.stdout and before.returncode != 0
    print("ok" if told else "not ok", 2, "/add-field/says-what-to-do", flush=True)
    failed = not told
    write_derived()
    failed |= say(3, "tests", run("meson", "test", "-C", BUILD, "--no-rebuild",
                                  "--print-errorlogs", "--timeout-multiplier", "4", *TESTS))
shutil.rmtree(SCRATCH, ignore_errors=True)
sys.exit(1 if failed else 0)
