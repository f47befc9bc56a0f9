"""A match or an evening on another day: the smallest change of the plan, before and after."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta

from sim.errors import InputError, any_of
from sim.squads.squad import DAYS as WEEKDAYS
from sim.weeks.choosing import Taken
from sim.weeks.days import Evening, Match, monday
from sim.weeks.people import Member
from sim.weeks.plan import Planned, PlannedEvening, Table
from sim.weeks.used_up import settled
from sim.weeks.week_file import PlanFile, not_together, with_days

OPTION = "--move"


@dataclass(frozen=True)
class Move:
    """What is moved, and to which day."""

    what: Evening | Match
    to: date


@dataclass(frozen=True)
class Moved:
    """A plan before and after; `cut`: evenings that are gone because a match is on their day."""

    move: Move
    before: Planned
    after: Planned
    cut: tuple[PlannedEvening, ...]

    @property
    def changed(self) -> list[tuple[PlannedEvening, PlannedEvening]]:
        """Evenings whose games, bouts or labels are others, before and after."""
        own = {one.evening.day: one for one in self.before.evenings}
        found = []
        for after in self.after.evenings:
            day = after.evening.day
            before = own.get(self.move.what.day if day == self.move.to and day not in own else day)
            if before is not None and (before.taken, before.labels) != (after.taken, after.labels):
                found.append((before, after))
        return found


def read_move(typed: str, file: PlanFile) -> Move:
    """What `sat=fri` or `2026-08-15=2026-08-14` moves: the match of that day, else its evening; refused where it is not one."""
    start, sign, end = (part.strip().casefold() for part in typed.partition("="))
    if not sign:
        raise InputError(f"must be DAY=DAY, such as sat=fri or 2026-08-15=2026-08-14 (got {typed!r})", OPTION)
    days: list[Match | Evening] = [*file.matches, *file.evenings]
    of_day = [one for one in days if start in (one.day.isoformat(), WEEKDAYS[one.day.weekday()])]
    matches = [one for one in of_day if isinstance(one, Match)]
    found = matches or of_day
    if len(found) != 1:
        known = any_of([f"{WEEKDAYS[one.day.weekday()]} {one.day}" for one in (found or days)][:12], "and")
        why = f"several are: {known}" if found else f"there are {known}"
        raise InputError(f"must name one day of the plan, {why} (got {start!r})", OPTION)
    to = _day(end, found[0].day)
    if to is None:
        raise InputError(f"must name a day as mon to sun or 2026-08-14 (got {end!r})", OPTION)
    if any(one.day == to for one in (days if isinstance(found[0], Evening) else file.matches)):
        raise InputError(f"must be to a day that has no {_kind(found[0])} yet (got {to})", OPTION)
    move = Move(found[0], to)
    if broken := not_together(file_after(file, move)):
        raise InputError([f"must leave a plan: {one}" for one in broken], OPTION)
    return move


def _kind(what: Evening | Match) -> str:
    return "match" if isinstance(what, Match) else "evening and no match"


def _day(typed: str, week_of: date) -> date | None:
    if typed in WEEKDAYS:
        return monday(week_of) + timedelta(days=WEEKDAYS.index(typed))
    try:
        return date.fromisoformat(typed)
    except ValueError:
        return None


def file_after(file: PlanFile, move: Move) -> PlanFile:
    """The plan file with the day moved; an evening on the new day of a match is gone."""
    if isinstance(move.what, Match):
        matches = [replace(one, day=move.to) if one is move.what else one for one in file.matches]
        return with_days(file, [one for one in file.evenings if one.day != move.to], matches)
    return with_days(
        file, [replace(one, day=move.to) if one is move.what else one for one in file.evenings], file.matches
    )


def moved(before: Planned, move: Move, members: Sequence[Member], table: Table) -> Moved:
    """The plan after the move: of all that fit their bands as well as they can, the one with the fewest new games."""
    after_file = file_after(before.file, move)
    old: dict[object, Sequence[Taken]] = {one.evening.day: one.taken for one in before.evenings}
    if isinstance(move.what, Evening):
        old[move.to] = old.pop(move.what.day)
    after, _ = settled(after_file, members, table, old)
    days = {one.evening.day for one in after.evenings}
    gone = move.what.day if isinstance(move.what, Evening) else None
    cut = [one for one in before.evenings if one.evening.day not in days and one.evening.day != gone]
    return Moved(move, before, after, tuple(cut))
