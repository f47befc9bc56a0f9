"""`adjust`: the card for the grass.  Which lever first, what else it moves, and when to pull it.

Every lever is this very game with one small change, played over the same sessions as the game as it is (`compare`), so that
each effect is a paired difference with its interval; nothing about a lever is known beforehand.  Whether an effect is
called clear is Holm's word, as in `compare`: over the aim in all levers, which is the question, and apart from it over
everything else in all levers, which is what one looks at besides.

When to pull a lever comes from the game's own luck: the lowest and highest tenth of what two bouts in a row give (more
bouts where two often give nothing at all).  The lever
named there is the strongest in the right direction or, for a goal that is a number, the one that brings such bouts
nearest to it.

Players on reduced load are looked after first: a lever is refused unless, for each of them, the interval of what it does to
distance, high-speed distance and accelerations lies at nothing or below.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from sim import __version__
from sim.assumptions import NONE, Assumptions
from sim.errors import InputError
from sim.evidence.published import domains
from sim.experiments.adjusted import FORMAT, Asked, Card, Effect, Refusal, Spells, Trigger
from sim.experiments.cautions import cautions_for
from sim.experiments.compare import common_numbers, compared, condition_of
from sim.experiments.comparison import Row
from sim.experiments.drawer import Drawer, play_missing
from sim.experiments.executors import Workers, too_small
from sim.experiments.key_measures import ALL_WORTHWHILE, aims_of, key_measures
from sim.experiments.levers import LeftOut, Lever
from sim.experiments.paired import paired_difference
from sim.experiments.provenance import provenance_of
from sim.experiments.reduced import refusals_of
from sim.experiments.replicate import Progress, Replication, sessions_for
from sim.experiments.sessions import SessionPlayer, session_bouts
from sim.experiments.stopping_rule import MINIMUM, needed, next_look
from sim.experiments.sums import Key, Sums
from sim.game.model import Game
from sim.measures.intervals import ratio_interval, t_quantile
from sim.measures.session_counts import SessionCounts, session_of
from sim.measures.sessions import Sessions
from sim.measures.summary import summarise

MULTIPLICITY = (
    "clear: p-value adjusted by Holm's method below 0.05, once over the aim in all levers and once over all other measures in "
    "all levers; each interval is 95 % on its own, and a size that matters or does not is read off that interval"
)
SPELL = 2  # bouts in a row
TENTH = 0.1
NEXT = 3  # levers named for one trigger at most
GOALS = ("more", "less")


def adjust(  # noqa: PLR0913 - the public face: what may be asked for by keyword
    game: Game,
    aim: tuple[str, str, float | str],
    levers: Sequence[tuple[Lever, Game]],
    left_out: Sequence[LeftOut] = (),
    bouts: int = 80,
    seed: int = 1,
    workers: Workers = None,
    progress: Progress | None = None,
    changes: Sequence[str] = (),
    precision: float | None = None,
    budget: int = 8000,
    population: str | None = None,
    session: SessionPlayer = session_bouts,
    assumptions: Assumptions = NONE,
    drawer: Drawer | None = None,
) -> Card:
    """The card for `aim` = (measure, scope, goal); goal: a number, "more" or "less".

    Whole sessions of the game and of every lever until there are at least `bouts` bouts of each; with a `precision` (a share
    of the game's value of the aim) until every effect is known to within it, or `budget` bouts of all together are spent.
    Ctrl-C keeps the sessions that all have finished; the rest as in `Replication`.  The same bits for any number of workers.
    """
    measure, scope, goal = aim
    key = measure, scope
    games = [game, *(one for _, one in levers)]
    run = Replication(seed, workers, progress, session, assumptions, drawer)
    check(games, key, bouts, run, precision, budget)
    played = Conditions(games, run)
    first = max(2, sessions_for(game, bouts))
    asked = None
    if precision is None:
        played.extend(first)
    else:
        asked = until_told(played, key, first, precision, budget)
    conditions = played.sums(key)
    base = conditions[0].whole[key]
    if base.bottom.sum() <= 0:
        raise InputError(f"{measure} must come up in this game (got none of it)", "--aim")
    rows = [rows for rows, _ in compared(conditions[0], conditions[1:], ALL_WORTHWHILE, key)]
    effects = ranked(
        [
            effect_of(lever, key, one, refusals_of(conditions[0], condition))
            for (lever, _), one, condition in zip(levers, rows, conditions[1:], strict=True)
        ],
        direction(goal, ratio_interval(base.top, base.bottom)),
    )
    mean, low, high = ratio_interval(base.top, base.bottom)
    spells = spells_of(conditions[0], key, goal != GOALS[1])
    numbers = conditions[0].sessions
    return Card(
        format=FORMAT,
        game=condition_of(game, changes),
        measure=measure,
        scope=scope,
        unit=base.unit,
        clock=base.clock,
        definition=base.definition,
        goal=goal,
        population=population,
        seed=seed,
        sessions=len(numbers),
        bouts=sum(counts.bouts for counts in numbers),
        version=__version__,
        mean=mean,
        low=low,
        high=high,
        effects=effects,
        left_out=tuple(left_out),
        spells=spells,
        triggers=triggers_of(goal, spells, effects),
        start=start_of(goal, (mean, low, high), effects),
        precision=asked,
        multiplicity=MULTIPLICITY,
        cautions=cautions_for(
            game, summarise(game, numbers, evidence=domains()), numbers[0].thresholds, len(numbers), played.wanted
        ),
        provenance=provenance_of(numbers[0].thresholds, assumptions),
    ).about(game)


def check(games: Sequence[Game], key: Key, bouts: int, run: Replication, share: float | None, budget: int) -> None:
    """Refuse what no card can be made of."""
    problems = too_small(bouts=(bouts, 1), seed=(run.seed, 0), workers=(run.workers, 1))
    if any(key not in aims_of(one) for one in games):
        problems.append(f"aim must be a measure of the game (got {key[0]} for {key[1]})")
    if len(games) < 2:
        problems.append("levers must be at least one (got none)")
    if share is not None:
        if not 0 < share < 1:
            problems.append(f"precision must be a share between 0 and 1 (got {share})")
        least = MINIMUM * sum(one.bouts.count for one in games)
        if budget < least:
            problems.append(f"budget must be at least {least}, {MINIMUM} sessions of every lever (got {budget})")
    if problems:
        raise InputError(problems)


class Conditions:
    """The sessions played so far of the game and of every lever."""

    def __init__(self, games: Sequence[Game], run: Replication):
        self.games, self.run = games, run
        self.sessions: list[dict[int, tuple[SessionCounts, ...]]] = [{} for _ in games]
        self.wanted, self.stopped = 0, False

    def extend(self, wanted: int) -> None:
        """See to it that each has so many sessions; an interruption keeps those that all have finished."""
        before, each = self.wanted, sum(game.bouts.count for game in self.games)
        self.wanted = wanted

        def told(done: int, _: int) -> None:
            if self.run.progress is not None:
                self.run.progress(before * each + done, wanted * each)

        run, numbers = replace(self.run, progress=told), [range(before, wanted)] * len(self.games)
        try:
            found = play_missing(run, self.games, numbers, warm=not before)
        except KeyboardInterrupt:
            found = [{} for _ in self.games]
        for have, more in zip(self.sessions, found, strict=True):
            have |= more
        self.stopped = any(len(have) < wanted for have in self.sessions)
        if len(self.numbers()) < 2:
            raise KeyboardInterrupt

    def numbers(self) -> list[int]:
        """The numbers of the sessions that all have finished."""
        return common_numbers(self.sessions)

    def sums(self, key: Key) -> list[Sums]:
        """The sessions that all have, with the aim beside the key measures."""
        numbers = self.numbers()
        return [
            Sums(game, [have[number] for number in numbers], [key])
            for game, have in zip(self.games, self.sessions, strict=True)
        ]


def until_told(played: Conditions, key: Key, first: int, share: float, budget: int) -> Asked:
    """Sessions until the widest interval of an effect on the aim is narrow enough, or the budget is spent.

    The looks are those of `sim.experiments.stopping_rule`.
    """
    most = budget // sum(game.bouts.count for game in played.games)
    sessions = min(max(MINIMUM, first), most)
    while True:
        played.extend(sessions)
        width = widest(played.sums(key), key)
        narrow = width <= needed(share)
        if narrow or played.stopped or sessions >= most:
            return Asked(share, budget, width if np.isfinite(width) else None, bool(narrow))
        sessions = next_look(sessions, width, share, most)


def widest(conditions: Sequence[Sums], key: Key) -> float:
    """The widest half interval of an effect on the aim, as a share of the aim in the game as it is."""
    a, widths = conditions[0].whole[key], []
    for condition in conditions[1:]:
        b = condition.whole[key]
        found = paired_difference((a.top, a.bottom), (b.top, b.bottom))
        if found is None or not found.first:
            return float("inf")
        widths.append(t_quantile(0.975, found.pairs - 1) * found.error / abs(found.first))
    return max(widths)


def effect_of(lever: Lever, key: Key, rows: Sequence[Row], refusals: tuple[Refusal, ...]) -> Effect:
    """What a lever does: the row of the aim, and the others that clearly move by a size that matters."""
    aim = next(row for row in rows if (row.measure, row.scope) == key)
    others = [row for row in rows if row is not aim and row.verdict == "clear, matters"]
    return Effect(lever, aim, tuple(others), refusals)


def direction(goal: float | str, now: tuple[float, float, float]) -> int:
    """Which way helps: 1 up, -1 down; for a number, towards it."""
    if isinstance(goal, str):
        return 1 if goal == "more" else -1
    return 1 if now[0] <= goal else -1


def ranked(effects: Sequence[Effect], way: int) -> tuple[Effect, ...]:
    """Those that clearly help, those that clearly go the other way, the rest; in each the largest first."""
    place = {way: 0, -way: 1, 0: 2}
    order = sorted(
        range(len(effects)), key=lambda i: (place[effects[i].moves], -abs(effects[i].aim.difference or 0.0), i)
    )
    return tuple(effects[i] for i in order)


def spells_of(condition: Sums, key: Key, something: bool) -> Spells | None:
    """What two bouts in a row give; None where there is nothing to divide by in any.

    `something`: more bouts in a row where a tenth of the pairs gives nothing at all, as nothing is below that.
    """
    count = len(condition.bouts[0])
    shortest = min(SPELL, count)
    found = spells_of_length(condition, key, shortest)
    for length in range(shortest + 1, count + 1):
        if found is None or not something or found.low > 0:
            break
        found = spells_of_length(condition, key, length)
    return found if found is None or found.low > 0 or not something else spells_of_length(condition, key, shortest)


def spells_of_length(condition: Sums, key: Key, length: int) -> Spells | None:
    """The aim over so many bouts in a row, all such spells of all sessions; None where it is defined in none."""
    values, minutes, unit = [], [], condition.whole[key].unit
    for start in range(len(condition.bouts[0]) - length + 1):
        spells = [session_of(bouts[start : start + length]) for bouts in condition.bouts]
        one = key_measures(condition.game, Sessions(spells), [key])[key]
        values.append(one.values)
        minutes.append(one.bottom / 60)
    found = np.concatenate(values)
    found = found[np.isfinite(found)]
    if not len(found):
        return None
    low, high = (float(np.quantile(found, share)) for share in (TENTH, 1 - TENTH))
    return Spells(length, len(found), low, high, float(np.mean(minutes)) if unit == "1/min" else None)


def proposed(effects: Sequence[Effect], way: int) -> list[int]:
    """Places of the levers that clearly move the aim this way and are not refused."""
    return [i for i, one in enumerate(effects) if one.moves == way and not one.refusals]


def triggers_of(goal: float | str, spells: Spells | None, effects: Sequence[Effect]) -> tuple[Trigger, ...]:
    """Below the lowest tenth: what raises it; above the highest: what lowers it; where that is what the goal asks for."""
    if spells is None:
        return ()
    found = []
    for way, value in ((1, spells.low), (-1, spells.high)):
        unwanted = goal == GOALS[way < 0] if isinstance(goal, str) else way * (goal - value) > 0
        possible = value > 0 or way < 0  # nothing is below nought
        if unwanted and possible:
            found.append(Trigger(way > 0, value, tuple(chosen(goal, value, effects, way))))
    return tuple(found)


def chosen(goal: float | str, value: float, effects: Sequence[Effect], way: int) -> list[int]:
    """The levers to name, the best first: one with the players there are before one that takes more of them."""

    def miss(i: int) -> float:
        moved = effects[i].aim.difference or 0.0
        return -abs(moved) if isinstance(goal, str) else abs(value + moved - goal)

    nearer = [i for i in proposed(effects, way) if isinstance(goal, str) or miss(i) < abs(value - goal)]
    found = sorted(nearer, key=lambda i: (miss(i), i))
    same = [i for i in found if effects[i].lever.people <= 0]
    first = same[:1] or found[:1]
    return [*first, *(i for i in found if i not in first)][:NEXT]


def start_of(goal: float | str, now: tuple[float, float, float], effects: Sequence[Effect]) -> int | None:
    """The lever to begin with: brings the game nearest to a number that it surely misses as it is, and nearer than it was."""
    if isinstance(goal, str) or now[1] <= goal <= now[2]:
        return None
    way = direction(goal, now)
    left = {i: abs(second - goal) for i in proposed(effects, way) if (second := effects[i].aim.second) is not None}
    near = [i for i, miss in left.items() if miss < abs(now[0] - goal)]
    return min(near, key=lambda i: (left[i], i), default=None)
