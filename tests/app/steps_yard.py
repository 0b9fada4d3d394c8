"""Step 4: an area, a crib moved where it stands, 24 logs in it, its elevation."""
import subprocess
import time


def pointer(title, *words):
    """xdotool on the window of that title, its coordinates the window's own."""
    window = subprocess.run(["xdotool", "search", "--onlyvisible", "--name", f"^{title}$"],
                            check=True, text=True, capture_output=True).stdout.split()[0]
    subprocess.run(["xdotool", *(window if word == "WINDOW" else str(word) for word in words)],
                   check=True)
    time.sleep(0.15)


def area(desk, path):
    desk.page("Yard")
    desk.key("ctrl+n")              # a yard without areas begins with one
    desk.find("text", "Area")
    desk.enter("Lower yard")
    desk.enter("18 m")
    desk.enter("12 m")
    desk.focus("text", "Shade")
    desk.enter("85")
    desk.key("ctrl+s")
    desk.await_answer(path, "SELECT name || ' ' || width || ' ' || depth FROM area",
                      "Lower yard 18000000 12000000")


def crib(desk, path):
    desk.press("push button", "Build: crib")
    desk.key("Left", "Left", "Up", "Return")
    desk.await_answer(path, "SELECT name || ' ' || kind || ' ' || tiers || ' ' || per_tier"
                            " FROM stack", "Crib 1 crib 6 4")
    # The middle of the area, two tenths west, one north.
    desk.await_answer(path, "SELECT x || ' ' || y FROM stack", "8800000 6100000")
    desk.find("list item", "Crib 1, crib, no logs")


def nudge(desk, path):
    desk.focus("list item", "Crib 1, crib, no logs")
    desk.key("shift+Right", "Up", *["bracketleft"] * 3, "Return")  # an aisle east
    desk.await_answer(path, "SELECT x || ' ' || y || ' ' || turn FROM stack",
                      "9700000 6200000 1500")
    desk.await_answer(path, "SELECT sentence FROM change ORDER BY id DESC LIMIT 1", "Moved Crib 1")


def drag(desk, path):
    """With the mouse, two crib widths east; nothing is written before the button is let go."""
    node = desk.find("list item", "Crib 1, crib, no logs")
    place = desk.place(node)
    x, y = place.x + place.width // 2, place.y + place.height // 2
    before = desk.ask(path, "SELECT x, y FROM stack")[0]
    pointer("Alder Hollow", "mousemove", "--window", "WINDOW", x, y)
    pointer("Alder Hollow", "mousedown", 1)
    for part in range(1, 9):
        pointer("Alder Hollow", "mousemove", "--window", "WINDOW", x + part * place.width // 4, y)
    assert desk.ask(path, "SELECT x, y FROM stack")[0] == before
    pointer("Alder Hollow", "mouseup", 1)
    desk.await_answer(path, f"SELECT x > {before[0]} + 1500000 FROM stack", 1)
    desk.await_answer(path, "SELECT count (*) FROM change WHERE sentence = 'Moved Crib 1'", 2)


def shape(desk, path):
    """A corner of the area, with the mouse: one change, taken back by one undo."""
    def crib_now():
        node = desk.find("list item", "Crib 1, crib, no logs")
        place = desk.place(node)
        (x, y), = desk.ask(path, "SELECT x / 1e6, y / 1e6 FROM stack")
        return place.x + place.width / 2, place.y + place.height / 2, x, y

    left, _, west, _ = crib_now()
    desk.focus("list item", "Crib 1, crib, no logs")
    desk.key(*["shift+Left"] * 5, "Return")
    desk.await_answer(path, "SELECT count (*) FROM change WHERE sentence = 'Moved Crib 1'", 3)
    across, down, x, y = crib_now()
    scale = (left - across) / (west - x)        # px to a metre
    corner = (round(across - x * scale), round(down + y * scale))
    pointer("Alder Hollow", "mousemove", "--window", "WINDOW", *corner)
    pointer("Alder Hollow", "mousedown", 1)
    for part in range(1, 5):
        pointer("Alder Hollow", "mousemove", "--window", "WINDOW",
                round(corner[0] + part * scale / 4), round(corner[1] - part * scale / 4))
    desk.await_answer(path, "SELECT outline FROM area", None)
    pointer("Alder Hollow", "mouseup", 1)
    desk.await_answer(path, "SELECT sentence FROM change ORDER BY id DESC LIMIT 1",
                      "Shaped Lower yard")
    (outline,), = desk.ask(path, "SELECT outline FROM area")
    corners = [[float(part) for part in corner.split()] for corner in outline.split(",")]
    # A metre: the scale is measured in whole pixels over a short way. Right angles stay right.
    (left, down), *others = corners
    assert 0.5 < left < 1.5 and 0.5 < down < 1.5, outline
    assert others == [[18, down], [18, 12], [left, 12]], outline
    desk.key("ctrl+z")
    desk.await_answer(path, "SELECT outline FROM area", None)


def fill(desk, path):
    desk.press("push button", "Put logs here")
    desk.press("push button", "26A · 24 logs")
    desk.await_answer(path, "SELECT count (*) FROM place WHERE until IS NULL", 24)
    desk.await_answer(path, "SELECT sentence FROM change ORDER BY id DESC LIMIT 1",
                      "Put 24 logs of 26A in Crib 1")
    desk.find("list item", "Crib 1, crib, 24 logs of 26A")


def elevation(desk, path):
    code = desk.ask(path, "SELECT l.code FROM log l JOIN place x ON x.log = l.id"
                          " WHERE x.tier = 6 AND x.slot = 4")[0][0]
    desk.find("list", "Elevation of Crib 1")
    desk.find("list item", f"Tier 6, slot 4, log {code}")
    first, second = (desk.ask(path, "SELECT log FROM place WHERE tier = 1 AND slot = ?", slot)[0][0]
                     for slot in (1, 2))
    desk.press("list item", "Crib 1, crib, 24 logs of 26A")  # gives it the keyboard
    desk.key("Return")              # open it: the first place has the keyboard
    desk.key("Return", "Right", "Return")  # pick up, one to the right, set down: they change places
    desk.await_answer(path, f"SELECT slot FROM place WHERE log = {first} AND until IS NULL", 2)
    desk.await_answer(path, f"SELECT slot FROM place WHERE log = {second} AND until IS NULL", 1)


STEPS = [area, crib, nudge, drag, shape, fill, elevation]
