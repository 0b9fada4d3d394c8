#!/usr/bin/env python3
"""desk.py BENCH_DESK FARM FEW DEMO RUNS: start, memory, pages and the yard's frame of the desk with
FARM open, against an empty window and against the same with DEMO, and the start with FEW logs; in
turn, as rows for bench.py. Runs on the virtual screen of tests/app/on_screen.py."""
import os
import statistics
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


def middle(runs, key):
    return statistics.median(run[key] for run in runs)


def row(key, what, here, beside, unit):
    print("row", key, what, f"{here:.6g}", f"{beside:.6g}", unit, sep="\t", flush=True)


def main():
    program, farm, few, demo, runs = *sys.argv[1:5], int(sys.argv[5])
    # The first opening of a day makes a backup; files come into the cache.
    run(program)
    first = run(program, farm)
    run(program, few)
    run(program, demo)
    empty, opened, little, small = [], [], [], []
    for _ in range(runs):
        empty.append(run(program))
        opened.append(run(program, farm, pages=True))
        little.append(run(program, few))
        small.append(run(program, demo, pages=True))
    nan = float("nan")
    for of, which in ((opened, ""), (little, ", 120 logs"), (small, ", the demo farm")):
        row("start", f"first frame{which}, beside an empty window's", middle(of, "start"),
            middle(empty, "start"), "ms")
    for of, which in ((opened, ""), (little, ", 120 logs"), (small, ", the demo farm")):
        row("shown", f"first frame with the farm in it{which}", middle(of, "shown"),
            middle(empty, "start"), "ms")
    row("shown", "the same, the first opening of a day", first["shown"], middle(empty, "start"),
        "ms")
    row("memory", "memory at the first page, over the empty window's",
        (middle(opened, "memory") - middle(empty, "memory")) / 1024, nan, "MB")
    row("memory-all", "memory when every page has been opened, over the empty window's",
        (middle(opened, "memory of all") - middle(empty, "memory")) / 1024, nan, "MB")
    for page in (key for key in opened[0] if key.startswith("page ")):
        row("page", f"{page}, beside the demo farm's", middle(opened, page), middle(small, page),
            "ms")
        cpu = page.replace("page", "cpu")
        row("page-cpu", f"{page}: of the processor", middle(opened, cpu), middle(small, cpu), "ms")
    frame = least(empty, "empty frame")
    for key, what in (("frame", "at rest"), ("zoomed", "while zooming"),
                      ("pan at 60", "panning, 60 pixels to the metre"),
                      ("pan at 20", "panning, 20 pixels to the metre"),
                      ("pan at 0", "panning, all of it seen")):
        row("frame", f"a frame of the yard {what}, the 99th of a hundred, processor's time, beside"
                     " an empty window's", least(opened, f"{key} 99"), frame, "ms")


main()
