"""A sheet of somebody's own comes in by the keyboard alone, and is taken back."""
import os
import time

SHEET = """Date,Row,Wt (oz),Who
28-May-26,Shed A,6.5,Dana
29-May-26,Shed A,1 lb 2 oz,Max
3-Jun-26,Shed B,~4,Dana
Total,,28.5,
"""


def write_sheet(path):
    sheet = os.path.join(os.path.dirname(path), "harvest.csv")
    with open(sheet, "w", encoding="utf-8") as file:
        file.write(SHEET)
    return sheet


def bring_in(desk, path):
    desk.key("ctrl+i")
    desk.keyboard_to("Bring in a sheet")
    desk.key("ctrl+l")              # to where a path is typed: the chooser may begin at its places
    time.sleep(0.5)
    desk.key("ctrl+a")
    desk.type_file(write_sheet(path))
    desk.key("Return")
    desk.keyboard_to("Alder Hollow")
    desk.label("4 questions")
    desk.label("“Grade”")
    assert not desk.unnamed(), desk.unnamed()
    desk.key("Return")              # the first grade
    desk.label("“Inoculated on”")
    desk.enter("2024-04-01")
    desk.label("3 of 3")
    desk.key("Return")              # how they were inoculated: as offered
    desk.label("take it as 4?")
    desk.key("Return")              # so
    desk.label("4 questions answered")
    desk.find("push button", "Bring in")
    desk.await_answer(path, "SELECT count (*) FROM pick WHERE picker = 'Max'", 0)
    desk.key("Return")
    desk.label("Brought in: ")
    desk.await_answer(path, "SELECT count (*) FROM pick WHERE picker = 'Max'", 1)
    desk.await_answer(path, "SELECT count (*) FROM pick WHERE picker = 'Dana'", 2)
    desk.key("ctrl+z")
    desk.await_answer(path, "SELECT count (*) FROM pick WHERE picker = 'Max'", 0)


STEPS = [bring_in]
