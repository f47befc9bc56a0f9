"""What of a logbook may be learned from: bouts that were played as planned, in sessions whose game is known.

A bout that was changed on the grass is another game and never used; nor is a row that was taken back.  A longest run is a largest,
not a count that adds up, and is left to `review`.
"""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from pydantic import ValidationError

from sim.assumptions import OwnData
from sim.errors import InputError
from sim.game.model import Game
from sim.own_counts.forecast import Forecast
from sim.own_counts.logbook import Evening
from sim.own_counts.tally import LONGEST, Counted, Row, as_planned, counted


@dataclass(frozen=True)
class Tally:
    """The rows of one session of one game (`setup`: the digest of its layout) that may be learned from."""

    day: str
    setup: str
    rows: tuple[Row, ...]

    @property
    def counts(self) -> list[Counted]:
        """Each count with the minutes in which it was taken."""
        return [one for one in counted(self.rows) if one.measure != LONGEST]


def usable(evenings: Sequence[Evening]) -> tuple[list[Tally], int]:
    """(what may be learned from, the earliest first; how many bouts were left out because they were changed)."""
    found, changed = [], 0
    for evening in evenings:
        rows = as_planned(evening.standing)
        changed += len(evening.standing) - len(rows)
        if rows and evening.forecast is not None:
            found.append(Tally(evening.day, evening.setup, tuple(rows)))
    return found, changed


def games_of(evenings: Sequence[Evening], forecasts: Mapping[str, Forecast]) -> dict[str, Game]:
    """The games of these sessions by the digest of their layout, as their forecasts were made for them; refused where a program of
    another version made one that cannot be read any more."""
    found, problems = {}, []
    for evening in evenings:
        if evening.forecast is None or evening.setup in found:
            continue
        made = forecasts[evening.forecast].made
        try:
            found[evening.setup] = Game.model_validate_json(json.dumps(made.get("game")))
        except ValidationError:
            problems.append(
                f"{evening.game} of {evening.day} must have a forecast that this program can read (got one of version "
                f"{made.get('version')})"
            )
    if problems:
        raise InputError(problems, "--logbook")
    return found


def amount(tallies: Sequence[Tally], games: Mapping[str, Game]) -> OwnData:
    """How much was counted.  A row without the number of a bout is of as many as its minutes make."""
    bouts, minutes = 0, 0.0
    for one in tallies:
        minutes += sum(row.minutes for row in one.rows)
        bouts += sum(bouts_in(row, games[one.setup]) for row in one.rows)
    return OwnData(len(tallies), bouts, minutes)


def bouts_in(row: Row, game: Game) -> int:
    """How many bouts a row is of."""
    return 1 if row.bout is not None else max(1, round(row.minutes * 60.0 / game.bouts.seconds))
