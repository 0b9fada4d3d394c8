#!/usr/bin/env python3
"""journey_yard.py PROGRAM TOOL: a yard from an empty area, drawn by mouse, then another by the keys
alone; in a real window, as TAP. A step that fails ends its journey, not the other."""
import os
import subprocess
import sys
import tempfile
import time
import traceback

import gi
gi.require_version("Atspi", "2.0")
from gi.repository import Atspi, GLib  # noqa: E402

import desk as desk_module

FOOT = 304800  # um
WIDTH, DEPTH = 60, 40  # ft, of the areas drawn here


class Map:
    """The map of an area of that size, all of it seen: feet to pixels of the screen's window."""

    def __init__(self, desk, name):
        self.desk, self.name, self.title = desk, name, "Tern Hollow, an invented farm"

    def at(self, x, y):
        node = self.desk.find("list", f"Yard {self.name}")
        place = self.desk.place(node)
        scale = min((place.width - 48) / WIDTH, (place.height - 48) / DEPTH)
        return (round(place.x + place.width / 2 + (x - WIDTH / 2) * scale),
                round(place.y + place.height / 2 - (y - DEPTH / 2) * scale))

    @staticmethod
    def pointer(*words):
        subprocess.run(["xdotool", *(str(word) for word in words)], check=True)
        time.sleep(0.12)

    def move(self, x, y):
        self.pointer("mousemove", *self.at(x, y))

    def press(self, x, y):
        self.move(x, y)
        self.pointer("click", 1)

    def drag(self, start, end):
        self.move(*start)
        self.pointer("mousedown", 1)
        for part in (0.25, 0.5, 0.75, 1):
            self.move(*(a + part * (b - a) for a, b in zip(start, end)))
        self.pointer("mouseup", 1)


def new_area(desk, path, name):
    desk.press("push button", "New area")
    desk.find("text", "Area")
    desk.enter(name)
    desk.enter(f"{WIDTH} ft")
    desk.enter(f"{DEPTH} ft")
    desk.key("ctrl+s")
    desk.await_answer(path, f"SELECT width FROM area WHERE name = '{name}'", WIDTH * FOOT)
    desk.find("list", f"Yard {name}")


def is_near(desk, path, sql, wanted, off=1.5):
    """Feet; the pointer is worth some of one. Waits for the first row."""
    end = time.monotonic() + desk_module.PATIENCE
    rows = []
    while time.monotonic() < end and not rows:
        rows = desk.ask(path, sql)
        time.sleep(0.1)
    assert rows, sql
    got = [value / FOOT for value in rows[0]]
    assert all(abs(a - b) < off for a, b in zip(got, wanted)), f"{sql}: {got}, not {wanted}"


def point_at(desk, role, name):
    """A click on it: a row of a list has nothing else to be used by."""
    place = desk.place(desk.find(role, name))
    Map.pointer("mousemove", place.x + place.width // 2, place.y + place.height // 2)
    Map.pointer("click", 1)


def last_change(desk, path, sentence):
    desk.await_answer(path, "SELECT sentence FROM change ORDER BY id DESC LIMIT 1", sentence)


# --- by mouse ---------------------------------------------------------------------------

def an_empty_area(desk, path):
    desk.page("Yard")
    new_area(desk, path, "Hand yard")
    desk.hand = Map(desk, "Hand yard")


def a_shed(desk, path):
    """Dragged from corner to corner."""
    desk.press("push button", "Draw: building")
    desk.hand.drag((45, 30), (55, 36))
    last_change(desk, path, "Drew building")
    is_near(desk, path, "SELECT width, depth FROM feature WHERE kind = 'building'"
                        " ORDER BY id DESC LIMIT 1", (10, 6))


def a_tree(desk, path):
    """Middle, then crown."""
    desk.press("push button", "Draw: tree")
    desk.hand.drag((8, 32), (13, 32))
    last_change(desk, path, "Drew tree")
    is_near(desk, path, "SELECT radius FROM feature WHERE kind = 'tree' ORDER BY id DESC LIMIT 1",
            (5,))


def a_path(desk, path):
    """Point by point, ended by a double press."""
    desk.press("push button", "Draw: path")
    desk.hand.press(2, 8)
    time.sleep(0.6)
    desk.hand.press(40, 8)
    time.sleep(0.6)
    desk.hand.move(40, 20)
    desk.hand.pointer("click", "--repeat", 2, "--delay", 60, 1)
    last_change(desk, path, "Drew path")
    (outline, form), = desk.ask(path, "SELECT outline, form FROM feature WHERE kind = 'path'"
                                      " ORDER BY id DESC LIMIT 1")
    assert form == "band" and outline.count(",") == 2, (outline, form)


def a_corner(desk, path):
    """The shed's, by its handle: the opposite one stays where it is."""
    desk.hand.press(50, 33)
    desk.hand.drag((55, 36), (57, 38))
    last_change(desk, path, "Shaped building")
    is_near(desk, path, "SELECT width, depth FROM feature WHERE kind = 'building'"
                        " ORDER BY id DESC LIMIT 1", (12, 8))


def two_cribs(desk, path):
    desk.press("push button", "Build: crib")
    desk.hand.press(20, 25)
    desk.await_answer(path, "SELECT count (*) FROM stack k JOIN area a ON a.id = k.area"
                            " WHERE a.name = 'Hand yard'", 1)
    desk.press("push button", "Duplicate")
    desk.await_answer(path, "SELECT count (*) FROM stack k JOIN area a ON a.id = k.area"
                            " WHERE a.name = 'Hand yard'", 2)


def both_by_a_band(desk, path):
    """Chosen by a band over bare ground, carried as one: one change."""
    before = desk.ask(path, "SELECT k.x FROM stack k JOIN area a ON a.id = k.area"
                            " WHERE a.name = 'Hand yard' ORDER BY k.id")
    desk.hand.press(30, 38)
    desk.hand.drag((14, 19), (36, 31))
    desk.label("2 things")
    desk.hand.drag((20, 25), (26, 25))
    last_change(desk, path, "Moved 2 things")
    after = desk.ask(path, "SELECT k.x FROM stack k JOIN area a ON a.id = k.area"
                           " WHERE a.name = 'Hand yard' ORDER BY k.id")
    moved = [b[0] - a[0] for a, b in zip(before, after)]
    assert abs(moved[0] - moved[1]) < 1000 and 3 < moved[0] / FOOT < 9, moved
    desk.key("ctrl+z")
    desk.await_answer(path, "SELECT k.x FROM stack k JOIN area a ON a.id = k.area"
                            " WHERE a.name = 'Hand yard' ORDER BY k.id LIMIT 1", before[0][0])


def filled(desk, path):
    """All the logs of a stack of another area, taken out there and put here."""
    point_at(desk, "list item", "Fruiting yard")
    desk.find("list", "Yard Fruiting yard")
    name = desk.ask(path, "SELECT k.name FROM place p JOIN stack k ON k.id = p.stack"
                          " WHERE p.until IS NULL AND k.kind = 'crib' LIMIT 1")
    name = (name or desk.ask(path, "SELECT k.name FROM place p JOIN stack k ON k.id = p.stack"
                                   " WHERE p.until IS NULL AND k.kind = 'a frame' LIMIT 1"))[0][0]
    desk.type("f")
    desk.enter(name)
    desk.label("Elevation of " + name)
    desk.press("push button", "All logs")
    desk.press("push button", "Take out")
    waiting = "SELECT count (*) FROM log_waiting"
    assert waiting
    end = time.monotonic() + desk_module.PATIENCE
    while time.monotonic() < end:
        (sentence,), = desk.ask(path, "SELECT sentence FROM change ORDER BY id DESC LIMIT 1")
        if sentence.startswith("Took "):
            break
        time.sleep(0.1)
    assert sentence.startswith("Took ") and "logs out" in sentence, sentence
    point_at(desk, "list item", "Hand yard")
    desk.find("list", "Yard Hand yard")
    desk.hand.press(20, 25)
    desk.press("push button", "Put logs here")
    button = desk.label(" logs")
    assert button
    batch = next(node for node in desk.walk(desk.application())
                 if desk_module.role_of(node) == "push button" and " · " in (node.get_name() or "")
                 and node.get_name().endswith("logs"))
    desk.act(batch)
    desk.await_answer(path, "SELECT count (*) > 5 FROM place p JOIN stack k ON k.id = p.stack"
                            " JOIN area a ON a.id = k.area WHERE a.name = 'Hand yard'"
                            " AND p.until IS NULL", 1)


def arranged(desk, path):
    """Twenty logs of the youngest batch, whose crib is built in one change."""
    here = ("SELECT count (*) FROM stack k JOIN area a ON a.id = k.area WHERE a.name = 'Hand yard'"
            " AND k.taken_down_on IS NULL")
    before = desk.ask(path, here)[0][0]
    desk.hand.press(30, 38)             # bare ground: nothing is chosen
    desk.press("push button", "Arrange for me…")
    desk.find("combo box", "Which logs")
    desk.focus("text", "How many")
    desk.type("20")
    desk.label("20 logs in 1 stack")
    desk.key("Return")
    last_change(desk, path, "Arranged 20 logs in 1 stack")
    desk.await_answer(path, here, before + 1)
    desk.key("ctrl+z")
    desk.await_answer(path, here, before)
    desk.press("push button", "Back")


def printed(desk, path):
    file = os.path.join(os.path.dirname(path), "map.pdf")
    desk.keyboard_to(desk.hand.title)       # the list of batches had it
    desk.key("ctrl+p")
    desk.find("combo box", "What")
    desk.keyboard_to("Print")
    desk.label("Page 1 of")
    desk.press("push button", "Save PDF…")
    desk.keyboard_to("Save as PDF")
    desk.key("ctrl+a")
    desk.type_file(file)
    desk.key("Return")
    end = time.monotonic() + desk_module.PATIENCE
    while (not os.path.exists(file) or os.path.getsize(file) < 1000) and time.monotonic() < end:
        time.sleep(0.1)
    assert os.path.getsize(file) > 1000
    desk.gone("push button", "Save PDF…")
    desk.keyboard_to(desk.hand.title)


# --- by keys ----------------------------------------------------------------------------

def numbers(desk, *texts):
    """Typed on the map: the first begins by itself, Tab leads on, Enter sets them."""
    for number, text in enumerate(texts):
        desk.type(text)
        desk.key("Tab" if number + 1 < len(texts) else "Return")
    time.sleep(0.3)


def keyboard_on(desk, name, key="shift+Tab"):
    """By Shift and Tab, from the map to what is left of it, or by Tab to the panel at its right; a
    button of that name on a page that is not seen never has the keyboard."""
    for _ in range(120):
        try:
            node = next((node for node in desk.walk(desk.application())
                         if node.get_state_set().contains(Atspi.StateType.FOCUSED)), None)
        except GLib.Error:              # it was busy, or what was asked went away
            continue
        if node is not None and node.get_name() == name:
            return
        desk.key(key)
    raise desk_module.Missing(f"Tab does not lead to {name!r}")


def take(desk, name, key="shift+Tab"):
    keyboard_on(desk, name, key)
    desk.key("Return")
    time.sleep(0.4)


def an_area_by_keys(desk, path):
    take(desk, "New area")
    desk.find("text", "Area")
    desk.enter("Key yard")
    desk.enter(f"{WIDTH} ft")
    desk.enter(f"{DEPTH} ft")
    desk.key("ctrl+s")
    desk.await_answer(path, "SELECT count (*) FROM area WHERE name = 'Key yard'", 1)
    desk.find("list", "Yard Key yard")


def a_tank_by_numbers(desk, path):
    take(desk, "Draw: tank")
    numbers(desk, "12", "9", "5 ft, 3 ft")
    last_change(desk, path, "Drew tank")
    is_near(desk, path, "SELECT width, depth FROM feature WHERE kind = 'tank'"
                        " ORDER BY id DESC LIMIT 1", (5, 3), 0.001)


def a_path_by_numbers(desk, path):
    take(desk, "Draw: path")
    numbers(desk, "5", "20")             # where it begins
    numbers(desk, "10", "0", "3")        # ten feet east, three wide
    numbers(desk, "6", "90", "3")        # six north
    desk.key("Return")
    last_change(desk, path, "Drew path")
    (outline,), = desk.ask(path, "SELECT outline FROM feature WHERE kind = 'path'"
                                 " ORDER BY id DESC LIMIT 1")
    points = [[float(part) / 0.3048 for part in point.split()] for point in outline.split(",")]
    for got, wanted in zip(points, ([5, 20], [15, 20], [15, 26])):
        assert all(abs(a - b) < 0.01 for a, b in zip(got, wanted)), outline


def measured_by_numbers(desk, path):
    """From one place to another, three feet east and four north."""
    take(desk, "Measure")
    numbers(desk, "5", "5", "8", "9")
    desk.label("5.00 ft")
    desk.key("Escape")


def an_outline_by_numbers(desk, path):
    """Its sides turn by right angles; two lengths make it."""
    take(desk, "Draw: right-angled outline")
    numbers(desk, "2", "1")
    numbers(desk, "50 ft, 34 ft")
    desk.key("Return")
    last_change(desk, path, "Shaped Key yard")
    (outline,), = desk.ask(path, "SELECT outline FROM area WHERE name = 'Key yard'")
    points = [[float(part) / 0.3048 for part in point.split()] for point in outline.split(",")]
    for got, wanted in zip(points, ([2, 1], [52, 1], [52, 35], [2, 35]), strict=True):
        assert all(abs(a - b) < 0.01 for a, b in zip(got, wanted)), outline
    desk.key("ctrl+z")
    desk.await_answer(path, "SELECT outline FROM area WHERE name = 'Key yard'", None)


def a_crib_by_numbers(desk, path):
    take(desk, "Build: crib")
    numbers(desk, "30", "20", "45")
    desk.await_answer(path, "SELECT k.turn FROM stack k JOIN area a ON a.id = k.area"
                            " WHERE a.name = 'Key yard'", 4500)
    is_near(desk, path, "SELECT k.x, k.y FROM stack k JOIN area a ON a.id = k.area"
                        " WHERE a.name = 'Key yard'", (30, 20), 0.001)


def moved_by_keys(desk, path):
    """The crib has the ring: a quarter foot east, and back by undo."""
    desk.key("Right", "Return")
    is_near(desk, path, "SELECT k.x FROM stack k JOIN area a ON a.id = k.area"
                        " WHERE a.name = 'Key yard' AND k.x > 9144000", (30.25,), 0.01)
    desk.key("ctrl+z")
    desk.await_answer(path, "SELECT k.x FROM stack k JOIN area a ON a.id = k.area"
                            " WHERE a.name = 'Key yard'", 30 * FOOT)


def copied_and_taken_down(desk, path):
    desk.key("ctrl+d")
    here = ("SELECT count (*) FROM stack k JOIN area a ON a.id = k.area"
            " WHERE a.name = 'Key yard' AND k.taken_down_on IS NULL")
    desk.await_answer(path, here, 2)
    desk.key("Delete")
    desk.await_answer(path, here, 1)


def planned_and_carried_out(desk, path):
    """A batch into new stacks on another day: planned, then done, each one undo."""
    desk.key("Escape")
    take(desk, "Plan another day…", "Tab")
    take(desk, "Arrange for me…", "Tab")
    keyboard_on(desk, "How many", "Tab")
    desk.type("4")
    desk.label("4 logs in 1 stack")
    take(desk, "Arrange", "Tab")
    last_change(desk, path, "Arranged 4 logs in 1 stack")
    desk.await_answer(path, "SELECT count (*) FROM planned_move", 4)
    desk.key("Escape")
    take(desk, "Back", "Tab")
    desk.label("4 logs are to be moved, in this order:")
    keyboard_on(desk, "All", "Tab")
    desk.key("space")
    take(desk, "Carry out", "Tab")
    desk.await_answer(path, "SELECT count (*) FROM planned_move", 0)
    (sentence,), = desk.ask(path, "SELECT sentence FROM change ORDER BY id DESC LIMIT 1")
    assert sentence.startswith("Moved ") and sentence.endswith(" as planned"), sentence
    desk.key("ctrl+z")
    desk.await_answer(path, "SELECT count (*) FROM planned_move", 4)
    take(desk, "Today", "Tab")
    desk.key("ctrl+1")
    desk.page("Yard")                   # the map has the keyboard again


def a_scanned_code(desk, path):
    """Typed, as a scanner does, with a letter first: the map goes to where the log lies."""
    code, stack = desk.ask(path, "SELECT l.code, k.name FROM place p JOIN log l ON l.id = p.log"
                                 " JOIN stack k ON k.id = p.stack JOIN area a ON a.id = k.area"
                                 " WHERE p.until IS NULL AND a.name <> 'Hand yard'"
                                 " ORDER BY p.tier DESC LIMIT 1")[0]
    desk.key("Escape")
    desk.type("f")
    desk.enter(code)
    desk.find("list", "Elevation of " + stack)
    desk.label(code)


def await_true(holds):
    end = time.monotonic() + desk_module.PATIENCE
    while not holds():
        assert time.monotonic() < end
        time.sleep(0.1)


def half_of_a_narrow_window(desk, path):
    """Whatever the panel shows the map has half of 1000 px, and more when the panel is hidden."""
    def width():
        node = next(node for node in desk.walk(desk.application())
                    if desk_module.role_of(node) == "list" and node.get_name().startswith("Yard "))
        return node.get_component_iface().get_extents(Atspi.CoordType.WINDOW).width

    window = subprocess.run(["xdotool", "search", "--onlyvisible", "--name", "^Tern Hollow"],
                            check=True, text=True, capture_output=True).stdout.split()[0]
    subprocess.run(["xdotool", "windowsize", window, "1000", "700"], check=True)
    await_true(lambda: width() >= 500)
    chosen = width()                        # a stack is
    desk.key("Escape")
    desk.label("Worth a look")
    assert width() == chosen, (width(), chosen)
    desk.key("ctrl+a")
    desk.label("Line up")
    assert width() == chosen, (width(), chosen)
    desk.key("F9")
    await_true(lambda: width() > chosen + 150)
    desk.key("F9")
    await_true(lambda: width() == chosen)


JOURNEYS = [
    [an_empty_area, a_shed, a_tree, a_path, a_corner, two_cribs, both_by_a_band, filled, arranged, printed],
    [an_area_by_keys, a_tank_by_numbers, a_path_by_numbers, measured_by_numbers, an_outline_by_numbers,
     a_crib_by_numbers, moved_by_keys,
     copied_and_taken_down, planned_and_carried_out, a_scanned_code, half_of_a_narrow_window],
]


def run(step, number, desk, path):
    try:
        step(desk, path)
        print(f"ok {number} {step.__name__.replace('_', ' ')}", flush=True)
        return True
    except Exception:
        print("# " + traceback.format_exc().replace("\n", "\n# "))
        print(f"not ok {number} {step.__name__.replace('_', ' ')}", flush=True)
        picture = os.environ.get("BEDLOG_PICTURE")
        if picture:
            subprocess.run(["import", "-window", "root", picture], check=False)
        return False


def main():
    program, tool = sys.argv[1:3]
    print(f"1..{sum(map(len, JOURNEYS))}", flush=True)
    number, failed = 0, False
    with tempfile.TemporaryDirectory() as folder:
        path = os.path.join(folder, "farm.bedlog")
        subprocess.run([tool, "demo", path, "--logs", "120", "--years", "3"], check=True,
                       stdout=subprocess.DEVNULL)
        desk = desk_module.Desk(program, [path])
        desk.window("Tern Hollow, an invented farm")
        desk.keyboard_to("Tern Hollow, an invented farm")
        for journey in JOURNEYS:
            well = True
            for step in journey:
                number += 1
                if well:
                    well = run(step, number, desk, path)
                else:
                    print(f"not ok {number} {step.__name__} # not reached", flush=True)
            failed = failed or not well
        if failed:
            desk.process.terminate()
        else:
            desk.close()
    return 1 if failed else 0


sys.exit(main())
