#!/usr/bin/env python3
"""journey.py PROGRAM: a season at the desk, in a real window, as TAP.

Each sibling module steps_*.py has STEPS, functions (desk, path of the farm), that
go on from where the last left off; a step that fails ends the journey.
"""
import os
import subprocess
import sys
import tempfile
import traceback

import desk as desk_module
import steps_batch
import steps_care
import steps_crop
import steps_flows
import steps_import
import steps_log
import steps_names
import steps_paper
import steps_windows
import steps_yard

MODULES = [steps_batch, steps_yard, steps_crop, steps_log, steps_care,
           steps_paper, steps_import, steps_flows, steps_names]


def have_opener(folder):
    """A desktop with one program that opens everything: it leaves a mark beside the file."""
    applications = os.path.join(folder, "share", "applications")
    os.makedirs(applications)
    with open(os.path.join(applications, "opener.desktop"), "w", encoding="utf-8") as entry:
        entry.write("[Desktop Entry]\nType=Application\nName=Opener\n"
                    "Exec=sh -c 'touch \"$0.opened\"' %f\n"
                    "MimeType=application/octet-stream;application/zip;application/pdf;"
                    "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet;\n")
    with open(os.path.join(applications, "mimeapps.list"), "w", encoding="utf-8") as defaults:
        defaults.write("[Default Applications]\n" + "".join(
            f"{kind}=opener.desktop\n" for kind in (
                "application/octet-stream", "application/zip", "application/pdf",
                "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet")))
    os.environ["XDG_DATA_HOME"] = os.path.join(folder, "share")
    os.environ["XDG_CACHE_HOME"] = os.path.join(folder, "cache")


def take_picture():
    picture = os.environ.get("BEDLOG_PICTURE")
    if picture:
        subprocess.run(["import", "-window", "root", picture], check=False)


def closed(desk, path):
    """A batch was begun and left: its typing is kept, and asked about."""
    desk.close(unsaved="Half typed and not saved: batch.", key="ctrl+q")
    said = subprocess.run([desk.program, "--version"], capture_output=True, text=True, check=True)
    assert said.stdout.startswith("bedlog "), said.stdout


def main():
    steps = (steps_windows.FIRST + [step for module in MODULES for step in module.STEPS]
             + steps_windows.LAST + [closed])
    print(f"1..{len(steps)}", flush=True)
    with tempfile.TemporaryDirectory() as folder:
        path = os.path.join(folder, "farm.bedlog")
        have_opener(folder)
        desk = desk_module.Desk(sys.argv[1])
        failed = False
        for number, step in enumerate(steps, 1):
            name = step.__name__.replace("_", " ")
            if failed:
                print(f"not ok {number} {name} # not reached", flush=True)
                continue
            try:
                step(desk, path)
                print(f"ok {number} {name}", flush=True)
            except Exception:
                failed = True
                print("# " + traceback.format_exc().replace("\n", "\n# "))
                print(f"not ok {number} {name}", flush=True)
                take_picture()
        if failed:
            desk.process.terminate()
    return 1 if failed else 0


sys.exit(main())
