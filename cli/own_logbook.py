"""A logbook as the commands use it: where it lies, what is kept in it as the work goes on, and what is said of that."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Self

from sim.errors import InputError

if TYPE_CHECKING:
    from sim.experiments.replicate import Replication
    from sim.game.model import Game
    from sim.own_counts.answer import Planned
    from sim.own_counts.forecast import Forecast
    from sim.own_counts.logbook import Logbook
    from sim.own_counts.tally import Row

OPTION = "--logbook"


def logbook_at(path: Path | None, new: bool = False) -> Logbook:
    """The logbook of a command that needs one."""
    from sim.own_counts.logbook import opened

    if path is None:
        raise InputError("must name your logbook, here or in OVERLOAD_LOGBOOK (got nothing)", OPTION)
    return opened(path, new)


class Keeping:
    """Keeps the rows of a command at once, before anything is played, and its forecast when it is finished; without a logbook
    nothing is kept.  `told`: what is said of it at the end."""

    def __init__(self, path: Path | None, game: Game, typed: str):
        self.path, self.game, self.typed = path, game, typed
        self.book: Logbook | None = None
        self.sessions: dict[str, int] = {}
        self.planned: dict[str, Planned] = {}
        self.told = ""

    def __enter__(self) -> Self:
        if self.path is not None:
            self.book = logbook_at(self.path, new=True)
        return self

    def __exit__(self, *_: object) -> None:
        if self.book is not None:
            self.book.connection.close()

    def add(self, rows: Sequence[Row]) -> None:
        """Keep rows; they are on the disk when this returns.  Where their evening was planned, the plan judges them from now on."""
        from sim.own_counts.forecast import setup_of
        from sim.own_counts.tally import evenings
        from sim.words.logbook import kept

        if self.book is not None:
            self.sessions, new = self.book.add_rows(rows, self.game.title, self.typed, setup_of(self.game))
            self.told = kept(new, len(rows), self.book.path)
            for day, own in evenings(rows).items():
                self.look_for_plan(self.book, day, own)

    def look_for_plan(self, book: Logbook, day: str, rows: list[Row]) -> None:
        """The plan of an evening, where there is one and its forecast is as long as what was counted."""
        from sim.own_counts.answer import Planned
        from sim.own_counts.forecast import setup_of
        from sim.own_counts.planning import long_enough, plan_in
        from sim.words.logbook import LONGER_THAN_PLANNED

        plan = plan_in(book.connection, day, setup_of(self.game))
        found = None if plan is None else book.forecast(plan.forecast)
        if plan is None or found is None:
            return
        if not long_enough(found, rows):
            self.told += LONGER_THAN_PLANNED
            return
        self.planned[day] = Planned(plan.made, found)
        book.link(self.sessions[day], found.key)

    def forecast(self, game: Game, bouts: int, run: Replication) -> Forecast:
        """The forecast that judges what was not planned: that of this very question if it is kept, else a new one, which then is.

        Where every evening was planned nothing is played: it is that of the last.
        """
        from sim.own_counts.forecast import forecast_of, key_of
        from sim.words.logbook import NOT_JUDGED

        if self.book is None:
            return forecast_of(game, bouts, run)
        if self.sessions and set(self.planned) == set(self.sessions):
            return self.planned[max(self.planned)].forecast
        key, _ = key_of(game, bouts, run)
        found = self.book.forecast(key) or forecast_of(game, bouts, run)
        if found.key != key:  # it was stopped
            self.told += NOT_JUDGED
            return found
        self.book.add_forecast(found, self.game.title, self.typed)
        for day, session in self.sessions.items():
            if day not in self.planned:
                self.book.link(session, key)
        return found
