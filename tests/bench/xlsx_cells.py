#!/usr/bin/env python3
"""xlsx_cells.py IN.xlsx OUT: the cells of a workbook, one a line, in the order of the file:
sheet row column kind style value, tab-separated; kinds: n number, s text, b blank, f formula
with a number, t formula with a text (value, then the formula behind a further tab)."""
import re
import sys
import zipfile
import xml.etree.ElementTree as ET

M = "{http://schemas.openxmlformats.org/spreadsheetml/2006/main}"


def column(letters):
    n = 0
    for c in letters:
        n = n * 26 + ord(c) - 64
    return n - 1


book = zipfile.ZipFile(sys.argv[1])
parts = sorted((p for p in book.namelist() if p.startswith("xl/worksheets/sheet")),
               key=lambda p: int(re.search(r"\d+", p.rsplit("/", 1)[1]).group()))
with open(sys.argv[2], "w", encoding="utf-8") as out:
    for sheet, part in enumerate(parts):
        for _, cell in ET.iterparse(book.open(part)):
            if cell.tag != M + "c":
                continue
            letters, row = re.match(r"([A-Z]+)(\d+)", cell.get("r")).groups()
            f, v, kind = cell.find(M + "f"), cell.find(M + "v"), cell.get("t")
            if f is not None:
                kind, value = ("t" if kind == "str" else "f"), f"{v.text or ''}\t={f.text}"
            elif kind == "inlineStr":
                kind, value = "s", "".join(t.text or "" for t in cell.iter(M + "t"))
                value = value.replace("\t", " ").replace("\n", " ")
            elif v is not None:
                kind, value = "n", v.text
            else:
                kind, value = "b", ""
            out.write(f"{sheet}\t{int(row) - 1}\t{column(letters)}\t{kind}\t"
                      f"{cell.get('s', '0')}\t{value}\n")
            cell.clear()
