#!/usr/bin/env python3
"""kills.py TOOL N [SEED]: a day at the console, killed N times at any moment, as TAP.

After each kill the farm opens by itself, check is clean, and it holds what it held before or what
the killed command does, whole; what a command had said to be done is there.
"""
import os
import random
import shutil
import signal
import sqlite3
import subprocess
import sys
import tempfile
import time

TOOL = sys.argv[1]
N = int(sys.argv[2]) if len(sys.argv) > 2 else 100
SEED = int(sys.argv[3]) if len(sys.argv) > 3 else random.randrange(1 << 31)
chance = random.Random(SEED)


def run(*arguments):
    return subprocess.run([TOOL, *arguments], capture_output=True, text=True, timeout=120)


def signature(path):
    """How many records of each kind, and what was done: without ids and times, so that the same
    command run twice leaves the same."""
    farm = sqlite3.connect(path)
    tables = [name for (name,) in farm.execute(
        "SELECT name FROM sqlite_schema WHERE type = 'table' AND name NOT LIKE 'sqlite_%'"
        " ORDER BY name")]
    counts = [(table, farm.execute(f'SELECT count (*) FROM "{table}"').fetchone()[0])
              for table in tables]
    changes = farm.execute("SELECT sentence, role, undone_by IS NULL, length (changeset)"
                           " FROM change ORDER BY id").fetchall()
    farm.close()
    return counts, changes


class Day:
    """The commands of a day, over and over; each names what it does to the farm file."""

    def __init__(self, folder):
        self.folder = folder
        self.path = os.path.join(folder, "Hill.bedlog")
        self.turn = 0

    def csv(self, kind, lines):
        path = os.path.join(self.folder, f"{kind}.csv")
        with open(path, "w", encoding="utf-8") as out:
            out.write("\n".join(lines) + "\n")
        return ["import", self.path, kind, path]

    def stands(self):
        return self.csv("stand", ["name"] + [f"Stand {self.turn}-{i}" for i in range(200)])

    def commands(self):
        yield ["new", self.path]
        while True:
            out = os.path.join(self.folder, f"out-{self.turn}")
            yield self.stands()
            yield ["undo", self.path]
            yield ["redo", self.path]
            yield ["backup", self.path]
            yield self.csv("area", ["name", f"Yard {self.turn}"])
            yield ["report", self.path, "--season", "2026", "-o", out + ".xlsx"]
            yield ["backup", self.path, "-o", out + ".bedlog"]
            yield ["export", self.path, out]
            yield ["undo", self.path]


def kill_in(arguments, longest):
    """Runs it and kills it at some moment; whether it had ended well before."""
    process = subprocess.Popen([TOOL, *arguments], stdout=subprocess.DEVNULL,
                               stderr=subprocess.DEVNULL)
    try:
        process.wait(chance.uniform(0, longest))
    except subprocess.TimeoutExpired:
        process.send_signal(signal.SIGKILL)
    return process.wait() == 0, process.returncode == -signal.SIGKILL


def rehearse(day, arguments):
    """What the command leaves, and how long it takes, tried on a copy of the folder."""
    with tempfile.TemporaryDirectory() as other:
        place = os.path.join(other, "copy")
        shutil.copytree(day.folder, place)
        begun = time.monotonic()
        done = run(*[part.replace(day.folder, place) for part in arguments])
        taken = time.monotonic() - begun
        path = day.path.replace(day.folder, place)
        assert done.returncode == 0, (arguments, done.stderr)
        return signature(path), taken


def fault_of(day, before, after, done):
    if not os.path.exists(day.path):
        return None if before is None and not done else "the farm is gone"
    checked = run("check", day.path)
    if checked.returncode != 0:
        return f"check: {checked.stdout} {checked.stderr}"
    now = signature(day.path)
    if done and now != after:
        return "what was said to be done is not there"
    if now not in (before, after):
        return "something is there by half"
    for folder, _, names in os.walk(day.folder):
        for name in names:
            copy = os.path.join(folder, name)
            if name.endswith(".bedlog") and copy != day.path and not name.startswith("."):
                if run("check", copy).returncode != 0:
                    return f"{name} is no whole copy"
    return None


def play(rounds):
    kills, faults, farms = 0, 0, 0
    while kills < rounds:
        with tempfile.TemporaryDirectory(dir="/dev/shm" if os.access("/dev/shm", os.W_OK)
                                         else None) as folder:
            day = Day(folder)
            farms += 1
            for arguments in day.commands():
                day.turn += 1
                if kills >= rounds or day.turn > 60:
                    break
                before = signature(day.path) if os.path.exists(day.path) else None
                after, taken = rehearse(day, arguments)
                done, killed = kill_in(arguments, taken * 1.2)
                kills += killed
                fault = fault_of(day, before, after, done)
                if fault:
                    faults += 1
                    print(f"# {arguments[0]}, kill {kills}: {fault}", flush=True)
                    break
                # Cut off, it is done now: the day goes on.
                if not os.path.exists(day.path) or signature(day.path) == before != after:
                    again = run(*arguments)
                    if again.returncode != 0:
                        faults += 1
                        print(f"# {arguments[0]}, again: {again.stderr}", flush=True)
                        break
    return kills, faults, farms


def main():
    print(f"# seed {SEED}")
    kills, faults, farms = play(N)
    print(f"# {kills} kills on {farms} farms, {faults} wrong")
    print(("not ok" if faults else "ok") + " 1 /crash/kills/tool")
    print("1..1")
    return 1 if faults else 0


sys.exit(main())
