#!/usr/bin/env python3
"""Reads a season workbook without the library that wrote it, and answers what it is
asked by its words or, where it has none, line by line:

same A B            every formula of A is in B, with a value that equals the one cached in A; of
                    folders, the same of each workbook in A
figures A NAME=VALUE/TOLERANCE ...   defined names of A hold these values
column A ROW NAME=VALUE/TOLERANCE ...   the same in that row of named columns, from 0
values A NAME       the numbers in those cells
words A NAME        their texts
text A TEXT ...     each TEXT is in A as a string cell; no formula holds it
change A B SHEET!CELL VALUE   B is A with that number
page A SHEET WORD ...   how that sheet prints: each WORD (W=1, H=1, breaks=2, ...) is so
media A             the sizes of its pictures
opens A             openpyxl opens A (or all in that folder) and finds its sheets, names and filters
"""
import contextlib
import functools
import io
import os
import re
import sys
import traceback
import xml.etree.ElementTree as ET
import zipfile

M = "{http://schemas.openxmlformats.org/spreadsheetml/2006/main}"
R = "{http://schemas.openxmlformats.org/officeDocument/2006/relationships}id"


class Book:
    def __init__(self, path):
        self.zip = zipfile.ZipFile(path)
        self.shared = []
        if "xl/sharedStrings.xml" in self.zip.namelist():
            for item in ET.fromstring(self.zip.read("xl/sharedStrings.xml")).findall(M + "si"):
                self.shared.append("".join(t.text or "" for t in item.iter(M + "t")))
        rels = {r.get("Id"): r.get("Target")
                for r in ET.fromstring(self.zip.read("xl/_rels/workbook.xml.rels"))}
        book = ET.fromstring(self.zip.read("xl/workbook.xml"))
        self.parts = {}
        for sheet in book.find(M + "sheets"):
            target = rels[sheet.get(R)].lstrip("/")
            self.parts[sheet.get("name")] = target if target.startswith("xl/") else "xl/" + target
        names = book.find(M + "definedNames")
        self.names = {n.get("name"): n.text for n in (names if names is not None else [])}
        order = list(self.parts)
        self.titles = {order[int(n.get("localSheetId"))]: n.text
                       for n in (names if names is not None else [])
                       if n.get("name") == "_xlnm.Print_Titles"}
        self.areas = [n.text for n in (names if names is not None else [])
                      if n.get("name") == "_xlnm.Print_Area"]
        self.cells = {}
        for name, part in self.parts.items():
            for cell in ET.fromstring(self.zip.read(part)).iter(M + "c"):
                self.cells[name, cell.get("r")] = self.read(cell)

    def read(self, cell):
        """formula or None, value as text, whether it is text"""
        formula, value, kind = cell.find(M + "f"), cell.find(M + "v"), cell.get("t")
        text = value.text or "" if value is not None else ""
        if kind == "s" and text:
            text = self.shared[int(text)]
        if kind == "inlineStr":
            text = "".join(t.text or "" for t in cell.iter(M + "t"))
        return (formula.text or "" if formula is not None else None, text,
                kind in ("s", "str", "inlineStr"))

    def rels(self, sheet):
        folder, name = self.parts[sheet].rsplit("/", 1)
        return {r.get("Id"): r.get("Target")
                for r in ET.fromstring(self.zip.read(f"{folder}/_rels/{name}.rels"))}

    def cell(self, name, row=0):
        """a named cell, or the one that many rows below the first of named cells"""
        sheet, cells = self.names[name].rsplit("!", 1)
        column, number = re.match(r"\$([A-Z]+)\$(\d+)", cells).groups()
        return self.cells.get((sheet.strip("'"), f"{column}{int(number) + row}"))

    def texts(self, name):
        """the words in named cells"""
        numbers = [int(n) for n in re.findall(r"\$(\d+)", self.names[name])]
        return [(self.cell(name, row) or (None, ""))[1]
                for row in range(numbers[-1] - numbers[0] + 1)]

    def value(self, name, row=0):
        """the number in such a cell"""
        cell = self.cell(name, row)
        return float(cell[1] if cell and cell[1] and not cell[2] else "nan")


@functools.lru_cache(2)
def read_once(path, *_):
    return Book(path)


def read(path):
    """as it is by now"""
    now = os.stat(path)
    return read_once(path, now.st_ino, now.st_mtime_ns, now.st_size)


def equal(a, b):
    try:
        return abs(float(a) - float(b)) <= 1e-9 * max(1.0, abs(float(a)))
    except ValueError:
        return (a or "") == (b or "")


def same(a, b):
    if os.path.isdir(a):
        names = sorted(os.listdir(a))
        return bool(names) and all([same(os.path.join(a, n), os.path.join(b, n)) for n in names])
    a, b = read(a), read(b)
    formulas = {k: v for k, (f, v, _) in a.cells.items() if f is not None}
    bad = []
    for key, value in formulas.items():
        formula, now, _ = b.cells.get(key, (None, "", False))
        if formula is None or not equal(value, now) or re.match(r"#|Err:", now):
            bad.append(f"{key[0]}!{key[1]} cached {value!r} recalculated {now!r}"
                       f" by {a.cells[key][0]}")
    print(f"{len(formulas)} formulas, {len(bad)} differ, {len(a.cells)} cells")
    print("\n".join(bad[:20]))
    return bool(formulas) and not bad


def column(path, row, *wanted):
    return figures(path, *wanted, row=int(row))


def values(path, name):
    book = read(path)
    first, last = re.findall(r"\$(\d+)", book.names[name]) if ":" in book.names[name] else (1, 1)
    print(" ".join(repr(book.value(name, row)) for row in range(int(last) - int(first) + 1)))
    return True


def words(path, name):
    print(*read(path).texts(name))
    return True


def figures(path, *wanted, row=0):
    book, well = read(path), True
    for item in wanted:
        name, value, tolerance = re.fullmatch(r"(\w+)=([^/]+)/(.+)", item).groups()
        found = book.value(name, row)
        if not abs(found - float(value)) <= float(tolerance):
            print(f"{name} is {found}, not {value}")
            well = False
    print(f"{len(wanted)} figures")
    return well and bool(wanted)


def text(path, *wanted):
    book, well = read(path), True
    for word in wanted:
        cells = [k for k, (f, v, is_text) in book.cells.items() if v == word]
        if not cells or not all(book.cells[k][2] and book.cells[k][0] is None for k in cells):
            print(f"{word!r}: {cells}")
            well = False
        # "-1" is a word of formulas too; the others are not.
        if len(word) > 2 and any(word in f for f, _, _ in book.cells.values() if f):
            print(f"{word!r} is inside a formula")
            well = False
    return well


def change(path, to, where, value):
    book = read(path)
    sheet, cell = where.split("!")
    with zipfile.ZipFile(to, "w", zipfile.ZIP_DEFLATED) as out:
        done = 0
        for part in book.zip.namelist():
            data = book.zip.read(part)
            if part == book.parts[sheet]:
                data, done = re.subn(rb'(<c r="%s"[^>]*><v>)[^<]*' % cell.encode(),
                                     rb"\g<1>" + value.encode(), data)
            out.writestr(part, data)
    return done == 1


def media(path):
    print(" ".join(str(i.file_size) for i in read(path).zip.infolist()
                   if i.filename.startswith("xl/media/")))
    return True


def page(path, sheet, *wanted):
    """pages across and down, breaks, scale, whether pictures stay within the printed columns,
    the highest value of the first chart's axis"""
    book = read(path)
    root = ET.fromstring(book.zip.read(book.parts[sheet]))
    setup = root.find(M + "pageSetup")
    fits = root.find(f"{M}sheetPr/{M}pageSetUpPr") is not None
    found = [f"W={setup.get('fitToWidth', '1') if fits else '-'}",
             f"H={setup.get('fitToHeight', '1') if fits else '-'}",
             f"breaks={len(root.findall(f'{M}rowBreaks/{M}brk'))}",
             f"upright={'no' if setup.get('orientation') == 'landscape' else 'yes'}"]
    drawing = root.find(M + "drawing")
    if drawing is not None:
        number = re.search(r"\d+", book.rels(sheet)[drawing.get(R)]).group()
        drawn = book.zip.read(f"xl/drawings/drawing{number}.xml").decode()
        ends = re.findall(r"<xdr:to><xdr:col>(\d+)", drawn)
        area = [n for n in book.areas if n.startswith((f"'{sheet}'!", f"{sheet}!"))][0]
        last = re.search(r":\$([A-Z]+)", area).group(1)
        columns = 0
        for letter in last:
            columns = columns * 26 + ord(letter) - 64
        found.append(f"inside={'yes' if all(int(e) < columns for e in ends) else 'no'}")
        rels = book.zip.namelist()
        charts = f"xl/drawings/_rels/drawing{number}.xml.rels"
        chart = re.search(r"chart\d+", book.zip.read(charts).decode()) if charts in rels else None
        if chart:
            axis = book.zip.read(f"xl/charts/{chart.group()}.xml").decode()
            top = re.search(r'<c:valAx>.*?<c:max val="([^"]+)"', axis)
            found.append(f"top={top.group(1) if top else '-'}")
            aslant = re.search(r'<c:catAx>.*?<a:bodyPr rot="(-?\d+)"', axis)
            found.append(f"rotation={aslant.group(1) if aslant else '-'}")
    print(sheet, *found)
    return bool(wanted) and all(word in found for word in wanted)


def foot(path, wanted):
    """what stands at the left foot of every sheet, its commands read as a spreadsheet does"""
    book = read(path)
    right = True
    for part in book.parts.values():
        said = ET.fromstring(book.zip.read(part)).find(f"{M}headerFooter/{M}oddFooter").text
        left, size, shown = False, "", ""
        tokens = re.findall(r'&&|&"[^"]*"|&\d+|&.|.', said, re.S)
        for token in tokens:
            if token in ("&L", "&C", "&R"):
                left = token == "&L"
            elif token == "&&":
                shown += "&" if left else ""
            elif token[0] == "&" and len(token) > 1:
                size = token[1:] if token[1:].isdigit() and left else size
                shown += token if left and token[1] in "PNDTAFZ" else ""
            elif left:
                shown += token
        # Excel counts UTF-16 units.
        units = len(said.encode("utf-16-le")) // 2
        if (shown, size) != (wanted, "9") or units > 255:
            print(part, repr(said), repr(shown), size, units)
            right = False
    return right


def opens(path):
    if os.path.isdir(path):
        return all([opens(os.path.join(path, name)) for name in sorted(os.listdir(path))])
    import openpyxl
    book = openpyxl.load_workbook(io.BytesIO(open(path, "rb").read()))
    filters = sum(1 for s in book if s.auto_filter.ref)
    frozen = sum(1 for s in book if s.freeze_panes)
    areas = sum(1 for s in book if s.print_area)
    charts = sum(len(s._charts) for s in book)
    names = len(book.defined_names)
    print(f"{len(book.sheetnames)} sheets, {filters} filters, {frozen} frozen, {areas} print areas,"
          f" {charts} charts, {names} names, {book.properties.title}")
    return (len(book.sheetnames) == 47 and filters >= 12 and frozen >= 14 and areas == 47
            and names > 100 and bool(book.properties.title))


VERBS = {"same": same, "figures": figures, "column": column, "values": values, "text": text,
         "words": words, "change": change, "page": page, "media": media, "foot": foot,
         "opens": opens}


def answer(asked):
    """what is printed, and 0 when all is well"""
    said = io.StringIO()
    with contextlib.redirect_stdout(said):
        try:
            well = VERBS[asked[0]](*asked[1:])
        except Exception:
            well = False
            traceback.print_exc(file=said)
    return said.getvalue(), 0 if well else 1


def serve():
    """A question a line, its words apart by a unit separator; after each answer a line of the end
    of a transmission and 0 or 1. A program begins once, and reads a workbook once."""
    for line in sys.stdin:
        said, code = answer(line.rstrip("\n").split("\x1f"))
        print(f"{said}\n\x04{code}", flush=True)


if __name__ == "__main__":
    if not sys.argv[1:]:
        serve()
    else:
        answered, status = answer(sys.argv[1:])
        print(answered, end="")
        sys.exit(status)
