"""Places in a game for those who must not do all of it, and goals for keepers: who has one, evening by evening.

Places are given in the order of the squad file.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from sim.weeks.choosing import Offer, Taken
from sim.weeks.people import Member


def seated(places: Sequence[frozenset[str]], wanted: Sequence[frozenset[str]]) -> list[bool]:
    """Whether each of those who are `wanted` to be kept from something has a place that keeps him from it: of the places that are
    left the one that keeps from least."""
    left = sorted(places, key=lambda place: (len(place), sorted(place)))
    found = []
    for limits in wanted:
        own = next((place for place in left if limits <= place), None)
        found.append(own is not None)
        if own is not None:
            left.remove(own)
    return found


def held(places: Sequence[frozenset[str]], wanted: Sequence[frozenset[str]]) -> int:
    """For how many of them there is a place."""
    return sum(seated(places, wanted))


@dataclass(frozen=True)
class Turnout:
    """Who trains on an evening: `free` may be anywhere in a game, `kept` (shirt, from what) only in a place of their own;
    `keepers`, by shirt, may be in goal (None: the squad names none, and nothing is known of them).

    A game is set up for the free and for those of the kept for whom it has a place: never for somebody who is not in it.
    """

    free: int
    kept: tuple[tuple[int, frozenset[str]], ...] = ()
    keepers: tuple[int, ...] | None = None

    @property
    def people(self) -> int:
        """All of them."""
        return self.free + len(self.kept)

    @property
    def wanted(self) -> list[frozenset[str]]:
        """From what those are kept who need a place of their own."""
        return [limits for _, limits in self.kept]

    def fits(self, people: int, places: Sequence[frozenset[str]]) -> bool:
        """Whether a game for so many people, with these places, is one for all who are free and some of the kept."""
        return people == self.free or 0 < people - self.free <= held(places, self.wanted)

    def seats(self, offer: Offer) -> tuple[bool, ...]:
        """Which of the kept are in a game."""
        left = offer.people - self.free
        found = []
        for own in seated(offer.places, self.wanted):
            found.append(own and left > 0)
            left -= own
        return tuple(found)


def seats_of(
    evenings: Sequence[tuple[date, Turnout, Sequence[Taken]]],
) -> dict[int, dict[date, tuple[bool, ...]]]:
    """By shirt and day: whether he has a place in each of the games; only of those who need one of their own."""
    found: dict[int, dict[date, tuple[bool, ...]]] = {}
    for day, turnout, taken in evenings:
        each = [turnout.seats(one.offer) for one in taken]
        for k, (shirt, _) in enumerate(turnout.kept):
            found.setdefault(shirt, {})[day] = tuple(game[k] for game in each)
    return found


def may_keep(member: Member) -> bool:
    """Whether a plan puts a keeper in goal: nobody who has any limit, as a goal is kept for a whole game."""
    limits = member.limits
    most = (limits.minutes, limits.week_minutes, limits.bouts, limits.fast_metres)
    return member.keeper and not limits.kept and not limits.reduced and most == (None,) * len(most)


def goals_of(
    evenings: Sequence[tuple[date, Turnout, Sequence[Taken]]],
) -> dict[int, dict[date, tuple[int, ...]]]:
    """By shirt and day: in how many bouts of each game a keeper is in goal; in turn, from game to game."""
    found: dict[int, dict[date, tuple[int, ...]]] = {}
    turn = 0
    for day, turnout, taken in evenings:
        there = turnout.keepers or ()
        bouts: dict[int, list[int]] = {shirt: [0] * len(taken) for shirt in there}
        for i, one in enumerate(taken):
            for _ in range(min(one.offer.goals, len(there))):
                bouts[there[turn % len(there)]][i] = one.bouts
                turn += 1
        for shirt, own in bouts.items():
            found.setdefault(shirt, {})[day] = tuple(own)
    return found
