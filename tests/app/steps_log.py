"""One log: found, opened, retired, and the retirement taken back."""


def code_of(desk, path):
    return desk.ask(path, "SELECT code FROM log WHERE code LIKE '26A-007-%'")[0][0]


def open_a_log(desk, path):
    desk.page("Batches")
    desk.key("ctrl+f")
    desk.type("26A-007")
    desk.find("list item", code_of(desk, path))
    desk.key("Return")
    desk.find("push button", "Retire")
    desk.find("label", code_of(desk, path))


def retire_it(desk, path):
    desk.press("push button", "Retire")
    desk.find("text", "Retired on")
    desk.key("space", "Down", "Return")
    desk.key("ctrl+s")
    desk.await_answer(path, "SELECT count (*) FROM log WHERE retired_on IS NOT NULL"
                            " AND retired_why IS NOT NULL AND code LIKE '26A-007-%'", 1)
    desk.find("push button", "Print tag")
    desk.key("ctrl+z")
    desk.await_answer(path, "SELECT count (*) FROM log WHERE retired_on IS NOT NULL", 0)


def back_to_the_batch(desk, path):
    desk.find("push button", "Back")
    desk.focus("push button", "Back")
    desk.key("Escape")
    desk.find("tree table", "Logs of the batch")


STEPS = [open_a_log, retire_it, back_to_the_batch]
