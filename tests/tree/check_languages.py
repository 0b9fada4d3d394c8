"""The languages, po/LL.po: they keep one word for one thing, too, which po/glossary.LL.md has; and what
a translated manual calls *slanted* is so called in the window. All that is said is translated, and what
is put into it has the same places."""
import os
import re
import subprocess
import tempfile

import check_manual
import messages

PART = re.compile(r'^(msg\w+(?:\[\d\])?) ((?:"(?:[^"\\]|\\.)*"\s*)+)', re.M)
OTHER = "## Other senses"  # over the messages of a glossary that mean another thing by its words


def read(root, path):
    return open(os.path.join(root, path), encoding="utf-8").read()


def unquote(text):
    whole = "".join(re.findall(r'"((?:[^"\\]|\\.)*)"', text))
    return re.sub(r"\\(.)", lambda m: {"n": "\n", "t": "\t"}.get(m.group(1), m.group(1)), whole)


def translated(text):
    """(English, [translations]) of each message."""
    for block in re.split(r"\n\n+", text):
        parts = {key: unquote(said) for key, said in PART.findall(block)}
        said = [t for key, t in parts.items() if key.startswith("msgstr") and t]
        if parts.get("msgid") and said:
            yield parts["msgid"], said


def terms(glossary):
    """(English word, stems) of each row that has stems; "to weigh" is found as "weigh"."""
    for line in glossary.split(OTHER)[0].splitlines():
        cells = [cell.strip() for cell in line.strip("|").split("|")]
        stems = re.findall(r"`([^`]+)`", cells[-1]) if len(cells) == 3 else []
        for word in re.sub(r"\([^)]*\)", "", cells[0]).split(",") if stems else []:
            yield re.sub(r"^to ", "", word.strip()), stems


def others(glossary):
    """(word, message) that means another thing by it."""
    for line in glossary.partition(OTHER)[2].splitlines():
        cells = line.strip().strip("|").split("|", 1)
        if len(cells) == 2:
            yield cells[0].strip(), cells[1].strip()


def words(root, code):
    path = f"po/glossary.{code}.md"
    if not os.path.exists(os.path.join(root, path)):
        yield f"{path}: not there"
        return
    glossary, found = read(root, path), 0
    exempt = set(others(glossary))
    said = list(translated(read(root, f"po/{code}.po")))
    for word, stems in terms(glossary):
        seen = re.compile(rf"\b{re.escape(word)}(s|es)?\b", re.I)
        for english, translations in said:
            if not seen.search(english) or (word, english.replace("\n", " ")) in exempt:
                continue
            found += 1
            if not any(stem.lower() in text.lower() for text in translations for stem in stems):
                yield f"po/{code}.po: {word}: {english!r}: {translations[0]!r}: none of {stems}"
    if found < 500:
        yield f"{path}: only {found} uses of its words were found"


def slanted(root, code):
    folder = f"{check_manual.FOLDER}/{code}"
    said = "\n".join(t for _, texts in translated(read(root, f"po/{code}.po")) for t in texts).lower()
    for name in sorted(os.listdir(os.path.join(root, folder))):
        for word in check_manual.slanted(read(root, f"{folder}/{name}")):
            if word.lower().rstrip(".:…") not in said:
                yield f"{folder}/{name}: nothing in the window is called {word}"


def menu(root, code):
    """Each line of the main menu has a letter of its own."""
    labels = re.findall(r'<attribute name="label" translatable="yes">([^<]*)<',
                        read(root, "ui/window.ui")) + ["Rec_ent farms"]  # by recent_list.c
    said, taken = dict(translated(read(root, f"po/{code}.po"))), {}
    for label in labels:
        text = said.get(label, [""])[0]
        letter = text.partition("_")[2][:1].lower()
        if not letter or letter in taken:
            yield f"po/{code}.po: {text!r}: its letter is that of {taken.get(letter)!r}"
        taken[letter] = text


def complete(root, code, template):
    """Each message of the sources is there and not fuzzy, and no other is; formats take the same."""
    po = os.path.join(root, f"po/{code}.po")
    compared = subprocess.run(["msgcmp", po, template], capture_output=True, text=True)
    merged = subprocess.run(["msgmerge", "--quiet", "--no-fuzzy-matching", "-o", "-", po, template],
                            capture_output=True, text=True)
    formats = subprocess.run(["msgfmt", "--check-format", "-o", os.devnull, "-"], input=merged.stdout,
                             capture_output=True, text=True)
    for line in (compared.stderr + merged.stderr + formats.stderr).splitlines():
        yield line.replace(po, f"po/{code}.po").replace(template, "the sources")
    for done in (compared, merged, formats):
        if done.returncode and not done.stderr:
            yield f"po/{code}.po: {done.args[0]} failed"


def check(root):
    with tempfile.TemporaryDirectory() as folder:
        template = os.path.join(folder, "bedlog.pot")
        with open(template, "w", encoding="utf-8") as file:
            file.write(messages.template(root))
        for code in read(root, "po/LINGUAS").split():
            yield from complete(root, code, template)
    for code in read(root, "po/LINGUAS").split():
        yield from words(root, code)
        yield from slanted(root, code)
        yield from menu(root, code)
