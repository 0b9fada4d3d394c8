"""Step 5 and all other paper: Ctrl+P on each page shows its pages; what is saved is what the tool
makes, and a tag's code is read back from it."""
import os
import subprocess
import time


# Page, what is offered there first, and the pages that has.
PAGES = [("This week", "Weighing sheet"), ("Woodlot", "Felling tally"), ("Batches", "Log tags"),
         ("Yard", "Yard map"), ("Soaking", "Soaking sheet"), ("Picking", "Crate labels")]


def save(desk, file):
    """From the print dialog, by keyboard."""
    desk.keyboard_to("Print")
    desk.label("Page 1 of")         # the preview is there, so nothing is in the way
    desk.focus("push button", "Save PDF…")
    desk.key("space")
    desk.keyboard_to("Save as PDF")
    desk.key("ctrl+a")
    desk.type(file)
    desk.key("Return")
    end = time.monotonic() + 10
    while not os.path.exists(file) and time.monotonic() < end:
        time.sleep(0.1)
    assert os.path.exists(file), file
    desk.keyboard_to("Print")
    desk.key("Escape")
    desk.gone("push button", "Save PDF…")
    desk.keyboard_to("Alder Hollow")


def pages_of(file):
    told = subprocess.run(["pdfinfo", file], check=True, capture_output=True, text=True).stdout
    return int(next(line for line in told.splitlines() if line.startswith("Pages")).split()[1])


def paper_of_each_page(desk, path):
    for page, first in PAGES:
        file = os.path.join(os.path.dirname(path), f"{first}.pdf")
        desk.page(page)
        desk.key("ctrl+p")
        desk.find("combo box", "What")
        desk.find("push button", "Print…")
        assert not desk.unnamed(), desk.unnamed()
        save(desk, file)
        assert pages_of(file) >= 1


def tags_are_read_back(desk, path):
    file = os.path.join(os.path.dirname(path), "Log tags.pdf")
    picture = os.path.join(os.path.dirname(path), "tags")
    subprocess.run(["pdftoppm", "-r", "300", "-png", file, picture], check=True)
    pictures = sorted(name for name in os.listdir(os.path.dirname(path))
                      if name.startswith("tags") and name.endswith(".png"))
    read = set()
    for name in pictures:
        told = subprocess.run(["zbarimg", "--raw", "-q", "-Sdisable", "-Sqrcode.enable",
                               os.path.join(os.path.dirname(path), name)],
                              capture_output=True, text=True, check=False).stdout
        read.update(told.split())
    batch = desk.ask(path, "SELECT batch FROM log WHERE code = ?", min(read))[0][0]
    logs = {code for (code,) in desk.ask(
        path, "SELECT code FROM log WHERE batch = ? AND retired_on IS NULL", batch)}
    assert read == logs, (read, logs)


STEPS = [paper_of_each_page, tags_are_read_back]
