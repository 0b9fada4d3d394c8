"""Steps 6 to 8: a soak, picks, money, a sale, the season workbook, and back again."""
import os
import re
import time
import zipfile

import desk as desk_module


def soak(desk, path):
    desk.key("ctrl+5", "ctrl+n")
    desk.focus("text", "Tank")
    desk.enter("Trough")
    desk.key("ctrl+a")
    desk.enter("2026-11-02 08:00")
    desk.enter("2026-11-03 09:00")
    desk.focus("text", "Logs")
    desk.type("26A-001, 26A-002, 26A-003")
    desk.label("3 logs")
    desk.key("Return")
    desk.await_answer(path, "SELECT count (*) FROM soaked", 3)
    desk.await_answer(path, "SELECT tank || ' ' || taken_out FROM soak",
                      "Trough 2026-11-03T09:00")
    desk.await_answer(path, "SELECT sentence FROM change ORDER BY id DESC LIMIT 1",
                      "Soaked 3 logs in Trough")


def mistyped_soak_is_kept(desk, path):
    desk.key("ctrl+n")
    desk.focus("text", "Logs")
    desk.type("26A-001, 26Z")
    desk.label("26Z")
    desk.key("ctrl+s")
    time.sleep(0.5)
    assert desk.text("Logs") == "26A-001, 26Z"
    desk.await_answer(path, "SELECT count (*) FROM soak", 1)
    desk.key("Escape")


def three_picks(desk, path):
    desk.key("ctrl+6", "ctrl+n")
    desk.enter("26A-001")           # a scanner's Enter is the same
    desk.enter("210")               # grade A stands
    desk.await_answer(path, "SELECT sum (mass) FROM pick", 210_000)
    desk.enter("26A-002")
    desk.enter("95 g b")            # grade B from here on
    desk.await_answer(path, "SELECT sum (mass) FROM pick WHERE grade = 'B'", 95_000)
    desk.enter("26A")
    desk.enter("1 kg")
    desk.await_answer(path, "SELECT count (*) FROM pick WHERE grade = 'B'", 2)
    desk.await_answer(path, "SELECT count (*) FROM lot", 1)
    desk.await_answer(path, "SELECT count (DISTINCT lot) FROM pick", 1)


def wrong_weight_stays(desk, path):
    desk.enter("26A-003")
    desk.enter("heavy")
    desk.label("heavy")
    assert desk.text("Weight") == "heavy"
    desk.await_answer(path, "SELECT count (*) FROM pick", 3)
    desk.key("ctrl+a")
    desk.enter("150")
    desk.await_answer(path, "SELECT count (*) FROM pick", 4)


def purchase(desk, path):
    desk.key("ctrl+7", "ctrl+n")
    desk.focus("text", "Date")
    desk.enter()
    desk.key("w")                   # wax, by its letter
    desk.enter()
    desk.enter("Cheese wax")
    desk.enter("5 kg")
    desk.enter("22.50")
    desk.enter()                    # no tax
    desk.enter()                    # nor a name
    desk.key("t")                   # this season's batches: no batch is asked for
    desk.key("ctrl+s")
    desk.await_answer(path, "SELECT category || ' ' || what || ' ' || amount || ' ' || scope"
                            " FROM purchase", "wax Cheese wax 2250 season")


def hours(desk, path):
    desk.press("page tab", "Hours")
    desk.key("ctrl+n")
    desk.focus("text", "Date")
    desk.enter()
    desk.key("d")                   # drilling
    desk.enter()
    desk.enter("2 h 30 min")
    desk.focus("text", "Rate per hour")
    desk.enter("18")
    desk.key("ctrl+s")
    desk.await_answer(path, "SELECT task || ' ' || minutes || ' ' || rate FROM hours",
                      "drilling 150 1800")


def sale(desk, path):
    desk.page("Picking")
    desk.press("page tab", "Sales")
    desk.key("ctrl+n")
    desk.focus("text", "Lot")
    (lot,), = desk.ask(path, "SELECT code FROM lot")
    desk.enter(lot)
    desk.focus("text", "Mass")
    desk.enter("1.2 kg")
    desk.enter("30")
    desk.label("Together")
    desk.enter()                    # in the empty lot: the sale is done
    desk.await_answer(path, "SELECT mass || ' ' || price FROM line", "1200000 3000")


def workbook(desk, path):
    book = os.path.join(os.path.dirname(path), "season.xlsx")
    desk.page("Season")
    desk.focus("check box", "Print long lists")
    desk.key("space")
    desk.press("push button", "Write workbook…")
    desk.keyboard_to("Write the season workbook")
    desk.key("ctrl+a")
    desk.type(book)
    desk.key("Return")
    end = time.monotonic() + 30
    while not os.path.exists(book) and time.monotonic() < end:
        time.sleep(0.1)
    with zipfile.ZipFile(book) as package:
        assert package.testzip() is None
        sheets = package.read("xl/workbook.xml").decode()
    desk.keyboard_to("Alder Hollow")
    desk.press("push button", "Open")
    end = time.monotonic() + desk_module.PATIENCE
    while not os.path.exists(book + ".opened") and time.monotonic() < end:
        time.sleep(0.1)
    assert os.path.exists(book + ".opened"), "the workbook is not opened from its toast"
    for name in ("Summary", "Batches", "Logs", "Picks", "Hours"):
        assert f'name="{name}"' in sheets, name
    # From their first row on, and not their totals alone.
    assert re.search(r'"_xlnm.Print_Area"[^>]*>Picks!\$A\$1:', sheets)


def undone_and_there_again(desk, path):
    """Undo from the header bar, close, open: the file is as it was left, with its undo."""
    desk.page("History")
    desk.key("ctrl+z")              # the sale
    desk.await_answer(path, "SELECT count (*) FROM line", 0)
    program = desk.process.args[0]
    desk.close(unsaved="Half typed and not saved: soak.")
    again = desk_module.Desk(program, [path])
    desk.process = again.process
    desk.window("Alder Hollow")
    desk.keyboard_to("Alder Hollow")
    desk.key("ctrl+shift+z")
    desk.await_answer(path, "SELECT count (*) FROM line", 1)
    for _ in range(2):              # the sale, the hours
        desk.key("ctrl+z")
        time.sleep(0.3)
    desk.await_answer(path, "SELECT count (*) FROM hours", 0)
    desk.await_answer(path, "SELECT count (*) FROM pick", 4)


STEPS = [soak, mistyped_soak_is_kept, three_picks, wrong_weight_stays, purchase, hours, sale,
         workbook, undone_and_there_again]
