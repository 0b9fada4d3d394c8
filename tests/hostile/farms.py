"""Farm files as nobody should hand them over. Each function makes one of a sound farm: it is
given a path to a copy of its own and changes it. make_all() lists them by name."""
import os
import random
import sqlite3
import struct

FARMS = {}


def farm(*arguments):
    """A farm of that name for each of the arguments (a name and a value), or one alone."""
    def add(function):
        name = function.__name__.replace("_", "-")
        if not arguments:
            FARMS[name] = function
        for n, argument in enumerate(arguments):
            FARMS[f"{name}-{n}"] = lambda path, value=argument: function(path, value)
        return function
    return add


def sql(path, *statements, schema=False):
    """Runs the statements behind the program's back, and with @schema behind SQLite's too."""
    db = sqlite3.connect(path, isolation_level=None)
    db.execute("PRAGMA foreign_keys = OFF")
    db.execute("PRAGMA ignore_check_constraints = ON")
    if schema:
        db.execute("PRAGMA writable_schema = ON")
    for statement in statements:
        if isinstance(statement, tuple):
            db.execute(*statement)
        else:
            db.execute(statement)
    db.close()


def patch(path, *places):
    """Each place: offset, bytes."""
    with open(path, "r+b") as file:
        for offset, data in places:
            file.seek(offset, os.SEEK_END if offset < 0 else os.SEEK_SET)
            file.write(data)


def page_size(path):
    with open(path, "rb") as file:
        return struct.unpack(">H", file.read(18)[16:])[0]


# --- bytes -----------------------------------------------------------------------------

@farm(b"", b"\0", b"SQLite format 3\0", b"SQLite format 3\0" + b"\xff" * 83, b"A letter.\n",
      b"PK\3\4" + b"\0" * 200, b"\0" * 100000, "SQLite".encode("utf-16") * 100)
def other_bytes(path, data):
    with open(path, "wb") as file:
        file.write(data)


@farm(1, 100, 1024, 4096, 4097, 0.25, 0.5, 0.9)
def cut_to(path, size):
    whole = os.path.getsize(path)
    os.truncate(path, int(size * whole) if isinstance(size, float) else size)


@farm(1, 4096)
def cut_by(path, size):
    os.truncate(path, os.path.getsize(path) - size)


@farm(1 << 20, 4 << 30)
def sparse_tail(path, size):
    os.truncate(path, os.path.getsize(path) + size)


@farm((16, b"\0\0"), (16, b"\0\3"), (16, b"\2\0"), (16, b"\0\1"), (18, b"\2\2"), (18, b"\7\7"),
      (20, b"\xff"), (21, b"\0\0\0"), (24, b"\xff" * 4), (28, b"\0" * 4), (28, b"\xff" * 4),
      (28, b"\0\0\0\1"), (28, b"\x7f\xff\xff\xff"), (32, b"\0\0\0\2\0\0\0\1"),
      (32, b"\xff" * 8), (36, b"\0\1\0\0"), (40, b"\xff" * 4), (44, b"\0\0\0\x63"),
      (52, b"\0\0\0\1"), (56, b"\0\0\0\2"), (56, b"\0\0\0\x09"), (60, b"\0" * 4),
      (60, b"\0\0\0\1"), (60, b"\0\0\0\x63"), (60, b"\xff" * 4), (68, b"\0" * 4),
      (92, b"\xff" * 8), (100, b"\5"), (100, b"\0"), (103, b"\xff\xff"), (105, b"\0\1"))
def header(path, place):
    patch(path, place)


@farm(*range(2, 12))
def page_zeroed(path, page):
    size = page_size(path)
    patch(path, ((page - 1) * size, b"\0" * size))


@farm(*range(2, 8))
def page_repeats(path, page):
    """A page in place of the one after it: a tree that meets itself."""
    size = page_size(path)
    with open(path, "rb") as file:
        file.seek((page - 1) * size)
        data = file.read(size)
    patch(path, (page * size, data))


@farm(*range(16))
def flipped(path, seed):
    chance = random.Random(seed)
    size = os.path.getsize(path)
    patch(path, *((chance.randrange(100, size), bytes([chance.randrange(256)]))
                  for _ in range(1 + seed * 4)))


# --- tables that are not ours ----------------------------------------------------------------

DEEP = "".join(f"CREATE VIEW v{i} AS SELECT a.x FROM v{i - 1} a, v{i - 1} b;" for i in range(1, 60))


@farm("CREATE TABLE own (x)", "CREATE INDEX own ON log (notes)",
      "CREATE TRIGGER sqlitexevil AFTER INSERT ON area BEGIN DELETE FROM log; END",
      "CREATE TRIGGER evil AFTER UPDATE ON change BEGIN DELETE FROM pick; END",
      "CREATE TRIGGER evil BEFORE INSERT ON change BEGIN SELECT raise (IGNORE); END",
      "CREATE VIEW sqlitexevil AS SELECT 1", "CREATE VIEW log_today AS SELECT 1",
      "CREATE VIEW endless AS WITH RECURSIVE n (i) AS (SELECT 1 UNION ALL SELECT i + 1 FROM n)"
      " SELECT i FROM n",
      "DROP TABLE pick", "DROP TABLE change", "DROP INDEX by_place_open",
      "ALTER TABLE log ADD COLUMN own TEXT", "ALTER TABLE log RENAME COLUMN notes TO remarks",
      "ALTER TABLE log ADD COLUMN worked_out INTEGER GENERATED ALWAYS AS (length * 2)",
      "CREATE VIRTUAL TABLE own USING fts5 (x)", "CREATE VIRTUAL TABLE own USING rtree (i, a, b)",
      "CREATE INDEX worked_out ON log (hex (zeroblob (length)))",
      "CREATE TABLE sqlitexstat1 (tbl, idx, stat)", "CREATE TABLE bed_today (x)",
      'CREATE TABLE "Robert""); DROP TABLE log;--" (x)',
      "CREATE TABLE wide (" + ",".join(f"c{i}" for i in range(1900)) + ")")
def schema(path, statement):
    sql(path, statement)


@farm()
def schema_deep_views(path):
    sql(path, "CREATE VIEW v0 AS SELECT 1 AS x", *DEEP.split(";")[:-1])


@farm()
def schema_many_tables(path):
    sql(path, "BEGIN", *(f"CREATE TABLE t{i} (x)" for i in range(3000)), "COMMIT")


@farm("UPDATE sqlite_schema SET sql = replace (sql, 'STRICT', '') WHERE name = 'log'",
      "UPDATE sqlite_schema SET sql = NULL WHERE name = 'pick'",
      "UPDATE sqlite_schema SET sql = 'CREATE TABLE log (' WHERE name = 'log'",
      "UPDATE sqlite_schema SET rootpage = 1 WHERE name = 'pick'",
      "UPDATE sqlite_schema SET rootpage = 99999999 WHERE name = 'pick'",
      "UPDATE sqlite_schema SET rootpage = -1 WHERE name = 'pick'",
      "UPDATE sqlite_schema SET rootpage = (SELECT rootpage FROM sqlite_schema WHERE name = 'log')"
      " WHERE name = 'pick'",
      "UPDATE sqlite_schema SET rootpage = 0 WHERE name = 'log'",
      "UPDATE sqlite_schema SET type = 'view', rootpage = 0,"
      " sql = 'CREATE VIEW farm AS SELECT * FROM farm' WHERE name = 'farm'",
      "UPDATE sqlite_schema SET type = 'trigger' WHERE name = 'by_pick_day'",
      "UPDATE sqlite_schema SET name = 'sqlite_evil' WHERE name = 'by_pick_day'",
      "UPDATE sqlite_schema SET tbl_name = 'area' WHERE name = 'by_pick_day'",
      "UPDATE sqlite_schema SET sql = replace (sql, 'notes TEXT',"
      " 'notes TEXT CHECK (length (hex (zeroblob (100000000))) > 0)') WHERE name = 'area'",
      "UPDATE sqlite_schema SET sql = sql || char (0) || 'x' WHERE name = 'log'",
      "INSERT INTO sqlite_schema VALUES ('table', 'log', 'log', 2, 'CREATE TABLE log (id)')",
      "DELETE FROM sqlite_schema WHERE name LIKE 'sqlite_autoindex%'",
      "DELETE FROM sqlite_schema")
def schema_text(path, statement):
    sql(path, statement, schema=True)


# --- values -------------------------------------------------------------------------------

LONG = "x" * (10 << 20)
NASTY = ["", " ", "'", '"; DROP TABLE log; --', "=1+1", "@SUM(A1)", "+cmd|' /C calc'!A0", "-2+3",
         "<b>&amp;</b>", "$(touch /tmp/owned)", "`id`", "../../../etc/passwd", "%s%n%p%1000000d",
         "\u202egnp.exe", "a\x00b", "\x1b[2J", "\ufeff", "\U0010ffff", "e\u0301" * 500, "\r\n\t"]


@farm(*NASTY, LONG[:3 << 20])
def text_everywhere(path, text):
    """As every optional text and every name. Of an area's name, which each row about a stack
    repeats, a third will do."""
    for table, column in (("farm", "name"), ("farm", "address"), ("area", "name"),
                          ("area", "notes"), ("stack", "name"), ("log", "notes"),
                          ("log", "retired_why"), ("pick", "picker"), ("buyer", "contact"),
                          ("purchase", "what"), ("spawn", "supplier"), ("batch", "wax")):
        part = text[:1 << 20] if (table, column) == ("area", "name") else text
        sql(path, (f'UPDATE "{table}" SET "{column}" = ? WHERE id = (SELECT min (id) FROM'
                   f' "{table}")', (part,)))


@farm(("farm", "name"), ("area", "name"), ("log", "notes"), ("change", "sentence"))
def long_text(path, where):
    table, column = where
    sql(path, (f'UPDATE "{table}" SET "{column}" = ? WHERE id = (SELECT min (id) FROM "{table}")',
               (LONG,)))


@farm(b"\xff", b"\xc3", b"\xed\xa0\x80", b"abc\xf4\x90\x80\x80def", b"\x80" * 1000)
def no_text(path, data):
    """What is no UTF-8, in every text column of the first record of every table."""
    db = sqlite3.connect(path)
    tables = [t for (t,) in db.execute("SELECT name FROM sqlite_schema WHERE type = 'table'")]
    columns = [(t, c) for t in tables if not t.startswith("sqlite_")
               for _, c, kind, *_ in db.execute(f'PRAGMA table_info ("{t}")') if kind == "TEXT"]
    db.close()
    for table, column in columns:
        if (table, column) != ("change", "role"):
            sql(path, (f'UPDATE OR IGNORE "{table}" SET "{column}" = CAST (? AS TEXT) WHERE id ='
                       f' (SELECT min (id) FROM "{table}")', (data,)))


@farm(0, -1, -2**63, 2**63 - 1, 1, 2**32)
def ids(path, number):
    """One log, batch, area, soak, change and pick with a number of its own, referred to so."""
    for table, refers in (("log", [("place", "log"), ("soaked", "log"), ("pick", "log"),
                                   ("weighing", "log"), ("check", "log")]),
                          ("batch", [("log", "batch"), ("spawn_used", "batch")]),
                          ("area", [("stack", "area")]), ("soak", [("soaked", "soak")]),
                          ("pick", []), ("change", [("change", "undone_by")])):
        db = sqlite3.connect(path)
        (old,) = db.execute(f"SELECT max (id) FROM \"{table}\"").fetchone()
        db.close()
        sql(path, (f'UPDATE OR IGNORE "{table}" SET id = ? WHERE id = ?', (number, old)),
            *((f'UPDATE "{t}" SET "{c}" = ? WHERE "{c}" = ?', (number, old)) for t, c in refers))


@farm(("log", "felling"), ("log", "batch"), ("felling", "wood"), ("felling", "stand"),
      ("strain", "mushroom"), ("spawn", "strain"), ("spawn_used", "spawn"), ("spawn_used", "batch"),
      ("stack", "area"), ("place", "log"), ("place", "stack"), ("soaked", "soak"),
      ("soaked", "log"), ("pick", "log"), ("pick", "lot"), ("line", "lot"), ("line", "sale"),
      ("sale", "buyer"), ("weighing", "log"), ("check", "log"), ("drying", "lot"),
      ("feature", "area"), ("purchase", "batch"), ("hours", "batch"), ("change", "undoes"))
def orphans(path, place):
    table, column = place
    one = f' WHERE id = (SELECT max (id) FROM "{table}")' if table in ("place", "soaked") else ""
    sql(path, f'UPDATE "{table}" SET "{column}" = 424242{one}')


@farm("wood", "mushroom", "strain", "felling", "batch", "area", "stack", "log", "lot", "soak",
      "farm")
def table_empty(path, table):
    sql(path, f'DELETE FROM "{table}"')


@farm(0, -1, 2**63 - 1, -2**63, 2**31, 10**12)
def numbers_everywhere(path, number):
    """As every measure of every table."""
    db = sqlite3.connect(path)
    tables = [t for (t,) in db.execute("SELECT name FROM sqlite_schema WHERE type = 'table'")]
    for table in tables:
        refers = {row[3] for row in db.execute(f'PRAGMA foreign_key_list ("{table}")')}
        for _, column, kind, *_ in db.execute(f'PRAGMA table_info ("{table}")').fetchall():
            if kind == "INTEGER" and column not in refers | {"id"} and table != "change":
                db.execute(f'UPDATE "{table}" SET "{column}" = ?', (number,))
    db.commit()
    db.close()


@farm("", "2026", "2026-13-45", "0000-00-00", "9999-12-31", "-001-01-01", "2026-02-30T25:61",
      "today", "99999-01-01", "2026-05-18" * 1000)
def dates_everywhere(path, text):
    db = sqlite3.connect(path)
    for (table,) in db.execute("SELECT name FROM sqlite_schema WHERE type = 'table'").fetchall():
        for _, column, *_ in db.execute(f'PRAGMA table_info ("{table}")').fetchall():
            if column.endswith(("_on", "_in", "_out", "_at", "since", "until", "use_by")):
                db.execute(f'UPDATE OR IGNORE "{table}" SET "{column}" = ?'
                           f' WHERE "{column}" IS NOT NULL', (text,))
    db.execute("UPDATE change SET at = ?", (text,))
    db.commit()
    db.close()


@farm(("season_start", ""), ("season_start", "02-30"), ("season_start", "99-99"),
      ("season_start", "ab-cd"), ("season_start", "\u00e4\u00e4-"), ("currency", ""),
      ("currency", "\0\0\0"), ("currency", "EURO" * 1000), ("currency", "%s%n"),
      ("unit_system", ""), ("unit_system", "cubits"), ("hemisphere", "west"),
      ("moisture_basis", "?"))
def settings(path, pair):
    sql(path, (f"UPDATE farm SET {pair[0]} = ?", (pair[1],)))


@farm("", "1", "0 0", "0 0, 1 1", "1e308 1e308, -1e308 0, 0 1e308", "nan nan, inf inf, 0 0",
      ", ".join(f"{i} {i * i % 97}" for i in range(200000)), "0 0, 0 0, 0 0, 0 0",
      "0 0, 99999999999999999999 0, 0 1")
def outlines(path, text):
    sql(path, ("UPDATE area SET outline = ?", (text,)), ("UPDATE feature SET outline = ?", (text,)))


@farm("UPDATE stack SET tiers = 1000000000, per_tier = 1000000000",
      "UPDATE place SET tier = 1000000000, slot = 1000000000", "UPDATE place SET tier = -5",
      "UPDATE stack SET x = 9223372036854775807, y = -9223372036854775808",
      "UPDATE area SET width = 1, depth = 1", "UPDATE area SET width = 1000000000000000",
      "UPDATE log SET length = 1, small_diameter = 1, large_diameter = 1000000000",
      "UPDATE pick SET grade = 'x' || id", "UPDATE change SET role = 'none'",
      "UPDATE change SET sentence = ''", "UPDATE pick SET picked_on = '1000-01-01'",
      "UPDATE batch SET inoculated_on = '0001-01-01'",
      "INSERT INTO rain SELECT value, date ('1000-01-01', '+' || value || ' days'), 1 FROM"
      " generate_series (1, 200000)")
def values(path, statement):
    if "generate_series" in statement:
        sql(path, "WITH RECURSIVE n (value) AS (SELECT 1 UNION ALL SELECT value + 1 FROM n LIMIT"
            " 200000) " + statement.split(" FROM")[0] + " FROM n")
    else:
        sql(path, statement)


@farm()
def one_column_in_place_of_another(path):
    """Records as STRICT would not let them be: text, reals and blobs where numbers belong."""
    sql(path, "UPDATE sqlite_schema SET sql = replace (sql, ') STRICT', ')') WHERE type = 'table'",
        schema=True)
    sql(path, "UPDATE log SET length = 'long', small_diameter = 1.5, holes = x'0102'",
        "UPDATE pick SET mass = 'much'", "UPDATE area SET shade = x'ff'",
        "UPDATE batch SET code = x'00ff' WHERE id = (SELECT min (id) FROM batch)")
    sql(path, "UPDATE sqlite_schema SET sql = sql || ' STRICT' WHERE type = 'table'"
        " AND name NOT LIKE 'sqlite%'", schema=True)


@farm()
def index_without_its_rows(path):
    sql(path, "UPDATE sqlite_schema SET rootpage = (SELECT rootpage FROM sqlite_schema WHERE name ="
        " 'by_pick_lot') WHERE name = 'by_pick_batch'", schema=True)


@farm(40000000, 100000000)
def zero_blob(path, size):
    sql(path, ("UPDATE change SET changeset = zeroblob (?) WHERE id ="
               " (SELECT max (id) FROM change)", (size,)))


# --- changesets -----------------------------------------------------------------------------

def table(name=b"area", columns=13, key=b"\1", letter=b"T"):
    return letter + bytes([columns]) + key + b"\0" * (columns - len(key)) + name + b"\0"


def integer(value):
    return b"\1" + struct.pack(">q", value)


@farm(b"", b"T", b"T\0", b"\0", b"\xff" * 50, b"T\1\1area\0" * 100000, b"T\0area\0" * 100000,
      table() * 50000, table() + b"\x12\0", table() + b"\x12\0" + integer(1) + b"\5" * 12,
      table() + b"\x12\0" + b"\5" * 13, table() + b"\x12\0" + integer(0) + b"\3\xff\xff\xff\xff\x7f",
      table(key=b"\0"), table(key=b"\2"), table(letter=b"P") + b"\x09\0" + integer(1),
      table(b"change", 8), table(b"sqlite_schema", 5), table(b"none"), table(columns=127),
      table() + b"\x17\0" + integer(1) + b"\0" * 12 + b"\0" * 13,
      table() + b"\x17\0" + b"\0" * 26, table() + b"\x09\0" + integer(7) + b"\5" * 12,
      table() + (b"\x12\0" + integer(1) + b"\3\5hello" + b"\5" * 11) * 20000,
      table() + b"\x2a\0" + integer(1) + b"\5" * 12, b"T\xff\xff\xff\xff\xff\xff\xff\xff\xff",
      table() + b"\x12\0" + integer(1) + b"\2" + b"\x7f\xf8" + b"\0" * 6 + b"\5" * 11,
      b"T\x0d\1" + b"\0" * 12 + b"area" * 1000000)
def changeset(path, data):
    sql(path, ("UPDATE change SET changeset = ? WHERE id = (SELECT max (id) FROM change)", (data,)))


@farm("UPDATE change SET undoes = id, undone_by = id", "UPDATE change SET role = 'undo'",
      "UPDATE change SET role = 'redo', undoes = NULL",
      "UPDATE change SET role = 'undo', undoes = 424242",
      "UPDATE change SET undone_by = (SELECT min (id) FROM change)", "DELETE FROM change",
      "DELETE FROM change WHERE id > (SELECT min (id) FROM change)",
      "DELETE FROM change WHERE id = (SELECT min (id) FROM change)",
      "UPDATE change SET changeset = (SELECT changeset FROM change ORDER BY id LIMIT 1)")
def history(path, statement):
    sql(path, statement)


# --- beside it, and in its place --------------------------------------------------------------

@farm(("-journal", b""), ("-journal", b"\0" * 512), ("-journal", b"\xff" * 5000),
      ("-journal", bytes.fromhex("d9d505f920a163d7") + b"\xff" * 20 + b"\0" * 5000),
      ("-journal", bytes.fromhex("d9d505f920a163d7") + struct.pack(">iIIII", -1, 0, 1, 512, 4096)
       + b"\0" * 488 + b"\0" * 4104),
      ("-wal", b"\xff" * 5000), ("-wal", b""), ("-shm", b"\xff" * 40000))
def beside(path, pair):
    with open(path + pair[0], "wb") as file:
        file.write(pair[1])


@farm()
def journal_is_a_folder(path):
    os.mkdir(path + "-journal")


@farm()
def symlink(path):
    os.rename(path, path + ".real")
    os.symlink(path + ".real", path)


@farm()
def symlink_to_nothing(path):
    os.remove(path)
    os.symlink(path + ".gone", path)


@farm()
def symlink_to_itself(path):
    os.remove(path)
    os.symlink(path, path)


@farm()
def pipe(path):
    os.remove(path)
    os.mkfifo(path)


@farm()
def folder(path):
    os.remove(path)
    os.mkdir(path)


@farm("/dev/null", "/dev/zero", "/dev/full", "/proc/self/mem")
def device(path, other):
    os.remove(path)
    os.symlink(other, path)


@farm(0o000, 0o200, 0o444)
def permissions(path, mode):
    os.chmod(path, mode)


def make_all():
    return FARMS
