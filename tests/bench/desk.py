#!/usr/bin/env python3
"""desk.py BENCH_DESK FARM DEMO RUNS: start, memory, pages and the yard's frame of the desk with
FARM open, against an empty window and against the same with DEMO; in turn, as rows for bench.py.
Runs on the virtual screen of tests/app/on_screen.py."""
import os
import subprocess
import sys
import time


def run(program, *farm, pages=False):
    environment = dict(os.environ, GDK_BACKEND="x11", GSK_RENDERER="cairo", GTK_A11Y="none",
                       GSETTINGS_BACKEND="memory", GIO_USE_VFS="local", LC_ALL="C.UTF-8",
                       BENCH_STARTED=str(time.monotonic_ns() // 1000))
    if pages:
        environment["BENCH_PAGES"] = "1"
    done = subprocess.run([program, *farm], env=environment, capture_output=True, text=True,
                          check=True, timeout=300)
    return {key: float(value) for key, value in
            (line.split("\t") for line in done.stdout.splitlines() if "\t" in line)}


def least(runs, key):
    return min(run[key] for run in runs)


def row(key, what, here, beside, unit):
    print("row", key, what, f"{here:.6g}", f"{beside:.6g}", unit, sep="\t", flush=True)


def main():
    program, farm, demo, runs = *sys.argv[1:4], int(sys.argv[4])
    # The first opening of a day makes a backup; files come into the cache.
    run(program)
    first = run(program, farm)
    run(program, demo)
    empty, opened, small = [], [], []
    for _ in range(runs):
        empty.append(run(program))
        opened.append(run(program, farm, pages=True))
        small.append(run(program, demo, pages=True))
    nan = float("nan")
    row("start", "start to the first frame, beside an empty window", least(opened, "start"),
        least(empty, "start"), "ms")
    row("start-first", "the same, the first opening of a day", first["start"],
        least(empty, "start"), "ms")
    row("start-demo", "the same with the demo farm", least(small, "start"),
        least(empty, "start"), "ms")
    row("memory", "memory at the first frame, over the empty window's",
        (least(opened, "memory") - least(empty, "memory")) / 1024, nan, "MB")
    row("memory-all", "memory when every page has been opened, over the empty window's",
        (least(opened, "memory of all") - least(empty, "memory")) / 1024, nan, "MB")
    for page in (key for key in opened[0] if key.startswith("page ")):
        row("page", f"{page}, beside the demo farm's", least(opened, page), least(small, page), "ms")
    frame = least(empty, "empty frame")
    for key, what in (("frame", "at rest"), ("zoomed", "while zooming"),
                      ("pan at 60", "panning, 60 pixels to the metre"),
                      ("pan at 20", "panning, 20 pixels to the metre"),
                      ("pan at 0", "panning, all of it seen")):
        row("frame", f"a frame of the yard {what}, the 99th of a hundred, processor's time, beside"
                     " an empty window's", least(opened, f"{key} 99"), frame, "ms")


main()
