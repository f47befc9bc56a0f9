"""Balanced groups against all there are, and the coach's wishes kept."""

from __future__ import annotations

import random
from itertools import combinations

import pytest

from sim.errors import InputError
from sim.squads.balancing import Wishes, balanced, levels_of
from sim.squads.squad import Person


def squad(seed: int, count: int, keepers: int = 0) -> list[Person]:
    dice = random.Random(seed)
    return [
        Person(i, f"P{i}", "keeper" if i <= keepers else "", level=float(dice.randint(1, 10)))
        for i in range(1, count + 1)
    ]


def off(people: list[Person], groups: tuple[tuple[Person, ...], ...]) -> float:
    mean = sum(levels_of(people)) / len(people)
    level = dict(zip((person.shirt for person in people), levels_of(people), strict=True))
    return sum(abs(sum(level[person.shirt] for person in group) - len(group) * mean) for group in groups)


def every(people: list[Person], sizes: tuple[int, ...]):
    if len(sizes) == 1:
        yield (tuple(people),)
        return
    for first in combinations(people, sizes[0]):
        rest = [person for person in people if person not in first]
        for others in every(rest, sizes[1:]):
            yield (first, *others)


def kept(groups: tuple[tuple[Person, ...], ...], wishes: Wishes, keepers: int) -> bool:
    where = {person.shirt: g for g, group in enumerate(groups) for person in group}
    share = -(-keepers // len(groups))
    return (
        all(len({where[shirt] for shirt in unit}) == 1 for unit in wishes.together)
        and all(len({where[shirt] for shirt in foes}) == len(foes) for foes in wishes.apart)
        and all(where[shirt] == group for shirt, group in wishes.chosen.items())
        and all(sum(person.keeps for person in group) <= share for group in groups)
    )


@pytest.mark.parametrize("seed", range(3))
@pytest.mark.parametrize(
    ("count", "sizes", "wishes"),
    [
        (8, (4, 4), Wishes()),
        (9, (3, 3, 3), Wishes(together=((2, 5),), apart=((3, 4),))),
        (10, (5, 3, 2), Wishes(apart=((1, 2, 3),), chosen={4: 2})),
        (8, (5, 3), Wishes(together=((2, 3, 4),), chosen={3: 1})),
    ],
)
def test_no_groups_are_more_even(seed: int, count: int, sizes: tuple[int, ...], wishes: Wishes):
    people = squad(seed, count, keepers=2)
    found = balanced(people, sizes, wishes)
    assert [len(group) for group in found] == list(sizes)
    assert kept(found, wishes, 2)
    best = min(off(people, groups) for groups in every(people, sizes) if kept(groups, wishes, 2))
    assert off(people, found) == pytest.approx(best, abs=1e-6)


def test_the_coach_wins_over_a_wish():
    people = squad(1, 8)
    found = balanced(people, (4, 4), Wishes(together=((1, 2, 3),), apart=((4, 5),), chosen={1: 0, 2: 1, 4: 0, 5: 0}))
    where = {person.shirt: g for g, group in enumerate(found) for person in group}
    assert (where[1], where[2], where[4], where[5]) == (0, 1, 0, 0)
    assert where[3] == where[1]


def test_who_has_no_mark_counts_as_the_mean():
    people = [Person(1, "A", level=2.0), Person(2, "B", level=8.0), Person(3, "C")]
    assert levels_of(people) == [2.0, 8.0, 5.0]
    assert levels_of([Person(1, "A")]) == [0.0]


def test_nobody_moves_without_need():
    people = [Person(i, "", level=5.0) for i in range(1, 9)]
    before = {i: (i * 3) % 2 for i in range(1, 9)}
    found = balanced(people, (4, 4), Wishes(before=before))
    assert {person.shirt: g for g, group in enumerate(found) for person in group} == before


@pytest.mark.parametrize(
    ("wishes", "rule"),
    [
        (Wishes(apart=((1, 2, 3),)), "apart must be at most 2 people for 2 groups"),
        (Wishes(together=((1, 2, 3, 4, 5),)), "together must be at most 4 people, the largest group"),
        (Wishes(chosen={1: 2}), "chosen must be a group from 1 to 2 .got 3 for 1"),
        (Wishes(together=((1, 2),), apart=((1, 2),)), "cannot all be kept"),
    ],
)
def test_what_cannot_be_is_refused(wishes: Wishes, rule: str):
    with pytest.raises(InputError, match=rule):
        balanced(squad(1, 8), (4, 4), wishes)
