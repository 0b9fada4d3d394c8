"""Step 5 and all other paper: Ctrl+P on each page shows its pages; what is saved is what the tool
makes, and a tag's code is read back from it."""
import os
import subprocess
import tempfile
import time


# Page, and what is offered there first.
PAGES = [("This week", "This week"), ("Woodlot", "Felling tally"), ("Batches", "Log tags"),
         ("Yard", "Yard map"), ("Soaking", "Soaking sheet"), ("Picking", "Crate labels")]


def save(desk, file):
    """From the print dialog, by keyboard."""
    desk.keyboard_to("Print")
    desk.label("Page 1 of")         # the preview is there, so nothing is in the way
    desk.focus("push button", "Save PDF…")
    desk.key("space")
    desk.keyboard_to("Save as PDF")
    desk.key("ctrl+a")
    desk.type_file(file)
    desk.key("Return")
    end = time.monotonic() + 10
    while not os.path.exists(file) and time.monotonic() < end:
        time.sleep(0.1)
    assert os.path.exists(file), file
    desk.gone("push button", "Save PDF…")   # the toast that opens it stands under the dialog
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


def windows(picture, folder):
    """Overlapping cut-outs of a grey picture (PGM), each holding one code and not two."""
    wide, high, step = 540, 300, 108
    magic, size, _, pixels = open(picture, "rb").read().split(b"\n", 3)
    assert magic == b"P5"
    width, height = map(int, size.split())
    for top in range(0, height - high + step, step):
        for left in range(0, width - wide + step, step * 2):
            rows = [pixels[y * width + left:y * width + min(left + wide, width)]
                    for y in range(top, min(top + high, height))]
            if not any(min(row) < 128 for row in rows):
                continue
            cut = os.path.join(folder, f"{os.path.basename(picture)}-{top}-{left}.pgm")
            with open(cut, "wb") as out:
                out.write(b"P5\n%d %d\n255\n" % (len(rows[0]), len(rows)) + b"".join(rows))
            yield cut


def read_codes(file):
    """What zbarimg reads label by label: of a whole sheet it leaves some codes out."""
    with tempfile.TemporaryDirectory() as folder:
        subprocess.run(["pdftoppm", "-r", "300", "-gray", file, os.path.join(folder, "page")],
                       check=True)
        pictures = [os.path.join(folder, name) for name in sorted(os.listdir(folder))]
        cuts = [cut for picture in pictures for cut in windows(picture, folder)]
        told = subprocess.run(["zbarimg", "--raw", "-q", "-Sdisable", "-Sqrcode.enable", *cuts],
                              capture_output=True, text=True, check=False)
        return set(told.stdout.split())


def tags_are_read_back(desk, path):
    file = os.path.join(os.path.dirname(path), "Log tags.pdf")
    logs = {code for (code,) in desk.ask(path, "SELECT l.code FROM log l JOIN batch b"
                                         " ON b.id = l.batch WHERE b.code = '26A'"
                                         " AND l.retired_on IS NULL")}
    assert read_codes(file) == logs, read_codes(file) ^ logs


STEPS = [paper_of_each_page, tags_are_read_back]
