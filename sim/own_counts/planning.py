"""Plans in the logbook: a game on a day, with the forecast that was kept before anything was counted.

A plan is only added while nothing of that game has been counted on that day; the last one before the counts holds.
"""

from __future__ import annotations

import sqlite3
from dataclasses import dataclass

from sim.errors import InputError, given
from sim.own_counts.forecast import ROLLS_AT_LEAST, Forecast
from sim.own_counts.logbook import Logbook, now, refusing
from sim.own_counts.tally import Row, as_planned, counted


@dataclass(frozen=True)
class Plan:
    """A game that is planned for a `day`: kept at `made` (UTC), with the key of its forecast."""

    id: int
    made: str
    day: str
    game: str
    typed: str
    setup: str
    forecast: str


def add_plan(book: Logbook, found: Forecast, day: str, game: str, typed: str) -> Plan:
    """Plan a game with a forecast that is kept already; the same plan is not written twice.

    Refused where counts of the game are there for that day: a plan comes before them.
    """
    with book.writing() as base:
        require_no_counts(base, book.path, day, game)
        last = plan_in(base, day, found.setup)
        if last is not None and last.forecast == found.key:
            return last
        base.execute(
            "INSERT INTO planned (made, day, game, typed, setup, forecast) VALUES (?,?,?,?,?,?)",
            (now(), day, game, typed, found.setup, found.key),
        )
        return given(plan_in(base, day, found.setup))


def require_no_counts(base: sqlite3.Connection, path: str, day: str, game: str) -> None:
    """Refuse a day on which the game has been counted."""
    there = base.execute(
        "SELECT tally.id FROM tally JOIN session ON session.id = tally.session WHERE day = ? AND game = ? ORDER BY tally.id",
        (day, game),
    ).fetchone()
    if there is not None:
        raise InputError(f"{game} of {day} must be planned before it is counted (got row {there[0]} of that day)", path)


def require_plannable(book: Logbook, day: str, game: str) -> None:
    """The same, before anything is played."""
    with refusing(book.path):
        require_no_counts(book.connection, book.path, day, game)


def plan_in(base: sqlite3.Connection, day: str, setup: str) -> Plan | None:
    """The last plan of this layout of a game for a day."""
    found = base.execute(
        "SELECT id, made, day, game, typed, setup, forecast FROM planned WHERE day = ? AND setup = ? ORDER BY id DESC",
        (day, setup),
    ).fetchone()
    return None if found is None else Plan(*found)


def plans(book: Logbook) -> list[Plan]:
    """All plans, the earliest day first."""
    with refusing(book.path):
        found = book.connection.execute(
            "SELECT id, made, day, game, typed, setup, forecast FROM planned ORDER BY day, id"
        ).fetchall()
    return [Plan(*one) for one in found]


def long_enough(found: Forecast, rows: list[Row]) -> bool:
    """Whether a forecast has as many bouts in a session as these rows of one evening were counted in."""
    length_s = found.seconds["watch"].shape[1] * found.bout_s
    shares = {"watch": 1.0, "rolling": ROLLS_AT_LEAST}
    return all(60 * one.minutes <= shares[one.clock] * length_s + 1e-6 for one in counted(as_planned(rows)))
