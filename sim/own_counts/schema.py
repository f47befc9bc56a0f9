"""The layout of a logbook, version by version.  A file of an older version is brought up to this one when it is opened; every step
is one transaction, so a file is never between two versions.

Nothing in a logbook is ever changed or deleted: the tables refuse it.  What was wrong is put right by a correction beside it.
"""

from __future__ import annotations

APPLICATION = 0x4F564C42  # "OVLB": says of a SQLite file that it is a logbook

TABLES = {
    "forecast": {
        "key": "TEXT", "made": "TEXT", "game": "TEXT", "typed": "TEXT", "setup": "TEXT", "engine": "TEXT", "version": "TEXT",
        "seed": "INTEGER", "sessions": "INTEGER", "counts": "TEXT",
    },
    "session": {"id": "INTEGER", "logged": "TEXT", "day": "TEXT", "game": "TEXT", "typed": "TEXT", "setup": "TEXT"},
    "tally": {
        "id": "INTEGER", "session": "INTEGER", "bout": "INTEGER", "minutes": "REAL", "clock": "TEXT", "losses": "INTEGER",
        "wins": "INTEGER", "outs": "INTEGER", "passes": "INTEGER", "longest_run": "INTEGER", "reached": "INTEGER",
        "goals": "INTEGER", "changed": "TEXT", "players": "TEXT",
    },
    "judged": {"session": "INTEGER", "forecast": "TEXT"},
    "correction": {
        "id": "INTEGER", "made": "TEXT", "who": "TEXT", "why": "TEXT", "tally": "INTEGER", "field": "TEXT", "before": "TEXT",
        "after": "TEXT",
    },
    "planned": {
        "id": "INTEGER", "made": "TEXT", "day": "TEXT", "game": "TEXT", "typed": "TEXT", "setup": "TEXT", "forecast": "TEXT",
    },
    "original": {"digest": "TEXT", "kept": "TEXT", "name": "TEXT", "content": "TEXT"},
    "delivery": {"id": "INTEGER", "made": "TEXT", "original": "TEXT", "layout": "TEXT"},
    "delivered": {
        "id": "INTEGER", "delivery": "INTEGER", "line": "INTEGER", "day": "TEXT", "block": "TEXT", "bout": "INTEGER",
        "game": "TEXT", "player": "TEXT", "role": "TEXT", "minutes": "REAL", "metres": "REAL", "fast_metres": "REAL",
        "fast_from": "TEXT", "sprint_metres": "REAL", "sprint_from": "TEXT", "accelerations": "INTEGER",
        "decelerations": "INTEGER", "top_speed_kmh": "REAL",
    },
    "taken_back": {"delivery": "INTEGER", "made": "TEXT", "who": "TEXT", "why": "TEXT"},
    "amended": {
        "id": "INTEGER", "made": "TEXT", "who": "TEXT", "why": "TEXT", "delivered": "INTEGER", "field": "TEXT", "before": "TEXT",
        "after": "TEXT",
    },
}  # fmt: skip
"""Columns of every table, with their types; text is never NULL, a number is where it was not counted."""
OF_THE_FIRST = ("forecast", "session", "tally", "judged", "correction")
"""Tables that every logbook has had."""
OF_THE_SECOND = ("planned", "original", "delivery", "delivered", "taken_back")

FIRST = """
CREATE TABLE forecast (
  key TEXT PRIMARY KEY, made TEXT NOT NULL, game TEXT NOT NULL, typed TEXT NOT NULL, setup TEXT NOT NULL, engine TEXT NOT NULL,
  version TEXT NOT NULL, seed INTEGER NOT NULL, sessions INTEGER NOT NULL, counts TEXT NOT NULL
);
CREATE TABLE session (
  id INTEGER PRIMARY KEY, logged TEXT NOT NULL, day TEXT NOT NULL, game TEXT NOT NULL, typed TEXT NOT NULL, setup TEXT NOT NULL,
  UNIQUE (day, setup)
);
CREATE TABLE tally (
  id INTEGER PRIMARY KEY, session INTEGER NOT NULL REFERENCES session (id), bout INTEGER, minutes REAL NOT NULL,
  clock TEXT NOT NULL, losses INTEGER, wins INTEGER, outs INTEGER, passes INTEGER, longest_run INTEGER, reached INTEGER,
  goals INTEGER, changed TEXT NOT NULL, players TEXT NOT NULL
);
CREATE TABLE judged (
  session INTEGER NOT NULL REFERENCES session (id), forecast TEXT NOT NULL REFERENCES forecast (key),
  PRIMARY KEY (session, forecast)
);
CREATE TABLE correction (
  id INTEGER PRIMARY KEY, made TEXT NOT NULL, who TEXT NOT NULL, why TEXT NOT NULL,
  tally INTEGER NOT NULL REFERENCES tally (id), field TEXT NOT NULL, before TEXT NOT NULL, after TEXT NOT NULL
);
"""


def append_only(table: str) -> str:
    """What makes a table refuse to be changed."""
    return "".join(
        f"CREATE TRIGGER {table}_no_{what.lower()} BEFORE {what} ON {table} "
        f"BEGIN SELECT RAISE(ABORT, 'a logbook is only added to'); END;\n"
        for what in ("UPDATE", "DELETE")
    )


SECOND = """
CREATE TABLE planned (
  id INTEGER PRIMARY KEY, made TEXT NOT NULL, day TEXT NOT NULL, game TEXT NOT NULL, typed TEXT NOT NULL, setup TEXT NOT NULL,
  forecast TEXT NOT NULL REFERENCES forecast (key)
);
CREATE TABLE original (digest TEXT PRIMARY KEY, kept TEXT NOT NULL, name TEXT NOT NULL, content TEXT NOT NULL);
CREATE TABLE delivery (
  id INTEGER PRIMARY KEY, made TEXT NOT NULL, original TEXT NOT NULL REFERENCES original (digest), layout TEXT NOT NULL
);
CREATE TABLE delivered (
  id INTEGER PRIMARY KEY, delivery INTEGER NOT NULL REFERENCES delivery (id), line INTEGER NOT NULL, day TEXT NOT NULL,
  block TEXT NOT NULL, bout INTEGER, game TEXT NOT NULL, player TEXT NOT NULL, role TEXT NOT NULL, minutes REAL NOT NULL,
  metres REAL, fast_metres REAL, fast_from TEXT NOT NULL, sprint_metres REAL, sprint_from TEXT NOT NULL, accelerations INTEGER,
  decelerations INTEGER, top_speed_kmh REAL
);
CREATE TABLE taken_back (
  delivery INTEGER PRIMARY KEY REFERENCES delivery (id), made TEXT NOT NULL, who TEXT NOT NULL, why TEXT NOT NULL
);
"""
"""Plans with their forecasts, files of devices as they came (base64) and what was kept of them."""

THIRD = """
CREATE TABLE amended (
  id INTEGER PRIMARY KEY, made TEXT NOT NULL, who TEXT NOT NULL, why TEXT NOT NULL,
  delivered INTEGER NOT NULL REFERENCES delivered (id), field TEXT NOT NULL, before TEXT NOT NULL, after TEXT NOT NULL
);
"""
"""What was put right in single rows of devices."""

MIGRATIONS: tuple[str, ...] = (
    FIRST + "".join(append_only(table) for table in OF_THE_FIRST),
    SECOND + "".join(append_only(table) for table in OF_THE_SECOND),
    THIRD + append_only("amended"),
)
"""Step n brings a file of version n to n + 1; steps are never changed once released, only added."""
