"""How far, how fast, how sharp: external load, exactly, from the motion segments of a bout.

A segment is looked at along its acceleration (`sim.trajectory.Course`): the velocity has a part p across it, which never
changes, and a part ``u = u0 + |a| g1`` along it, which only grows.  Everything follows from that:

* the speed is ``sqrt(p^2 + u^2)``, so it is above c before one instant and after another, never in between, and
  it is greatest at one end of the segment;
* the rate of change of the speed is ``|a| exp(-k s) u / sqrt(p^2 + u^2)``, so the player speeds up by more than
  c in one interval at most, and slows down by more than c in one interval at most;
* the length of the path has a closed form: for k = 0 (a curve of constant acceleration) from square roots and a
  logarithm, arranged so that nearly straight and nearly steady runs lose no digits; for k > 0 the run is straight.

An *effort* is an unbroken stretch above a threshold that lasts at least a minimum duration; it may go on over
consecutive segments of the same player.  Its time and distance count only when it is long enough, and they belong
to the role the player had when it began.  A *speed zone* takes every stretch between two speeds, however short.  Segments
with k > 0 must be straight (v parallel to a); anything else is refused.
"""

from __future__ import annotations

import math
from typing import NamedTuple

import numpy as np

from sim.compiled import njit, records
from sim.measures.power import turns
from sim.measures.thresholds import Thresholds
from sim.trajectory import Course, along_after, course_of, distance_gain, faded, seconds_until

LOADS = (
    "distance_m",
    "high_speed_s",
    "high_speed_m",
    "high_speed_efforts",
    "sprint_s",
    "sprint_m",
    "sprint_efforts",
    "accelerations",
    "decelerations",
    "walk_m",
    "jog_m",
    "run_m",
    "high_speed_band_m",
    "sprint_band_m",
    "turns",
    "energy_j_kg",
)
WALK, TURNS, ENERGY = LOADS.index("walk_m"), LOADS.index("turns"), LOADS.index("energy_j_kg")
HIGH_SPEED, SPRINT, SPEEDING_UP, SLOWING_DOWN = range(4)
"""The kinds of effort; the first two have a time and a distance, the others are counted alone."""
FIRST_COLUMNS = tuple(LOADS.index(name) for name in ("high_speed_s", "sprint_s", "accelerations", "decelerations"))
STRAIGHT_MPS = 1e-6  # speed across the acceleration that still counts as a straight run
SAME_S = 1e-9  # two instants closer than this are one


class Efforts(NamedTuple):
    """The efforts of a bout while they are counted.

    going    [kind, 3]: seconds, metres and role at the start of the effort that is going on (0 s: none)
    least_s  [kind]: how long an effort has to last
    column   [kind]: the first of its columns in `out`
    out      [player, role, LOADS]: where it is counted
    """

    going: np.ndarray
    least_s: np.ndarray
    column: np.ndarray
    out: np.ndarray


class Stretch(NamedTuple):
    """A part of a segment of `whole_s` seconds: from `start_s` to `stop_s`, `metres` long."""

    start_s: float
    stop_s: float
    whole_s: float
    metres: float


@njit(cache=True)
def arc(course: Course, d: float) -> float:
    """Length of the path in the first d seconds of a course with rate 0 that never slows down (along >= 0)."""
    p, u, a = course.across, course.along, course.push
    w = u + a * d
    r0 = math.sqrt(p * p + u * u)
    r1 = math.sqrt(p * p + w * w)
    if r0 + r1 == 0.0:
        return 0.0
    bend = (u + w) / (r0 + r1)
    length = 0.5 * d * (r1 + u * bend)
    if p > 1e-12:  # below, the term is far below rounding, and its quotient may not be a number
        if a * d > 1e-12 * (u + r0):
            length += 0.5 * p * p * math.log1p(a * d * (1.0 + bend) / (u + r0)) / a
        else:
            length += 0.5 * p * p * d * (1.0 + bend) / (u + r0)
    return length


@njit(cache=True)
def straight(course: Course, d: float) -> float:
    """Length of a straight path in the first d seconds, where the speed along keeps its sign."""
    return abs(course.along * d + course.push * distance_gain(course.rate, d))


@njit(cache=True)
def later(course: Course, along: float, s: float) -> Course:
    """The rest of a course after s seconds, when the speed along is `along`."""
    return Course(course.across, along, course.push * faded(course.rate, s), course.rate)


@njit(cache=True)
def path(course: Course, start: float, stop: float) -> float:
    """Length of the path (m) between the seconds start and stop of a course."""
    if stop <= start:
        return 0.0
    d = stop - start
    if course.push == 0.0:
        return math.sqrt(course.across * course.across + course.along * course.along) * d
    rest = later(course, along_after(course, start), start)
    turn = seconds_until(rest, 0.0) if rest.along < 0.0 else 0.0
    if rest.rate > 0.0:
        if turn <= 0.0 or turn >= d:
            return straight(rest, d)
        return straight(rest, turn) + straight(later(rest, 0.0, turn), d - turn)
    if turn <= 0.0:
        return arc(rest, d)
    if turn >= d:  # slowing down all the way: the same curve run backwards
        return arc(Course(rest.across, -(rest.along + rest.push * d), rest.push, 0.0), d)
    forth = Course(rest.across, 0.0, rest.push, 0.0)
    return arc(forth, turn) + arc(forth, d - turn)


@njit(cache=True)
def fast(course: Course, d: float, c: float) -> tuple[float, float]:
    """The speed is above c from 0 to the first number and from the second to d (0 and d: nowhere; equal: all along)."""
    p, u = course.across, course.along
    if p > c:
        return d, d
    side = math.sqrt(c * c - p * p)
    if course.push == 0.0:
        if abs(u) > side:
            return d, d
        return 0.0, d
    before = min(max(seconds_until(course, -side), 0.0), d) if u < -side else 0.0
    after = min(max(seconds_until(course, side), 0.0), d)
    return before, after


@njit(cache=True)
def pushing(course: Course, d: float, c: float) -> float:
    """Until when, of d seconds, the push is above c m/s2 (which it is at the start)."""
    return d if course.rate == 0.0 else min(d, math.log(course.push / c) / course.rate)


@njit(cache=True)
def quickening(course: Course, d: float, c: float) -> tuple[float, float]:
    """From when to when the speed grows by more than c m/s2 (equal: never)."""
    a = course.push
    if a <= c:
        return 0.0, 0.0
    stop = pushing(course, d, c)
    side = c * course.across / math.sqrt(a * a - c * c)
    start = max(seconds_until(course, side), 0.0)
    return (start, stop) if start < stop else (0.0, 0.0)


@njit(cache=True)
def slowing(course: Course, d: float, c: float) -> float:
    """The speed falls by more than c m/s2 from 0 until this second (0: never)."""
    a = course.push
    if a <= c:
        return 0.0
    side = c * course.across / math.sqrt(a * a - c * c)
    return min(max(seconds_until(course, -side), 0.0), pushing(course, d, c))


@njit(cache=True)
def end_effort(efforts: Efforts, kind: int, player: int) -> None:
    """End the effort of one kind that is going on, if any: count it if it lasted long enough."""
    seconds, metres = efforts.going[kind, 0], efforts.going[kind, 1]
    if seconds > 0.0:
        out = efforts.out[player, int(efforts.going[kind, 2])]
        column = efforts.column[kind]
        if seconds >= efforts.least_s[kind] - SAME_S:
            if kind <= SPRINT:
                out[column] += seconds
                out[column + 1] += metres
                out[column + 2] += 1.0
            else:
                out[column] += 1.0
        efforts.going[kind, 0] = 0.0
        efforts.going[kind, 1] = 0.0


@njit(cache=True)
def end_all(efforts: Efforts, player: int) -> None:
    """End all efforts of a player."""
    for kind in range(len(efforts.least_s)):
        end_effort(efforts, kind, player)


@njit(cache=True)
def go_on(efforts: Efforts, kind: int, player: int, role: int, part: Stretch) -> None:
    """Add a stretch of a segment to the effort of this kind, which ends where the rest of the segment is none."""
    if part.stop_s - part.start_s <= 0.0:
        return
    if part.start_s > SAME_S:
        end_effort(efforts, kind, player)
    if efforts.going[kind, 0] == 0.0:
        efforts.going[kind, 2] = role
    efforts.going[kind, 0] += part.stop_s - part.start_s
    efforts.going[kind, 1] += part.metres
    if part.stop_s < part.whole_s - SAME_S:
        end_effort(efforts, kind, player)


@njit(cache=True)
def add_zones(course: Course, d: float, whole: float, cuts: np.ndarray, out: np.ndarray) -> float:
    """Add the metres of a segment of length `whole` to the zones above walking; returns what is below all of them."""
    above = 0.0  # in all faster zones
    for zone in range(cuts.shape[0] - 1, -1, -1):
        before, after = fast(course, d, cuts[zone])
        length = whole
        if before < after:
            length = path(course, 0.0, before) + path(course, after, d)
        out[WALK + 1 + zone] += max(length - above, 0.0)
        above = max(length, above)
    return whole - above


@njit(cache=True)
def add_fast_run(efforts: Efforts, kind: int, player: int, role: int, course: Course, d: float, c: float) -> None:
    """What a segment of d seconds adds to the fast runs (above c m/s) of one kind."""
    before, after = fast(course, d, c)
    if before >= after and before > 0.0:  # above all along
        before, after = d, d
    if before > 0.0:
        go_on(efforts, kind, player, role, Stretch(0.0, before, d, path(course, 0.0, before)))
    if before == 0.0 and after > SAME_S:
        end_effort(efforts, kind, player)
    if after < d:
        go_on(efforts, kind, player, role, Stretch(after, d, d, path(course, after, d)))


@njit(cache=True)
def add_changes(efforts: Efforts, player: int, role: int, course: Course, d: float, c: float) -> None:
    """What a segment of d seconds adds to the changes of speed by more than c m/s2."""
    start, stop = quickening(course, d, c)
    if start == stop:
        end_effort(efforts, SPEEDING_UP, player)
    else:
        go_on(efforts, SPEEDING_UP, player, role, Stretch(start, stop, d, 0.0))
    stop = slowing(course, d, c)
    if stop <= 0.0:
        end_effort(efforts, SLOWING_DOWN, player)
    else:
        go_on(efforts, SLOWING_DOWN, player, role, Stretch(0.0, stop, d, 0.0))


@njit(cache=True)
def top_speed(course: Course, d: float) -> float:
    """The highest speed (m/s) within d seconds."""
    p, u = course.across, course.along
    return math.sqrt(p * p + max(u * u, along_after(course, d) ** 2))


@njit(cache=True, makes_arrays=True)
def loads(rows: np.recarray, cuts: np.ndarray, limits: np.ndarray, out: np.ndarray, peaks: np.ndarray) -> int:
    """Fill `out[player, role, LOADS]` (but turns and energy) and `peaks[player, role]`; rows in order of player, then time.

    `cuts[player, zone]` are speeds, `limits` the least duration of a fast run, the change of speed and its duration.
    Returns the index of the first row with k > 0 that is not straight, or -1.
    """
    least_s = np.array([limits[0], limits[0], limits[2], limits[2]])
    efforts = Efforts(np.zeros((4, 3)), least_s, np.array(FIRST_COLUMNS), out)
    player = -1
    end = -1.0
    for i in range(rows.shape[0]):
        row = rows[i]
        now = row.player
        if now != player or abs(row.t0 - end) > SAME_S:
            end_all(efforts, player)
        player = now
        end = row.t1
        d = row.t1 - row.t0
        if d <= 0.0:
            continue
        role = row.role
        course = course_of(row)
        if course.rate != 0.0 and course.push > 0.0:
            if course.rate < 0.0 or course.across > STRAIGHT_MPS:
                return i
            course = Course(0.0, course.along, course.push, course.rate)
        whole = path(course, 0.0, d)
        out[player, role, 0] += whole
        below = add_zones(course, d, whole, cuts[player], out[player, role])
        out[player, role, WALK] += below
        peaks[player, role] = max(peaks[player, role], top_speed(course, d))
        for kind in range(2):
            add_fast_run(efforts, kind, player, role, course, d, cuts[player, kind + 2])
        add_changes(efforts, player, role, course, d, limits[1])
    end_all(efforts, player)
    return -1


def in_order(segments: np.ndarray) -> np.recarray:
    """Segments by player, then time."""
    return records(segments[np.lexsort((segments["t0"], segments["player"]))])


def counted(
    rows: np.recarray, spent: np.ndarray, players: int, roles: int, thresholds: Thresholds, tops_mps: np.ndarray | None
) -> tuple[np.ndarray, np.ndarray]:
    """(loads[player, role, LOADS], peak speed[player, role] in m/s) of one bout's segments in order.

    `spent` are their energies (J/kg); `tops_mps` the players' top speeds, needed where the thresholds are shares of them.
    """
    out = np.zeros((players, roles, len(LOADS)))
    peaks = np.zeros((players, roles))
    cuts = thresholds.cuts_mps(np.zeros(players) if tops_mps is None else np.asarray(tops_mps))
    if not (cuts > 0).all():
        raise ValueError("thresholds that are shares of top speed need the players' top speeds")
    wrong = loads(rows, cuts, thresholds.least(), out, peaks)
    if wrong >= 0:
        raise ValueError(f"segments[{wrong}] must be straight where its rate is not 0 (got {rows[wrong]})")
    out[:, :, TURNS] = turns(rows, players, roles, thresholds.turn_degrees, thresholds.turn_s, thresholds.turn_mps)
    np.add.at(out[:, :, ENERGY], (rows["player"], rows["role"]), spent)
    return out, peaks
