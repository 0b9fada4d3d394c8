#!/usr/bin/env python3
"""on_screen.py COMMAND...: runs it on a virtual screen and a message bus of its own.

The server picks its number itself, so any number of tests can run at once.
"""
import os
import subprocess
import sys


def main():
    reading, writing = os.pipe()
    server = subprocess.Popen(["Xvfb", "-displayfd", str(writing), "-screen", "0", os.environ.get("BEDLOG_SCREEN", "1280x800x24"),
                               "-nolisten", "tcp", "-noreset"], pass_fds=[writing],
                              stderr=subprocess.DEVNULL)
    os.close(writing)
    try:
        with os.fdopen(reading) as answer:
            number = answer.readline().strip()
        if not number:
            sys.exit("on_screen.py: Xvfb did not start")
        environment = dict(os.environ, DISPLAY=f":{number}")
        # What the bus starts writes to the standard output it finds: that is not the test's.
        output = os.dup(1)
        return subprocess.run(["dbus-run-session", "--", "sh", "-c",
                               f'exec "$0" "$@" >&{output} {output}>&-', *sys.argv[1:]],
                              env=environment, stdout=sys.stderr, pass_fds=[output]).returncode
    finally:
        server.terminate()
        server.wait()


sys.exit(main())
