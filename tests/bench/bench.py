#!/usr/bin/env python3
"""bench.py BUILD [--quick] [--write PAGE] [--try]: every bench, one table, measured side by side in one run.

The farms are made once and kept in BUILD/farms; delete them to have them made anew. --quick leaves
out the farm of 200,000 logs; --write puts the table between the marks of docs/performance.md. --try measures nothing that counts: it runs what asks a
farm once on a small one, as a test that the bench still reaches its end.
"""
import argparse
import csv
import math
import os
import pathlib
import shutil
import sqlite3
import subprocess
import sys
import time

HERE = pathlib.Path(__file__).resolve().parent
ROOT = HERE.parent.parent
TODAY = "2026-11-20"
SEASON = "2026"
FULL, SMALL, LARGE, DEMO, FEW = "20000", "2000", "200000", "400", "120"
# logs: years, picks. The demo farm is the one a person is shown.
FARMS = {FEW: (4, 0), DEMO: (4, 0), SMALL: (10, 20000), FULL: (10, 200000), LARGE: (10, 2000000)}

# A kind of row: the goal, of what, and who meets it where it is missed. A ratio is of what is
# measured here to what stands beside it.
RATIO, VALUE, MORE = "times", "value", "more"
GOALS = {
    "edit": (2, RATIO, "here"),
    "import": (3, RATIO, "the notebook"),
    "import-memory": (None, VALUE, ""),
    "question": (1.2, RATIO, "here"),
    "workbook": (1.3, RATIO, "here"),
    "workbook-sql": (1.3, RATIO, "here"),
    "start": (1.5, RATIO, "every desk"),
    "memory": (60, VALUE, "every desk"),
    "page": (100, MORE, "every desk"),
    "frame": (16, VALUE, "the yard"),
    "list": (5, RATIO, "here"),
    "labels": (2, RATIO, "here"),
    "rotation-cost": (1, RATIO, "here"),
}


def say(*words):
    print(*words, file=sys.stderr, flush=True)


class Bench:
    def __init__(self, build):
        self.build = pathlib.Path(build).resolve()
        self.farms = self.build / "farms"
        self.work = self.farms / "work"
        # What a run that was stopped has left would be in the way.
        shutil.rmtree(self.work, ignore_errors=True)
        self.work.mkdir(parents=True)
        self.tool = self.build / "src/tool/bedlog-tool"

    def program(self, name):
        return str(self.build / "tests/bench" / name)

    def farm(self, logs):
        path = self.farms / f"{logs}.bedlog"
        if not path.exists():
            years, picks = FARMS[logs]
            say(f"making the farm of {logs} logs")
            subprocess.run([self.program("bench-farm"), path, logs, str(years), str(picks)],
                           check=True)
        return str(path)

    def rows(self, *command):
        """What a bench prints as rows: key, what, here, beside, unit."""
        say("measuring:", pathlib.Path(command[0]).name, *(os.path.basename(str(c)) for c in command[1:]))
        environment = dict(os.environ, GSETTINGS_SCHEMA_DIR=str(self.build / "data"))
        done = subprocess.run([str(c) for c in command], stdout=subprocess.PIPE, text=True,
                              env=environment, stderr=subprocess.PIPE, check=False)
        if done.returncode not in (0, 77):
            sys.exit(f"{command[0]} failed:\n{done.stdout}{done.stderr}")
        for line in done.stdout.splitlines():
            if line.startswith("row\t"):
                _, key, what, here, beside, unit = line.split("\t")
                say(f"  {what}: {here} {beside} {unit}")
                yield key, what, float(here), float(beside), unit

    # The sides of each comparison, in turn.

    def edit(self, logs):
        return self.rows(self.program("bench-edit"), self.farm(logs), self.work)

    def questions(self, logs, runs):
        return self.rows(self.program("bench-questions"), self.farm(logs), SEASON,
                         ROOT / "data/schema/views.sql", self.program("shell-functions"), self.work,
                         runs)

    def workbook(self, logs, runs):
        return self.rows(self.program("bench-report"), self.farm(logs), self.work, runs,
                         sys.executable, HERE)

    def asked_and_written(self, logs, runs):
        """The questions, the workbook, and the workbook beside libxlsxwriter with the questions."""
        asked = list(self.questions(logs, runs))
        written = list(self.workbook(logs, runs))
        sql_ms = sum(row[3] for row in asked
                     if row[0] == "outlook" or row[0] == "question" and row[1].startswith("all "))
        book = next(row for row in written if row[0] == "workbook")
        return [*asked, *written,
                ("workbook-sql", "the same, beside libxlsxwriter and the SQL of its questions",
                 book[2], book[3] + sql_ms / 1000, "s")]

    def report(self, logs):
        """As a person makes it, with the maps of the yard."""
        book = self.work / "season.xlsx"
        seconds, most = timed([self.tool, "report", self.farm(logs), "--season", SEASON, "-o", book])
        book.unlink()
        yield "report", "the season's workbook by the tool, maps and all", seconds, math.nan, "s"
        yield "report-memory", "memory of that at most", most, math.nan, "MB"

    def desk(self, logs, runs):
        return self.rows(sys.executable, ROOT / "tests/app/on_screen.py", sys.executable,
                         HERE / "desk.py", self.program("bench-desk"), self.farm(logs),
                         self.farm(FEW), self.farm(DEMO), runs)

    def lists(self, logs, tenth):
        return self.rows(self.program("bench-lists"), self.farm(logs), self.farm(tenth))

    def import_all(self, logs, runs):
        """The farm's CSVs into an empty farm; beside it the shell reads the same rows, as they are
        stored, into the same tables with the same indexes, in one transaction."""
        folder, made = self.work / "csv", self.work / "import.bedlog"
        shutil.rmtree(folder, ignore_errors=True)
        subprocess.run([self.tool, "export", self.farm(logs), folder], check=True,
                       stdout=subprocess.DEVNULL)
        for kind in ("farm", "wood", "mushroom"):
            (folder / f"{kind}.csv").unlink(missing_ok=True)
        kinds = sorted(path.stem for path in folder.iterdir())
        records = sum(1 for kind in kinds for _ in open(folder / f"{kind}.csv", encoding="utf-8"))
        here, shell = [], []
        script = self.shell_import(logs, kinds)
        for _ in range(runs):
            made.unlink(missing_ok=True)
            subprocess.run([self.tool, "new", made, "--name", "Bench"], check=True,
                           stdout=subprocess.DEVNULL)
            here.append(timed([self.tool, "import", made, "all", folder]))
            made.unlink()
            shell.append(timed(["sqlite3", made], script))
        seconds = [least(side, 0) for side in (here, shell)]
        yield ("import", f"{records - len(kinds)} records from CSV, beside .import of the shell",
               *seconds, "s")
        yield "import-memory", "memory of that import at most", least(here, 1), math.nan, "MB"
        made.unlink()
        shutil.rmtree(folder)
        shutil.rmtree(self.work / "rows")

    def shell_import(self, logs, kinds):
        """What the shell is told. It knows no NULL: so no column is of a type or refers to another
        table, and indexes of some rows alone are left out."""
        rows = self.work / "rows"
        rows.mkdir()
        lines = ["PRAGMA synchronous = EXTRA;", ".mode csv", "BEGIN;"]
        with sqlite3.connect(self.farm(logs)) as farm:
            for kind in kinds:
                columns = [c[1] for c in farm.execute(f'PRAGMA table_info ("{kind}")')]
                with open(rows / kind, "w", encoding="utf-8", newline="") as out:
                    csv.writer(out).writerows(farm.execute(f'SELECT * FROM "{kind}"'))
                names = ", ".join(f'"{name}"' for name in columns[1:])
                lines.append(f'CREATE TABLE "{kind}" (id INTEGER PRIMARY KEY, {names});')
                lines += [sql + ";" for sql, in farm.execute(
                    "SELECT sql FROM sqlite_schema WHERE type = 'index' AND tbl_name = ?"
                    " AND sql NOT LIKE '% WHERE %'", (kind,))]
                lines.append(f'.import "{rows / kind}" "{kind}"')
        return "\n".join(lines + ["COMMIT;"])


def timed(command, text=None):
    """Seconds, and MB at most."""
    start = time.monotonic()
    child = subprocess.Popen([str(c) for c in command], stdin=subprocess.PIPE,
                             stdout=subprocess.DEVNULL, text=True)
    if text:
        child.stdin.write(text)
    child.stdin.close()
    _, status, usage = os.wait4(child.pid, 0)
    child.returncode = os.waitstatus_to_exitcode(status)
    if child.returncode:
        sys.exit(f"{command} failed")
    return time.monotonic() - start, usage.ru_maxrss / 1024


def least(runs, which):
    return min(run[which] for run in runs)


def number(value):
    if math.isnan(value):
        return "–"
    return f"{value:.0f}" if abs(value) >= 100 else f"{value:.3g}"


def judge(key, here, beside):
    """The goal in words, and whether it is met."""
    goal, of, owner = GOALS.get(key, (None, VALUE, ""))
    if goal is None:
        return "–", "–"
    value = here if of == VALUE else here - beside if of == MORE else here / beside
    words = f"at most {goal:g}" + (" ms more" if of == MORE else "")
    if math.isnan(value):
        return words, "nothing to compare"
    if value <= goal:
        return words, "met"
    return words, f"missed, owned by {'this bench' if owner == 'here' else owner}"


def table(rows):
    yield "| what | here | beside it | ratio | goal | |"
    yield "|---|--:|--:|--:|---|---|"
    for key, what, here, beside, unit in rows:
        ratio = "–" if math.isnan(beside) else f"{here / beside:.2f}"
        words, verdict = judge(key, here, beside)
        yield (f"| {what} | {number(here)} {unit} | {number(beside)}"
               f"{'' if math.isnan(beside) else ' ' + unit} | {ratio} | {words} | {verdict} |")


# How a figure grows: of these rows, what is measured here.
GROWING = (("edit", "a pick is written down"), ("edit", "24 logs are moved"),
           ("outlook", "the season reckoned"), ("question", "all "), ("report", ""), ("report-memory", ""),
           ("start", ""), ("shown", ""), ("memory", ""), ("page", "page batches"), ("page", "page season"),
           ("list", "a row of log_today"), ("list", "a row of batch_summary"))


def growth(measured):
    """@measured: logs -> rows."""
    yield "| what | " + " | ".join(f"{int(logs):,} logs" for logs in measured) + " |"
    yield "|---|" + "--:|" * len(measured)
    for key, begins in GROWING:
        found = [[(r[1], r[2], r[4]) for r in rows if r[0] == key and r[1].startswith(begins)][:1]
                 for rows in measured.values()]
        if any(found):
            name = next(f[0][0] for f in found if f).split(", beside")[0].split(", against")[0]
            yield f"| {name} | " + " | ".join(
                f"{number(f[0][1])} {f[0][2]}" if f else "–" for f in found) + " |"


def measure_one(bench, logs, runs):
    return [*bench.edit(logs), *bench.questions(logs, runs), *bench.report(logs),
            *bench.desk(logs, runs), *bench.lists(logs, SMALL)]


def measure_full(bench):
    return [*bench.edit(FULL), *bench.asked_and_written(FULL, 7),
            *bench.report(FULL), *bench.desk(FULL, 5), *bench.lists(FULL, SMALL),
            *bench.rows(bench.program("bench-labels")),
            *bench.rows(bench.program("bench-rotation")), *bench.import_all(FULL, 1)]


def try_all(bench):
    parts = {"edit": lambda: bench.edit(SMALL),
             "workbook": lambda: bench.asked_and_written(DEMO, 1), "report": lambda: bench.report(DEMO),
             "desk": lambda: bench.desk(DEMO, 1), "lists": lambda: bench.lists(SMALL, DEMO),
             "import": lambda: bench.import_all(DEMO, 1)}
    print(f"1..{len(parts)}", flush=True)
    for number_of, (name, part) in enumerate(parts.items(), 1):
        rows = list(part())
        print("ok" if rows else "not ok", number_of, f"- {name}: {len(rows)} rows", flush=True)


def write(page, lines):
    text = page.read_text(encoding="utf-8")
    begin, end = "<!-- table -->\n", "<!-- end of table -->\n"
    before, rest = text.split(begin)
    page.write_text(before + begin + "\n".join(lines) + "\n" + end + rest.split(end)[1],
                    encoding="utf-8")


def main():
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("build")
    parser.add_argument("--quick", action="store_true")
    parser.add_argument("--write", type=pathlib.Path)
    parser.add_argument("--try", action="store_true", dest="trying")
    asked = parser.parse_args()
    bench = Bench(asked.build)
    if asked.trying:
        try_all(bench)
        return
    rows = measure_full(bench)
    measured = {SMALL: measure_one(bench, SMALL, 2), FULL: rows}
    if not asked.quick:
        measured[LARGE] = measure_one(bench, LARGE, 1)
    lines = [f"Load of the machine at the end: {os.getloadavg()[2]:.1f} on {os.cpu_count()} "
             "processors. The more above their number, the less the milliseconds say.", "",
             *table(rows), "", *growth(measured)]
    print("\n".join(lines))
    if asked.write:
        write(asked.write, lines)


main()
