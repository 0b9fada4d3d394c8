"""Step 4: an area, a crib moved where it stands, 24 logs in it, its elevation."""


def area(desk, path):
    desk.key("ctrl+4")
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
    desk.press("push button", "Build crib")
    desk.key("Left", "Left", "Up", "Return")
    desk.await_answer(path, "SELECT name || ' ' || kind || ' ' || tiers || ' ' || per_tier"
                            " FROM stack", "Crib 1 crib 6 4")
    # The middle of the area, two tenths west, one north.
    desk.await_answer(path, "SELECT x || ' ' || y FROM stack", "8800000 6100000")
    desk.find("list item", "Crib 1, crib, no logs")


def nudge(desk, path):
    desk.focus("list item", "Crib 1, crib, no logs")
    desk.key("shift+Right", "Up", "r", "Return")
    desk.await_answer(path, "SELECT x || ' ' || y || ' ' || turn FROM stack",
                      "9800000 6200000 1500")
    desk.await_answer(path, "SELECT sentence FROM change ORDER BY id DESC LIMIT 1", "Moved Crib 1")


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
    desk.focus("list item", "Crib 1, crib, 24 logs of 26A")
    desk.key("Return")              # open it: the first place has the keyboard
    desk.key("Return", "Right", "Return")  # pick up, one to the right, set down: they change places
    desk.await_answer(path, f"SELECT slot FROM place WHERE log = {first} AND until IS NULL", 2)
    desk.await_answer(path, f"SELECT slot FROM place WHERE log = {second} AND until IS NULL", 1)


STEPS = [area, crib, nudge, fill, elevation]
