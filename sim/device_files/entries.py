"""One line of a file as a row of the logbook, or the reason why it is left out."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import date

from sim.device_files import cells as read
from sim.device_files.cells import UNITS, Unreadable
from sim.device_files.conventions import Conventions
from sim.device_files.layouts import FAST, Layout, threshold_said
from sim.device_files.tables import Cell, Line, plain
from sim.game.messages import show
from sim.own_counts.delivered import LOADS, Delivered
from sim.own_counts.tally import MOST_BOUT, MOST_MINUTES

TOTALS = re.compile(
    r"(grand |sub)?totals?|sums?|averages?|avg|means?|median|team|squad|group|all( players)?|"
    r"gesamt|summe|schnitt|durchschnitt|mittel(wert)?|mannschaft|moyenne|équipe|somme|media|promedio|equipo|suma"
)
MOST_WORDS = 3
"""A name that is all such words, and no longer, is no player's."""


@dataclass(frozen=True)
class LeftOut:
    """A line that is not kept: `who` stands in it, and why."""

    line: int
    who: str
    reason: str


@dataclass(frozen=True)
class Reader:
    """What a line is read with: where each column stands, how numbers and days are written, and the day if no column says it."""

    layout: Layout
    places: Mapping[str, int]
    conventions: Conventions
    width: int
    day: str
    today: date

    def cell(self, cells: tuple[Cell, ...], column: str) -> Cell:
        """A cell; "" where there is none."""
        place = self.places.get(column)
        return "" if place is None or place >= len(cells) else cells[place]

    def row(self, line: Line) -> Delivered | LeftOut:
        """The row that a line makes, its player called as the file calls him."""
        number, cells = line
        who = read.text(self.cell(cells, "player"))
        if reason := self.nobody(cells, who):
            return LeftOut(number, who, reason)
        problems: list[str] = []

        def told(column: str) -> float | None:
            try:
                return self.measured(cells, column)
            except Unreadable as error:
                problems.append(f"{column} {error}")
                return None

        def counted(column: str) -> int | None:
            value = told(column)
            return None if value is None else int(value)

        minutes, starts = told("duration"), self.starts(cells, problems)
        fast, sprint = told("fast"), told("sprint")
        row = Delivered(
            line=number,
            day=self.day_of(cells, problems),
            block=read.text(self.cell(cells, "block")),
            player=who,
            minutes=minutes or 0.0,
            bout=counted("bout"),
            role=read.text(self.cell(cells, "role")),
            metres=told("distance"),
            fast_metres=fast,
            fast_from="" if fast is None else starts["fast"],
            sprint_metres=sprint,
            sprint_from="" if sprint is None else starts["sprint"],
            accelerations=counted("accelerations"),
            decelerations=counted("decelerations"),
            top_speed_kmh=told("top_speed"),
        )
        if problems:
            return LeftOut(number, who, "; ".join(problems))
        reason = impossible(row, minutes)
        return LeftOut(number, who, reason) if reason else row

    def nobody(self, cells: tuple[Cell, ...], who: str) -> str:
        """Why a line is no player's."""
        if any(str(cell).strip() for cell in cells[self.width :]):
            return f"has more cells than the {self.width} columns"
        if not who:
            return "names no player"
        words = plain(who).strip(".: ").split()
        if len(words) <= MOST_WORDS and all(TOTALS.fullmatch(word.strip(".:()")) for word in words):
            return "a total or an average, by its name"
        return ""

    def measured(self, cells: tuple[Cell, ...], column: str) -> float | None:
        """A number in our units; None where there is none."""
        cell = self.cell(cells, column)
        if read.text(cell) == "":
            return None
        unit, mark = self.layout.units.get(column, ""), self.conventions.mark
        if column == "duration":
            return read.minutes(cell, unit, mark)
        if not isinstance(cell, str | float):
            raise Unreadable(f"must be a number (got {show(str(cell))})")
        found = read.number(cell, mark, unit)
        if not unit and not found.is_integer():
            raise Unreadable(f"must be a whole number (got {show(read.text(cell))})")
        return found * UNITS.get(unit, 1.0)

    def day_of(self, cells: tuple[Cell, ...], problems: list[str]) -> str:
        """The day of the line, as ISO; that of the whole file where no column says it."""
        if "date" not in self.places:
            return self.day
        try:
            found = read.day(self.cell(cells, "date"), self.conventions.order)
        except Unreadable as error:
            problems.append(f"date {error}")
            return ""
        if found > self.today:
            problems.append(f"date must not be in the future (got {found})")
        return found.isoformat()

    def starts(self, cells: tuple[Cell, ...], problems: list[str]) -> dict[str, str]:
        """From which speed on metres are fast, or a sprint, in this line."""
        found = {}
        for one in FAST:
            found[one] = self.layout.starts.get(one, "")
            if one in self.layout.start_columns:
                typed = read.text(self.cell(cells, f"{one}_from"))
                found[one] = threshold_said(typed)
                if not found[one] and read.text(self.cell(cells, one)):
                    problems.append(f"{one}_from must be a speed with its unit, such as 19.8 km/h (got {show(typed)})")
        return found


def impossible(row: Delivered, minutes: float | None) -> str:
    """Why no player can have done that; "" where he can."""
    if minutes is None:
        return "says no duration"
    if minutes == 0:
        return "of no duration: was the device on?"
    if not 0 < minutes <= MOST_MINUTES:
        return f"duration must be at most {MOST_MINUTES:g} minutes (got {minutes:g})"
    if row.bout is not None and not 1 <= row.bout <= MOST_BOUT:
        return f"bout must be from 1 to {MOST_BOUT} (got {row.bout})"
    values = {name: getattr(row, name) for name in LOADS}
    if all(value is None for value in values.values()):
        return "nothing was measured"
    for name, value in values.items():
        if value is not None and value < 0:
            return f"{name.replace('_', ' ')} must be 0 or more (got {value:g})"
    for less, more in (("fast_metres", "metres"), ("sprint_metres", "metres")):
        if values[less] is not None and values[more] is not None and values[less] > values[more] + 1:
            return f"more {less.replace('_', ' ')} than metres in all ({values[less]:g} of {values[more]:g})"
    return ""


def meant(row: Delivered, player: str, role: str) -> Delivered:
    """A row under the name we know the player by, and with his role where the file has none."""
    return replace(row, player=player, role=row.role or role)
