#!/usr/bin/env python3
"""follow.py WHAT TEXTS FILE [FILE]: where planted text got to in a file.

TEXTS holds what was planted, one a line; each stands before a mark #FFTT, whose TT is its line.
Prints how many different marks were met; complains and ends with 1 when one does not stand behind
its text.

csv      FILE and FILE are the same bytes; no cell begins as a formula does
book     a workbook: text cells only, no formula, link or name holds planted text
paper    what pdftotext reads in a PDF, spaces apart
drawing  an SVG: well-formed, with no element of the text's making
json     valid JSON; texts anywhere in it
plain    any text
"""
import csv
import json
import re
import subprocess
import sys
import xml.etree.ElementTree as ET
import zipfile

MARK = re.compile(r"#(\d\d)(\d\d)(?!\d)")
TEXTS = open(sys.argv[2], encoding="utf-8").read().split("\n")[:-1]
met = set()


def fail(words):
    sys.exit(f"follow.py: {words}")


def check(where, shown, texts=TEXTS):
    """Every mark stands behind its text."""
    for mark in MARK.finditer(shown):
        number = int(mark[2])
        if number >= len(texts):
            continue
        if not shown[:mark.start()].endswith(texts[number]):
            fail(f"{where}: {texts[number]!r} shows as {shown[max(0, mark.start() - 60):mark.end()]!r}")
        met.add(mark[0])


def follow_csv(one, two):
    if open(one, "rb").read() != open(two, "rb").read():
        fail(f"{one} and {two} differ")
    with open(one, encoding="utf-8", newline="") as text:
        for row in csv.reader(text):
            for cell in row:
                check(one, cell)
                if cell and cell[0] in "=+-@\t\r\n" and not re.fullmatch(r"-?[\d.]+", cell):
                    fail(f"{one}: {cell!r} begins as a formula does")


def strings(item):
    return "".join(t.text or "" for t in item.iter() if t.tag.endswith("}t"))


def follow_book(path):
    book = zipfile.ZipFile(path)
    shared = []
    for name in book.namelist():
        if ".." in name or name.startswith("/"):
            fail(f"{name} in the workbook")
        if not name.endswith((".xml", ".rels")):
            continue
        tree = ET.fromstring(book.read(name))
        if name.endswith(".rels"):
            for one in tree:
                if one.get("TargetMode") == "External" or one.get("Type").endswith("/hyperlink"):
                    fail(f"{name}: a link to {one.get('Target')}")
            continue
        for element in tree.iter():
            tag = element.tag.rsplit("}", 1)[-1]
            if tag in ("hyperlink", "oleLink", "ddeLink", "externalReference"):
                fail(f"{name}: {tag}")
            if tag in ("f", "definedName", "formula1", "formula2") and MARK.search(element.text or ""):
                fail(f"{name}: {tag} {element.text!r}")
            if tag == "si":
                shared.append(strings(element))
                check(name, shared[-1])
            if tag in ("v", "oddHeader", "oddFooter") or name.startswith("docProps/"):
                text = element.text or ""
                check(name, re.sub("&&(&9(?=[G[]))?", "&", text) if tag.startswith("odd") else text)
            if tag == "is":
                check(name, strings(element))
            if tag == "sheet" and MARK.search(element.get("name")):
                fail(f"{name}: a sheet is called {element.get('name')!r}")
    return shared


def squeeze(text):
    return re.sub(r"\s+", "", text)


def follow_paper(path):
    """Lines break where they must and a name may begin a line with a capital, so neither counts; nor
    does what is written from the right or of signs put together, which a reader of PDF puts into an
    order of its own."""
    done = subprocess.run(["pdftotext", "-raw", path, "-"], capture_output=True, check=True)
    shown = squeeze(done.stdout.decode("utf-8")).lower()
    texts = [squeeze(t).lower() for t in TEXTS]
    for mark in MARK.finditer(shown):
        number = int(mark[2])
        if number < len(texts) and texts[number].isascii():
            check(path, shown[:mark.end()][-len(texts[number]) - 5:], texts)
    title = subprocess.run(["pdfinfo", path], capture_output=True, check=True).stdout.decode("utf-8")
    check(path, title)


def follow_drawing(path):
    for element in ET.parse(path).iter():
        tag = element.tag.rsplit("}", 1)[-1]
        if tag in ("script", "a", "b", "i", "span", "foreignObject"):
            fail(f"{path}: {tag}")
        for name, value in element.attrib.items():
            if name.endswith("href") and not value.startswith(("#", "data:")):
                fail(f"{path}: a link to {value}")
        check(path, element.text or "")


def walk(path, value):
    if isinstance(value, dict):
        for key, inside in value.items():
            walk(path, inside)
            check(path, key)
    elif isinstance(value, list):
        for inside in value:
            walk(path, inside)
    elif isinstance(value, str):
        check(path, value)


WHAT = {
    "csv": follow_csv,
    "book": follow_book,
    "paper": follow_paper,
    "drawing": follow_drawing,
    "json": lambda path: walk(path, json.load(open(path, encoding="utf-8"))),
    "plain": lambda path: check(path, open(path, encoding="utf-8").read()),
}
WHAT[sys.argv[1]](*sys.argv[3:])
print(len(met))
