"""Groups of a squad, as even in level as can be, with the coach's wishes kept (mixed-integer programming, `scipy.optimize.milp`).

What is made small is the sum over the groups of how far the total of their levels is from what their size would have at the
squad's mean.  Whoever has no mark counts as the mean.  The coach's own choice always wins: a wish that is against it gives way.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from itertools import combinations

import numpy as np
from scipy.optimize import Bounds, LinearConstraint, milp

from sim.errors import InputError
from sim.squads.squad import Person

STAY = 1e-3
"""What a change of group costs, in marks of level: less than any difference that somebody would see."""
STAY_PUT = 100.0
"""What it costs in the middle of a block: nobody changes but to fill a place."""


@dataclass(frozen=True)
class Wishes:
    """What the coach wants, by shirt: who stays `together` (units), who is kept `apart`, and who is in which group whatever else
    (`chosen`: shirt -> group, from 0).  `before`: the group each was in, left for no less than `stay` marks; `spared`: the
    groups that somebody had better not be in, at the price of `SPARE` marks."""

    together: tuple[tuple[int, ...], ...] = ()
    apart: tuple[tuple[int, ...], ...] = ()
    chosen: Mapping[int, int] = field(default_factory=dict)
    before: Mapping[int, int] = field(default_factory=dict)
    spared: Mapping[int, tuple[int, ...]] = field(default_factory=dict)
    stay: float = STAY


SPARE = 0.5
"""What a group is worth not to be in, in marks of level, to somebody who is to be spared it (house default)."""
MOST_NODES = 400
"""Of the search: for ten people all is searched, for a squad the best is taken that was found by then; the same every time."""
NO_WISHES = Wishes()
Row = tuple[dict[int, float], float, float]
"""A constraint: the coefficients by column, the least and the most that they may come to."""


def balanced(
    people: Sequence[Person], sizes: Sequence[int], wishes: Wishes = NO_WISHES
) -> tuple[tuple[Person, ...], ...]:
    """`people` in groups of these sizes (which add up to them), each in the order given.

    Keepers are shared out as evenly as their number allows.  Raises `InputError` where the wishes cannot all be kept.
    """
    if sum(sizes) != len(people):
        raise ValueError(f"sizes must add up to {len(people)} people (got {sum(sizes)})")
    _refuse(people, sizes, wishes)
    model = _Model(people, len(sizes), wishes)
    rows = [*model.everybody_once(sizes), *model.levels(), *model.keepers(), *model.chosen(), *model.pairs()]
    where = model.solved(rows)
    return tuple(
        tuple(person for person, own in zip(people, where, strict=True) if own == group) for group in range(len(sizes))
    )


class _Model:
    """The columns: 1 where person i is in group g, i * groups + g; then how far the total of each group is off."""

    def __init__(self, people: Sequence[Person], groups: int, wishes: Wishes):
        self.people, self.groups, self.wishes = people, groups, wishes
        self.place = {person.shirt: i for i, person in enumerate(people)}
        self.cells = len(people) * groups

    def column(self, i: int, group: int) -> int:
        return i * self.groups + group

    def everybody_once(self, sizes: Sequence[int]) -> Iterator[Row]:
        for i in range(len(self.people)):
            yield {self.column(i, g): 1.0 for g in range(self.groups)}, 1.0, 1.0
        for g, size in enumerate(sizes):
            yield {self.column(i, g): 1.0 for i in range(len(self.people))}, size, size

    def levels(self) -> Iterator[Row]:
        levels = levels_of(self.people)
        total, count = sum(levels), len(levels)
        for g in range(self.groups):
            own = {self.column(i, g): count * level - total for i, level in enumerate(levels)}  # whole where levels are
            yield own | {self.cells + g: -1.0}, -np.inf, 0.0
            yield own | {self.cells + g: 1.0}, 0.0, np.inf

    def keepers(self) -> Iterator[Row]:
        keeping = [person.shirt for person in self.people if person.keeps]
        put = [self.wishes.chosen[shirt] for shirt in keeping if shirt in self.wishes.chosen]
        free = [self.place[shirt] for shirt in keeping if shirt not in self.wishes.chosen]
        share = -(-len(keeping) // self.groups)
        for g in range(self.groups):
            yield {self.column(i, g): 1.0 for i in free}, 0.0, max(0, share - put.count(g))

    def chosen(self) -> Iterator[Row]:
        for shirt, group in self.wishes.chosen.items():
            if shirt in self.place:
                yield {self.column(self.place[shirt], group): 1.0}, 1.0, 1.0

    def pairs(self) -> Iterator[Row]:
        """Who stays together and who is kept apart; two whose groups are both chosen are left where they are."""
        chosen = self.wishes.chosen
        for unit in self.wishes.together:
            here = sorted((shirt for shirt in unit if shirt in self.place), key=lambda shirt: shirt not in chosen)
            for shirt in (one for one in here[1:] if one not in chosen):
                first, other = self.place[here[0]], self.place[shirt]
                for g in range(self.groups):
                    yield {self.column(first, g): 1.0, self.column(other, g): -1.0}, 0.0, 0.0
        for foes in self.wishes.apart:
            for shirt, other in combinations([one for one in foes if one in self.place], 2):
                if not (shirt in chosen and other in chosen):
                    for g in range(self.groups):
                        columns = self.column(self.place[shirt], g), self.column(self.place[other], g)
                        yield dict.fromkeys(columns, 1.0), 0.0, 1.0

    def solved(self, rows: Sequence[Row]) -> Sequence[int]:
        """The group of each person."""
        cost = np.concatenate([np.zeros(self.cells), np.ones(self.groups)])
        for shirt, group in self.wishes.before.items():
            if shirt in self.place and group < self.groups:
                cost[self.column(self.place[shirt], group)] -= self.wishes.stay * len(self.people)
        for shirt, groups in self.wishes.spared.items():
            if shirt in self.place:
                cost[[self.column(self.place[shirt], group) for group in groups]] += SPARE * len(self.people)
        table = np.zeros((len(rows), len(cost)))
        for row, (entries, _, _) in enumerate(rows):
            for column, value in entries.items():
                table[row, column] = value
        most = np.concatenate([np.ones(self.cells), np.full(self.groups, np.inf)])
        found = milp(
            cost,
            constraints=LinearConstraint(table, [low for _, low, _ in rows], [high for _, _, high in rows]),
            integrality=(most == 1.0).astype(int),
            bounds=Bounds(0.0, most),
            options={"node_limit": MOST_NODES},
        )
        if found.x is None:
            raise InputError("together, apart, keepers and chosen groups cannot all be kept: give up one", "groups")
        return found.x[: self.cells].reshape(-1, self.groups).argmax(axis=1)


def levels_of(people: Sequence[Person]) -> list[float]:
    """The level of each; of whoever has no mark the mean of the others, 0 where nobody has one."""
    marked = [person.level for person in people if person.level is not None]
    mean = float(np.mean(marked)) if marked else 0.0
    return [mean if person.level is None else person.level for person in people]


def _refuse(people: Sequence[Person], sizes: Sequence[int], wishes: Wishes) -> None:
    """Say plainly what cannot be: too many apart for so few groups, a unit larger than any group."""
    problems = []
    here = {person.shirt for person in people}
    for foes in wishes.apart:
        if len(here & set(foes) - set(wishes.chosen)) > len(sizes):
            shirts = ", ".join(map(str, foes))
            problems.append(f"apart must be at most {len(sizes)} people for {len(sizes)} groups (got {shirts})")
    for unit in wishes.together:
        if len(here & set(unit)) > max(sizes) and not here & set(unit) & set(wishes.chosen):
            shirts = ", ".join(map(str, unit))
            problems.append(f"together must be at most {max(sizes)} people, the largest group (got {shirts})")
    for shirt, group in wishes.chosen.items():
        if group >= len(sizes):
            problems.append(f"chosen must be a group from 1 to {len(sizes)} (got {group + 1} for {shirt})")
    if problems:
        raise InputError(problems, "groups")
