"""One log: found, opened, weighed, retired and put back; several chosen in the list."""


def code_of(desk, path):
    return desk.ask(path, "SELECT code FROM log WHERE code LIKE '26A-007-%'")[0][0]


def sentence_is(desk, path, sentence):
    desk.await_answer(path, "SELECT sentence FROM change ORDER BY id DESC LIMIT 1", sentence)


def open_a_log(desk, path):
    desk.page("Batches")
    desk.key("ctrl+f")
    desk.type("26A-007")
    desk.find("list item", code_of(desk, path))
    desk.key("Return")
    desk.find("push button", "Retire")
    desk.find("label", code_of(desk, path))


def weigh_it(desk, path):
    desk.press("push button", "Weigh")
    desk.find("text", "Weighed on")
    desk.type("9.5 kg")
    desk.key("ctrl+s")
    desk.await_answer(path, "SELECT w.mass FROM weighing w JOIN log l ON l.id = w.log"
                            " WHERE l.code LIKE '26A-007-%'", 9_500_000)
    desk.find("tree table", "Weighings")
    desk.key("ctrl+z")
    desk.await_answer(path, "SELECT count (*) FROM weighing", 0)


def retire_it(desk, path):
    """Today and the usual reason stand there: one Enter."""
    desk.press("push button", "Retire")
    desk.find("text", "Retired on")
    desk.key("Return")
    desk.await_answer(path, "SELECT retired_why || ' ' || (retired_on = date ('now'))"
                            " FROM log WHERE code LIKE '26A-007-%'", "spent 1")
    sentence_is(desk, path, f"Retired log {code_of(desk, path)}: spent")
    desk.find("push button", "Print tag")
    desk.key("ctrl+z")
    desk.await_answer(path, "SELECT count (*) FROM log WHERE retired_on IS NOT NULL", 0)


def back_to_the_batch(desk, path):
    """Esc leads to the log's line, and Enter there opens it again."""
    desk.find("push button", "Back")
    desk.focus("push button", "Back")
    desk.key("Escape")
    desk.find("tree table", "Logs of the batch")
    desk.label("1 log chosen")
    desk.key("Return")
    desk.find("label", code_of(desk, path))
    desk.key("Escape")
    desk.label("1 log chosen")


def retire_several(desk, path):
    desk.key("shift+Down", "shift+Down")
    desk.label("3 logs chosen")
    desk.press("push button", "Retire logs")
    desk.find("text", "Retired on")
    desk.key("r", "Return")         # rotted, by its letter
    desk.await_answer(path, "SELECT group_concat (substr (code, 1, 7)) FROM"
                            " (SELECT code FROM log WHERE retired_why = 'rotted' ORDER BY code)",
                      "26A-007,26A-008,26A-009")
    sentence_is(desk, path, "Retired 3 logs: rotted")
    desk.find("tree table", "Logs of the batch")
    desk.key("ctrl+z")
    desk.await_answer(path, "SELECT count (*) FROM log WHERE retired_on IS NOT NULL", 0)


def print_several(desk, path):
    desk.label("3 logs chosen")
    desk.press("push button", "Print chosen tags…")
    desk.label("Page 1 of 1")
    desk.keyboard_to("Print")
    desk.key("Escape")
    desk.keyboard_to("Alder Hollow")


STEPS = [open_a_log, weigh_it, retire_it, back_to_the_batch, retire_several, print_several]
