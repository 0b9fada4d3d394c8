#!/usr/bin/env python3
"""printed.py TOOL WORK: the workbook as LibreOffice prints it, as TAP."""
import os
import re
import shutil
import subprocess
import sys
from collections import Counter

from xlsx_check import Book

TOOL, WORK = os.path.abspath(sys.argv[1]), os.path.abspath(sys.argv[2])


def run(*words):
    done = subprocess.run(words, capture_output=True, text=True, check=False)
    if done.returncode:
        raise RuntimeError(f"{words}: {done.stderr}")
    return done.stdout


class Printed(Book):
    """A workbook, and its pages: the sheet whose name is in the foot, and the words."""

    def __init__(self, name, *options):
        path = os.path.join(WORK, name + ".xlsx")
        run(TOOL, "report", os.path.join(WORK, "farm.bedlog"), "--season", "2026", "-o", path,
            *options)
        super().__init__(path)
        run("soffice", "--headless", f"-env:UserInstallation=file://{WORK}/profile",
            "--convert-to", "pdf", "--outdir", WORK, path)
        self.pdf = path.removesuffix("xlsx") + "pdf"
        self.pages = []
        for text in run("pdftotext", "-layout", self.pdf, "-").split("\f")[:-1]:
            lines = [line for line in text.splitlines() if line.strip()]
            foot = re.fullmatch(r"\s*.*, season 2026\s\s+(\S.*?)\s\s+\d+ / \d+", lines[-1])
            self.pages.append((foot.group(1), " ".join(lines[:-1])))

    def of(self, sheet):
        return [text for name, text in self.pages if name == sheet]

    def heads(self):
        """sheets with a row of heads that is printed on each page, and that row's texts"""
        for name, rows in self.titles.items():
            row = re.fullmatch(r"\$\d+:\$(\d+)", rows.split("!")[-1].split(",")[-1]).group(1)
            shown = self.last_column(name)
            yield name, [text for (sheet, at), (_, text, is_text) in self.cells.items()
                         if sheet == name and is_text and re.fullmatch(f"[A-Z]+{row}", at)
                         and number(at) <= shown]

    def last_column(self, name):
        area = next(a for a in self.areas if a.startswith((f"'{name}'!", f"{name}!")))
        return number(re.search(r":\$([A-Z]+)\$", area).group(1))


def number(letters):
    value = 0
    for letter in re.match("[A-Z]+", letters).group():
        value = value * 26 + ord(letter) - 64
    return value


def missing(heads, text):
    """words of the heads that the page has not"""
    have = Counter(text.split())
    return Counter(" ".join(heads).split()) - have


def under_heads(book):
    seen = 0
    for sheet, heads in book.heads():
        pages = book.of(sheet)
        if not pages:
            yield f"{sheet} has no page"
        # Where a page is two wide, the right halves follow all the left ones.
        half = len(pages) // 2 if sheet == "Logs" and len(pages) > 1 else len(pages)
        for first in range(half):
            lost = missing(heads, " ".join(pages[first::half]))
            seen += 1
            if lost:
                yield f"{sheet}, page {first + 1}: {' '.join(lost)}"
    if seen < 20:
        yield f"{seen} pages of tables"


def calm(book):
    """Short: lists are not printed, what they come to is, and how to have them."""
    for sheet in ("Picks", "Logs"):
        pages = book.of(sheet)
        if len(pages) != 1 or "Total" not in pages[0] or "--print-lists" not in pages[0]:
            yield f"{sheet}: {pages}"
    if len(book.pages) > 60:
        yield f"{len(book.pages)} pages"


def listed(book):
    rows = len(book.texts("Picks_batch"))
    pages = book.of("Picks")
    shown = sum(len(re.findall(r"20\d\d-W\d\d", page)) for page in pages)
    if rows < 150 or shown != rows:
        yield f"{shown} of {rows} picks on {len(pages)} pages"
    yield from under_heads(book)


def true_maps(book):
    """A map's bars measure it both ways: as many dots to the inch across as down."""
    maps = [line.split() for line in run("pdfimages", "-list", book.pdf).splitlines()[2:]]
    maps = [(int(line[12]), int(line[13])) for line in maps if line[2] == "image"]
    if len(maps) < 2:
        yield f"{len(maps)} maps"
    yield from (f"{x} and {y} dots to the inch" for x, y in maps if abs(x - y) > 0.01 * x)


CASES = [(under_heads, 0), (calm, 0), (true_maps, 0), (listed, 1)]


def main():
    shutil.rmtree(WORK, ignore_errors=True)
    os.makedirs(WORK)
    run(TOOL, "demo", os.path.join(WORK, "farm.bedlog"), "--logs", "120", "--years", "5",
        "--today", "2026-11-14")
    print(f"1..{len(CASES)}", flush=True)
    books = [Printed("calm"), Printed("whole", "--print-lists")]
    for count, (case, which) in enumerate(CASES, 1):
        faults = list(case(books[which]))
        for fault in faults:
            print("#", fault)
        print("not ok" if faults else "ok", count, "/printed/" + case.__name__.replace("_", "-"),
              flush=True)
    shutil.rmtree(WORK)


main()
