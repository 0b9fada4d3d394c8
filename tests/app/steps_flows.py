"""What is typed most, by the keyboard alone, each with the keys it may take: digits + n."""
import contextlib


@contextlib.contextmanager
def digits_and(desk, most):
    """Besides the texts, each typed once, no more than @most keys."""
    before = desk.pressed
    yield
    assert desk.pressed - before <= most, f"digits + {desk.pressed - before}, not {most}"


def twenty_four_logs(desk, path):
    """24 Enters of the logs; the date, the holes, felling and length are offered."""
    desk.page("Batches")
    with digits_and(desk, 34):
        desk.key("ctrl+n")
        desk.find("text", "Small-end diameter")     # in sight from the start
        desk.key(*["Page_Down"] * 4)
        desk.enter("S26-1")
        desk.enter()                # as much spawn as the plan takes
        desk.enter()
        desk.enter()
        for at in range(24):
            desk.enter(str(9 + at % 6))
        desk.label("Plan for 24 logs")
        desk.enter()
    desk.await_answer(path, "SELECT count (*) FROM log l JOIN batch b ON b.id = l.batch"
                            " WHERE b.code = '26B'", 24)
    desk.key("ctrl+z")
    desk.await_answer(path, "SELECT count (*) FROM batch", 1)


def ten_equal_logs(desk, path):
    """One of them is put right where it stands: up to it, Enter, its diameter, Enter."""
    desk.key("ctrl+n")
    desk.key(*["Page_Down"] * 4, *["Return"] * 4)
    with digits_and(desk, 3):
        desk.enter("10 x 12")
        desk.enter("11 x2")
        desk.enter("13 13.5 9")
    desk.label("Plan for 15 logs")
    with digits_and(desk, 5):
        desk.key("Up", "Down", "Down", "Return")
        desk.enter("14")
    desk.find("label", "13.  14 cm × 100 cm  F26-1")
    with digits_and(desk, 3):
        desk.key("Up", "Delete")
        desk.label("14 logs")
        desk.key("ctrl+z")          # in the empty diameter: the newest
    desk.label("13 logs")
    for _ in range(13):
        desk.key("ctrl+z")
    desk.key("Escape")
    desk.await_answer(path, "SELECT count (*) FROM batch", 1)


def picks(desk, path):
    """Code and weight, an Enter each; the newest is seen, and the day that is typed."""
    desk.page("Picking")
    desk.key("alt+1")
    before, = desk.ask(path, "SELECT count (*) FROM pick")[0]
    with digits_and(desk, 1 + 2 * 8):
        desk.key("ctrl+n")
        for number in range(10, 18):
            desk.enter(f"26A-0{number}")
            desk.enter("120")
    desk.await_answer(path, "SELECT count (*) FROM pick", before + 8)
    (newest, grade), = desk.ask(path, "SELECT l.code, p.grade FROM pick p JOIN log l ON"
                                      " l.id = p.log ORDER BY p.id DESC LIMIT 1")
    desk.find("label", newest)
    desk.key("shift+Tab", "ctrl+a")
    desk.type("2026-11-05")         # the totals follow before any Enter
    desk.label("Picked on Thu 5 Nov 2026")
    desk.enter()
    with digits_and(desk, 2):
        desk.enter("26A-018")
        desk.enter("90 c" if grade != "C" else "90 a")
    desk.await_answer(path, "SELECT picked_on || (grade <> '" + grade + "') FROM pick"
                            " ORDER BY id DESC LIMIT 1", "2026-11-051")


def half_a_stack(desk, path):
    desk.page("Soaking")
    before, = desk.ask(path, "SELECT count (*) FROM soaked")[0]
    with digits_and(desk, 4):
        desk.key("ctrl+n", "Page_Down", "Page_Down")
        desk.type("26A-012..023")
        desk.label("12 logs")
        desk.key("Return")
    desk.await_answer(path, "SELECT count (*) FROM soaked", before + 12)
    desk.key("ctrl+z")
    desk.await_answer(path, "SELECT count (*) FROM soaked", before)


def a_weighing_round(desk, path):
    """Log and weight; the day stays."""
    desk.page("Care and weather")
    desk.key("alt+2")
    before, = desk.ask(path, "SELECT count (*) FROM weighing")[0]
    with digits_and(desk, 2 + 2 * 4):
        desk.key("ctrl+n")
        desk.find("text", "Weighed on")
        desk.key("Return")
        for number in range(3, 7):
            desk.enter(f"26A-00{number}")
            desk.type("9.4 kg")
            desk.key("ctrl+Return")
    desk.await_answer(path, "SELECT count (*) FROM weighing", before + 4)
    desk.key("Escape")


def a_check_round(desk, path):
    desk.key("alt+3")
    before, = desk.ask(path, 'SELECT count (*) FROM "check"')[0]
    with digits_and(desk, 2 + 2 * 3):
        desk.key("ctrl+n")
        desk.find("text", "Checked on")
        desk.key("Return")
        for number in range(3, 6):
            desk.type(f"26A-00{number}")
            desk.key("Page_Down")
            desk.type("70")
            desk.key("ctrl+Return")
    desk.await_answer(path, 'SELECT count (*) FROM "check" WHERE log IS NOT NULL'
                            " AND colonised = 7000", 3)
    desk.await_answer(path, 'SELECT count (*) FROM "check"', before + 3)
    desk.key("Escape")


def a_day_of_moves(desk, path):
    """Each stack by its name, what goes there by its codes; a day in the past stays."""
    desk.page("Yard")
    desk.find("list item", "Crib 1, crib, 24 logs of 26A")
    desk.press("push button", "Build: crib")
    desk.key("Left", "Left", "Left", "Down", "Down", "Down", "Return")
    desk.find("list item", "Crib 2, crib, no logs")
    with digits_and(desk, 3 * 2):
        for names in ("26A-001..003", "26A-005, 26A-008"):
            desk.enter("Crib 2")
            desk.key("alt+p")
            desk.find("text", "Logs, stacks or batches to put here")
            desk.enter(names)
            desk.gone("text", "Logs, stacks or batches to put here")
    desk.await_answer(path, "SELECT count (*) FROM place p JOIN stack k ON k.id = p.stack"
                            " WHERE k.name = 'Crib 2' AND p.until IS NULL", 5)


def a_sale_of_three_lots(desk, path):
    desk.page("Picking")
    desk.key("alt+3")
    lots = [code for code, in desk.ask(path, "SELECT code FROM lot ORDER BY id DESC LIMIT 2")]
    with digits_and(desk, 13):
        desk.key("ctrl+n")
        desk.find("text", "Buyer")
        desk.key("Page_Down")
        for lot in (lots[0], lots[1], lots[1]):
            desk.enter(lot)
            desk.enter("0.01 kg")
            desk.enter("1.50")
        desk.label("Together 0.03 kg, 4.50")
        desk.enter()
    desk.await_answer(path, "SELECT count (*) FROM line WHERE mass = 10000", 3)
    desk.key("ctrl+z")
    desk.await_answer(path, "SELECT count (*) FROM line WHERE mass = 10000", 0)


def a_day_of_hours(desk, path):
    """The task by its letter, the time; day, person and rate stay."""
    desk.page("Money")
    desk.key("alt+3")
    before, = desk.ask(path, "SELECT count (*) FROM hours")[0]
    with digits_and(desk, 2 + 2 * 3):
        desk.key("ctrl+n")
        desk.find("text", "Time")
        desk.key("Return")
        for task, time in (("p", "1 h"), ("s", "40 min"), ("d", "2 h")):
            desk.type(task)
            desk.key("Return")
            desk.type(time)
            desk.key("ctrl+Return")
    desk.await_answer(path, "SELECT count (*) FROM hours", before + 3)
    desk.await_answer(path, "SELECT group_concat (minutes) FROM (SELECT minutes FROM hours"
                            " ORDER BY id DESC LIMIT 3)", "120,40,60")
    desk.key("Escape")


STEPS = [twenty_four_logs, ten_equal_logs, picks, half_a_stack, a_weighing_round, a_check_round,
         a_day_of_moves, a_sale_of_three_lots, a_day_of_hours]
