"""CSV files as nobody should hand them over: by name, the kind of record and the bytes."""

import io
import zipfile

NAMES = b"name,notes\n"


def rows(n, cell=b"Yard %d"):
    return NAMES + b"".join(cell % i + b",\n" for i in range(n))


def archive(**files):
    """A zipped workbook of these parts; what is in bytes or comes in pieces of them."""
    made = io.BytesIO()
    with zipfile.ZipFile(made, "w", zipfile.ZIP_DEFLATED) as parts:
        for name, content in files.items():
            with parts.open(name.replace("__", "/").replace("_", "."), "w") as part:
                for piece in [content] if isinstance(content, bytes) else content:
                    part.write(piece)
    return made.getvalue()


def ods(*rows, head=b""):
    return archive(content_xml=[
        head, b"<a><body><spreadsheet><table name='A'><table-row><table-cell><p>name</p>"
        b"</table-cell></table-row>", *rows, b"</table></spreadsheet></body></a>"])


def xlsx(*rows, book=b"", shared=b"<sst/>", after=b""):
    return archive(
        xl__workbook_xml=b"<workbook><sheets><sheet name='A' id='r'/></sheets>" + book
        + b"</workbook>",
        xl___rels__workbook_xml_rels=b"<a><Relationship Id='r' Type='/worksheet' Target='s.xml'/>"
        b"<Relationship Id='t' Type='/sharedStrings' Target='t.xml'/></a>",
        xl__t_xml=shared,
        xl__s_xml=[b"<worksheet><sheetData><row r='1'><c t='str'><v>name</v></c></row>", *rows,
                   b"</sheetData>", after, b"</worksheet>"])


def odd_row(times, columns=1):
    return (b"<table-row number-rows-repeated='%d'><table-cell number-columns-repeated='%d'>"
            b"<p>x</p></table-cell></table-row>" % (times, columns))


LAUGHS = b"<!DOCTYPE a [<!ENTITY a 'lol'>" + b"".join(
    b"<!ENTITY %c '%s'>" % (98 + n, b"&%c;" % (97 + n) * 10) for n in range(9)) + b"]>"
# A hundred and some megabytes of rows that come to a third of one.
BOMB = [b"<row></row><table-row></table-row>" * 30000] * 120

CSVS = {
    "empty": ("area", b""),
    "newline": ("area", b"\n"),
    "spaces": ("area", b"   \n   \n"),
    "commas": ("area", b",,,,\n,,,,\n"),
    "million-commas": ("area", b"," * 1000000),
    "million-columns": ("area", b",".join(b"c%d" % i for i in range(1000000)) + b"\n"),
    "million-cells": ("area", b"name\n" + b"x," * 1000000 + b"\n"),
    "same-column-often": ("area", b",".join([b"name"] * 100000) + b"\n" + b"a\n"),
    "hundred-thousand-rows": ("area", rows(100000)),
    "hundred-thousand-bad-rows": ("log", b"felling,length\n" + b"F99-1,long\n" * 100000),
    "hundred-thousand-same-rows": ("area", rows(100000, b"Yard %.0d")),
    "empty-rows": ("area", NAMES + b"\n" * 1000000),
    "long-line": ("area", b"x" * (10 << 20)),
    "long-cell": ("area", NAMES + b"x" * (10 << 20) + b",\n"),
    "long-note": ("area", NAMES + b'Yard,"' + b"line\n" * (2 << 20) + b'"\n'),
    "long-number": ("area", b"name,width\nYard," + b"9" * (1 << 20) + b"\n"),
    "long-digits": ("area", b"name,width\nYard,1." + b"0" * 100000 + b"1 m\n"),
    "long-name-of-another": ("stack", b"name,area,kind,built_on\nA," + b"y" * (1 << 20)
                             + b",crib,2026-01-01\n"),
    "open-quote": ("area", NAMES + b'"Yard,\n'),
    "open-quote-long": ("area", NAMES + b'"' + b"a\n" * (5 << 20)),
    "quote-in-the-middle": ("area", NAMES + b'Ya"rd,"a"b"\n'),
    "quotes-alone": ("area", b'"' * 1000001),
    "quotes-doubled": ("area", NAMES + b'"' + b'""' * 500000 + b'",\n'),
    "nul": ("area", NAMES + b"Ya\0rd,\n"),
    "nul-head": ("area", b"na\0me\nYard\n"),
    "nuls": ("area", b"\0" * 1000000),
    "bom": ("area", b"\xef\xbb\xbf" + NAMES + b"Yard,\n"),
    "bom-twice": ("area", b"\xef\xbb\xbf\xef\xbb\xbf" + NAMES + b"Yard,\n"),
    "bom-half": ("area", b"\xef\xbb"),
    "utf16-le": ("area", "\ufeffname\nYard\n".encode("utf-16-le")),
    "utf16-be": ("area", "\ufeffname\nYard\n".encode("utf-16-be")),
    "utf32": ("area", "\ufeffname\nYard\n".encode("utf-32-le")),
    "latin1": ("area", NAMES + "M\u00fchle,\n".encode("latin-1")),
    "broken-utf8": ("area", NAMES + b"\xff\xfe\xc3(,\xed\xa0\x80\n"),
    "cr": ("area", NAMES.replace(b"\n", b"\r") + b"Yard,\rHill,\r"),
    "mixed-ends": ("area", NAMES + b"A,\r\nB,\nC,\rD,\n\rE,"),
    "semicolons": ("area", b"name;notes\nYard;\n"),
    "tabs": ("area", b"name\tnotes\nYard\t\n"),
    "formulas": ("area", NAMES + b"=1+1,@SUM(A1)\n+2,-3\n"),
    "command": ("area", NAMES + b"=cmd|' /C calc'!A0,$(touch /tmp/owned)\n`id`,;rm -rf ~\n"),
    "sql": ("area", NAMES + b"'); DROP TABLE log; --,\"\"\" OR 1=1\"\n"),
    "markup": ("area", NAMES + b"<b>Yard</b>,&amp;&#0;<span font=\n"),
    "printf": ("area", NAMES + b"%s%s%n,%1000000d\n"),
    "paths": ("area", NAMES + b"../../etc/passwd,/dev/zero\n"),
    "control": ("area", NAMES + b"\x01\x02\x1b[2J,\x7f\x08\n"),
    "right-to-left": ("area", NAMES + "\u202eYard\u2066,\u200f\n".encode()),
    "combining": ("area", NAMES + "e".encode() + "\u0301".encode() * 500000 + b",\n"),
    "unknown-columns": ("area", b"nmae,colour\nYard,red\n"),
    "id-column": ("area", b"id,name\n-1,Yard\n"),
    "units-nonsense": ("area", b"name,width (parsec)\nYard,3\n"),
    "units-open": ("area", b"name,width (m\nYard,3\n"),
    "numbers-nonsense": ("area", b"name,width,shade\nA,1e999,nan\nB,-inf,0x10\nC,1/0,--1\n"
                         b"D,9223372036854775808,1 2 3\nE,1 0/0 in,5 1/4\n"),
    "dates-nonsense": ("rain", b"fell_on,depth\n2026-02-30,1\n0000-00-00,1\n99999-01-01,1\n,1\n"
                       b"2026-05-18T99:99,1\n"),
    "outline-nonsense": ("area", b"name,outline\nA,1e308 1e308\nB,\"0 0, " + b"1 1, " * 100000
                         + b"\"\nC,nan nan\n"),
    "refers-to-itself": ("pick", b"picked_on,log,grade,mass\n2026-05-18,26A-001-K,a,1\n"),
    "the-settings": ("farm", b"name,currency,season_start\n,,02-30\n"),
    "many-settings": ("farm", b"name\nA\nB\n"),
    "kind-none": ("none", NAMES),
    "kind-change": ("change", b"id\n1\n"),
    "kind-sql": ('area"; DROP TABLE log; --', NAMES),
    "a-farm": ("area", b"SQLite format 3\0" + b"\0" * 4096),
    "a-zip": ("area", b"PK\3\4" + b"\0" * 4096),
    "an-archive": ("area", archive(letter_txt=b"Dear")),
    "an-old-workbook": ("area", b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + b"\0" * 4096),
    "many-entries": ("area", archive(**{"file%d" % n: b"" for n in range(10000)})),
    "ods-bomb": ("area", ods(*BOMB)),
    "xlsx-bomb": ("area", xlsx(*BOMB)),
    "ods-laughs": ("area", ods(odd_row(1).replace(b"x", b"&j;"), head=LAUGHS)),
    "ods-of-a-file": ("area", ods(odd_row(1).replace(b"x", b"&e;"), head=b"<!DOCTYPE a [<!ENTITY e "
                                  b"SYSTEM 'file:///etc/passwd'>]>")),
    "ods-million-columns": ("area", ods(odd_row(1, 1000000))),
    "ods-million-rows": ("area", ods(odd_row(1000000))),
    "ods-thousands-of-rows": ("area", ods(odd_row(9999, 16384))),
    "ods-deep": ("area", ods(b"<b>" * 100000)),
    "ods-long-text": ("area", ods(odd_row(1).replace(b"x", b"x" * (20 << 20)))),
    "ods-long-name": ("area", ods(b"<" + b"b" * (20 << 20) + b"/>")),
    "ods-cut": ("area", ods(odd_row(3))[:200]),
    "ods-negative": ("area", ods(b"<table-row number-rows-repeated='-5'><table-cell number-columns-"
                                 b"repeated='-9'><p>x</p></table-cell></table-row>")),
    "xlsx-million-columns": ("area", xlsx(b"<row>" + b"<c t='str'><v>x</v></c>" * 1000000
                                          + b"</row>")),
    "xlsx-far-away": ("area", xlsx(b"<row r='1048576'><c r='XFD1048576' t='str'><v>x</v></c></row>"
                                   b"<row r='4294967297'/>")),
    "xlsx-many-texts": ("area", xlsx(shared=b"<sst>" + b"<si><t>%s</t></si>" % (b"x" * 100) * 700000
                                     + b"</sst>")),
    "xlsx-merged": ("area", xlsx(*[b"<row><c t='str'><v>x</v></c></row>"] * 50000,
                                 after=b"<mergeCell ref='A1:XFD1048576'/>" * 5000)),
    "xlsx-merged-often": ("area", xlsx(after=b"<mergeCell ref='A1:A2'/>" * 100000)),
    "xlsx-no-such-sheet": ("area", archive(xl__workbook_xml=b"<a><sheet name='A' id='r'/></a>")),
    "xlsx-many-sheets": ("area", archive(
        xl__workbook_xml=b"<a>" + b"<sheet name='A' id='r'/>" * 9999 + b"</a>")),
    "xlsx-wide-rows": ("area", xlsx(*[b"<row><c r='XFD1'><v>1</v></c></row>"] * 100000)),
}
