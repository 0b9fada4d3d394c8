"""Step 5 and all other paper: Ctrl+P on each page shows its pages; what is saved is what the tool
makes, and a tag's code is read back from it."""
import os
import subprocess
import tempfile
import time


# Page, and what is offered there first.
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


def read_codes(file):
    """What zbarimg reads in strips that overlap: of a whole sheet it leaves some codes out."""
    dpi, high, step = 300, 450, 120
    words = set()
    with tempfile.TemporaryDirectory() as folder:
        for top in range(0, int(11.7 * dpi), step):
            strip = os.path.join(folder, f"{top}")
            subprocess.run(["pdftoppm", "-r", str(dpi), "-gray", "-singlefile", "-x", "0", "-y",
                            str(top), "-W", str(9 * dpi), "-H", str(high), file, strip],
                           check=True)
            told = subprocess.run(["zbarimg", "--raw", "-q", "-Sdisable", "-Sqrcode.enable",
                                   strip + ".pgm"], capture_output=True, text=True, check=False)
            words.update(told.stdout.split())
    return words


def tags_are_read_back(desk, path):
    file = os.path.join(os.path.dirname(path), "Log tags.pdf")
    assert pages_of(file) == 1, file
    logs = {code for (code,) in desk.ask(path, "SELECT l.code FROM log l JOIN batch b"
                                         " ON b.id = l.batch WHERE b.code = '26A'"
                                         " AND l.retired_on IS NULL")}
    assert read_codes(file) == logs, read_codes(file) ^ logs


STEPS = [paper_of_each_page, tags_are_read_back]
