#!/usr/bin/env python3
"""on_screen.py COMMAND...: runs it on a virtual screen and a message bus of its own.

The server picks its number itself, so any number of tests can run at once.
"""
import os
import subprocess
import sys


def main():
    reading, writing = os.pipe()
    server = subprocess.Popen(["Xvfb", "-displayfd", str(writing), "-screen", "0", "1280x800x24",
                               "-nolisten", "tcp", "-noreset"], pass_fds=[writing],
                              stderr=subprocess.DEVNULL)
    os.close(writing)
    try:
        with os.fdopen(reading) as answer:
            number = answer.readline().strip()
        if not number:
            sys.exit("on_screen.py: Xvfb did not start")
        environment = dict(os.environ, DISPLAY=f":{number}")
        return subprocess.run(["dbus-run-session", "--", *sys.argv[1:]],
                              env=environment).returncode
    finally:
        server.terminate()
        server.wait()


sys.exit(main())
