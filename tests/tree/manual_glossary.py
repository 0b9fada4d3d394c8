"""manual_glossary.py po/glossary.md: the glossary of the manual, without what is for translators."""
import re
import sys


def write(text):
    lines = ["<!-- F1: glossary -->", "# Glossary", "",
             "The words of the trade as this program uses them, one word for one thing."]
    for line in text.splitlines():
        cells = [cell.strip() for cell in line.split("|")]
        if line.startswith("## "):
            lines += ["", line]
        elif cells[1:2] == ["word"]:
            lines += ["", "| word | what it is |", "|---|---|"]
        elif line.startswith("| "):
            lines += [f"| {cells[1]} | {cells[2]} |"]
    return "\n".join(lines) + "\n"


if __name__ == "__main__":
    sys.stdout.write(write(open(sys.argv[1], encoding="utf-8").read()))
