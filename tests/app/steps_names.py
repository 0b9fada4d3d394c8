"""Last: on every page, and in its form, everything has a name."""


def names(desk, path):
    bare = []
    for page in range(1, 10):
        desk.key(f"ctrl+{page}")
        desk.key("ctrl+n")
        bare += [f"page {page}: {what}" for what in desk.unnamed()]
        desk.key("Escape")
    assert not bare, "; ".join(sorted(set(bare)))


STEPS = [names]
