#!/usr/bin/env python3
"""agree.py TOOL WORK: the figures of many farms by the tool and in the workbook, as TAP.

Each season figure that `bedlog-tool figures` tells is the cell figure_KEY of the workbook, and the
live formulas there come to the same answer as the table of figures; so do the sheets of logs, of
kinds and of weeks. What was typed in pounds stands there as it was typed, where the farm has whole
milligrams: sums differ by half of one an entry at most, and by no digit that is shown."""
import datetime
import json
import math
import os
import shutil
import sqlite3
import subprocess
import sys

from xlsx_check import Book

TOOL, WORK = os.path.abspath(sys.argv[1]), os.path.abspath(sys.argv[2])
POUND = 0.45359237
# By key: in the workbook by the farm's unit of mass, one or the other way.
BY_MASS = {"picked", "sold", "picked_per_log", "expected_next_low", "expected_next",
           "expected_next_high", "expected_week"}
PER_MASS = {"cost_per_kg", "hours_per_kg", "price_got_fresh", "price_got_dried",
            "price_to_break_even"}

# What is done to the demo farm of each seed, two things at a time where neither hides what the
# other does. Numbers are invented.
TURNS = {
    "as it is": [],
    "metric, each tool by a method": [
        "UPDATE farm SET unit_system = 'metric'",
        "UPDATE equipment SET method = CASE id % 3 WHEN 0 THEN 'declining 150' WHEN 1"
        " THEN 'declining 200' ELSE 'years'' digits' END",
    ],
    "retired logs, refunds": [
        "UPDATE log SET retired_on = '2026-05-01', retired_why = 'rotten' WHERE id % 3 ="
        " 0 AND retired_on IS NULL",
        "UPDATE purchase SET amount = -amount WHERE id % 3 = 0",
    ],
    "retired in winter, other tasks": [
        "UPDATE log SET retired_on = '2025-12-31', retired_why = 'rotten' WHERE id % 4 ="
        " 0 AND retired_on IS NULL",
        "UPDATE hours SET batch = NULL",
    ],
    "no sales, dear hours": [
        "DELETE FROM line",
        "DELETE FROM sale",
        "UPDATE hours SET rate = 99999 WHERE id % 2 = 0",
    ],
    "dried sales, picks of batches": [
        "UPDATE line SET form = 'dried' WHERE id % 2 = 0 AND \"use\" = 'sold'",
        "UPDATE pick SET batch = (SELECT batch FROM log WHERE id = pick.log), log = NULL"
        " WHERE log IS NOT NULL AND (SELECT batch FROM log WHERE id = pick.log) IS NOT"
        " NULL",
    ],
    "only dried, stock": [
        "UPDATE line SET form = 'dried' WHERE \"use\" = 'sold'",
        "INSERT INTO stock_count (counted_on, category, amount) VALUES ('2024-12-31',"
        " 'wax', 1234), ('2025-12-30', 'wax', 3210), ('2025-10-01', 'wax', 1),"
        " ('2025-12-31', 'packaging', 777), ('2026-06-01', 'spawn', 5050)",
    ],
    "July seasons, taxed": [
        "UPDATE farm SET season_start = '07-01'",
        "UPDATE farm SET tax_reclaimed = 'no'",
        "UPDATE purchase SET tax = amount / 7",
        "UPDATE purchase SET scope = 'batch', batch = (SELECT max (id) FROM batch) WHERE"
        " category = 'wax'",
    ],
    "the south, old tools": [
        "UPDATE farm SET hemisphere = 'south', season_start = '07-01'",
        "UPDATE equipment SET bought_on = '2015-03-01'",
    ],
    "October seasons, spawn paid": [
        "UPDATE farm SET season_start = '10-15'",
        "INSERT INTO purchase (bought_on, category, what, amount, scope, spawn) SELECT"
        " received_on, 'spawn', 'spawn', cost, 'season', id FROM spawn",
        "UPDATE spawn SET cost = NULL WHERE id % 2 = 0",
    ],
    "no picks, winter work": [
        "DELETE FROM drying",
        "DELETE FROM line",
        "DELETE FROM pick",
        "UPDATE hours SET worked_on = date (worked_on, '-120 days')",
        "UPDATE purchase SET bought_on = date (bought_on, '-120 days')",
    ],
    "nothing spent, one season": [
        "DELETE FROM purchase",
        "DELETE FROM hours",
        "DELETE FROM equipment",
        "DELETE FROM pick WHERE picked_on < '2026-01-01'",
    ],
    # Today, whenever that is, has a tank to lift from and soaks of the weeks before.
    "soaked last week": [
        "CREATE TEMP TABLE ago AS SELECT (julianday ('now') - 8 - julianday (max"
        " (put_in))) || ' days' AS days FROM soak",
        "UPDATE soak SET put_in = strftime ('%Y-%m-%dT%H:%M', put_in, (SELECT days FROM"
        " ago)), taken_out = strftime ('%Y-%m-%dT%H:%M', taken_out, (SELECT days FROM"
        " ago))",
        "UPDATE pick SET picked_on = date (picked_on, (SELECT days FROM ago))",
    ],
    "one kind": [
        "UPDATE felling SET wood = (SELECT min (wood) FROM felling)",
        "UPDATE spawn SET strain = (SELECT min (strain) FROM spawn)",
        "UPDATE felling SET felled_on = '2019' || substr (felled_on, 5)",
        "UPDATE batch SET inoculated_on = '2020' || substr (inoculated_on, 5)",
    ],
    "yen": [
        "UPDATE farm SET currency = 'JPY'",
    ],
}
LONG = {"one kind"}  # batches enough to say how sure a kind's level is
SOAKED = f"{list(TURNS).index('soaked last week') + 1}.bedlog"


def run(*words):
    done = subprocess.run([TOOL, *words], capture_output=True, text=True, check=False)
    if done.returncode:
        raise RuntimeError(f"{words}: {done.stderr}")
    return done.stdout


def make(path, seed, years, statements):
    run("demo", path, "--logs", "60", "--years", years, "--seed", str(seed), "--today", "2026-07-14")
    with sqlite3.connect(path) as db:
        for statement in statements:
            db.execute(statement)
        pounds, entries = db.execute(
            "SELECT unit_system = 'US', (SELECT count (*) FROM pick) + (SELECT count (*) FROM line)"
            " FROM farm").fetchone()
        return pounds, 0.5e-6 * entries if pounds else 0


def near(value, found, apart):
    return math.isclose(value, found, rel_tol=1e-9, abs_tol=max(1e-9, apart))


def shown_alike(value, found, apart, pounds, decimals=2):
    """A person reads the same, where the answer is not between two of what can be read."""
    unit = POUND if pounds else 1
    edge = (value / unit * 10 ** decimals + 0.5) % 1
    return (min(edge, 1 - edge) * 10 ** -decimals * unit <= apart + 1e-9
            or f"{value / unit:.{decimals}f}" == f"{found / unit:.{decimals}f}")


def differences(path, season, pounds, apart):
    """What one says and the other not. @apart: what a sum of masses may differ by, kg."""
    book = path + ".xlsx"
    told = json.loads(run("figures", path, "--season", season, "--json"))["figures"]
    run("report", path, "--season", season, "-o", book)
    cells = Book(book)
    for key, value in told.items():
        found = cells.value("figure_" + key)
        factor = POUND if pounds else 1
        found *= factor if key in BY_MASS else 1 / factor if key in PER_MASS else 1
        room = (apart if key in BY_MASS else
                value * apart / (told["picked"] or 1) * 2 if key in PER_MASS and value else 0)
        if (value is None and not math.isnan(found)
                or value is not None and not near(value, found, room)
                or key in BY_MASS and value and not shown_alike(value, found, apart, pounds)):
            yield f"{season} {key}: {value} by the tool, {found} in the workbook"


def rows(cells, table, names, tellers, factor, apart):
    """What the rows of @table hold by @names, and how the tool is asked for them."""
    for row, ask in tellers:
        told = ask if isinstance(ask, dict) else json.loads(run(*ask))["figures"]
        for key, (name, is_mass) in names.items():
            found = cells.value(f"{table}_{name}", row) * (factor if is_mass else 1)
            value = told[key]
            if value is not None and not near(value, found, apart if is_mass else 0):
                yield f"{table} row {row} {key}: {value} by the tool, {found} in the workbook"


def in_rows(path, season, pounds, apart):
    """The same of some logs, all kinds and the week of most mass."""
    cells, factor = Book(path + ".xlsx"), POUND if pounds else 1
    codes = cells.texts("Logs_code")
    logs = [(row, ("figures", path, "--season", season, "--log", codes[row], "--json"))
            for row in range(0, len(codes), len(codes) // 4)]
    yield from rows(cells, "Logs", {"picked": ("season", True), "picked_in_all": ("in_all", True),
                                    "soaks": ("soaks", False)}, logs, factor, apart)
    told = {(kind["wood"], kind["strain"]): kind["figures"] for kind in
            json.loads(run("figures", path, "--season", season, "--kinds", "--json"))}
    kinds = [(row, told[kind]) for row, kind in enumerate(
        zip(cells.texts("Kinds_wood"), cells.texts("Kinds_strain"))) if kind in told]
    if len(kinds) != len(told):
        yield f"{len(told)} kinds by the tool, {len(kinds)} of them in the workbook"
    yield from rows(cells, "Kinds", {"level": ("level", True), "level_low": ("level_low", True),
                                     "level_high": ("level_high", True),
                                     "batches": ("batches", False)}, kinds, factor, 0)
    if any(kind["batches"] > 5 and kind["level_low"] is None for _, kind in kinds):
        yield "nothing says how sure the level of six batches is"
    names = cells.texts("Weeks_week")
    now = "{0}-W{1:02}".format(*datetime.date.today().isocalendar())
    weeks = [max(range(len(names)), key=lambda row: cells.value("Weeks_mass", row))]
    weeks += [names.index(now) - 2, names.index(now)] if now in names else []
    asked = [(row, ("figures", path, "--week", monday(names[row]), "--json")) for row in weeks]
    yield from rows(cells, "Weeks", {"picked": ("mass", True), "expected": ("expected", True)},
                    asked, factor, apart)
    if os.path.basename(path) == SOAKED and not cells.value("figure_expected_week") > 0:
        yield "nothing is expected of the soaks of last week"


def monday(week):
    """Of 2026-W07."""
    year, number = week.split("-W")
    return datetime.date.fromisocalendar(int(year), int(number), 1).isoformat()


def main():
    shutil.rmtree(WORK, ignore_errors=True)
    os.makedirs(WORK)
    print(f"1..{len(TURNS)}", flush=True)
    for number, (name, statements) in enumerate(TURNS.items(), 1):
        path = os.path.join(WORK, f"{number}.bedlog")
        pounds, apart = make(path, number, "8" if name in LONG else "3", statements)
        faults = [fault for season in ("2025", "2026")
                  for fault in differences(path, season, pounds, apart)]
        faults += in_rows(path, "2026", pounds, apart)
        for fault in faults:
            print("#", fault)
        print("not ok" if faults else "ok", number,
              "/agree/" + name.replace(",", "").replace(" ", "-"), flush=True)
    shutil.rmtree(WORK)


main()
