"""The desk as a person finds it: by role and name, with the keyboard.

Widgets are found through AT-SPI; keys are real ones, by xdotool. Runs inside
xvfb-run and dbus-run-session (see meson.build).
"""
import os
import sqlite3
import subprocess
import time

# The program that is tried gets its own below; a reader whose program is killed under it is told so
# by AT-SPI in a warning, which must not end the reader.
os.environ.pop("G_DEBUG", None)

import gi  # noqa: E402

gi.require_version("Atspi", "2.0")
from gi.repository import Atspi, GLib  # noqa: E402

AROUND = 5  # px of a window where nothing composes windows
PATIENCE = 10.0  # seconds until a widget that should be there is missed


INTERACTIVE = {"push button", "toggle button", "check box", "radio button", "text", "entry",
               "combo box", "slider", "switch", "page tab", "list item", "table", "tree table"}


def role_of(node):
    """AT-SPI 2.54 calls a push button a button."""
    return {"button": "push button"}.get(node.get_role_name(), node.get_role_name())


class Missing(Exception):
    """A widget that should be there is not."""


class Desk:
    def __init__(self, program, arguments=()):
        self.program = program
        self.pressed = 0  # keys besides those that type a text
        self.start(arguments)

    def start(self, arguments):
        environment = dict(os.environ, GDK_BACKEND="x11", GSK_RENDERER="cairo",
                           GSETTINGS_BACKEND="memory", GTK_USE_PORTAL="0", LC_ALL="C.UTF-8",
                           G_DEBUG="fatal-criticals")
        environment.pop("GTK_A11Y", None)
        # What GTK still holds at a program's end is the system's; leaks are looked for elsewhere.
        environment["ASAN_OPTIONS"] = environment.get("ASAN_OPTIONS", "") + ":detect_leaks=0"
        self.process = subprocess.Popen([self.program, *arguments], env=environment)
        self.window(None)

    def close(self, unsaved=None, key="ctrl+w"):
        """Closes the window, and with it the program, which ends by itself. @unsaved: what it asks
        about, and is left."""
        self.key(key)
        if unsaved:
            self.label(unsaved)
            # libadwaita 1.2 says the name twice.
            self.press("push button", self.label("Close without saving"))
        try:
            status = self.process.wait(PATIENCE)
        except subprocess.TimeoutExpired:
            raise Missing("the window that was closed is still there") from None
        assert status == 0, f"the program ended with {status}"

    def reopen(self, path):
        """Closes the window and opens the farm again."""
        self.close()
        self.start([path])

    # --- looking ---------------------------------------------------------------

    def application(self):
        desktop = Atspi.get_desktop(0)
        for i in range(desktop.get_child_count()):
            child = desktop.get_child_at_index(i)
            if child and child.get_process_id() == self.process.pid and child.get_child_count():
                child.clear_cache()  # nothing runs a main loop here that would keep it true
                return child
        return None

    @staticmethod
    def showing(node):
        """GTK 4.8 sets SHOWING for windows only: what is seen has a place on the screen."""
        if not node.get_state_set().contains(Atspi.StateType.VISIBLE):
            return False
        component = node.get_component_iface()
        if component is None:
            return True
        place = component.get_extents(Atspi.CoordType.WINDOW)
        return place.width > 0 or place.height > 0

    @staticmethod
    def place(node):
        """Where what stands in the window itself is on the screen, which the window fills. GTK 4.8
        counts from within what a window has around it, GTK 4.18 from twice as far out."""
        def extents(of):
            return of.get_component_iface().get_extents(Atspi.CoordType.WINDOW)

        frame, place = node, extents(node)
        while role_of(frame) not in ("frame", "window", "dialog"):
            frame = frame.get_parent()
        place.x += AROUND - extents(frame).x
        place.y += AROUND - extents(frame).y
        return place

    def walk(self, node):
        if node is None:
            return
        yield node
        for i in range(node.get_child_count()):
            child = node.get_child_at_index(i)
            # A hidden branch holds nothing a person could use.
            if child is not None and self.showing(child):
                yield from self.walk(child)

    def find_now(self, role, name):
        """None too when a widget went away while it was being asked."""
        try:
            return self.look(role, name)
        except GLib.Error:
            return None

    def look(self, role, name):
        application = self.application()
        if application is None:
            return None
        # The newest window first: a dialog lies over what is under it.
        for i in reversed(range(application.get_child_count())):
            for node in self.walk(application.get_child_at_index(i)):
                if (role is None or role_of(node) == role) and (
                        name is None or node.get_name() == name):
                    return node
        return None

    def find(self, role, name):
        end = time.monotonic() + PATIENCE
        while time.monotonic() < end:
            if self.process.poll() is not None:
                raise Missing(f"the program ended ({self.process.returncode})")
            node = self.find_now(role, name)
            if node is not None:
                return node
            time.sleep(0.1)
        raise Missing(f"no {role or 'widget'} named {name!r}")

    def window(self, title):
        return self.find("frame", title) if title else self.find(None, None)

    def gone(self, role, name):
        end = time.monotonic() + PATIENCE
        while time.monotonic() < end:
            if self.find_now(role, name) is None:
                return
            time.sleep(0.1)
        raise Missing(f"{role} {name!r} is still there")

    def text(self, name):
        node = self.find("text", name)
        return Atspi.Text.get_text(node, 0, Atspi.Text.get_character_count(node))

    def label(self, part):
        """Waits for a label that holds these words; its whole text."""
        end = time.monotonic() + PATIENCE
        while time.monotonic() < end:
            name = self.find_name(part)
            if name:
                return name
            time.sleep(0.1)
        raise Missing(f"no label with {part!r}")

    def find_name(self, part):
        try:
            application = self.application()
            for i in range(application.get_child_count() if application else 0):
                for node in self.walk(application.get_child_at_index(i)):
                    if part in (node.get_name() or ""):
                        return node.get_name()
        except GLib.Error:
            pass
        return None

    def unnamed(self):
        """What can be used and has no name to find it by; a class name is none. A menu button is
        named by the button in it."""
        application = self.application()
        return [f"{role_of(node)} {self.first_name(node)!r}"
                for i in range(application.get_child_count())
                for node in self.walk(application.get_child_at_index(i))
                if role_of(node) in INTERACTIVE
                and (not node.get_name() or node.get_name().startswith(("Gtk", "Adw", "Bed")))
                and role_of(node.get_parent()) not in ("combo box", "spin button")
                and node.get_name() != "GtkMenuButton"]

    def first_name(self, node):
        """Of what is in it, to know it by."""
        return next((inner.get_name() for inner in self.walk(node) if inner.get_name()), "")

    # --- doing -------------------------------------------------------------------

    def press(self, role, name):
        self.act(self.find(role, name))

    @staticmethod
    def act(node):
        # Since GTK 4.10 a button with a menu is one by itself, which the one in it acts for.
        while node.get_action_iface().get_n_actions() == 0:
            node = node.get_child_at_index(0)
        node.get_action_iface().do_action(0)
        time.sleep(0.5)  # a button shows itself pressed for a quarter of a second first

    def focus(self, role, name):
        """By Tab, as a person without a mouse would; GTK 4.8 grants no other way."""
        node = self.find(role, name)
        for _ in range(80):
            if node.get_state_set().contains(Atspi.StateType.FOCUSED):
                return
            self.key("Tab")
            node = self.find(role, name)
        raise Missing(f"Tab does not lead to {role} {name!r}")

    def focus_row(self, table):
        """By Tab into the rows of that table: GTK gives the keyboard to a row or to the list."""
        for _ in range(80):
            node = self.find("tree table", table)
            if any(inner.get_state_set().contains(Atspi.StateType.FOCUSED)
                   for inner in self.walk(node)):
                return
            self.key("Tab")
        raise Missing(f"Tab does not lead to the rows of {table!r}")

    def page(self, title):
        """To the page of that name, by its own key."""
        names = [node.get_name() for node in self.walk(self.find("list", "Pages"))
                 if role_of(node) == "list item"]
        self.key(f"ctrl+{(names.index(title) + 1) % 10}")

    def keyboard_to(self, title):
        """Gives the keyboard to the window of that title: there is no window manager here, and a
        dialog that closes leaves the keyboard to nobody."""
        for _ in range(20):
            # It fails when another window closes while it looks (BadWindow): look again.
            subprocess.run(["xdotool", "search", "--sync", "--onlyvisible", "--name", f"^{title}$",
                            "windowfocus"], check=False, timeout=PATIENCE)
            time.sleep(0.3)
            has = subprocess.run(["xdotool", "getwindowfocus", "getwindowname"], text=True,
                                 capture_output=True, timeout=PATIENCE)
            if has.stdout.strip() == title:
                return
        raise Missing(f"the window {title!r} does not take the keyboard")

    def key(self, *keys):
        self.pressed += len(keys)
        for key in keys:
            subprocess.run(["xdotool", "key", key], check=True, timeout=PATIENCE)
            time.sleep(0.08)

    def type(self, text, delay=12):
        subprocess.run(["xdotool", "type", "--delay", str(delay), text], check=True,
                       timeout=PATIENCE)
        time.sleep(0.1)

    def type_file(self, path):
        """As a person types: newer choosers complete what they find meanwhile into what is typed
        faster than they look; what is left of that behind it goes."""
        self.type(path, 150)
        self.key("shift+End", "Delete")

    def enter(self, text=""):
        """Types over what the field holds, then Enter."""
        if text:
            self.type(text)
        self.key("Return")

    # --- asking the file -----------------------------------------------------------

    @staticmethod
    def ask(path, sql, *arguments):
        with sqlite3.connect(f"file:{path}?mode=ro", uri=True) as farm:
            return farm.execute(sql, arguments).fetchall()

    def await_answer(self, path, sql, wanted):
        """Waits until the first value of the answer is @wanted."""
        end = time.monotonic() + PATIENCE
        answer = None
        while time.monotonic() < end:
            rows = self.ask(path, sql)
            answer = rows[0][0] if rows else None
            if answer == wanted:
                return
            time.sleep(0.1)
        raise AssertionError(f"{sql}: {answer!r}, not {wanted!r}")
