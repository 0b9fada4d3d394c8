"""CSV files as nobody should hand them over: by name, the kind of record and the bytes."""

NAMES = b"name,notes\n"


def rows(n, cell=b"Yard %d"):
    return NAMES + b"".join(cell % i + b",\n" for i in range(n))


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
}
