"""Looking back player by player: who played how many bouts in which role, and what he was measured at beside what was forecast.

Nothing is filled in: what was not measured, or not forecast, is missing.  Players stand as in the file, then as on the sheet;
nobody is ranked.
"""

from __future__ import annotations

import math
import re
from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from sim.own_counts.delivered import Delivered
from sim.own_counts.load_forecast import COLUMNS, LoadForecast, Range
from sim.own_counts.logbook import Evening
from sim.own_counts.tally import Row

GROUPS = re.compile(r"[;/|\n]")
"""What parts groups of players on a sheet, each with its role before a colon: ``inside: Ali, Bo; outside: Cy``."""
APART = 2.0
"""A file whose minutes are more than so many times those on the sheet, or fewer, is of something else (house default)."""
Place = tuple[str, str]
"""(day, title of the game, or what the file calls the drill)."""


@dataclass(frozen=True)
class LoadSeen:
    """What a player was measured at, and what was expected of somebody in his role; None: missing."""

    name: str
    value: float | None
    expected: Range | None

    @property
    def inside(self) -> bool | None:
        """Whether it lies where eight sessions in ten do; None where that cannot be said."""
        if self.value is None or self.expected is None:
            return None
        return self.expected.low <= self.value <= self.expected.high


@dataclass(frozen=True)
class PlayerSeen:
    """A player in a game of a `day`, in one `bout` of it or (None) in all.

    `bouts` he played (None: nobody wrote it down), in which `roles`, so many bouts each ("": not said), and how many minutes on the
    watch were `counted` of them (None: not known); `minutes` as measured (None: he was not).
    """

    day: str
    game: str
    bout: int | None
    player: str
    bouts: int | None
    roles: Mapping[str, int]
    counted: float | None
    minutes: float | None
    loads: tuple[LoadSeen, ...]


def who_played(text: str) -> dict[str, str]:
    """Roles ("": not said) by player, from what stands on the sheet."""
    found = {}
    for group in GROUPS.split(text):
        role, colon, names = group.rpartition(":")
        for name in names.split(","):
            if name.strip():
                found[" ".join(name.split())] = role.strip() if colon else ""
    return found


def apart(file_minutes: float, sheet_minutes: float) -> bool:
    """Whether a file is of something else than the sheet: of more than twice its minutes, or of fewer than half."""
    ratio = file_minutes / sheet_minutes
    return not (1 / APART <= ratio <= APART or math.isclose(ratio, APART) or math.isclose(ratio, 1 / APART))


def by_player(
    evenings: Sequence[Evening], delivered: Sequence[Delivered], loads: Mapping[Place, LoadForecast]
) -> tuple[PlayerSeen, ...]:
    """Everybody who was measured or written down, by day; `loads`: what was forecast for a game of a day."""
    sheets: dict[Place, list[Row]] = {}
    for evening in evenings:
        sheets.setdefault((evening.day, evening.game), []).extend(evening.standing)
    files: dict[Place, list[Delivered]] = {}
    for row in delivered:
        files.setdefault((row.day, row.game or row.block), []).append(row)
    places = sorted({*sheets, *files}, key=lambda place: place[0])  # games of a day as they come
    return tuple(
        one for place in places for one in of_game(place, sheets.get(place, ()), files.get(place, ()), loads.get(place))
    )


def of_game(
    place: Place, sheet: Sequence[Row], file: Sequence[Delivered], loads: LoadForecast | None
) -> list[PlayerSeen]:
    """The players of one game."""
    written = [(row, who_played(row.players)) for row in sheet if row.players]
    called = {name.casefold(): name for _, players in written for name in players} | {
        row.player.casefold(): row.player for row in file
    }
    measured = added_up(file)
    there = {row.player.casefold() for row in measured}
    found = [of_player(place, row, row.player, written, sheet, loads) for row in measured]
    only_written = [name for key, name in called.items() if key not in there]
    return [*found, *(of_player(place, None, name, written, sheet, loads) for name in only_written)]


def added_up(rows: Sequence[Delivered]) -> list[Delivered]:
    """Rows of one player added up where a game was in several drills; what one of them has not, or has from another speed on, is
    missing then."""
    found: dict[tuple[str, int | None], Delivered] = {}
    for row in rows:
        key = (row.player.casefold(), row.bout)
        found[key] = row if key not in found else both(found[key], row)
    return list(found.values())


def both(one: Delivered, other: Delivered) -> Delivered:
    """Two rows as one."""

    def total(name: str) -> float | None:
        first, second = getattr(one, name), getattr(other, name)
        start = name.replace("metres", "from")
        alike = name == "metres" or getattr(one, start, "") == getattr(other, start, "")
        return None if first is None or second is None or not alike else first + second

    sums = {name: total(name) for name in COLUMNS}
    return replace(one, minutes=one.minutes + other.minutes, role=one.role or other.role, **sums)  # type: ignore[arg-type]


def of_player(
    place: Place,
    row: Delivered | None,
    player: str,
    written: Sequence[tuple[Row, Mapping[str, str]]],
    sheet: Sequence[Row],
    loads: LoadForecast | None,
) -> PlayerSeen:
    """One player: his bouts as written down, his loads as measured."""
    bout = None if row is None else row.bout
    those = [(counted, players) for counted, players in written if bout in (None, counted.bout)]
    own = [
        (counted, role)
        for counted, players in those
        for name, role in players.items()
        if name.casefold() == player.casefold()
    ]
    roles = Counter(role for _, role in own)
    said = next(iter(roles)) if len(roles) == 1 else ""
    on_watch = own and all(counted.clock == "watch" for counted, _ in own)
    minutes = sum(counted.minutes for counted, _ in own) if on_watch else None
    bouts = len(own) if those else None
    seen: tuple[LoadSeen, ...] = ()
    if row is not None:
        alike = row.minutes > 0 and (minutes is None or not apart(row.minutes, minutes))
        played = 1 if bout is not None else bouts or len({one.bout for one in sheet if one.bout is not None})
        held = loads if alike and bouts != 0 else None  # the sheets have others: nothing is filled in for him
        seen = tuple(seen_of(row, name, row.role or said, played, held) for name in COLUMNS)
    return PlayerSeen(*place, bout, player, bouts, roles, minutes, None if row is None else row.minutes, seen)


def seen_of(row: Delivered, name: str, role: str, bouts: int, loads: LoadForecast | None) -> LoadSeen:
    """One load beside what was forecast; from other speeds on nothing is compared.  `bouts` 0: nobody counted them, so all."""
    value = getattr(row, name)
    start = getattr(row, name.replace("metres", "from"), "") if name != "metres" else ""
    if loads is None or (value is not None and start != loads.start_of(name)):
        return LoadSeen(name, value, None)
    whole = int(loads.each["metres"].shape[1])
    return LoadSeen(name, value, loads.expected(name, role, bouts or whole))
