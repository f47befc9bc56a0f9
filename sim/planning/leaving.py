"""Somebody whose bouts or minutes run out in the middle of an evening: he is off from there, and the others go on without him.

The block in which they run out falls into two, one with him and one without; he sits out whatever comes later.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from sim.planning.block import Block, longest_s
from sim.planning.caps import TOO_MUCH
from sim.planning.line_up import LineUp
from sim.planning.session_file import Part
from sim.squads.squad import Person


@dataclass(frozen=True)
class Leaving:
    """Who is off, the `number` (from 0) and the name of the block in which he would have more than he may, and after how many of
    its bouts (0: he has none of them)."""

    person: Person
    number: int
    part: str
    bouts: int


def first_off(people: Sequence[Person], line_ups: Sequence[LineUp]) -> Leaving | None:
    """Who would first have more bouts or minutes than he may; None where nobody would."""
    spent = {person.shirt: (0, 0.0) for person in people}
    for number, line_up in enumerate(line_ups):
        minutes = longest_s(line_up.games[0].bouts) / 60.0
        for person in people:
            had, lasted = spent[person.shirt]
            own = line_up.bouts.get(person.shirt, 0)
            left = [
                *([person.most_bouts - had] if person.most_bouts is not None else []),
                *(
                    [int((person.most_minutes - lasted + TOO_MUCH) / minutes)]
                    if person.most_minutes is not None
                    else []
                ),
            ]
            if own > min(left, default=own):
                return Leaving(person, number, line_up.part.name, max(0, min(left)))
            spent[person.shirt] = had + own, lasted + own * minutes
    return None


def without(
    parts: Sequence[Part], blocks: Sequence[Block], line_ups: Sequence[LineUp], leaving: Leaving
) -> tuple[tuple[Part, ...], tuple[Block, ...]]:
    """The blocks of the evening where he is off."""
    i, shirt = leaving.number, leaving.person.shirt
    later = [replace(part, out=(*part.out, shirt)) for part in parts[i:]]
    if leaving.bouts == 0:
        return (*parts[:i], *later), tuple(blocks)
    bouts = line_ups[i].games[0].bouts
    first, second = _halves(blocks[i], leaving.bouts, bouts.count, bouts.rest_seconds)
    rest = replace(later[0], name=_name(later[0], shirt), goes_on=True)
    return (*parts[: i + 1], rest, *later[1:]), (*blocks[:i], first, second, *blocks[i + 1 :])


def _name(part: Part, shirt: int) -> str:
    """``squares without 8``, ``squares without 8, 4``: of a block that goes on."""
    return f"{part.name}, {shirt}" if part.goes_on else f"{part.name} without {shirt}"


def _halves(block: Block, bouts: int, of: int, rest_s: float) -> tuple[Block, Block]:
    """A block as two, the rest between them kept; drinks are taken where they would have been."""
    middle = (of + 1) // 2
    change = max(rest_s, block.drinks_s) if bouts == middle else rest_s
    first = replace(block, bouts=bouts, changeover_s=change, drinks_s=block.drinks_s if bouts > middle else 0.0)
    second = replace(block, bouts=of - bouts, explain_s=0.0, drinks_s=block.drinks_s if bouts < middle else 0.0)
    return first, second
