"""Which games for which evening, and in how many bouts: a mixed-integer linear programme (`scipy.optimize.milp`) over what games
are known to give.

Every evening takes some games, each in some bouts, within its minutes; themes and variety are held to; what is least is how far
the evenings lie off their bands, each measure in shares of the middle of its band, and, for a tenth of that, off their middles.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

import numpy as np

from sim.game.model import Game
from sim.weeks.amounts import Amounts, Measure, added, times
from sim.weeks.bands import Bands

SMALLEST_SCALE: Mapping[Measure, float] = {"minutes": 10.0, "metres": 500.0, "fast_metres": 50.0, "accelerations": 10.0}
"""What counts as one where the middle of a band is less: a band about nought would make every metre enormous."""
OFF_MIDDLE = 0.1
"""Cost of being off the middle of a band within it, beside being outside of it: players differ, and the middle suits most."""
TIE = 1e-5
"""Cost of a block and of its place in the list: of plans as good as each other the shorter, then the earlier offers."""
CHANGED = 100.0
"""Cost of a block that was not planned before, over that of a whole band missed (see `closest`)."""
TOUCHED = 500.0
"""Cost of an evening that is not as it was, to the bout: more than that of all its blocks being new, so as many as can be stay."""
GAP, NODES = 0.02, 2000
"""The search ends within so much of the best (in middles of bands, an evening), or after so many branches: never by the clock, so
that the same question has the same answer everywhere."""


@dataclass(frozen=True)
class Offer:
    """A game on one size of ground as it can be had by `people`: `each` bout gives a player who is there so much (those who wait
    counted in), give or take `spread` (standard deviation between players and evenings); it takes `bout_min` with its rest, and
    `around_min` once.

    `size`: lengths of the ground, times what the game says; `places`: what each of those keeps its player from that keep him from
    something (`sim.squads.squad.LIMITS`); `goals`: to be kept by keepers; `groups`: the games that are played side by side.
    """

    game: str
    size: float
    purpose: str
    people: int
    each: Amounts
    bout_min: float
    around_min: float
    least: int
    most: int
    spread: Amounts = field(default_factory=dict)
    places: tuple[frozenset[str], ...] = ()
    goals: int = 0
    work_s: float = 0.0
    rest_s: float = 0.0
    groups: tuple[Game, ...] = ()

    @property
    def key(self) -> tuple[str, float]:
        """What tells it from others for the same people."""
        return self.game, self.size


@dataclass(frozen=True)
class Need:
    """What an evening needs: `minutes` left for games, amounts within `bands`, `start` (what the warm-up gives), purposes.

    `holding`: one game at least is one of these, as they have places for those who must not do all of it (empty: any); `fewest` and
    `most` blocks.
    """

    minutes: float
    bands: Bands
    offers: Sequence[Offer]
    start: Amounts = field(default_factory=dict)
    themes: tuple[str, ...] = ()
    holding: Sequence[Offer] = ()
    fewest: int = 1
    most: int = 4


@dataclass(frozen=True)
class Taken:
    """An offer in so many bouts."""

    offer: Offer
    bouts: int

    @property
    def minutes(self) -> float:
        """Of the evening."""
        return self.offer.around_min + self.bouts * self.offer.bout_min

    @property
    def amounts(self) -> dict[Measure, float]:
        """What it gives a player who is there."""
        return times(self.offer.each, self.bouts) | {"minutes": self.minutes}


Evenings = tuple[tuple[Taken, ...], ...]
"""What is taken, evening by evening, in the order of its offers."""


def total(need: Need, taken: Sequence[Taken]) -> dict[Measure, float]:
    """What an evening gives with these."""
    return added([need.start, *(one.amounts for one in taken)])


def off(need: Need, taken: Sequence[Taken]) -> dict[Measure, float]:
    """How far each measure lies off its band, below it negative; 0 inside."""
    found = total(need, taken)
    return {measure: band.off(found.get(measure, 0.0)) for measure, band in need.bands.items()}


def scale(need: Need, measure: Measure) -> float:
    """What counts as one of a measure."""
    return max(need.bands[measure].middle, SMALLEST_SCALE[measure])


def cost(needs: Sequence[Need], evenings: Evenings) -> float:
    """How far a plan lies off all bands, in middles of bands, and a tenth of how far off their middles."""
    return sum(
        (abs(miss) + OFF_MIDDLE * abs(found.get(measure, 0.0) - need.bands[measure].middle)) / scale(need, measure)
        for need, taken in zip(needs, evenings, strict=True)
        for found in [total(need, taken)]
        for measure, miss in off(need, taken).items()
    )


def choose(
    needs: Sequence[Need], times_a_week: int, before: Evenings | None = None, at_most: float = 0.0
) -> Evenings | None:
    """The evenings that lie least off their bands; None where nothing holds to all themes, minutes and numbers.

    `times_a_week`: the same game on so many evenings at most.  `before`: what was planned; then, of all plans that lie no more than
    `at_most` off their bands, the one with the fewest evenings that are not as they were, to the bout, then with the
    fewest blocks that are new.
    """
    problem = _Problem(needs, times_a_week)
    if before is None:
        return problem.solved()
    problem.hold_to(before, at_most)
    found = problem.solved()
    if found is None:
        return None
    finer = _Problem(needs, times_a_week)  # what is left open is settled by the bands alone
    finer.stay_with(before, found)
    return finer.solved() or found


def closest(needs: Sequence[Need], times_a_week: int, before: Evenings, worse: float) -> Evenings | None:
    """As near to its bands as any plan but for `worse` (in middles of bands), with the fewest evenings changed, then the fewest new
    blocks.

    What was planned stays as it is, bouts and all, where it holds to everything and is near enough.
    """
    best = choose(needs, times_a_week)
    if best is None:
        return None
    at_most = cost(needs, best) + worse
    if cost(needs, before) <= at_most and holds(needs, times_a_week, before):
        return before
    return choose(needs, times_a_week, before, at_most) or best


def holds(needs: Sequence[Need], times_a_week: int, evenings: Evenings) -> bool:
    """Whether these evenings keep to their minutes, themes, numbers and variety; a game that is not offered as it was does not."""
    if any(one.offer not in need.offers for need, taken in zip(needs, evenings, strict=True) for one in taken):
        return False
    problem = _Problem(needs, times_a_week)
    problem.fix(evenings)
    return problem.solved() is not None


class _Problem:
    """The programme: for every evening and offer a yes or no and a number of bouts; for every band what is missing, too much, and
    off its middle, each in middles of bands; for every evening whether it is not as it was (only where that is held to)."""

    def __init__(self, needs: Sequence[Need], times_a_week: int):
        self.needs = needs
        self.pairs = [(i, offer) for i, need in enumerate(needs) for offer in need.offers]
        self.misses = [(i, measure) for i, need in enumerate(needs) for measure in need.bands]
        self.n = len(self.pairs)
        self.size = 2 * self.n + 3 * len(self.misses) + len(needs) + 1
        self.rows: list[tuple[dict[int, float], float, float]] = []
        self.costs = np.zeros(self.size)
        self.costs[-1] = len(needs)  # a constant: the gap to the best is then one of bands, whatever is missed
        self.costs[: self.n] = [TIE * (1 + k / max(1, self.n)) for k in range(self.n)]
        for k in range(len(self.misses)):
            self.costs[[self._under(k), self._over(k)]] = 1.0
            self.costs[self._aside(k)] = OFF_MIDDLE
        for k, (_, offer) in enumerate(self.pairs):
            self.rows.append(({self.n + k: 1.0, k: -float(offer.least)}, 0.0, np.inf))
            self.rows.append(({self.n + k: 1.0, k: -float(offer.most)}, -np.inf, 0.0))
        for i in range(len(needs)):
            self._evening(i)
        self._variety(times_a_week)

    def _under(self, k: int) -> int:
        return 2 * self.n + k

    def _over(self, k: int) -> int:
        return 2 * self.n + len(self.misses) + k

    def _aside(self, k: int) -> int:
        return 2 * self.n + 2 * len(self.misses) + k

    def _touched(self, i: int) -> int:
        """Whether an evening is not as it was."""
        return 2 * self.n + 3 * len(self.misses) + i

    def _of(self, i: int) -> list[tuple[int, Offer]]:
        return [(k, offer) for k, (own, offer) in enumerate(self.pairs) if own == i]

    def _evening(self, i: int) -> None:
        need, own = self.needs[i], self._of(i)
        clock = {k: offer.around_min for k, offer in own} | {self.n + k: offer.bout_min for k, offer in own}
        self.rows.append((clock, -np.inf, need.minutes))
        self.rows.append(({k: 1.0 for k, _ in own}, need.fewest, need.most))
        for theme in need.themes:
            self.rows.append(({k: 1.0 for k, offer in own if offer.purpose == theme}, 1, np.inf))
        if need.holding:
            self.rows.append(({k: 1.0 for k, offer in own if offer in need.holding}, 1, np.inf))
        for game in dict.fromkeys(offer.game for _, offer in own):
            self.rows.append(({k: 1.0 for k, offer in own if offer.game == game}, -np.inf, 1))
        for m, (day, measure) in enumerate(self.misses):
            if day != i:
                continue
            gives = {self.n + k: offer.each.get(measure, 0.0) for k, offer in own}
            one, band = scale(need, measure), need.bands[measure]
            gives = {k: value / one for k, value in (clock if measure == "minutes" else gives).items()}
            low, high, middle = (
                (end - need.start.get(measure, 0.0)) / one for end in (band.low, band.high, band.middle)
            )
            self.rows.append((gives | {self._under(m): 1.0}, low, np.inf))
            self.rows.append((gives | {self._over(m): -1.0}, -np.inf, high))
            self.rows.append((gives | {self._aside(m): 1.0}, middle, np.inf))
            self.rows.append((gives | {self._aside(m): -1.0}, -np.inf, middle))

    def _variety(self, times_a_week: int) -> None:
        for game in dict.fromkeys(offer.game for _, offer in self.pairs):
            same = {k: 1.0 for k, (_, offer) in enumerate(self.pairs) if offer.game == game}
            self.rows.append((same, -np.inf, times_a_week))

    def hold_to(self, before: Evenings, at_most: float) -> None:
        """Ask for the fewest evenings that are not as they were, then for the fewest blocks that are new, no further off the bands
        than `at_most`."""
        missed = {j: self.costs[j] for j in range(2 * self.n, self._touched(0))}
        self.rows.append((missed, -np.inf, at_most))
        old = [{(one.offer.key, one.offer.people) for one in evening} for evening in before]
        for k, (i, offer) in enumerate(self.pairs):
            self.costs[k] += 0.0 if (offer.key, offer.people) in old[i] else CHANGED
            was, touched = float(sum(one.bouts for one in before[i] if one.offer == offer)), self._touched(i)
            self.rows.append(({self.n + k: 1.0, touched: -float(offer.most)}, -np.inf, was))
            self.rows.append(({self.n + k: 1.0, touched: float(offer.most)}, was, np.inf))
        for i, need in enumerate(self.needs):
            self.costs[self._touched(i)] = TOUCHED
            if any(one.offer not in need.offers for one in before[i]):
                self.rows.append(({self._touched(i): 1.0}, 1.0, 1.0))

    def stay_with(self, before: Evenings, found: Evenings) -> None:
        """Leave the evenings of `found` that are as they were `before` so, and have no more new blocks on the others than it."""
        old = [{(one.offer.key, one.offer.people) for one in evening} for evening in before]
        for i, evening in enumerate(found):
            if evening == before[i]:
                self.fix(found, i)
            own = {k: 1.0 for k, offer in self._of(i) if (offer.key, offer.people) not in old[i]}
            count = sum((one.offer.key, one.offer.people) not in old[i] for one in evening)
            self.rows.append((own, -np.inf, float(count)))

    def fix(self, evenings: Evenings, only: int | None = None) -> None:
        """Allow these evenings alone; `only`: this one of them, and all of the others."""
        pairs = [(k, i, offer) for k, (i, offer) in enumerate(self.pairs) if only in (None, i)]
        for k, i, offer in pairs:
            count = sum(one.bouts for one in evenings[i] if one.offer == offer)
            self.rows.append(({k: 1.0}, float(count > 0), float(count > 0)))
            self.rows.append(({self.n + k: 1.0}, float(count), float(count)))

    def solved(self) -> Evenings | None:
        """The best plan; None where there is none."""
        from scipy.optimize import Bounds, LinearConstraint, milp
        from scipy.sparse import csr_array

        values, at, lines = [], [], []
        for line, (row, _, _) in enumerate(self.rows):
            values += list(row.values())
            at += list(row)
            lines += [line] * len(row)
        matrix = csr_array((values, (lines, at)), shape=(len(self.rows), self.size))
        found = milp(
            self.costs,
            integrality=np.array([1] * (2 * self.n) + [0] * (3 * len(self.misses)) + [1] * len(self.needs) + [0]),
            bounds=Bounds(self._least(), self._most()),
            constraints=LinearConstraint(matrix, [low for _, low, _ in self.rows], [high for _, _, high in self.rows]),
            options={"mip_rel_gap": GAP, "node_limit": NODES},
        )
        if found.x is None:
            return None
        bouts = np.round(found.x[self.n : 2 * self.n]).astype(int)
        return tuple(
            tuple(Taken(offer, int(bouts[k])) for k, offer in self._of(i) if bouts[k]) for i in range(len(self.needs))
        )

    def _least(self) -> np.ndarray:
        least = np.zeros(self.size)
        least[-1] = 1
        return least

    def _most(self) -> np.ndarray:
        most = np.full(self.size, np.inf)
        most[: self.n] = 1
        most[self._touched(0) :] = 1
        most[-1] = 1
        most[self.n : 2 * self.n] = [offer.most for _, offer in self.pairs]
        return most
