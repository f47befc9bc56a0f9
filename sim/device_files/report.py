"""What a file would bring: every row that would be kept, every line that would not with its reason, and what stands in the way."""

from __future__ import annotations

import json
from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import asdict, dataclass, replace
from datetime import date

from sim.device_files.conventions import conventions_of, places_of
from sim.device_files.doubts import Doubt, doubts_of, unit_conflicts
from sim.device_files.entries import LeftOut, Reader, meant
from sim.device_files.layouts import FAST, Layout
from sim.device_files.people import People
from sim.device_files.tables import Table, plain
from sim.device_files.totals import totals_among
from sim.errors import InputError
from sim.experiments.cautions import longest_line
from sim.game.model import Game
from sim.measures.thresholds import limits_of
from sim.own_counts.delivered import Delivered
from sim.speed_zones import minors_of

FORMAT = 1
UNKNOWN = "nobody of yours"
ZONE = {"fast": "high_speed", "sprint": "sprint"}


@dataclass(frozen=True)
class Report:
    """The dry run of a file: `read` lines, of which `kept` can be kept and `left_out` cannot.

    `blocks`: drills that are no game of ours, with how many rows.  `conflicts` must be put right before anything is kept; `notes`
    need not.  `checked`: whether there was a list of players to check against.
    """

    format: int
    layout: str
    said: str
    read: int
    kept: tuple[Delivered, ...]
    left_out: tuple[LeftOut, ...]
    doubts: tuple[Doubt, ...]
    blocks: tuple[tuple[str, int], ...]
    conflicts: tuple[str, ...]
    notes: tuple[str, ...]
    checked: bool

    @property
    def unknown(self) -> list[str]:
        """Players nobody knows, in the order of the file."""
        return list(dict.fromkeys(one.who for one in self.left_out if one.reason == UNKNOWN))

    def to_json(self, names: bool) -> str:
        """Strict JSON; without `names`, players are empty."""
        data = asdict(self)
        if not names:
            for one in data["kept"]:
                one["player"] = ""
            for one in (*data["left_out"], *data["doubts"]):
                one["who"] = ""
        return json.dumps(data, indent=1, ensure_ascii=False, allow_nan=False)


@dataclass(frozen=True)
class Setting:
    """What a file is held against: `games` by drill as the layout calls them, the people, the day if no column says it, today."""

    games: Mapping[str, Game]
    people: People
    day: str | None
    today: date

    def game(self, block: str) -> Game | None:
        """The game that a drill was."""
        return self.games.get(plain(block))


def examined(table: Table, layout: Layout, setting: Setting, source: str) -> Report:
    """The dry run; what cannot be read at all (which decimal mark, which day) is refused."""
    places = places_of(table, layout)
    if "date" not in places and setting.day is None:
        raise InputError(f"must be given: layout [{layout.name}] has no column for it (got nothing)", "--date")
    conventions = conventions_of(table, layout, places, source)
    reader = Reader(layout, places, conventions, len(table.head), setting.day or "", setting.today)
    made = [reader.row(line) for line in table.rows]
    rows = [one for one in made if isinstance(one, Delivered)]
    out = [one for one in made if isinstance(one, LeftOut)]
    rows, out = without(rows, out, totals_among(rows))
    named, out = known(rows, out, layout, setting.people)
    named, out = without(named, out, repeated(named))
    kept = [with_game(row, setting) for row in named]
    conflicts = [*unit_conflicts(kept, dict(layout.units)), *adults_on_minors(kept, layout, setting)]
    return Report(
        FORMAT,
        layout.name,
        table.said,
        len(table.rows),
        tuple(kept),
        tuple(sorted(out, key=lambda one: one.line)),
        tuple(Doubt(row.line, row.player, what) for row in kept for what in doubts_of(row, longest(row, setting))),
        tuple(Counter(row.block for row in kept if row.block and not row.game).items()),
        tuple(f"[{layout.name}].{one}" for one in conflicts),
        tuple(unlike_starts(kept, setting)),
        setting.people.given,
    )


def without(
    rows: Sequence[Delivered], out: Sequence[LeftOut], reasons: Mapping[int, str]
) -> tuple[list[Delivered], list[LeftOut]]:
    """(rows, lines left out) once those with a reason have been moved."""
    more = [LeftOut(row.line, row.player, reasons[row.line]) for row in rows if row.line in reasons]
    return [row for row in rows if row.line not in reasons], [*out, *more]


def known(
    rows: Sequence[Delivered], out: Sequence[LeftOut], layout: Layout, people: People
) -> tuple[list[Delivered], list[LeftOut]]:
    """The same once players are called by our names, and those nobody knows are left out."""
    names = {row.player: people.known(row.player, layout.players) for row in rows}
    found = [meant(row, name, people.roles.get(name, "")) for row in rows if (name := names[row.player]) is not None]
    return found, [*out, *(LeftOut(row.line, row.player, UNKNOWN) for row in rows if names[row.player] is None)]


def repeated(rows: Sequence[Delivered]) -> dict[int, str]:
    """Rows of one player and drill of which there are several: a copy is left out, and all of those that differ."""
    groups: dict[tuple[str, str, int | None, str], list[Delivered]] = {}
    for row in rows:
        groups.setdefault(row.place, []).append(row)
    found = {}
    for group in groups.values():
        first, *more = group
        alike = all(replace(row, line=first.line) == first for row in more)
        for row in more if alike else group * (len(group) > 1):
            lines = ", ".join(str(one.line) for one in group if one is not row)
            found[row.line] = (
                f"a copy of line {first.line}"
                if alike
                else f"the same player and drill as line {lines}, with other numbers"
            )
    return found


def with_game(row: Delivered, setting: Setting) -> Delivered:
    """A row with the title of the game that its drill was."""
    game = setting.game(row.block)
    return row if game is None else replace(row, game=game.title)


def longest(row: Delivered, setting: Setting) -> float | None:
    """The longest straight line where the row was run."""
    game = setting.game(row.block)
    return None if game is None else longest_line(game)


def starts_of(row: Delivered) -> dict[str, str]:
    """From which speeds on the fast metres of a row are, where it has any."""
    said = {"fast": row.fast_from, "sprint": row.sprint_from}
    return {name: start for name, start in said.items() if start}


def ours(game: Game, name: str) -> str:
    """From which speed on our own metres are."""
    return limits_of(game).start_in_words(ZONE[name])


def adults_on_minors(rows: Sequence[Delivered], layout: Layout, setting: Setting) -> list[str]:
    """Fixed speeds on minors, who are read by shares of their own top speed (unless their own game file says the same speed)."""
    found = {}
    for row in rows:
        game = setting.game(row.block)
        young = layout.minors or (game is not None and bool(minors_of([team.population for team in game.teams])))
        for name, start in starts_of(row).items():
            if young and start.endswith("km/h") and (game is None or ours(game, name) != start):
                found[name] = f"{name}_from must be a share of own top speed where minors play (got {start}, of adults)"
    return list(found.values())


def unlike_starts(rows: Sequence[Delivered], setting: Setting) -> list[str]:
    """Where speeds differ from row to row, or from those of our games: kept as they are, and never put together."""
    found = []
    for name in FAST:
        starts = dict.fromkeys(start for row in rows if (start := starts_of(row).get(name)))
        if len(starts) > 1:
            found.append(f"{name} from {' and from '.join(starts)} among the rows: never put together.")
        other = dict.fromkeys(
            (start, ours(game, name))
            for row in rows
            if (start := starts_of(row).get(name)) and (game := setting.game(row.block)) and ours(game, name) != start
        )
        found += [f"{name} from {start}, our figures from {own}: not held against each other." for start, own in other]
    return found
