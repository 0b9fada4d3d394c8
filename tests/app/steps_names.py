"""Last: the farm's own settings; the manual; on every page, and in its form, everything has a name."""


def settings(desk, path):
    desk.key("ctrl+comma")
    desk.keyboard_to("Farm and units")
    desk.key("End")                 # the first field has the keyboard
    desk.type(" farm")
    desk.press("page tab", "Inoculating")
    desk.focus("text", "Holes drilled a minute")
    desk.enter("5")
    desk.key("ctrl+s")
    desk.gone("frame", "Farm and units")
    desk.keyboard_to("Alder Hollow farm")
    desk.await_answer(path, "SELECT name || drill_pace FROM farm", "Alder Hollow farm5")
    desk.key("ctrl+z")
    desk.await_answer(path, "SELECT name FROM farm", "Alder Hollow")
    desk.keyboard_to("Alder Hollow")


def names(desk, path):
    bare = []
    for page in range(1, 10):
        desk.key(f"ctrl+{page}")
        desk.key("ctrl+n")
        bare += [f"page {page}: {what}" for what in desk.unnamed()]
        desk.key("Escape")
    assert not bare, "; ".join(sorted(set(bare)))


def manual(desk, path):
    """From a question that must be answered, too; links and search are at the keyboard."""
    desk.key("ctrl+b")
    desk.keyboard_to("Backups")
    desk.key("F1")
    desk.keyboard_to("Backups and recovery")
    desk.key("ctrl+f")
    desk.type("hot wax burns")
    desk.key("Return")
    desk.keyboard_to("Spawn and wax")
    bare = desk.unnamed()
    assert not bare, "; ".join(sorted(set(bare)))
    desk.key("Escape", "Escape")
    desk.gone("frame", "Spawn and wax")
    desk.keyboard_to("Backups")
    desk.key("Escape")
    desk.gone("frame", "Backups")
    desk.keyboard_to("Alder Hollow")


STEPS = [settings, manual, names]
