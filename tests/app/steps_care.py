"""Care and the weather, a pick put right, a lot dried: what is written down between the harvests."""


def sentence_is(desk, path, sentence):
    desk.await_answer(path, "SELECT sentence FROM change ORDER BY id DESC LIMIT 1", sentence)


def weigh_samples(desk, path):
    """Two sample logs, one form: Enter after the weight takes the next."""
    desk.page("Batches")
    desk.key("alt+3")
    desk.press("push button", "Record weighing")
    desk.find("text", "Weighed on")
    desk.enter("9.6 kg")
    desk.enter()                    # no notes: saved, and the next
    desk.await_answer(path, "SELECT count (*) FROM weighing", 1)
    desk.key("ctrl+z")              # the saved line, and not what stands in the next
    desk.await_answer(path, "SELECT count (*) FROM weighing", 0)
    desk.key("ctrl+shift+z")
    desk.await_answer(path, "SELECT count (*) FROM weighing", 1)
    desk.type("26B")                # the same day: the log is next
    desk.key("ctrl+z")              # what is typed comes first
    desk.enter("26A-002")
    desk.enter("11 kg")
    desk.key("ctrl+s")
    desk.await_answer(path, "SELECT group_concat (substr (l.code, 1, 7) || ' ' || w.mass)"
                            " FROM weighing w JOIN log l ON l.id = w.log",
                      "26A-001 9600000,26A-002 11000000")
    desk.find("push button", "Record weighing")


def look_at_log_ends(desk, path):
    desk.press("push button", "Record check")
    desk.find("text", "Checked on")
    desk.focus("text", "Colonised at the end face")
    desk.enter("60")
    desk.key("ctrl+s")
    desk.await_answer(path, "SELECT c.colonised || ' ' || b.code FROM \"check\" c"
                            " JOIN batch b ON b.id = c.batch", "6000 26A")
    desk.find("tree table", "Checks")
    desk.label("60")


def a_disc(desk, path):
    desk.press("push button", "Record disc")
    desk.focus("text", "Fresh mass")
    desk.enter("1.2 kg")
    desk.enter("0.7 kg")            # the last field saves
    desk.await_answer(path, "SELECT fresh_mass || ' ' || dry_mass FROM disc", "1200000 700000")


def rain_and_heat(desk, path):
    desk.page("This week")
    desk.press("push button", "Record weather")
    desk.find("text", "Rain")
    desk.focus("text", "Rain")
    desk.enter("12 mm")
    desk.enter("4")
    desk.enter("19.5")              # the last field saves
    desk.await_answer(path, "SELECT depth FROM rain", 12_000)
    desk.await_answer(path, "SELECT least || ' ' || most FROM temperature", "4000 19500")
    desk.press("push button", "Record watering")
    desk.find("text", "Watered on")
    desk.focus("text", "Area")
    desk.enter("Lower")
    desk.key("ctrl+s")
    desk.await_answer(path, "SELECT a.name FROM watering w JOIN area a ON a.id = w.area",
                      "Lower yard")
    desk.label("No need to water")


def change_a_pick(desk, path):
    """The last pick of the day, opened from the list by Enter."""
    desk.page("Picking")
    desk.focus_row("Picks of the day")
    desk.key("Home", "Return")
    desk.find("label", "Change this pick")
    desk.enter("160")               # the weight has the keyboard
    desk.key("ctrl+s")
    desk.await_answer(path, "SELECT mass FROM pick ORDER BY id DESC LIMIT 1", 160_000)
    code = desk.ask(path, "SELECT code FROM log WHERE code LIKE '26A-003-%'")[0][0]
    sentence_is(desk, path, f"Changed a pick to 160 g B from {code}")
    desk.key("ctrl+z")
    desk.await_answer(path, "SELECT mass FROM pick ORDER BY id DESC LIMIT 1", 150_000)


def dry_a_lot(desk, path):
    desk.key("alt+2")
    desk.press("push button", "Record drying")
    desk.find("text", "Dried on")
    desk.enter("0.5 kg")            # all that is left stood there
    desk.enter("52 g")
    desk.await_answer(path, "SELECT fresh_mass || ' ' || dried_mass FROM drying", "500000 52000")
    desk.label("9.6 to 1")
    desk.press("push button", "Change this drying")
    desk.focus("text", "Dried mass out")
    desk.enter("50 g")
    desk.await_answer(path, "SELECT dried_mass FROM drying", 50_000)
    desk.press("push button", "Remove this drying")
    desk.await_answer(path, "SELECT count (*) FROM drying", 0)
    desk.key("ctrl+z")
    desk.await_answer(path, "SELECT count (*) FROM drying", 1)


STEPS = [weigh_samples, look_at_log_ends, a_disc, rain_and_heat, change_a_pick, dry_a_lot]
