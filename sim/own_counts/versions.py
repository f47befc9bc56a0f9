"""A file opened as a logbook: refused if it is none, brought up step by step if it is of an older version."""

from __future__ import annotations

import sqlite3
import time
from collections.abc import Iterable, Sequence

from sim.errors import InputError
from sim.own_counts.schema import APPLICATION, MIGRATIONS

AGAIN_S = 0.01
"""So long a program rests before it asks again for a file that another one has."""


def prepare(connection: sqlite3.Connection, name: str, wait_s: float) -> None:
    """Refuse what is no logbook or a later one; bring an older one up to this version, step by step; wait `wait_s` for others."""
    tables = connection.execute("SELECT count(*) FROM sqlite_master").fetchone()[0]
    if tables and number(connection, "application_id") != APPLICATION:
        raise InputError("must be a logbook, or a new file (got a database of something else)", name)
    if number(connection, "user_version") > len(MIGRATIONS):
        raise InputError(
            f"must be of version {len(MIGRATIONS)} at most, what this program knows "
            f"(got {number(connection, 'user_version')}, of a later program)",
            name,
        )
    write_ahead(connection, wait_s)
    connection.execute("PRAGMA synchronous = FULL")
    connection.execute("PRAGMA foreign_keys = ON")
    migrate(connection, MIGRATIONS)


def write_ahead(connection: sqlite3.Connection, wait_s: float) -> None:
    """Keep what is written in a log ahead of the file.  Where two programs do so to a new file at the same moment SQLite refuses
    one of them at once, however long it was told to wait (to wait could be for ever: each holds what the other wants); so ask
    again."""
    until = time.monotonic() + wait_s
    while True:
        try:
            connection.execute("PRAGMA journal_mode = WAL")
        except sqlite3.OperationalError as error:
            if "locked" not in str(error) or time.monotonic() >= until:
                raise
            time.sleep(AGAIN_S)
        else:
            return


def migrate(connection: sqlite3.Connection, steps: Sequence[str]) -> None:
    """Every step that is missing, all in one transaction: two programs that open a file at once do it once."""
    if number(connection, "user_version") >= len(steps):
        return
    connection.execute("BEGIN IMMEDIATE")
    try:
        for version in range(number(connection, "user_version"), len(steps)):
            for statement in statements(steps[version]):
                connection.execute(statement)
            connection.execute(f"PRAGMA user_version = {version + 1}")
        connection.execute(f"PRAGMA application_id = {APPLICATION}")
        connection.execute("COMMIT")
    except BaseException:
        connection.execute("ROLLBACK")
        raise


def statements(script: str) -> Iterable[str]:
    """The single statements of a script (`executescript` would commit what is open)."""
    pending = ""
    for line in script.splitlines():
        pending += line + "\n"
        if sqlite3.complete_statement(pending):
            yield pending
            pending = ""


def number(connection: sqlite3.Connection, pragma: str) -> int:
    """A whole number in the head of the file."""
    return int(connection.execute(f"PRAGMA {pragma}").fetchone()[0])
