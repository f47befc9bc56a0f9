"""Why a band is not met: the evening is chosen again with one thing let go at a time; what then meets it stood in the way."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Literal

from sim.weeks.amounts import Measure
from sim.weeks.choosing import Evenings, Need, Taken, choose, off, scale

Binding = Literal["minutes", "themes", "variety", "blocks", "other bands", "games", "heat"]
"""What keeps a band from being met: the minutes of the evening, its themes, the times a game may come a week, the number of games
on one evening, the other bands of the evening, that no game here gives it, whatever is let go, or that a heat table takes away."""
NOTICED = 0.10
"""A miss of so much of the middle of a band is told: between weeks the same evening differs by more (house default; the distance of
one squad's evenings differed by 1.2 to 2.2 km from week to week, Int J Sports Sci Coach 2024, 10.1177/17479541241251424)."""
CLOSED = 0.5
"""Whatever lets at least this share of a miss go is named."""
ENDLESS_MIN, MANY = 1000.0, 99


@dataclass(frozen=True)
class Missed:
    """A band that is not met: by how much (below it negative), and what keeps it from being met, the first one first."""

    measure: Measure
    off: float
    binding: tuple[Binding, ...]


def missed(needs: Sequence[Need], evenings: Evenings, times_a_week: int) -> list[tuple[Missed, ...]]:
    """By evening: the bands that it misses by more than `NOTICED`, with what stands in the way of each."""
    return [_of_evening(i, needs, evenings, times_a_week) for i in range(len(needs))]


def _of_evening(i: int, needs: Sequence[Need], evenings: Evenings, times_a_week: int) -> tuple[Missed, ...]:
    need, found = needs[i], []
    for measure, miss in off(need, evenings[i]).items():
        if abs(miss) <= NOTICED * scale(need, measure):
            continue
        used = [one.offer.game for k, evening in enumerate(evenings) if k != i for one in evening]
        found.append(Missed(measure, miss, _binding(need, measure, miss, used, times_a_week)))
    return tuple(found)


def _binding(need: Need, measure: Measure, miss: float, used: Sequence[str], times_a_week: int) -> tuple[Binding, ...]:
    fresh = replace(need, offers=[one for one in need.offers if used.count(one.game) < times_a_week])
    alone = {measure: need.bands[measure]}
    tried: dict[Binding, Need] = {
        "other bands": replace(fresh, bands=alone),
        "minutes": replace(fresh, minutes=ENDLESS_MIN),
        "themes": replace(fresh, themes=()),
        "blocks": replace(fresh, most=MANY, fewest=0),
        "variety": need,
    }
    closing = [name for name, one in tried.items() if _closes(one, measure, miss)]
    if closing:
        return tuple(closing)
    free = replace(need, bands=alone, minutes=ENDLESS_MIN, themes=(), most=MANY, fewest=0)
    return tuple(tried) if _closes(free, measure, miss) else ("games",)


def _closes(need: Need, measure: Measure, miss: float) -> bool:
    chosen = choose([need], MANY)
    left = _miss(need, chosen[0], measure) if chosen else miss
    return abs(left) <= (1 - CLOSED) * abs(miss)


def _miss(need: Need, taken: Sequence[Taken], measure: Measure) -> float:
    return off(need, taken)[measure]
