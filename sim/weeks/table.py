"""What games give those who are there: each set up for them in some sizes, played once, kept on disk, and read as an `Offer`.

Only sizes that were played are offered: nothing is interpolated between them.  The number of bouts is: a bout gives as much as the
mean of `PLAYED_BOUTS` (what later bouts lose to tired legs, one or two parts in a hundred, is spread over all).
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from math import ceil
from typing import TYPE_CHECKING

import numpy as np

from sim.errors import InputError
from sim.game.loader import resolve, to_short
from sim.game.model import Game
from sim.groups.fitting import Fit, fits
from sim.groups.ground import stretched
from sim.groups.purposes import purpose_of
from sim.planning.block import longest_s
from sim.planning.caps import kept_from
from sim.squads.squad import LIMITS, Person
from sim.units import SECONDS_PER_MINUTE
from sim.weeks.amounts import Measure
from sim.weeks.choosing import Offer

if TYPE_CHECKING:
    from sim.experiments.executors import Workers
    from sim.planning.block_loads import BlockLoads
    from sim.planning.kept_loads import Shelf

PLAYED_BOUTS = 4
"""In each session of a game that is played for the table."""
SESSIONS = 8
"""Sessions of each: the mean of a group's metres is known to about one part in a hundred from so few."""
EXPLAIN_MIN, CHANGE_MIN = 2.0, 3.0
"""To explain a new game, and to change bibs and cones and drink before it (house default)."""
LEAST_MIN, MOST_MIN = 8.0, 30.0
"""Of one game on one evening, rests included (house default)."""
MOST_BOUTS = 8
HALF_A_PITCH = (68.0, 52.0)
"""Metres each way, on which everything has to find room (house default)."""
USUAL_SIZES = (1.0, 1.25)
"""Lengths of the ground, times what the game says."""
COLUMNS: dict[Measure, tuple[str, ...]] = {
    "metres": ("session_distance_m",),
    "fast_metres": ("session_high_speed_distance_m",),
    "accelerations": ("accelerations", "decelerations"),
}
"""Which columns of `sim.planning.block_loads.MEASURES` a measure is the sum of."""


@dataclass(frozen=True)
class Laid:
    """A game laid out for `people`: its `groups` side by side (the same game may stand there several times) on grounds of `size`
    times their lengths; the rest wait."""

    name: str
    size: float
    groups: tuple[Game, ...]
    people: int

    @property
    def playing(self) -> int:
        """How many play at once, keepers not counted."""
        return sum(_field_players(game) for game in self.groups)

    @property
    def places(self) -> tuple[frozenset[str], ...]:
        """What each place keeps its player from, of those that keep him from something."""
        return tuple(place for game in self.groups for place in places_in(game))


def laid_out(
    games: Sequence[Game],
    people: int,
    sizes: Sequence[float] = USUAL_SIZES,
    ground: tuple[float, float] = HALF_A_PITCH,
) -> list[Laid]:
    """Each game as it can be set up for so many on this ground, in each of the sizes; a game that cannot is left out."""
    found = []
    for fit in fits(games, people):
        for size in sizes:
            laid = _laid(fit, people, size)
            if laid is not None and laid not in found and has_room(laid, ground):
                found.append(laid)
    return found


def has_room(laid: Laid, ground: tuple[float, float]) -> bool:
    """Whether every group fits on the ground, either way round, and all of them together are no larger than it."""
    long, short = max(ground), min(ground)
    boxes = [_box(game) for game in laid.groups]
    fitting = all(max(box) <= long and min(box) <= short for box in boxes)
    return fitting and sum(x * y for x, y in boxes) <= long * short


def _box(game: Game) -> tuple[float, float]:
    """Metres each way of everything a game is played on, run-offs left out."""
    west = min(area.x - area.length / 2 for area in game.areas)
    east = max(area.x + area.length / 2 for area in game.areas)
    south = min(area.y - area.width / 2 for area in game.areas)
    north = max(area.y + area.width / 2 for area in game.areas)
    return east - west, north - south


def _laid(fit: Fit, people: int, size: float) -> Laid | None:
    if fit.how == "not at all":
        return None
    groups = [fit.game] * fit.groups if fit.plan is None else [game for _, game in fit.plan.groups]
    try:
        sized = {game: _sized(game, size) for game in dict.fromkeys(groups)}
    except InputError:
        return None
    return Laid(fit.game.name, size, tuple(sized[game] for game in groups), people)


def _sized(game: Game, size: float) -> Game:
    return game if size == 1.0 else resolve(stretched(to_short(game), size), game.name, game.name)


def _field_players(game: Game) -> int:
    return sum(game.role(player.role).style != "goal" for player in game.players)


def offers(
    laid: Sequence[Laid],
    shelf: Shelf,
    seed: int = 1,
    sessions: int = SESSIONS,
    workers: Workers = None,
    progress: Callable[[int, int], None] | None = None,
) -> list[Offer]:
    """What each gives: its games are played, or found on the shelf.  An interruption keeps what is finished."""
    from sim.planning.block_loads import loads_of

    games = list(dict.fromkeys(game for one in laid for game in one.groups))
    found = loads_of(games, shelf, seed, sessions, workers, progress)
    known = dict(zip(games, found, strict=True))
    return [_offer(one, known) for one in laid]


def _offer(laid: Laid, known: dict[Game, BlockLoads]) -> Offer:
    first = laid.groups[0]
    each, spread = {}, {}
    bout_min = (longest_s(first.bouts) + first.bouts.rest_seconds) / SECONDS_PER_MINUTE
    for measure, columns in COLUMNS.items():
        values = [value for game in laid.groups for value in _of_field_players(known[game], columns)]
        share = laid.playing / laid.people / first.bouts.count
        mean = sum(values) / len(values)
        each[measure] = share * mean
        spread[measure] = share * (sum((one - mean) ** 2 for one in values) / len(values)) ** 0.5
    return Offer(
        game=laid.name,
        size=laid.size,
        purpose=purpose_of(first),
        people=laid.people,
        each=each,
        bout_min=bout_min,
        around_min=EXPLAIN_MIN + CHANGE_MIN,
        least=min(MOST_BOUTS, ceil(LEAST_MIN / bout_min)),
        most=max(ceil(LEAST_MIN / bout_min), min(MOST_BOUTS, int(MOST_MIN / bout_min))),
        spread=spread,
        places=laid.places,
        goals=sum(len(game.players) - _field_players(game) for game in laid.groups),
        work_s=first.bouts.seconds,
        rest_s=first.bouts.rest_seconds,
        groups=laid.groups,
    )


def _of_field_players(loads: BlockLoads, columns: Iterable[str]) -> list[float]:
    """Of every session and place that keeps no goal."""
    own = [i for i, place in enumerate(loads.places) if loads.game.role(place.role).style != "goal"]
    found = np.zeros((loads.sessions, len(own)))
    for name in columns:
        found += loads.of(name)[:, own]
    return [float(value) for value in found.ravel()]


def places_in(game: Game) -> list[frozenset[str]]:
    """What each place keeps its player from by the rules, of those that do; what merely did not happen is no such place."""
    found = [
        frozenset(limit for limit in LIMITS if kept_from(Person(0, "", limits=(limit,)), game, player))
        for player in game.players
        if game.role(player.role).style != "goal"
    ]
    return [place for place in found if place]
