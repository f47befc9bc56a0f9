"""What devices measured, in the logbook: each file as it came, to the byte, and what was kept of it, a row a player and block.

A file is taken back as a whole, or a single row of it is put right or withdrawn, with who and why; all stays where it is.
"""

from __future__ import annotations

import base64
import binascii
import hashlib
import sqlite3
from collections.abc import Sequence
from dataclasses import dataclass, fields, replace

from sim.errors import InputError
from sim.own_counts.logbook import WITHDRAWN, Logbook, now, refusing

LOADS = ("metres", "fast_metres", "sprint_metres", "accelerations", "decelerations", "top_speed_kmh")
"""What a device may have measured; None where it has not."""


@dataclass(frozen=True)
class Delivered:
    """One row of a file: what `player` did in `minutes` of a `block` on a `day` (ISO).

    `line` in the file; `game`: the title of the game that the block was ("": none of ours), `bout` from 1 (None: all, or not said);
    `role` as the file or the squad says ("": not said).  `fast_from`, `sprint_from`: the speed from which metres are fast or a
    sprint, as `Thresholds.start_in_words` says it ("": no such metres).
    """

    line: int
    day: str
    block: str
    player: str
    minutes: float
    game: str = ""
    bout: int | None = None
    role: str = ""
    metres: float | None = None
    fast_metres: float | None = None
    fast_from: str = ""
    sprint_metres: float | None = None
    sprint_from: str = ""
    accelerations: int | None = None
    decelerations: int | None = None
    top_speed_kmh: float | None = None

    @property
    def place(self) -> tuple[str, str, int | None, str]:
        """Whose row of what: there is one of each."""
        return self.day, self.block, self.bout, self.player


COLUMNS = tuple(one.name for one in fields(Delivered))
WORDS, WHOLE = ("player", "role"), ("bout", "accelerations", "decelerations")
"""Columns that can be put right and hold text, and those that hold whole numbers."""


@dataclass(frozen=True)
class Amendment:
    """What was put right in the row of a `line` at `made` (UTC); `field` "withdrawn": the row counts no more."""

    made: str
    who: str
    why: str
    line: int
    field: str
    before: str
    after: str


@dataclass(frozen=True)
class Delivery:
    """A file called `name`, handed in at `made` (UTC), read by a `layout`; `taken_back`: by whom and why, "" if it counts.

    `rows` as they stand, without those that were withdrawn; `amended`: what was put right in them, in order.
    """

    id: int
    made: str
    name: str
    digest: str
    layout: str
    rows: tuple[Delivered, ...]
    taken_back: str
    amended: tuple[Amendment, ...] = ()


def digest_of(content: bytes) -> str:
    """The SHA-256 of a file."""
    return hashlib.sha256(content).hexdigest()


def keep(book: Logbook, name: str, content: bytes, layout: str, rows: Sequence[Delivered]) -> tuple[int, bool]:
    """Keep a file with its rows, in one transaction; (number of the delivery, whether it is new).

    The same file is not written twice.  Refused is a row that another file has brought already.
    """
    digest = digest_of(content)
    with book.writing() as base:
        there = standing(base)
        again = [number for number, original in there if original == digest]
        if again:
            return again[0], False
        require_new(base, book.path, there, rows)
        base.execute(
            "INSERT OR IGNORE INTO original VALUES (?,?,?,?)",
            (digest, now(), name, base64.b64encode(content).decode("ascii")),
        )
        values = (now(), digest, layout)
        number = base.execute("INSERT INTO delivery (made, original, layout) VALUES (?,?,?)", values).lastrowid
        marks = ",".join("?" * (1 + len(COLUMNS)))
        base.executemany(
            f"INSERT INTO delivered (delivery, {', '.join(COLUMNS)}) VALUES ({marks})",
            [(number, *(getattr(row, column) for column in COLUMNS)) for row in rows],
        )
        return int(number or 0), True


def standing(base: sqlite3.Connection) -> list[tuple[int, str]]:
    """(number, digest of the file) of the deliveries that count."""
    return base.execute(
        "SELECT id, original FROM delivery WHERE id NOT IN (SELECT delivery FROM taken_back) ORDER BY id"
    ).fetchall()


def require_new(
    base: sqlite3.Connection, path: str, there: Sequence[tuple[int, str]], rows: Sequence[Delivered]
) -> None:
    """Refuse rows of which there is one already."""
    taken = {one.place: number for number, _ in there for one in rows_of(base, number)}
    problems = [
        f"line {row.line}: {row.player} in {row.block or 'the session'!r} of {row.day} must be new "
        f"(got it already from file {taken[row.place]})"
        for row in rows
        if row.place in taken
    ]
    if problems:
        raise InputError(problems, path)


def rows_of(base: sqlite3.Connection, delivery: int) -> list[Delivered]:
    """The rows of a delivery as they stand, in the order of its file; those that were withdrawn are not among them."""
    found = base.execute(f"SELECT {', '.join(COLUMNS)} FROM delivered WHERE delivery = ? ORDER BY id", (delivery,))
    rows = [Delivered(**dict(zip(COLUMNS, values, strict=True))) for values in found.fetchall()]
    for change in amendments(base, delivery):
        if change.field == WITHDRAWN:
            rows = [row for row in rows if row.line != change.line]
        else:
            rows = [put(row, change.field, change.after) if row.line == change.line else row for row in rows]
    return rows


def put(row: Delivered, field: str, text: str) -> Delivered:
    """A row with one field as typed; "" takes a number away."""
    if field in WORDS:
        return replace(row, **{field: text})  # type: ignore[arg-type]
    return replace(row, **{field: None if not text else int(text) if field in WHOLE else float(text)})  # type: ignore[arg-type]


def amendments(base: sqlite3.Connection, delivery: int) -> list[Amendment]:
    """What was put right in the rows of a delivery, in order."""
    found = base.execute(
        "SELECT made, who, why, line, field, before, after FROM amended JOIN delivered ON delivered.id = amended.delivered"
        " WHERE delivery = ? ORDER BY amended.id",
        (delivery,),
    )
    return [Amendment(*values) for values in found.fetchall()]


def deliveries(book: Logbook) -> list[Delivery]:
    """All files that were handed in, the first one first."""
    with refusing(book.path):
        found = book.connection.execute(
            "SELECT delivery.id, delivery.made, name, original, layout, who || ': ' || why FROM delivery"
            " JOIN original ON digest = original LEFT JOIN taken_back ON delivery = delivery.id ORDER BY delivery.id"
        ).fetchall()
        return [
            Delivery(
                number,
                made,
                name,
                digest,
                layout,
                tuple(rows_of(book.connection, number)),
                back or "",
                tuple(amendments(book.connection, number)),
            )  # fmt: skip
            for number, made, name, digest, layout, back in found
        ]


def delivery_of(book: Logbook, number: int) -> Delivery:
    """The delivery of this number; refused where there is none."""
    found = next((one for one in deliveries(book) if one.id == number), None)
    if found is None:
        raise InputError(f"must name a file of the logbook, see `overload logbook list` (got {number})", "FILE")
    return found


def original(book: Logbook, delivery: Delivery) -> bytes:
    """The file as it came; refused where the logbook was filled from an export that left it out, or is not as it was."""
    with refusing(book.path):
        text = book.connection.execute("SELECT content FROM original WHERE digest = ?", (delivery.digest,)).fetchone()[
            0
        ]
    try:
        content = base64.b64decode(text, validate=True)
    except binascii.Error:
        content = b""
    if digest_of(content) != delivery.digest:
        raise InputError(f"must hold file {delivery.id} as it came (got a logbook that does not)", book.path)
    return content


def take_back(book: Logbook, number: int, who: str, why: str) -> None:
    """Say that a file does not count; refused where that has been said."""
    with book.writing() as base:
        if number not in [one for one, _ in standing(base)]:
            raise InputError(f"must be a file that counts (got {number})", "FILE")
        base.execute("INSERT INTO taken_back VALUES (?,?,?,?)", (number, now(), who, why))


def row_at(found: Delivery, line: int) -> Delivered:
    """The row of a line, as it stands; refused where there is none that counts."""
    row = next((one for one in found.rows if one.line == line), None)
    if row is None or found.taken_back:
        raise InputError(f"must be a line of file {found.id} that counts (got {line})", "ROW")
    return row


def amend(
    book: Logbook, found: Delivery, row: Delivered, changes: Sequence[tuple[str, str, str]], who: str, why: str
) -> None:
    """Put a row right, each (field, before, after) a correction of its own; without any the row is taken back.

    Refused where somebody has that row of that drill already.
    """
    after = row
    for field, _, text in changes:
        after = put(after, field, text)
    with book.writing() as base:
        others = [(number, one) for number, _ in standing(base) for one in rows_of(base, number)]
        if (found.id, row) not in others:
            raise InputError(f"must be a row that counts, as it stands (got line {row.line} of file {found.id})", "ROW")
        taken = [
            (number, one) for number, one in others if one.place == after.place and (number, one) != (found.id, row)
        ]
        for number, one in taken if changes else ():
            must = f"must be new: {one.player} in {one.block or 'the session'!r} of {one.day}"
            raise InputError(f"{must} (got it already from line {one.line} of file {number})", "FIELD=VALUE")
        (own,) = base.execute(
            "SELECT id FROM delivered WHERE delivery = ? AND line = ?", (found.id, row.line)
        ).fetchone()
        base.executemany(
            "INSERT INTO amended (made, who, why, delivered, field, before, after) VALUES (?,?,?,?,?,?,?)",
            [(now(), who, why, own, *change) for change in changes or [(WITHDRAWN, "", "yes")]],
        )
