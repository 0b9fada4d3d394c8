"""The first page and its menu; the demo beside one's own farm, gone with its window."""
import os

DEMO = "Tern Hollow, an invented farm"


def first_page(desk, path):
    """Its menu by F10, with what needs no farm; About tells where to find us; Escape closes."""
    desk.keyboard_to("Bedlog")
    desk.key("F10")
    for item in ("New farm…", "Open…", "Try the demo farm", "Manual", "Keyboard shortcuts"):
        desk.find("menu item", item)
    desk.key("Up", "Return")            # the last: About Bedlog
    desk.keyboard_to("About")
    for what in ("Report an Issue", "Credits", "Legal"):
        desk.label(what)
    desk.key("Escape")
    desk.gone("frame", "About")
    desk.keyboard_to("Bedlog")
    desk.key("ctrl+question")
    desk.keyboard_to("Keyboard shortcuts")
    for key in ("F10", "Ctrl+Q", "Ctrl+W", "Ctrl+Page Down"):
        desk.label(key)
    desk.key("Escape")
    desk.gone("frame", "Keyboard shortcuts")
    desk.keyboard_to("Bedlog")


def places(folder):
    return os.listdir(folder) if os.path.isdir(folder) else []


def demo(desk, path):
    """From the menu, beside the farm; from page to page there; closed, nothing of it is left."""
    kept = os.path.join(os.environ["XDG_CACHE_HOME"], "bedlog", "demo")
    assert not places(kept), places(kept)
    desk.key("F10", "Down", "Down", "Return")
    desk.keyboard_to(DEMO)
    desk.window("Alder Hollow")
    assert len(places(kept)) == 1, places(kept)
    desk.key("ctrl+1", "ctrl+Next")
    desk.find("tree table", "Fellings")
    desk.key("ctrl+Next")               # also from within a table
    desk.find("tree table", "Batches")
    desk.key("ctrl+w")
    desk.gone("frame", DEMO)
    assert not places(kept), places(kept)
    desk.keyboard_to("Alder Hollow")


def escape_closes(desk, path):
    """Each window over the farm, and the keyboard is back."""
    for key, title in (("ctrl+b", "Backups"), ("ctrl+comma", "Farm and units"),
                       ("ctrl+p", "Print"), ("ctrl+shift+n", "New farm")):
        desk.key(key)
        desk.keyboard_to(title)
        desk.key("Escape")
        desk.gone("frame", title)
        desk.keyboard_to("Alder Hollow")


FIRST = [first_page]
LAST = [demo, escape_closes]
