#!/usr/bin/env python3
"""installed.py BUILD PREFIX: what `meson install` lays down runs by itself, as TAP.

It is installed into an empty folder, and nothing there is told of the build.
"""
import os
import re
import subprocess
import sys
import tempfile
import time

BUILD, PREFIX = sys.argv[1:]
FILES = """share/applications/org.bedlog.Bedlog.desktop
share/bash-completion/completions/bedlog-tool.bash
share/doc/bedlog/manual/contents.md
share/doc/bedlog/pictures/week.png
share/doc/bedlog/safety.md
share/fish/vendor_completions.d/bedlog-tool.fish
share/icons/hicolor/scalable/apps/org.bedlog.Bedlog.svg
share/icons/hicolor/scalable/mimetypes/application-x-bedlog.svg
share/icons/hicolor/symbolic/apps/org.bedlog.Bedlog-symbolic.svg
share/man/man1/bedlog-tool.1
share/metainfo/org.bedlog.Bedlog.metainfo.xml
share/mime/packages/org.bedlog.Bedlog.xml
share/zsh/site-functions/_bedlog-tool""".splitlines()
count = failed = 0


def ok(good, what):
    global count, failed
    count += 1
    failed += not good
    print(f"{'ok' if good else 'not ok'} {count} - {' '.join(what.split())}", flush=True)


def run(*command, **more):
    return subprocess.run(command, capture_output=True, text=True, timeout=60, **more)


def read(path):
    return open(path, encoding="utf-8").read() if os.path.exists(path) else ""


def install(folder):
    """The prefix as it lies there. What a package leaves to the system's own triggers is done here."""
    made = run("meson", "install", "-C", BUILD, "--no-rebuild", "--quiet", "--destdir", folder)
    ok(made.returncode == 0, f"it is installed {made.stderr}")
    prefix = folder + PREFIX
    for name in FILES:
        ok(os.path.exists(os.path.join(prefix, name)), name)
    run("glib-compile-schemas", "--strict", f"{prefix}/share/glib-2.0/schemas", check=True)
    return prefix


def manual_page(prefix, alone):
    """Every option that the program tells of stands in its page."""
    told = run(f"{prefix}/bin/bedlog", "--help", **alone).stdout
    options = re.findall(r"^  (?:-\w, )?--([a-z-]+)", told.partition("Application Options:")[2], re.M)
    page = read(f"{prefix}/share/man/man1/bedlog.1").replace("\\-", "-")
    missing = [option for option in options if f"--{option}" not in page]
    ok(len(options) > 2 and not missing, f"bedlog.1 has {options} but {missing}")


def tool(prefix, farm, alone):
    for command in (["demo", farm], ["report", farm, "-o", "season.xlsx"],
                    ["labels", farm, "--batch", "26A", "-o", "tags.pdf"]):
        done = run(f"{prefix}/bin/bedlog-tool", *command, **alone)
        ok(done.returncode == 0 and not done.stderr, f"bedlog-tool {command[0]} {done.stderr}")


def window(prefix, farm, alone):
    """It opens the farm and remembers that it did, which needs the schema of the prefix."""
    kept = f"{alone['cwd']}/.config/glib-2.0/settings/keyfile"
    with open(f"{alone['cwd']}/said", "w+", encoding="utf-8") as said:
        desk = subprocess.Popen([f"{prefix}/bin/bedlog", farm], stdout=said, stderr=said, **alone)
        end = time.monotonic() + 20
        while farm not in read(kept) and desk.poll() is None and time.monotonic() < end:
            time.sleep(0.1)
        ok(farm in read(kept), f"the farm is opened and remembered: {read(kept)}")
        time.sleep(0.5)
        ok(desk.poll() is None, "the window stays")
        desk.terminate()
        desk.wait()
        said.seek(0)
        # Mesa tells which of its drivers this machine has not got.
        text = [line for line in said if not re.match("MESA|libEGL|glx", line)]
        ok(not text, f"nothing is warned of: {text}")


def main():
    with tempfile.TemporaryDirectory() as folder:
        prefix = install(f"{folder}/root")
        home = f"{folder}/home"
        os.mkdir(home)
        alone = {"cwd": home, "env": {
            "PATH": "/usr/bin:/bin", "HOME": home, "LC_ALL": "C.UTF-8",
            "DISPLAY": os.environ["DISPLAY"], "GDK_BACKEND": "x11", "GSK_RENDERER": "cairo",
            "DBUS_SESSION_BUS_ADDRESS": os.environ["DBUS_SESSION_BUS_ADDRESS"],
            "GTK_A11Y": "none", "GTK_USE_PORTAL": "0", "GIO_USE_VFS": "local",
            "GSETTINGS_BACKEND": "keyfile",
            "ASAN_OPTIONS": "detect_leaks=0",  # they are looked for elsewhere
            "XDG_DATA_DIRS": f"{prefix}/share:/usr/share"}}
        said = run(f"{prefix}/bin/bedlog", "--version", **alone)
        ok(re.fullmatch(r"bedlog \d+\.\d+\.\d+\n", said.stdout), f"bedlog --version {said}")
        manual_page(prefix, alone)
        tool(prefix, f"{home}/farm.bedlog", alone)
        window(prefix, f"{home}/farm.bedlog", alone)
    print(f"1..{count}")
    return failed > 0


sys.exit(main())
