"""The manual, docs/manual: every page is in the contents and in the program, every link and picture
leads somewhere, F1 has one page for whatever may be in front, every figure is there."""
import os
import re

import manual_glossary

FOLDER = "docs/manual"
DIALOGS = ["welcome", "backups", "paper", "recall", "keys"]


def read(root, path):
    return open(os.path.join(root, path), encoding="utf-8").read()


def pages(root):
    return {name: read(root, f"{FOLDER}/{name}")
            for name in sorted(os.listdir(os.path.join(root, FOLDER))) if name.endswith(".md")}


def links(root, found):
    """(page, target) of each link and picture, not those in `typed` words."""
    for name, text in found.items():
        for target in re.findall(r"\]\(([^)]+)\)", re.sub(r"`[^`]*`", "", text)):
            yield name, target


def reach(root):
    found = pages(root)
    carried = re.findall(r"<file[^>]*>([^<]+)</file>", read(root, "src/app/manual/manual.gresource.xml"))
    listed = re.findall(r"\]\(([^)]+)\)", found["contents.md"])
    for name in found:
        if name != "contents.md" and name not in listed:
            yield f"{FOLDER}/{name}: not in contents.md"
        if f"manual/{name}" not in carried:
            yield f"{FOLDER}/{name}: not in manual.gresource.xml"
    for name, target in links(root, found):
        path = os.path.normpath(os.path.join(FOLDER, target.split("#")[0]))
        if not os.path.exists(os.path.join(root, path)):
            yield f"{FOLDER}/{name}: {target} is not there"
        elif os.path.relpath(path, "docs") not in carried:
            yield f"{FOLDER}/{name}: {target} is not in the program"
    if len(list(links(root, found))) < 40:
        yield f"{FOLDER}: hardly a link was found"


def fronts(root):
    """What may be in front: the pages of the window, the forms, the dialogs."""
    table = read(root, "src/app/window/window.c").split("pages[BED_WINDOW_PAGES] = {")[1].split("};")[0]
    yield from re.findall(r'\{ "(\w+)", N_', table)
    yield from (kind.lower() for kind in re.findall(r"^  FORM \((\w+),", read(root, "src/app/form/forms.c"), re.M))
    yield from DIALOGS


def topics(root):
    of = {}
    for name, text in pages(root).items():
        for topic in re.findall(r"\A<!-- F1: (.*) -->", text):
            for word in topic.split():
                of.setdefault(word, []).append(name)
    asked = sorted(set(fronts(root)))
    if len(asked) < 35:
        yield f"tests/tree: only {len(asked)} things that may be in front were found"
    for front in asked:
        if len(of.get(front, [])) != 1:
            yield f"{FOLDER}: F1 has {of.get(front, 'no page')} for {front}"


def figures(root):
    written = read(root, f"{FOLDER}/figures.md")
    string = r'"(?:[^"\\\n]|\\.)*"'
    said = [re.sub(r'"\s*"', "", s)[1:-1] for s in
            re.findall(rf"N_ \(\s*({string}(?:\s*{string})*)", read(root, "src/model/season/figures.c"))]
    sentences = [s for s in said if s.endswith(".")]
    for sentence in sentences:
        if sentence not in written:
            yield f"{FOLDER}/figures.md: ./dev release writes: {sentence}"
    if len(sentences) < 40:
        yield f"src/model/season/figures.c: only {len(sentences)} sentences found"


def buttons(root):
    """What is *slanted* is what the window calls it."""
    string = r'"(?:[^"\\\n]|\\.)*"'
    said = [read(root, "ui/window.ui").replace("_", "")]
    for folder, _, names in os.walk(os.path.join(root, "src")):
        for name in names:
            if name.endswith((".c", ".h")):
                text = open(os.path.join(folder, name), encoding="utf-8").read()
                said += [re.sub(r'"[\s\\]*"', "", found).lower() for found in
                         re.findall(rf"\b(?:_|N_|N?C_|OF_) \([\s\\]*((?:{string}[\s,\\]*)+)", text)]
    said = "\n".join(said).lower()
    found = 0
    for name, text in pages(root).items():
        for word in slanted(text):
            found += 1
            if word.lower().rstrip(".:") not in said:
                yield f"{FOLDER}/{name}: nothing in the window is called {word}"
    if found < 30:
        yield f"{FOLDER}: only {found} names out of the window found"


def slanted(text):
    text = re.sub(r"^\* |`[^`]*`|\*\*[^*]+\*\*", "", text, flags=re.M)
    return re.findall(r"\*([^*\n]+)\*", text)


def language(root, code):
    """A translated page stands for the one of its name: it is opened by the same, and has its links and
    pictures, in their order."""
    folder = f"{FOLDER}/{code}"
    carried = re.findall(r"<file[^>]*>([^<]+)</file>", read(root, "src/app/manual/manual.gresource.xml"))
    english = pages(root)
    for name in sorted(os.listdir(os.path.join(root, folder))):
        text = read(root, f"{folder}/{name}")
        if name not in english:
            yield f"{folder}/{name}: there is no such page in {FOLDER}"
            continue
        if f"manual/{code}/{name}" not in carried:
            yield f"{folder}/{name}: not in manual.gresource.xml"
        if re.findall(r"\A<!-- .* -->", text) != re.findall(r"\A<!-- .* -->", english[name]):
            yield f"{folder}/{name}: its first line is not that of the English page"
        there = [target for _, target in links(root, {name: text})]
        if [os.path.basename(t) for t in there] != [os.path.basename(t) for _, t in links(root, {name: english[name]})]:
            yield f"{folder}/{name}: its links are not those of the English page"
        for target in there:
            if not os.path.exists(os.path.join(root, folder, target.split("#")[0])):
                yield f"{folder}/{name}: {target} is not there"


def check(root):
    for code in sorted(os.listdir(os.path.join(root, FOLDER))):
        if os.path.isdir(os.path.join(root, FOLDER, code)):
            yield from language(root, code)
    yield from buttons(root)
    yield from reach(root)
    yield from topics(root)
    yield from figures(root)
    if manual_glossary.write(read(root, "po/glossary.md")) != read(root, f"{FOLDER}/glossary.md"):
        yield f"{FOLDER}/glossary.md: ./dev release writes it from po/glossary.md"
