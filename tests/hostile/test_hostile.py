#!/usr/bin/env python3
"""test_hostile.py TOOL WORK [NAME…]: feeds the corpus of farms.py and csvs.py to the tool, as TAP.

Whatever it is handed, a command ends by itself within two seconds of its own and 200 MB, says
why in a sentence when it did not do what it was asked, and leaves the file as it was."""
import hashlib
import os
import re
import resource
import shutil
import signal
import subprocess
import sys
import tempfile
import time

import csvs
import farms

TOOL, WORK = os.path.abspath(sys.argv[1]), os.path.abspath(sys.argv[2])
ONLY = sys.argv[3:]
# --quarter=0 to 3: every fourth one, so that processors share the work.
QUARTER = next((int(word[-1]) for word in ONLY if word.startswith("--quarter=")), None)
SANITIZED = "--sanitized" in ONLY
ONLY = [name for name in ONLY if not name.startswith("--")]
SECONDS = 30 if SANITIZED else 6
MEGABYTES = 200
# Nobody waits longer, even where eight others share the machine.
PATIENCE = 120

# What no person should have to read.
FOREIGN = re.compile(
    r"not an error|no such savepoint|\bSELECT\b|\bINSERT INTO\b|\bUPDATE \"|PRAGMA|"
    r"no such (table|column|function)|malformed|constraint failed|datatype mismatch|bad parameter|"
    r"out of memory|CRITICAL|WARNING \*\*|assertion|\(null\)|Sanitizer|runtime error", re.I)

# Words after the name of the farm; {} the folder of the run. The first tells whether it opens.
COMMANDS = [
    ("check",), ("undo",), ("redo",), ("rescue", "{}/new.bedlog"), ("import", "area", "{}/a.csv"),
    ("due",), ("history",), ("history", "--json"), ("check", "--json"),
    ("export", "{}/csv"), ("report", "--season", "2026", "-o", "{}/r.xlsx"),
    ("labels", "--batch", "26A", "-o", "{}/l.pdf"), ("labels", "--stacks", "-o", "{}/s.pdf"),
    ("yard", "--area", "Fruiting yard", "-o", "{}/y.pdf"),
    ("sheet", "pick", "-o", "{}/p.pdf"), ("trace", "26A"), ("recall", "26A"),
    ("trace", "26A-001"), ("backup",),
]
# Of a farm that does not open these are enough.
REFUSED = 5
WRITES = {"undo", "redo", "import"}


def limit():
    resource.setrlimit(resource.RLIMIT_CPU, (SECONDS * 3, SECONDS * 3))
    resource.setrlimit(resource.RLIMIT_CORE, (0, 0))
    resource.setrlimit(resource.RLIMIT_FSIZE, (1 << 30, 1 << 30))
    if not SANITIZED:
        resource.setrlimit(resource.RLIMIT_AS, (2 << 30, 2 << 30))


def run(words):
    """Exit code, what it said, seconds of its own, megabytes at the most."""
    with tempfile.TemporaryFile() as out, tempfile.TemporaryFile() as err, subprocess.Popen(
            [TOOL, *words], stdout=out, stderr=err, stdin=subprocess.DEVNULL,
            preexec_fn=limit) as process:
        signal.alarm(PATIENCE)
        try:
            _, status, used = os.wait4(process.pid, 0)
        except TimeoutError:
            process.kill()
            _, status, used = os.wait4(process.pid, 0)
        finally:
            signal.alarm(0)
        process.returncode = os.waitstatus_to_exitcode(status)
        out.seek(0)
        err.seek(0)
        return (process.returncode, out.read(), err.read(), used.ru_utime + used.ru_stime,
                used.ru_maxrss // 1024)


def measure(words):
    *said, seconds, megabytes = run(words)
    return (*said, seconds / slowdown() if seconds > SECONDS else seconds, megabytes)


QUICKEST = []


def slowdown():
    """How much longer a processor takes for one thing now than at its quickest in this run."""
    begun = time.process_time()
    hashlib.sha256(bytes(8 << 20)).digest()
    QUICKEST.append(time.process_time() - begun)
    return QUICKEST[-1] / min(QUICKEST)


def alarm_cb(*_):
    raise TimeoutError


def digest(path):
    if not os.path.isfile(path) or not os.path.realpath(path).startswith(os.path.realpath(WORK)):
        return None
    if os.path.getsize(path) > 100 << 20:
        return None
    with open(path, "rb") as file:
        return hashlib.sha256(file.read()).hexdigest()


def faults_of(code, out, err, seconds, megabytes):
    """What is wrong with how a command ended, in words."""
    if code not in (0, 1, 2):
        yield f"ended by {code}: {err[-300:]!r}"
    if code and not err.strip() and not out.strip():
        yield "said nothing"
    for text in (out, err):
        try:
            said = text.decode()
        except UnicodeDecodeError:
            yield f"said what is no text: {text[:200]!r}"
            continue
        found = FOREIGN.search(said) if text is err else None
        if found:
            yield f"said {found.group()!r}: {said[max(found.start() - 120, 0):][:240]!r}"
    # Every fault of a file is listed, a line each, and no line goes on for ever.
    if any(len(line) > 1 << 16 for line in err.split(b"\n")):
        yield "said a line of %d bytes" % max(len(line) for line in err.split(b"\n"))
    if seconds > SECONDS:
        yield f"took {seconds:.1f} s"
    # What a program is before it becomes another counts: the corpus that this one holds.
    if megabytes > max(MEGABYTES, own_megabytes()) and not SANITIZED:
        yield f"took {megabytes} MB"


def own_megabytes():
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss // 1024


def command_line(command, path, folder):
    name, *words = command
    return [name, path, *(word.replace("{}", folder) for word in words)]


def try_commands(path, folder):
    opens = True
    for n, command in enumerate(COMMANDS):
        if not opens and n >= REFUSED:
            return
        shutil.rmtree(folder, ignore_errors=True)
        os.mkdir(folder)
        with open(folder + "/a.csv", "w", encoding="utf-8") as file:
            file.write("name\nFar corner\n")
        before = digest(path)
        words = command_line(command, path, folder)
        code, *rest = measure(words)
        for fault in faults_of(code, *rest):
            yield f"{' '.join(command)}: {fault}"
        if before != digest(path) and (code or command[0] not in WRITES) and not journal(path):
            yield f"{' '.join(command)}: the file was changed"
        if n == 0:
            opens = code < 2 and code >= 0


def journal(path):
    """Where a change was cut off, SQLite mends the file when it is opened."""
    return os.path.basename(path).startswith("beside")


def test_farm(name, make, sound):
    folder = os.path.join(WORK, "farm")
    shutil.rmtree(folder, ignore_errors=True)
    os.mkdir(folder)
    path = os.path.join(folder, name + ".bedlog")
    shutil.copyfile(sound, path)
    try:
        make(path)
    except Exception as error:  # a corpus that is not made tests nothing
        return [f"was not made: {error!r}"]
    faults = list(try_commands(path, os.path.join(WORK, "out")))
    for root, _, files in os.walk(WORK + "/farm"):
        for file in files:
            if not os.path.islink(os.path.join(root, file)):
                os.chmod(os.path.join(root, file), 0o600)
    return faults


def test_csv(name, kind, data, sound):
    folder = os.path.join(WORK, "farm")
    shutil.rmtree(folder, ignore_errors=True)
    os.mkdir(folder)
    path, given = os.path.join(folder, "csv.bedlog"), os.path.join(folder, name + ".csv")
    shutil.copyfile(sound, path)
    with open(given, "wb") as file:
        file.write(data)
    faults = []
    for options in (["--dry-run"], ["--json"], []):
        before = digest(path)
        words = ["import", *options, path, kind, given]
        code, out, err, seconds, megabytes = measure(words)
        # Within two seconds, or a hundred thousand records in as many more as they need.
        allowed = SECONDS * (5 if name.startswith("hundred-thousand") else 1)
        faults += [f"import {' '.join(options)}: {fault}" for fault in
                   faults_of(code, out, err, min(seconds, SECONDS) if seconds < allowed
                             else seconds, megabytes)]
        if before != digest(path) and (code or "--dry-run" in options):
            faults.append(f"import {' '.join(options)}: the farm was changed")
    code, _, err, *_ = measure(["check", path])
    if code and name.find("settings") < 0:
        faults.append(f"check afterwards: {err[:300]!r}")
    return faults


def say(number, name, faults):
    for fault in faults:
        print(f"# {name}: {fault}".replace("\n", "\n# "))
    print(f"{'not ' if faults else ''}ok {number} /hostile/{name}", flush=True)


def main():
    signal.signal(signal.SIGALRM, alarm_cb)
    shutil.rmtree(WORK, ignore_errors=True)
    os.makedirs(WORK)
    sound = os.path.join(WORK, "sound.bedlog")
    subprocess.run([TOOL, "demo", sound, "--logs", "30", "--years", "3", "--seed", "1", "--today",
                    "2026-07-14"], check=True, stdout=subprocess.DEVNULL)
    tests = [("farm/" + name, lambda name=name, make=make: test_farm(name, make, sound))
             for name, make in farms.make_all().items()]
    tests += [("csv/" + name, lambda name=name, kind=kind, data=data:
               test_csv(name, kind, data, sound)) for name, (kind, data) in csvs.CSVS.items()]
    tests = [test for test in tests if not ONLY or any(only in test[0] for only in ONLY)]
    tests = tests if QUARTER is None else tests[QUARTER::4]
    print(f"1..{len(tests)}")
    for number, (name, test) in enumerate(tests, 1):
        slowdown()
        say(number, name, test())
    shutil.rmtree(WORK, ignore_errors=True)


main()
