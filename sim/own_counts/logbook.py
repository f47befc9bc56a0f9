"""The logbook: one SQLite file of the user's with forecasts, sessions as they were run, tallies, and corrections.

Whatever is written is written in one transaction and is on the disk before it is said to be kept (write-ahead log,
``synchronous=FULL``); a program that is killed at any moment loses at most what it had not yet said was kept.  Two programs at
once wait for each other.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator, Sequence
from contextlib import closing, contextmanager
from dataclasses import dataclass, replace
from datetime import UTC, datetime
from pathlib import Path
from typing import TYPE_CHECKING

from sim.errors import InputError
from sim.own_counts.columns import COUNTS
from sim.own_counts.tally import Row, evenings
from sim.own_counts.versions import prepare

if TYPE_CHECKING:
    from sim.own_counts.forecast import Forecast

WAIT_S = 30.0
"""For so long another program may be writing."""
WITHDRAWN = "withdrawn"
"""The field of a correction that takes a whole row back."""


@dataclass(frozen=True)
class Kept:
    """A row in the logbook, as it stands after all corrections; `withdrawn`: it does not count; `first`: as it was written, where
    it was corrected since."""

    id: int
    row: Row
    withdrawn: bool = False
    first: Row | None = None


@dataclass(frozen=True)
class Correction:
    """What was put right: `field` of a row from `before` to `after`, by whom, when (UTC) and why."""

    id: int
    made: str
    who: str
    why: str
    tally: int
    field: str
    before: str
    after: str


@dataclass(frozen=True)
class Evening:
    """A session of a game as it was run: `game` its title, `typed` what the user called it, `setup` the digest of its layout.

    `forecast`: the key of the one it is judged by; `planned`: when that was kept, where it was before the counts, else "".
    """

    id: int
    day: str
    game: str
    typed: str
    setup: str
    rows: tuple[Kept, ...]
    forecast: str | None
    planned: str = ""

    @property
    def standing(self) -> list[Row]:
        """The rows that count."""
        return [one.row for one in self.rows if not one.withdrawn]


def now() -> str:
    """This moment, UTC, to the second."""
    return datetime.now(UTC).isoformat(timespec="seconds")


class Logbook:
    """An open logbook; close it, or use it in a `with`."""

    def __init__(self, connection: sqlite3.Connection, path: str):
        self.connection, self.path = connection, path

    def __enter__(self) -> Logbook:
        return self

    def __exit__(self, *_: object) -> None:
        self.connection.close()

    @contextmanager
    def writing(self) -> Iterator[sqlite3.Connection]:
        """One transaction: all of it, or nothing."""
        with refusing(self.path):
            self.connection.execute("BEGIN IMMEDIATE")
            try:
                yield self.connection
                self.connection.execute("COMMIT")
            except BaseException:
                self.connection.execute("ROLLBACK")
                raise

    # What is added

    def add_forecast(self, found: Forecast, game: str, typed: str) -> None:
        """Keep a forecast; one that is there already stays as it is."""
        made = found.made
        row = (found.key, now(), game, typed, found.setup, found.engine, made["version"], made["seed"], found.sessions,
               found.to_json())  # fmt: skip
        with self.writing() as base:
            base.execute("INSERT OR IGNORE INTO forecast VALUES (?,?,?,?,?,?,?,?,?,?)", row)

    def add_rows(self, rows: Sequence[Row], game: str, typed: str, setup: str) -> tuple[dict[str, int], int]:
        """Keep rows of one game; (session by day, how many were new).

        Rows that are there to the letter, or were until they were put right, are not written twice, so that a command can be given
        again.  Refused is a bout that is there otherwise, and a day on which a game of that title was laid out otherwise.
        """
        with self.writing() as base:
            problems, sessions, new = [], {}, 0
            for day, own in evenings(rows).items():
                other = base.execute(
                    "SELECT id FROM session WHERE day = ? AND game = ? AND setup <> ?", (day, game, setup)
                ).fetchone()
                if other is not None:
                    problems.append(f"{game} of {day} must be laid out as in session {other[0]} (got another set-up)")
                sessions[day] = session_in(base, day, game, typed, setup)
                missing, clashes = unlike(own, self._rows(base, sessions[day]))
                problems += clashes
                for row in missing:
                    insert(base, sessions[day], row)
                new += len(missing)
            if problems:
                raise InputError(problems, self.path)
            return sessions, new

    def link(self, session: int, forecast: str) -> None:
        """Say by which forecast a session may be judged (`Evening.forecast` says by which it is)."""
        with self.writing() as base:
            base.execute("INSERT OR IGNORE INTO judged VALUES (?,?)", (session, forecast))

    def correct(self, tally: int, changes: Sequence[tuple[str, str, str]], who: str, why: str) -> None:
        """Put a row right, each (field, before, after) a correction of its own; without any the row is taken back.

        Refused is the number of a bout that another row of the evening has.
        """
        with self.writing() as base:
            for field, before, to in changes or [(WITHDRAWN, "", "yes")]:
                if field == "bout" and to:
                    self._require_free(base, tally, int(to))
                base.execute(
                    "INSERT INTO correction (made, who, why, tally, field, before, after) VALUES (?,?,?,?,?,?,?)",
                    (now(), who, why, tally, field, before, to),
                )

    # What is read

    def forecast(self, key: str) -> Forecast | None:
        """The forecast kept under this key."""
        from sim.own_counts.forecast import Forecast  # heavy: a logbook opens without

        with refusing(self.path):
            found = self.connection.execute("SELECT counts FROM forecast WHERE key = ?", (key,)).fetchone()
        return None if found is None else Forecast.from_json(found[0])

    def forecasts(self) -> list[tuple[str, str, str, str, int]]:
        """(key, made, title, engine, sessions) of all forecasts, the oldest first."""
        with refusing(self.path):
            return self.connection.execute(
                "SELECT key, made, game, engine, sessions FROM forecast ORDER BY made, key"
            ).fetchall()

    def evenings(self) -> list[Evening]:
        """All sessions, the earliest first, with their rows as they stand."""
        with refusing(self.path):
            found = self.connection.execute(
                "SELECT id, day, game, typed, setup FROM session ORDER BY day, id"
            ).fetchall()
            return [
                Evening(number, day, game, typed, setup, self._standing(number), *self._judging(number))
                for number, day, game, typed, setup in found
            ]

    def _standing(self, session: int) -> tuple[Kept, ...]:
        return tuple(self._rows(self.connection, session))

    def _judging(self, session: int) -> tuple[str | None, str]:
        """(the forecast by which a session is judged, when it was planned).

        The one of the plan, if it was judged by that; else, of the program that judged it first, the one from most sessions.

        A program that was put right later does not improve what was forecast before.
        """
        found = self.connection.execute(
            "SELECT forecast.key, forecast.engine, forecast.sessions, coalesce(max(planned.made), '') FROM judged"
            " JOIN forecast ON forecast.key = judged.forecast JOIN session ON session.id = judged.session LEFT JOIN planned"
            " ON planned.forecast = forecast.key AND planned.day = session.day AND planned.setup = session.setup"
            " WHERE judged.session = ? GROUP BY judged.rowid ORDER BY judged.rowid",
            (session,),
        ).fetchall()
        if not found:
            return None, ""
        own = [one for one in found if one[3]] or [one for one in found if one[1] == found[0][1]]
        key, _, _, planned = max(own, key=lambda one: (one[3], one[2]))
        return key, planned

    def corrections(self) -> list[Correction]:
        """All corrections in the order in which they were made."""
        with refusing(self.path):
            rows = self.connection.execute("SELECT id, made, who, why, tally, field, before, after FROM correction")
            return [Correction(*one) for one in rows.fetchall()]

    def row(self, tally: int) -> tuple[Kept, Evening]:
        """A row and its session; refused where there is none of that number."""
        for evening in self.evenings():
            for one in evening.rows:
                if one.id == tally:
                    return one, evening
        raise InputError(f"must name a row of the logbook, see `overload logbook list` (got {tally})", "ROW")

    def _rows(self, base: sqlite3.Connection, session: int) -> list[Kept]:
        columns = ("id", "bout", "minutes", "clock", *COUNTS, "changed", "players")
        told = base.execute(f"SELECT {', '.join(columns)} FROM tally WHERE session = ? ORDER BY id", (session,))
        dated = base.execute("SELECT day FROM session WHERE id = ?", (session,)).fetchone()[0]
        found = []
        for values in told.fetchall():
            plain = dict(zip(columns, values, strict=True))
            counts = {name: plain[name] for name in COUNTS if plain[name] is not None}
            row = Row(
                dated, plain["minutes"], plain["clock"], counts, plain["bout"], plain["changed"], plain["players"]
            )
            found.append(self._corrected(base, Kept(plain["id"], row)))
        return found

    def _require_free(self, base: sqlite3.Connection, tally: int, bout: int) -> None:
        """Refuse a bout that is there already in the session of a row."""
        (session,) = base.execute("SELECT session FROM tally WHERE id = ?", (tally,)).fetchone()
        for one in self._rows(base, session):
            if one.id != tally and not one.withdrawn and one.row.bout == bout:
                raise InputError(f"bout must stand there once a day (got {bout}, as in row {one.id})", "FIELD=VALUE")

    def _corrected(self, base: sqlite3.Connection, kept: Kept) -> Kept:
        changes = base.execute("SELECT field, after FROM correction WHERE tally = ? ORDER BY id", (kept.id,)).fetchall()
        first = kept.row if changes else None
        for field, after in changes:
            kept = (
                replace(kept, withdrawn=True) if field == WITHDRAWN else replace(kept, row=put(kept.row, field, after))
            )
        return replace(kept, first=first)


def unlike(rows: Sequence[Row], there: Sequence[Kept]) -> tuple[list[Row], list[str]]:
    """(rows of a day that are not there yet, what is wrong with those whose bout is there with other counts)."""
    left, missing, problems = list(there), [], []
    for row in rows:
        standing = (one for one in left if not one.withdrawn and one.row == row)
        alike = next(standing, None) or next((one for one in left if (one.first or one.row) == row), None)
        if alike is None:
            missing.append(row)
        else:
            left.remove(alike)
    for row in missing:
        problems += [
            f"bout {row.bout} of {row.day} must be new (got other counts than row {one.id}: to put that right, "
            f"overload logbook correct {one.id})"
            for one in left
            if row.bout is not None and not one.withdrawn and one.row.bout == row.bout
        ]
    return missing, problems


def put(row: Row, field: str, text: str) -> Row:
    """A row with one field as a correction says; "" takes a count, or the number of the bout, away."""
    if field in COUNTS:
        counts = {name: count for name, count in row.counts.items() if name != field}
        more = {field: int(text)} if text else {}
        return replace(row, counts={name: (counts | more)[name] for name in COUNTS if name in counts | more})
    if field == "minutes":
        return replace(row, minutes=float(text))
    if field == "bout":
        return replace(row, bout=int(text) if text else None)
    if field == "clock":
        return replace(row, clock=text)
    return replace(row, changed=text) if field == "changed" else replace(row, players=text)


def session_in(base: sqlite3.Connection, day: str, game: str, typed: str, setup: str) -> int:
    """The session of this day and set-up, made where there is none."""
    base.execute(
        "INSERT OR IGNORE INTO session (logged, day, game, typed, setup) VALUES (?,?,?,?,?)",
        (now(), day, game, typed, setup),
    )
    found = base.execute("SELECT id FROM session WHERE day = ? AND setup = ?", (day, setup)).fetchone()
    return int(found[0])


def insert(base: sqlite3.Connection, session: int, row: Row) -> None:
    """Write a row of a session."""
    columns = ("session", "bout", "minutes", "clock", *COUNTS, "changed", "players")
    values = (
        session,
        row.bout,
        row.minutes,
        row.clock,
        *(row.counts.get(name) for name in COUNTS),
        row.changed,
        row.players,
    )
    marks = ",".join("?" * len(columns))
    base.execute(f"INSERT INTO tally ({', '.join(columns)}) VALUES ({marks})", values)


@contextmanager
def refusing(path: str) -> Iterator[None]:
    """What SQLite says of a file becomes one line."""
    try:
        yield
    except sqlite3.OperationalError as error:
        busy = "locked" in str(error) or "busy" in str(error)
        why = f"another program has had it for {WAIT_S:g} s" if busy else str(error)
        raise InputError(f"must be a logbook that can be written (got: {why})", path) from None
    except sqlite3.DatabaseError as error:
        raise InputError(f"must be a logbook, or a new file (got: {error})", path) from None


def _not_there(path: Path) -> str:
    """Why a file is none to read from: SQLite would take an empty one for a new database, and write to it."""
    if not path.exists():
        return "no file"
    return "empty" if path.stat().st_size == 0 else ""


def opened(path: Path, new: bool = True) -> Logbook:
    """The logbook in a file, brought up to this version; where there is none, a new one, if `new`."""
    name = str(path)
    if wrong := "a folder" if path.is_dir() else "" if new else _not_there(path):
        raise InputError(f"must name a logbook (got {name!r}, which is {wrong})", name)
    with refusing(name):
        connection = sqlite3.connect(path, timeout=WAIT_S, isolation_level=None)
        try:
            prepare(connection, name, WAIT_S)
        except BaseException:
            connection.close()
            raise
    return Logbook(connection, name)


def back_up(book: Logbook, to: Path) -> None:
    """A copy as it is at this moment, while others may be writing (SQLite's online backup); there whole, or not at all."""
    part = to.with_name(f".{to.name}.part")
    try:
        with refusing(str(to)), closing(sqlite3.connect(part)) as copy:
            book.connection.backup(copy)
            copy.execute("PRAGMA journal_mode = DELETE")
        part.replace(to)
    finally:
        part.unlink(missing_ok=True)
