#!/usr/bin/env python3
"""stretched.py SOURCE FOLDER COMMAND...: runs it in a language that is made here.

Every text of the program stands between marks there, with accents, and a third longer: what is not
between marks cannot be translated, and what is cut has no room for another language. German stands
beside it, for words that have two senses.
"""
import os
import re
import subprocess
import sys

sys.path.insert(0, os.path.join(os.path.dirname(__file__), "..", "tree"))
import messages  # noqa: E402

ACCENTS = str.maketrans("AEIOUYaeiouycdgklnrstzCDGKLNRSTZ", "ÀÉÎÕÜÝàéîõüýçďğķľñŕšťžÇĎĞĶĽÑŔŠŤŽ")
# What is not for people: formats, names of places in a text, keys and commands.
KEPT = re.compile(r"(%(?:\d+\$)?[-+0 #'I]*(?:\d+|\*)?(?:\.(?:\d+|\*))?(?:ll|l|z)?[a-zA-Z%]|\{\d\}|`[^`]*`"
                  r"|<[^<>]*>|&\w+;|\n)")


def stretch(text):
    parts = KEPT.split(text)
    if not re.search("[A-Za-z]", "".join(parts[::2])):
        return text
    for i in range(0, len(parts), 2):
        parts[i] = re.sub("[aeiouy]", lambda vowel: 2 * vowel.group(), parts[i]).translate(ACCENTS)
    whole = "".join(parts)
    inside = whole.strip()
    return whole.replace(inside, "‹" + inside + "›", 1)


def each_text(template):
    """(context, text, plural) of each entry, as they stand in the template: escaped."""
    for block in re.split(r"\n\n+", template):
        entry, key = {}, None
        for line in block.splitlines():
            begun = re.match(r'(msgctxt|msgid_plural|msgid|msgstr)\S* "(.*)"$', line)
            if begun:
                key = begun.group(1)
                entry[key] = begun.group(2)
            elif key and line.startswith('"'):
                entry[key] += line[1:-1]
        if entry.get("msgid"):
            yield entry.get("msgctxt"), entry["msgid"], entry.get("msgid_plural")


def put(text):
    """Escapes are no letters to be stretched."""
    plain = text.replace('\\"', "\x01").replace("\\n", "\n").replace("\\t", "\x02").replace("\\\\", "\x03")
    return (stretch(plain).replace("\x03", "\\\\").replace("\x02", "\\t").replace("\n", "\\n")
            .replace("\x01", '\\"'))


def compiled(po, folder, language):
    place = os.path.join(folder, language, "LC_MESSAGES")
    os.makedirs(place, exist_ok=True)
    subprocess.run(["msgfmt", "-o", os.path.join(place, "bedlog.mo"), "-"], input=po, check=True, text=True)


def write(source, folder):
    out = ['msgid ""\nmsgstr "Content-Type: text/plain; charset=UTF-8\\n'
           'Plural-Forms: nplurals=2; plural=(n != 1);\\n"\n']
    for context, text, plural in each_text(messages.template(source)):
        out.append((f'msgctxt "{context}"\n' if context else "") + f'msgid "{text}"')
        out.append(f'msgid_plural "{plural}"\nmsgstr[0] "{put(text)}"\nmsgstr[1] "{put(plural)}"\n' if plural
                   else f'msgstr "{put(text)}"\n')
    compiled("\n".join(out), folder, "xx")
    for language in ("de", "es", "fr", "ja"):
        with open(os.path.join(source, f"po/{language}.po"), encoding="utf-8") as real:
            compiled(real.read(), folder, language)


def main():
    source, folder, language, *command = sys.argv[1:]
    write(source, folder)
    os.environ.update(BEDLOG_LOCALEDIR=folder, LANGUAGE=language)
    os.execvp(command[0], command)


main()
