#!/usr/bin/env python3
"""window_kills.py DESK TOOL N [SEED]: the window, killed N times while stands are typed, taken back
and done again, as TAP; runs inside tests/app/on_screen.py.

After each kill what had been in the farm is there (a change may have come since), check is clean,
and the window opens the farm again by itself.
"""
import os
import random
import signal
import sqlite3
import subprocess
import sys
import tempfile
import time

sys.path.insert(0, os.path.join(os.path.dirname(__file__), "..", "app"))
import desk as desk_module  # noqa: E402

DESK, TOOL, N = sys.argv[1], sys.argv[2], int(sys.argv[3])
SEED = int(sys.argv[4]) if len(sys.argv) > 4 else random.randrange(1 << 31)
chance = random.Random(SEED)


def changes(path):
    with sqlite3.connect(f"file:{path}?mode=ro", uri=True, timeout=5) as farm:
        return farm.execute("SELECT id, sentence, role FROM change ORDER BY id").fetchall()


def press_keys(desk, until):
    """Undo and redo, without an end, until the moment comes; what the farm held last."""
    while time.monotonic() < until:
        for key in ("ctrl+z", "ctrl+z", "ctrl+shift+z", "ctrl+shift+z"):
            subprocess.run(["xdotool", "key", key], check=False, timeout=10)
            if time.monotonic() >= until:
                break


def one_kill(path, title):
    """What is wrong after a kill, or None."""
    desk = desk_module.Desk(DESK, [path])
    desk.window(title)
    desk.keyboard_to(title)
    before = changes(path)
    stopper = subprocess.Popen(["sh", "-c", f"sleep {chance.uniform(0.2, 2.0):.3f};"
                                f" kill -{int(signal.SIGKILL)} {desk.process.pid}"])
    press_keys(desk, time.monotonic() + 2.2)
    stopper.wait()
    desk.process.wait(10)
    if desk.process.returncode != -signal.SIGKILL:
        return f"the window ended by itself ({desk.process.returncode})", 0
    checked = subprocess.run([TOOL, "check", path], capture_output=True, text=True, timeout=60)
    if checked.returncode != 0:
        return f"check: {checked.stdout} {checked.stderr}", 0
    after = changes(path)
    if after[:len(before)] != before:
        return "what had been in the history is lost", 0
    return None, len(after) - len(before)


def main():
    print(f"# seed {SEED}")
    faults, done = 0, 0
    with tempfile.TemporaryDirectory() as folder:
        path = os.path.join(folder, "Hill.bedlog")
        csv = os.path.join(folder, "stand.csv")
        subprocess.run([TOOL, "new", path, "--name", "Hill"], check=True)
        for i in range(6):
            with open(csv, "w", encoding="utf-8") as out:
                out.write("name\n" + "\n".join(f"Stand {i}-{n}" for n in range(100)) + "\n")
            subprocess.run([TOOL, "import", path, "stand", csv], check=True,
                           stdout=subprocess.DEVNULL)
        for number in range(N):
            fault, came = one_kill(path, "Hill")
            done += came
            if fault:
                faults += 1
                print(f"# kill {number}: {fault}", flush=True)
    # Kills of a window that did nothing would prove nothing.
    idle = N > 0 and done == 0
    print(f"# {N} kills, {done} changes written while they were waited for, {faults} wrong")
    print(("not ok" if faults or idle else "ok") + " 1 /crash/kills/window")
    print("1..1")
    return 1 if faults or idle else 0


sys.exit(main())
