"""How far, how fast, how sharply: running figures, exactly, from the motion segments of a bout.

A segment starts with velocity v and has the acceleration ``a exp(-k s)`` s seconds later, so the velocity is
``v + a g``, with ``g = (1 - exp(-k s))/k`` (k = 0: g = s).  Seen along a, the velocity has a part p across it,
which never changes, and a part ``u = u0 + |a| g`` along it, which only grows.  Everything follows from that:

* the speed is ``sqrt(p^2 + u^2)``, so it is above c before one instant and after another, never in between, and
  it is greatest at one end of the segment;
* the rate of change of the speed is ``|a| exp(-k s) u / sqrt(p^2 + u^2)``, so the player speeds up by more than
  c in one interval at most, and slows down by more than c in one interval at most;
* the length of the path has a closed form: for k = 0 (a curve of constant acceleration) from square roots and a
  logarithm, arranged so that nearly straight and nearly steady runs lose no digits; for k > 0 the run is straight.

An *effort* is an unbroken stretch above a threshold that lasts at least a minimum duration; it may go on over
consecutive segments of the same player.  Its time and distance count only when it is long enough, and they belong
to the role the player had when it began.  A *band* takes every stretch between two speeds, however short.  Segments
with k > 0 must be straight (v parallel to a); anything else is refused.
"""

from __future__ import annotations

import math

import numpy as np

from sim.compiled import njit
from sim.measures.power import energies, rule, turns
from sim.measures.thresholds import ADULT_MEN, Thresholds

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
STRAIGHT_MPS = 1e-6  # speed across the acceleration that still counts as a straight run
STEADY_MPS2 = 1e-9  # an acceleration below this is a leftover of rounding
SAME_S = 1e-9  # two instants closer than this are one


@njit(cache=True)
def gain(k: float, s: float) -> float:
    """g1 = (1 - exp(-k s))/k, and s for k = 0."""
    if k == 0.0:
        return s
    return -math.expm1(-k * s) / k


@njit(cache=True)
def gain_integral(k: float, s: float) -> float:
    """g2 = (s - g1)/k, and s^2/2 for k = 0."""
    y = k * s
    if y < 0.02:  # the series, where the difference would lose digits
        return s * s * (0.5 - y * (1 / 6 - y * (1 / 24 - y * (1 / 120 - y * (1 / 720 - y / 5040)))))
    return (s - gain(k, s)) / k


@njit(cache=True)
def when(u: float, u0: float, a: float, k: float) -> float:
    """Seconds until the speed along the acceleration a > 0 has grown from u0 to u (inf: never)."""
    g = (u - u0) / a
    if k == 0.0:
        return g
    if k * g >= 1.0:
        return math.inf
    return -math.log1p(-k * g) / k


@njit(cache=True)
def arc(p: float, u: float, a: float, d: float) -> float:
    """Length of the path in d seconds, k = 0, speed p across and u along a >= 0, where u >= 0 throughout."""
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
def straight(u: float, a: float, k: float, d: float) -> float:
    """Length of a straight path in d seconds, from the speed u along a, where u keeps its sign."""
    return abs(u * d + a * gain_integral(k, d))


@njit(cache=True)
def path(p: float, u: float, a: float, k: float, start: float, stop: float) -> float:
    """Length of the path between the seconds start and stop of a segment."""
    if stop <= start:
        return 0.0
    d = stop - start
    if a == 0.0:
        return math.sqrt(p * p + u * u) * d
    u = u + a * gain(k, start)
    a = a * math.exp(-k * start)
    turn = when(0.0, u, a, k) if u < 0.0 else 0.0
    if k > 0.0:
        if turn <= 0.0 or turn >= d:
            return straight(u, a, k, d)
        return straight(u, a, k, turn) + straight(0.0, a * math.exp(-k * turn), k, d - turn)
    if turn <= 0.0:
        return arc(p, u, a, d)
    if turn >= d:  # slowing down all the way: the same curve run backwards
        return arc(p, -(u + a * d), a, d)
    return arc(p, 0.0, a, turn) + arc(p, 0.0, a, d - turn)


@njit(cache=True)
def fast(p: float, u: float, a: float, k: float, d: float, c: float) -> tuple[float, float]:
    """The speed is above c from 0 to the first number and from the second to d (0 and d: nowhere; equal: all along)."""
    if p > c:
        return d, d
    side = math.sqrt(c * c - p * p)
    if a == 0.0:
        if abs(u) > side:
            return d, d
        return 0.0, d
    before = min(max(when(-side, u, a, k), 0.0), d) if u < -side else 0.0
    after = min(max(when(side, u, a, k), 0.0), d)
    return before, after


@njit(cache=True)
def quickening(p: float, u: float, a: float, k: float, d: float, c: float) -> tuple[float, float]:
    """From when to when the speed grows by more than c m/s2 (equal: never)."""
    if a <= c:
        return 0.0, 0.0
    stop = d if k == 0.0 else min(d, math.log(a / c) / k)
    side = c * p / math.sqrt(a * a - c * c)
    start = max(when(side, u, a, k), 0.0)
    return (start, stop) if start < stop else (0.0, 0.0)


@njit(cache=True)
def slowing(p: float, u: float, a: float, k: float, d: float, c: float) -> float:
    """The speed falls by more than c m/s2 from 0 until this second (0: never)."""
    if a <= c:
        return 0.0
    stop = d if k == 0.0 else min(d, math.log(a / c) / k)
    side = c * p / math.sqrt(a * a - c * c)
    return min(max(when(-side, u, a, k), 0.0), stop)


@njit(cache=True)
def close(efforts, kind, least, out, player, first):
    """End an open effort of one kind: count it if it lasted long enough."""
    if efforts[kind, 0] > 0.0:
        role = int(efforts[kind, 2])
        if efforts[kind, 0] >= least - SAME_S:
            if kind < 2:
                out[player, role, first] += efforts[kind, 0]
                out[player, role, first + 1] += efforts[kind, 1]
                out[player, role, first + 2] += 1.0
            else:
                out[player, role, first] += 1.0
        efforts[kind, 0] = 0.0
        efforts[kind, 1] = 0.0


@njit(cache=True)
def stretch(efforts, kind, start, stop, length, d, role, least, out, player, first):
    """Add the stretch from start to stop of a segment of d seconds to the effort of this kind."""
    if stop - start <= 0.0:
        return
    if start > SAME_S:
        close(efforts, kind, least, out, player, first)
    if efforts[kind, 0] == 0.0:
        efforts[kind, 2] = role
    efforts[kind, 0] += stop - start
    efforts[kind, 1] += length
    if stop < d - SAME_S:
        close(efforts, kind, least, out, player, first)


@njit(cache=True)
def add_bands(p, u, a, k, d, whole, cuts, out):
    """Add the metres of a segment of length `whole` to the bands above walking; returns what is below all of them."""
    above = 0.0  # in all faster bands
    for band in range(cuts.shape[0] - 1, -1, -1):
        before, after = fast(p, u, a, k, d, cuts[band])
        length = whole
        if before < after:
            length = path(p, u, a, k, 0.0, before) + path(p, u, a, k, after, d)
        out[WALK + 1 + band] += max(length - above, 0.0)
        above = max(length, above)
    return whole - above


@njit(cache=True, makes_arrays=True)
def loads(rows, cuts, limits, out, peaks):
    """Fill `out[player, role, LOADS]` (but turns and energy) and `peaks[player, role]`; rows in order of player, then time.

    `cuts[player, band]` are speeds, `limits` the least duration of a fast run, the change of speed and its duration.
    Returns the index of the first row with k > 0 that is not straight, or -1.
    """
    efforts = np.zeros((4, 3))  # per kind: seconds, metres, role at the start
    firsts = np.array([1, 4, 7, 8])
    leasts = np.array([limits[0], limits[0], limits[2], limits[2]])
    player = -1
    end = -1.0
    for i in range(rows.shape[0]):
        row = rows[i]
        now = int(row[0])
        if now != player or abs(row[1] - end) > SAME_S:
            for kind in range(4):
                close(efforts, kind, leasts[kind], out, player, firsts[kind])
        player = now
        end = row[2]
        d = row[2] - row[1]
        if d <= 0.0:
            continue
        role = int(row[10])
        vx, vy, ax, ay, k = row[5], row[6], row[7], row[8], row[9]
        a = math.hypot(ax, ay)
        if a < STEADY_MPS2:
            p, u, a = 0.0, math.hypot(vx, vy), 0.0
        else:
            p, u = abs(vx * ay - vy * ax) / a, (vx * ax + vy * ay) / a
        if k != 0.0 and a > 0.0:
            if k < 0.0 or p > STRAIGHT_MPS:
                return i
            p = 0.0
        whole = path(p, u, a, k, 0.0, d)
        out[player, role, 0] += whole
        below = add_bands(p, u, a, k, d, whole, cuts[player], out[player, role])
        out[player, role, WALK] += below
        top = math.sqrt(p * p + max(u * u, (u + a * gain(k, d)) ** 2))
        peaks[player, role] = max(peaks[player, role], top)
        for kind in range(2):
            before, after = fast(p, u, a, k, d, cuts[player, kind + 2])
            if before >= after and before > 0.0:  # above all along
                before, after = d, d
            if before > 0.0:
                length = path(p, u, a, k, 0.0, before)
                stretch(efforts, kind, 0.0, before, length, d, role, leasts[kind], out, player, firsts[kind])
            if before == 0.0 and after > SAME_S:
                close(efforts, kind, leasts[kind], out, player, firsts[kind])
            if after < d:
                length = path(p, u, a, k, after, d)
                stretch(efforts, kind, after, d, length, d, role, leasts[kind], out, player, firsts[kind])
        start, stop = quickening(p, u, a, k, d, limits[1])
        if start == stop:
            close(efforts, 2, leasts[2], out, player, firsts[2])
        else:
            stretch(efforts, 2, start, stop, 0.0, d, role, leasts[2], out, player, firsts[2])
        stop = slowing(p, u, a, k, d, limits[1])
        if stop <= 0.0:
            close(efforts, 3, leasts[3], out, player, firsts[3])
        else:
            stretch(efforts, 3, 0.0, stop, 0.0, d, role, leasts[3], out, player, firsts[3])
    for kind in range(4):
        close(efforts, kind, leasts[kind], out, player, firsts[kind])
    return -1


def in_order(segments: np.ndarray) -> np.ndarray:
    """Segments by player, then time."""
    return np.ascontiguousarray(segments[np.lexsort((segments[:, 1], segments[:, 0]))], dtype=np.float64)


def running(
    segments: np.ndarray,
    players: int,
    roles: int,
    thresholds: Thresholds = ADULT_MEN,
    tops_mps: np.ndarray | None = None,
) -> tuple[np.ndarray, np.ndarray]:
    """(loads[player, role, LOADS], peak speed[player, role] in m/s) of one bout's segments.

    `tops_mps` are the players' top speeds, needed where the thresholds are shares of them.
    """
    rows = in_order(segments)
    return counted(rows, energies(rows, *rule()), players, roles, thresholds, tops_mps)


def counted(
    rows: np.ndarray, spent: np.ndarray, players: int, roles: int, thresholds: Thresholds, tops_mps: np.ndarray | None
) -> tuple[np.ndarray, np.ndarray]:
    """As `running`, of rows in order whose energies (J/kg) are `spent`."""
    out = np.zeros((players, roles, len(LOADS)))
    peaks = np.zeros((players, roles))
    cuts = thresholds.cuts_mps(np.zeros(players) if tops_mps is None else np.asarray(tops_mps))
    if not (cuts > 0).all():
        raise ValueError("thresholds that are shares of top speed need the players' top speeds")
    wrong = loads(rows, cuts, thresholds.least(), out, peaks)
    if wrong >= 0:
        raise ValueError(f"segments[{wrong}] must be straight where its rate is not 0 (got {rows[wrong].tolist()})")
    out[:, :, TURNS] = turns(rows, players, roles, thresholds.turn_degrees, thresholds.turn_s, thresholds.turn_mps)
    np.add.at(out[:, :, ENERGY], (rows[:, 0].astype(int), rows[:, 10].astype(int)), spent)
    return out, peaks
