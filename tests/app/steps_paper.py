"""Step 5 and all other paper: Ctrl+P on each page shows its pages and what can be printed."""
import time


# Page, and what is offered there first.
PAGES = [("This week", "Weighing sheet"), ("Woodlot", "Felling tally"), ("Batches", "Log tags"),
         ("Yard", "Yard map"), ("Soaking", "Soaking sheet"), ("Picking", "Crate labels")]


def paper_of_each_page(desk, path):
    for page, first in PAGES:
        desk.page(page)
        desk.key("ctrl+p")
        desk.find("combo box", "What")
        desk.find("push button", "Save as PDF")
        desk.find("push button", "Print")
        desk.key("Escape")
        time.sleep(0.5)


STEPS = [paper_of_each_page]
