"""What one bout adds to each row of `tracking.csv`, as sums: keepers' own running, passes and receptions are left out.

A quantity is a mean, the sum of the first column over that of the second; only the spread of pace (P21) is the standard deviation
of residuals, from six sums.  "Own ball" is from a side's control, or the restart served to it, until its loss.
"""

from __future__ import annotations

import math
from bisect import bisect_left
from collections.abc import Callable, Iterator, Mapping
from typing import NamedTuple

import numpy as np

from sim.evidence.tracking.samples import STEP_S, Samples, changes, rolling, spells
from sim.measures.event_reducer import LoggedEvent
from sim.pitch.log import EventKind

KMH = 3.6
SPELL_S = 0.8  # the shortest spell of a carrier that is looked at
AFTER_RECEPTION_S, STAND_OFF_S = 0.5, 1.2
STEADY_MPS, STEADY_M = 0.5, 6.0  # a gap that changes more slowly, and is smaller, is kept
PUSH_S = 0.12  # to either side of the kick
AFTER_LOSS_S = 4.0
ROUNDING_S = 1e-6
SLIDES_MPS, ROLLS_MPS = 8.0, (4.0, 6.0)
FREE_M = 3.0
GROUND_M = (5.0, 30.0)  # lengths of passes that are looked at
ENDS = (EventKind.RECEIVE, EventKind.OUT, EventKind.DEAD, EventKind.DEFLECT, EventKind.RELEASE, EventKind.SHOT)

Sums = tuple[float, ...]
Pairs = Iterator[tuple[float, float]]


class Pass(NamedTuple):
    """A pass of an outfield player: its release, its reception by a mate (None), whether it went over a line untouched, and when
    it was over (s)."""

    release: LoggedEvent
    receive: LoggedEvent | None
    over: bool
    end: float


def total(pairs: Pairs) -> Sums:
    """The sum of each of both."""
    found = np.array(list(pairs), dtype=float).reshape(-1, 2).sum(axis=0)
    return float(found[0]), float(found[1])


def owned(seen: Samples, whose: str) -> np.ndarray:
    """[player, sample]: whether the ball is "own", "theirs" or "dead" for an outfield player."""
    own = seen.sides[:, None] == seen.owner[None, :]
    dead = (seen.owner == "")[None, :]
    mask = {"own": own & ~dead, "theirs": ~own & ~dead, "dead": np.broadcast_to(dead, own.shape)}[whose]
    return mask & seen.outfield[:, None]


def distance(whose: str) -> Callable[[Samples], Sums]:
    """Metres a minute."""
    return lambda seen: (60.0 * float(seen.speed[owned(seen, whose)].sum()), float(owned(seen, whose).sum()))


def time_between(whose: str, low_kmh: float, high_kmh: float) -> Callable[[Samples], Sums]:
    """Per cent of the time between two speeds."""

    def share(seen: Samples) -> Sums:
        speed = seen.speed[owned(seen, whose)] * KMH
        return 100.0 * float(((speed >= low_kmh) & (speed < high_kmh)).sum()), float(len(speed))

    return share


def changes_a_minute(sign: float) -> Callable[[Samples], Sums]:
    """Rises (1) or falls (-1) of speed that begin while the ball is in play."""

    def count(seen: Samples) -> Sums:
        live = seen.owner != ""
        found = sum(int(live[changes(seen.speed[i], sign)].sum()) for i in np.flatnonzero(seen.outfield))
        return float(found), float(live.sum() * seen.outfield.sum()) * STEP_S / 60.0

    return count


def speed_at(seen: Samples, i: int, t: float) -> float:
    """m/s."""
    return math.hypot(*seen.paths[i].at(t)[2:])


def receptions(seen: Samples) -> Iterator[tuple[int, float]]:
    """(player, when) of every pass that an outfield player receives."""
    for event in seen.events:
        if event.kind == EventKind.RECEIVE and seen.outfield[seen.number[event.player]]:
            yield seen.number[event.player], event.t


def reception_speed(seen: Samples) -> Sums:
    """The receiver's speed, km/h."""
    return total((KMH * speed_at(seen, i, t), 1.0) for i, t in receptions(seen))


def speed_after_reception(seen: Samples) -> Sums:
    """His speed half a second later over that at reception (means)."""
    end = seen.log.duration_s - AFTER_RECEPTION_S
    return total(
        (speed_at(seen, i, t + AFTER_RECEPTION_S), speed_at(seen, i, t)) for i, t in receptions(seen) if t < end
    )


def carrying_speed(seen: Samples) -> Sums:
    """The mean speed of a carrier, a spell counting once, km/h."""

    def each() -> Pairs:
        for i, start, stop in spells(seen.log):
            if stop - start >= SPELL_S and seen.outfield[i]:
                first, last = np.searchsorted(seen.times, (start, stop))
                if last > first:
                    yield KMH * float(seen.speed[i, first:last].mean()), 1.0

    return total(each())


def towards(seen: Samples, i: int, j: int, t: float, relative: bool) -> float:
    """Speed of player i towards player j, or (relative) the rate at which their gap closes, m/s."""
    xi, yi, ui, vi = seen.paths[i].at(t)
    xj, yj, uj, vj = seen.paths[j].at(t)
    gap = math.hypot(xj - xi, yj - yi) or math.inf
    du, dv = (ui - uj, vi - vj) if relative else (ui, vi)
    return (du * (xj - xi) + dv * (yj - yi)) / gap


def nearest_opponent(seen: Samples, i: int, t: float) -> int:
    """The nearest outfield opponent of a player."""
    x, y, *_ = seen.paths[i].at(t)
    return seen.nearest(seen.opponents(seen.sides[i]), x, y, t)[0]


def closing_at_reception(seen: Samples) -> Sums:
    """How fast the gap between the receiver and his nearest opponent closes, m/s."""
    return total((towards(seen, nearest_opponent(seen, i, t), i, t, True), 1.0) for i, t in receptions(seen))


def closing_after_reception(seen: Samples) -> Sums:
    """That opponent's own speed towards the receiver 1.2 s later, m/s."""
    end = seen.log.duration_s - STAND_OFF_S
    return total(
        (towards(seen, nearest_opponent(seen, i, t), i, t + STAND_OFF_S, False), 1.0)
        for i, t in receptions(seen)
        if t < end
    )


def gap_kept(seen: Samples) -> Sums:
    """Metres between a carrier and his nearest opponent while they hardly change, below 6 m."""

    def each() -> Pairs:
        for i, start, stop in spells(seen.log):
            if not seen.outfield[i]:
                continue
            for t in np.arange(start, stop, 5 * STEP_S):
                x, y, *_ = seen.paths[i].at(t)
                who, gap = seen.nearest(seen.opponents(seen.sides[i]), x, y, t)
                if gap < STEADY_M and abs(towards(seen, who, i, t, True)) < STEADY_MPS:
                    yield gap, 1.0

    return total(each())


def passes_of(seen: Samples) -> Iterator[Pass]:
    """Passes of outfield players within `GROUND_M`, as they were meant."""
    flying: LoggedEvent | None = None
    touched = False
    for event in seen.events:
        if flying is not None and event.kind == EventKind.TOUCH:  # whether it is a reception stands behind it
            touched = True
        elif flying is not None and event.kind in ENDS:
            received = event.kind == EventKind.RECEIVE
            yield Pass(flying, event if received else None, event.kind == EventKind.OUT and not touched, event.t)
            flying = None
        if event.kind == EventKind.RELEASE and seen.outfield[seen.number[event.player]]:
            flying = event if GROUND_M[0] <= event.value < GROUND_M[1] else None
            touched = False


def arrival(low_m: float, high_m: float) -> Callable[[Samples], Sums]:
    """Speed of the ball as a pass of this length is received, m/s."""

    def each(seen: Samples) -> Pairs:
        ends = {round(float(times[-1]), 6): float(speed[-1]) for times, speed in rolling(seen.log)}
        for one in passes_of(seen):
            if one.receive is not None and low_m <= one.receive.value < high_m:
                speed = ends.get(round(one.receive.t, 6))
                if speed is not None:
                    yield speed, 1.0

    return lambda seen: total(each(seen))


def slowing(low_mps: float, high_mps: float) -> Callable[[Samples], Sums]:
    """Deceleration of the ball of passes between two speeds, m/s2; touches and deflections are no passes, as in the source."""

    def each(seen: Samples) -> Pairs:
        pieces = rolling(seen.log)
        starts = [float(times[0]) for times, _ in pieces]
        for one in passes_of(seen):
            first, last = (bisect_left(starts, t - ROUNDING_S) for t in (one.release.t, one.end))
            for times, speed in pieces[first:last]:
                within = (speed[1:] >= low_mps) & (speed[:-1] < high_mps)
                yield float((speed[:-1] - speed[1:])[within].sum()), float(np.diff(times)[within].sum())

    return lambda seen: total(each(seen))


def pace(seen: Samples) -> Sums:
    """n, x, y, xx, xy, yy of x the logarithm of a received pass's length and y that of its mean speed, length over time.

    Not of its launch: the source reads 0.28 off an engine whose passes were meant with a spread of 0.28 in mean speed, where
    their launch had 0.24.
    """
    points = [
        (math.log(one.receive.value), math.log(one.receive.value / (one.receive.t - one.release.t)))
        for one in passes_of(seen)
        if one.receive is not None and one.receive.value > 0.0
    ]
    x, y = np.array(points, dtype=float).reshape(-1, 2).T
    return float(len(x)), *(float(one.sum()) for one in (x, y, x * x, x * y, y * y))


def over_the_line(seen: Samples) -> Sums:
    """Per cent of passes that go over a line untouched."""
    return total((100.0 * one.over, 1.0) for one in passes_of(seen))


def completion(low_m: float, high_m: float) -> Callable[[Samples], Sums]:
    """Share of passes that a mate receives, with nobody within 3 m of the passer or of whom it is meant for."""

    def each(seen: Samples) -> Pairs:
        for one in passes_of(seen):
            release = one.release
            if release.cause == "free" and low_m <= release.value < high_m and release.other:
                target = seen.number[release.other]
                x, y, *_ = seen.paths[target].at(release.t)
                if seen.nearest(seen.opponents(seen.sides[target]), x, y, release.t)[1] > FREE_M:
                    yield float(one.receive is not None), 1.0

    return lambda seen: total(each(seen))


def push_at_the_kick(seen: Samples) -> Sums:
    """How the defender nearest to the target of a pass changes his velocity towards it as it is struck, m/s2."""

    def each() -> Pairs:
        for one in passes_of(seen):
            t = one.release.t
            if not one.release.other or not PUSH_S <= t <= seen.log.duration_s - PUSH_S:
                continue
            target = seen.number[one.release.other]
            x, y, *_ = seen.paths[target].at(t)
            who, gap = seen.nearest(seen.opponents(seen.sides[target]), x, y, t)
            px, py, *_ = seen.paths[who].at(t)
            _, _, u0, v0 = seen.paths[who].at(t - PUSH_S)
            _, _, u1, v1 = seen.paths[who].at(t + PUSH_S)
            if gap > 0.0:
                yield ((u1 - u0) * (x - px) + (v1 - v0) * (y - py)) / gap / (2 * PUSH_S), 1.0

    return total(each())


def winner_speed(seen: Samples) -> Sums:
    """Of an outfield player as he wins the ball, km/h."""
    return total(
        (KMH * speed_at(seen, seen.number[event.player], event.t), 1.0)
        for event in seen.events
        if event.kind == EventKind.WIN and seen.outfield[seen.number[event.player]]
    )


def losers_speed(seen: Samples) -> Sums:
    """Of those who have lost the ball to an opponent, 4 s later, if it is in play then, km/h."""

    def each() -> Pairs:
        for event in seen.events:
            later = event.t + AFTER_LOSS_S
            if event.kind == EventKind.LOSS and event.other and later < seen.times[-1]:
                at = int(np.searchsorted(seen.times, later))
                if seen.owner[at]:
                    own = (seen.sides == event.side) & seen.outfield
                    yield KMH * float(seen.speed[own, at].sum()), float(own.sum())

    return total(each())


ROWS: Mapping[str, Callable[[Samples], Sums]] = {
    "P01": distance("own"),
    "P02": distance("theirs"),
    "P03": distance("dead"),
    "P04": time_between("own", 0.0, 0.5 * KMH),
    "P05": time_between("own", 0.0, 7.0),
    "P06": time_between("own", 14.4, math.inf),
    "P07": time_between("theirs", 0.0, 7.0),
    "P08": time_between("theirs", 14.4, math.inf),
    "P09": changes_a_minute(1.0),
    "P10": changes_a_minute(-1.0),
    "P11": reception_speed,
    "P12": speed_after_reception,
    "P13": carrying_speed,
    "P14": closing_at_reception,
    "P15": closing_after_reception,
    "P16": gap_kept,
    "P17": arrival(10.0, 15.0),
    "P18": arrival(15.0, 20.0),
    "P19": slowing(SLIDES_MPS, math.inf),
    "P20": slowing(*ROLLS_MPS),
    "P21": pace,
    "P22": over_the_line,
    "P23": completion(8.0, 12.0),
    "P24": completion(10.0, 15.0),
    "P25": completion(15.0, 20.0),
    "P26": completion(20.0, 30.0),
    "P27": push_at_the_kick,
    "P28": winner_speed,
    "P29": losers_speed,
}
"""What each row of the table counts."""
SPREAD = ("P21",)
