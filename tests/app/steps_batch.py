"""Steps 1 to 3: a new farm, its wood and spawn, and a batch of 24 logs."""

# Small-end diameters of one morning, cm; typed as they are read from the stick.
DIAMETERS = ["10.5", "11", "12.5", "13", "9.5", "14", "12", "11.5", "10", "12.5", "13.5", "12",
             "11", "10.5", "15", "12", "13", "11.5", "12", "10", "5 in", "12.5", "11", "13"]


def new_farm(desk, path):
    desk.press("push button", "New farm…")
    desk.keyboard_to("New farm")
    desk.focus("text", "Farm")
    desk.key("ctrl+a")
    desk.type("Alder Hollow")
    desk.focus("text", "Currency")
    desk.key("ctrl+a")
    desk.type("EUR")
    desk.key("ctrl+s")
    desk.keyboard_to("Where to keep the farm")
    desk.key("ctrl+a")
    desk.type_file(path)
    desk.key("Return")
    desk.window("Alder Hollow")
    desk.keyboard_to("Alder Hollow")
    desk.await_answer(path, "SELECT name || ' ' || currency FROM farm", "Alder Hollow EUR")


def stand(desk, path):
    desk.gone("frame", "New farm")
    desk.keyboard_to("Alder Hollow")
    desk.page("Batches")
    desk.key("Return")              # nothing to inoculate yet: to the woodlot
    desk.find("push button", "New felling")
    desk.key("alt+2")
    desk.key("ctrl+n")
    desk.find("text", "Stand")
    desk.enter("North slope")
    desk.enter("1.5")
    desk.enter("oak and hornbeam")
    desk.key("ctrl+s")
    desk.await_answer(path, "SELECT area FROM stand WHERE name = 'North slope'", 150_000_000)


def felling(desk, path):
    desk.key("alt+1")
    desk.key("ctrl+n")
    desk.find("text", "Felled on")
    desk.enter("2026-02-10")        # the code is given: typing begins here
    desk.enter("northern red")      # the first that fits
    desk.enter("North")
    desk.enter()                    # not bought
    desk.enter("12")
    desk.enter("15 cm")
    desk.key("ctrl+s")
    desk.await_answer(path, "SELECT f.code || ' ' || w.common_name || ' ' || s.name"
                            " FROM felling f JOIN wood w ON w.id = f.wood"
                            " JOIN stand s ON s.id = f.stand",
                      "F26-1 northern red oak North slope")


def spawn(desk, path):
    desk.key("alt+3")
    desk.key("ctrl+n")
    desk.find("text", "Strain")
    desk.enter("Hollow Wide")       # not there: the small form makes it
    desk.keyboard_to("New strain")
    desk.enter("shiitake")          # its name stands there already
    desk.key("ctrl+s")
    desk.gone("frame", "New strain")
    desk.keyboard_to("Alder Hollow")
    desk.key("s")                   # on to the form: sawdust, by its letter
    desk.enter()
    desk.enter("2026-02-20")
    desk.enter("2026-08-20")
    desk.enter("5 lb")
    desk.enter("48.50")             # sawdust has no pieces
    desk.key("ctrl+s")
    desk.await_answer(path, "SELECT code || ' ' || form || ' ' || mass || ' ' || cost FROM spawn",
                      "S26-1 sawdust 2267962 4850")


def batch(desk, path):
    desk.page("Batches")
    desk.key("ctrl+n")
    desk.focus("text", "Inoculated on")
    desk.key("ctrl+a")
    desk.enter("2026-03-01")
    desk.focus("text", "Hole diameter")
    for text in ("12", "25", "15", "7.5", "5"):
        desk.key("ctrl+a")
        desk.enter(text)
    desk.focus("text", "Spawn lot")
    desk.enter("S26-1")
    desk.focus("text", "Length")
    desk.key("ctrl+a")
    desk.enter("1 m")
    for diameter in DIAMETERS:
        desk.enter(diameter)
    desk.label("Plan for 24 logs")
    desk.enter()                    # the empty diameter saves
    desk.await_answer(path, "SELECT count (*) FROM log", 24)
    desk.await_answer(path, "SELECT small_diameter FROM log WHERE code LIKE '26A-021-%'", 127_000)
    desk.await_answer(path, "SELECT count (*) FROM log WHERE holes > 10 AND length = 1000000", 24)
    desk.await_answer(path, "SELECT mass > 100000 FROM spawn_used", 1)
    desk.await_answer(path, "SELECT sentence FROM change ORDER BY id DESC LIMIT 1",
                      "Inoculated 24 logs, batch 26A")


def undo_and_redo(desk, path):
    desk.key("ctrl+z")
    desk.await_answer(path, "SELECT count (*) FROM log", 0)
    desk.key("ctrl+shift+z")
    desk.await_answer(path, "SELECT count (*) FROM log", 24)


def open_again(desk, path):
    desk.reopen(path)
    desk.window("Alder Hollow")
    desk.keyboard_to("Alder Hollow")
    desk.key("ctrl+z")              # what was done before closing
    desk.await_answer(path, "SELECT count (*) FROM log", 0)
    desk.key("ctrl+shift+z")
    desk.await_answer(path, "SELECT count (*) FROM log", 24)


def find_a_log(desk, path):
    desk.key("ctrl+f")
    desk.type("26A-007")
    desk.find("list item", desk.ask(path, "SELECT code FROM log WHERE code LIKE '26A-007-%'")[0][0])
    desk.key("Return")
    desk.find("push button", "Retire")
    desk.key("Escape")
    desk.find("tree table", "Logs of the batch")


STEPS = [new_farm, stand, felling, spawn, batch, undo_and_redo, open_again, find_a_log]
