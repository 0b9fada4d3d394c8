#!/usr/bin/env python3
"""said.py TOOL WORK: numbers of a farm that weighs in pounds and counts in euro, as a person says
them in the workbook and at the console, as TAP."""
import os
import re
import shutil
import sqlite3
import subprocess
import sys
import xml.etree.ElementTree as ET

from xlsx_check import Book, M

TOOL, WORK = os.path.abspath(sys.argv[1]), os.path.abspath(sys.argv[2])
FARM, BOOK = os.path.join(WORK, "farm.bedlog"), os.path.join(WORK, "farm.xlsx")

TYPED = [
    "UPDATE farm SET currency = 'EUR', weekly_demand = 4989516",         # 11 lb
    "UPDATE log SET small_diameter = 133350 WHERE id % 4 = 0",            # 5 1/4 in
    "UPDATE log SET small_diameter = 134620 WHERE id % 4 = 1",            # 5.3 in
    "UPDATE log SET small_diameter = 11113 * 9 WHERE id % 4 = 2",         # about 3.9376 in
    "UPDATE pick SET mass = 4989516 WHERE id % 5 = 0 AND stack IS NULL",  # 11 lb
    "UPDATE pick SET mass = 85049 WHERE id % 5 = 1 AND stack IS NULL",    # 3 oz
    "UPDATE pick SET mass = 166185 WHERE id % 5 = 2 AND stack IS NULL",   # 0.366376 lb
]


def run(*words):
    done = subprocess.run([TOOL, *words], capture_output=True, text=True, check=False)
    if done.returncode:
        raise RuntimeError(f"{words}: {done.stderr}")
    return done.stdout


class Shown(Book):
    """Cells as a spreadsheet shows them: #,##0.00 and the like, a dash for nought."""

    def __init__(self, path):
        self.number_formats, self.styles = {}, []
        super().__init__(path)
        styles = ET.fromstring(self.zip.read("xl/styles.xml"))
        self.number_formats = {n.get("numFmtId"): n.get("formatCode")
                               for n in styles.iter(M + "numFmt")}
        self.number_formats |= {"1": "0", "2": "0.00", "3": "#,##0", "4": "#,##0.00", "9": "0%"}
        self.styles = [x.get("numFmtId") for x in styles.find(M + "cellXfs")]
        self.format_of = {}
        for name, part in self.parts.items():
            for cell in ET.fromstring(self.zip.read(part)).iter(M + "c"):
                self.format_of[name, cell.get("r")] = self.number_formats.get(
                    self.styles[int(cell.get("s", "0"))], "General")

    def shown(self, key):
        code = re.sub(r"\[\w+\]", "", self.format_of[key]).split(";")[0]
        decimals = re.fullmatch(r"#,##0(?:\.(0+))?", code)
        assert decimals, (key, code)
        return f"{float(self.cells[key][1]):.{len(decimals[1] or '')}f}"

    def column(self, name):
        sheet, first, last = re.fullmatch(r"='?([^'!]+)'?!\$(.+):\$(.+)", "=" + self.names[name]
                                          .lstrip("=")).groups()
        letter = first.split("$")[0]
        rows = range(int(first.split("$")[1]), int(last.split("$")[1]) + 1)
        return [(sheet, f"{letter}{row}") for row in rows]

    def under(self, sheet, head):
        """the cells below a head, by its first words"""
        for (name, at), (_, text, is_text) in self.cells.items():
            if name == sheet and is_text and text.startswith(head):
                letter, row = re.fullmatch(r"([A-Z]+)(\d+)", at).groups()
                return [k for k in self.cells if k[0] == sheet
                        and re.fullmatch(letter + r"(\d+)", k[1]) and int(k[1][len(letter):])
                        > int(row) and self.cells[k][1] and not self.cells[k][0]]
        raise KeyError(head)

    def beside(self, sheet, label):
        for (name, at), (_, text, is_text) in self.cells.items():
            if name == sheet and is_text and text == label:
                return sheet, "B" + at[1:]
        raise KeyError(label)


def typed_lengths(book):
    shown = {book.shown(key) for key in book.under("Logs", "Small end")}
    yield from {"5.25", "5.3", "3.94"} - shown
    yield from (text for text in shown if re.search(r"\.\d{3}", text))


def typed_masses(book):
    shown = {book.shown(key) for key in book.column("Picks_mass")}
    yield from {"11", "0.1875", "0.37"} - shown
    stored = {book.cells[key][1] for key in book.column("Picks_mass")}
    yield from {"11", "0.1875"} - stored
    yield from (text for text in stored if text.startswith("10.99"))
    demand = book.beside("Next season", "Wanted each week")
    if book.shown(demand) != "11":
        yield f"wanted each week {book.shown(demand)}"


def reckoned(book):
    """as fine as on the pages, which are as fine as the table of figures"""
    told = {line.split()[0]: line.split()[1]
            for line in run("figures", FARM, "--season", "2026").splitlines() if line.strip()}
    for key in ("picked", "sold", "picked_per_log", "hours", "expected_next", "cost",
                "price_got_fresh", "logs_in_season", "hours_per_kg"):
        sheet, cell = re.fullmatch(r"=?'?([^'!]+)'?!(.+)", book.names["figure_" + key]).groups()
        shown = book.shown((sheet, cell.replace("$", "")))
        if shown != told[key]:
            yield f"{key}: {shown} in the workbook, {told[key]} by the tool"


def whole(book):
    for label in ("Logs that make it up", "Logs a year that keep up what is wanted",
                  "Logs to inoculate", "Trees to cut", "and in pieces"):
        key = book.beside("Next season", label)
        if not re.fullmatch(r"\d+", book.cells[key][1]):
            yield f"{label}: {book.cells[key][1]!r}"


def currency(book):
    texts = [text for _, text, is_text in book.cells.values() if is_text]
    texts += book.number_formats.values()
    lot = sqlite3.connect(FARM).execute("SELECT code FROM lot ORDER BY id LIMIT 1").fetchone()[0]
    texts += [run("trace", FARM, lot), run("figures", FARM), run("due", FARM), run("history", FARM)]
    yield from (text for text in texts if re.search(r"\$|USD|£", text.replace("$A", "")))
    if not any("EUR" in text for text in texts):
        yield "no euro"


def new_year(_):
    """the first days of 2027 are in week 53 of 2026, and a label says which year begins"""
    path = os.path.join(WORK, "winter.bedlog")
    run("demo", path, "--logs", "40", "--years", "3", "--today", "2027-01-20")
    with sqlite3.connect(path) as db:
        ids = [i for i, in db.execute("SELECT id FROM pick WHERE stack IS NULL ORDER BY id LIMIT 2")]
        db.execute("DELETE FROM pick WHERE picked_on >= '2026-12-28'")
        for day, pick in zip(("2027-01-03", "2027-01-04"), ids):
            db.execute("UPDATE pick SET picked_on = ?, mass = 453592370 WHERE id = ?", (day, pick))
    run("report", path, "--season", "2027", "-o", path + ".xlsx")
    winter = Shown(path + ".xlsx")
    weeks = [winter.cells[key][1] for key in winter.column("Weeks_week")]
    masses = [winter.cells[key][1] for key in winter.column("Weeks_mass")]
    labels = [winter.cells[key][1] for key in winter.column("Weeks_label")]
    if weeks[:3] + weeks[-1:] != ["2026-W53", "2027-W01", "2027-W02", "2027-W52"]:
        yield f"weeks {weeks}"
    if [float(mass) for mass in masses[:3]] != [1000, 1000, 0]:
        yield f"masses {masses[:3]}"
    if [label for label in labels if label][:3] != ["2026-W53", "2027-W04", "W08"]:
        yield f"labels {labels[:9]}"


def beside(book):
    """the published yield is on the basis of the column: fresh over dry wood"""
    note = next(text for _, text, is_text in book.cells.values()
                if is_text and text.startswith("Fresh mass over dry wood ("))
    ranges = [(float(low), float(high)) for low, high in
              re.findall(r"([\d.]+)-([\d.]+) %", note)]
    share = re.search(r"with (\d+) % of dry matter", note)
    if not share or ranges != [(2.5, 10.5), (250 / float(share[1]), 1050 / float(share[1]))]:
        yield note
    # A cone without its tip, less its bark.
    dry = book.cells["Logs", "K5"]
    db = sqlite3.connect(FARM)
    small, large, length, density, bark = db.execute(
        "SELECT l.small_diameter, l.large_diameter, l.length, w.basic_density, w.bark_share"
        " FROM log l JOIN felling f ON f.id = l.felling JOIN wood w ON w.id = f.wood"
        " ORDER BY l.code LIMIT 1").fetchone()
    a, b = small / 1e6, (large or small) / 1e6
    litres = 3.141592653589793 / 12 * (a * a + a * b + b * b) * length / 1e6 * 1000
    kg = litres / (1 + bark / 1e4) * density / 1000
    if abs(float(dry[1]) * 0.45359237 - kg) > 1e-6 * kg:
        yield f"dry wood {dry[1]} lb, not {kg} kg"


def alike_alone(book):
    """No average of fresh, dried and given away, of woods and strains, of ages of logs."""
    for sheet, head in (("Sales", "Price, USD/"), ("Wood x strain", "Mean"),
                        ("Batches", "Each log in all"), ("Batches", "Fresh mass over"),
                        ("Batch spending", "Own cost so far"), ("Crop by season", "Each log"),
                        ("Crop by age", "Each log that year"), ("Logs", "Fresh mass over")):
        row = max(int(at[1:]) for (name, at), (_, text, _) in book.cells.items()
                  if name == sheet and text == "Total" and at[0] == "A")
        head = head.replace("USD", "EUR")
        column = [re.match("[A-Z]+", at).group() for (name, at), (_, text, is_text)
                  in book.cells.items() if name == sheet and is_text and text.startswith(head)]
        total = book.cells.get((sheet, f"{column[-1]}{row}"), (None, "", False))
        if total[0] is not None or total[1]:
            yield f"{sheet}: {total}"


CASES = [typed_lengths, typed_masses, reckoned, whole, currency, new_year, beside, alike_alone]


def main():
    shutil.rmtree(WORK, ignore_errors=True)
    os.makedirs(WORK)
    run("demo", FARM, "--logs", "80", "--years", "3", "--today", "2026-07-14")
    with sqlite3.connect(FARM) as db:
        for statement in TYPED:
            db.execute(statement)
    run("report", FARM, "--season", "2026", "-o", BOOK)
    book = Shown(BOOK)
    print(f"1..{len(CASES)}", flush=True)
    for number, case in enumerate(CASES, 1):
        faults = list(case(book))
        for fault in faults:
            print("#", fault)
        print("not ok" if faults else "ok", number, "/said/" + case.__name__.replace("_", "-"),
              flush=True)
    shutil.rmtree(WORK)


main()
