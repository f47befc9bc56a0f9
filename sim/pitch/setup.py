"""From a game and its players to the arrays of one bout, and from the rule book's standing to zones and shapes."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from functools import lru_cache
from typing import NamedTuple

import numpy as np

from sim.game.model import Game, Role
from sim.geometry import INWARD
from sim.motion import TOTAL_ACCELERATION, WIDTH, plan_stand
from sim.pitch import columns as col
from sim.pitch.assumptions import (
    ENGINE,
    FITNESS_SHARE,
    MISCONTROL_STRETCH,
    READ_TIME,
    RECEIVER_REACH,
    STRETCH_FREE,
    USUAL_CRITICAL,
    WEIGHT_ERROR,
    constant,
)
from sim.pitch.ground import into_zone, with_ball
from sim.pitch.skill import STEPS, bearing_error, first_touch_miss, press_effort
from sim.pitch.tiring import Legs
from sim.players import Profile
from sim.rules.rule_state import RuleState
from sim.streams import STREAMS, hash_id, key_of

STYLES = {"edge": col.EDGE, "free": col.FREE, "goal": col.GOAL, "wait": col.WAIT}
AIMS = {"keep": col.KEEP, "home": col.HOME, "goal": col.SCORE}
KEEPER_BOX_M = (8.0, 3.0)  # judgement: a keeper's zone, metres out from the goal line and beyond each post
APART_TRIES = 4  # each move off one player may lead to another
MIDDLE_OFF = (
    0.2  # judgement: where two sides share an area, each one's middle man stands off by this share of half its length
)
Group = tuple[str, str, str]  # side, style and place of players who share their places out among themselves


def constants(assumptions: dict[str, float] | None = None) -> np.ndarray:
    """The engine's constants in the order of `ENGINE`, with any of them replaced by name."""
    return np.array([constant(row.name, assumptions) for row in ENGINE])


def keys(game: Game, seed: int, replicate: int, bout: int) -> np.ndarray:
    """One key a player and stream."""
    out = np.zeros((len(game.players), len(STREAMS)), dtype=np.uint64)
    for i, player in enumerate(game.players):
        word = hash_id(player.id)
        for stream in range(len(STREAMS)):
            out[i, stream] = key_of(seed, replicate, bout, stream, word)
    return out


@lru_cache(maxsize=4096)
def sigma(*of: float) -> float:
    """`sim.pitch.skill.bearing_error`, solved once for a player and not for every bout of his."""
    return bearing_error(*of, np.zeros(STEPS))


def abilities(game: Game, roster: dict[str, Profile], C: np.ndarray, legs: dict[str, Legs] | None = None) -> np.ndarray:
    """The array P with the abilities filled in; `legs`: what players bring from earlier bouts, by id (None: rested)."""
    P = np.zeros((len(game.players), col.PLAYER_COLUMNS))
    for i, player in enumerate(game.players):
        who = roster[player.id]
        P[i, col.VMAX], P[i, col.BRAKE] = who.vmax_mps, who.brake_mps2
        P[i, col.TAU] = max(who.tau_s, who.vmax_mps / TOTAL_ACCELERATION)  # nobody starts harder than the total allows
        P[i, col.REACT], P[i, col.REACT_SD] = who.reaction_s, who.reaction_sd_s
        P[i, col.FIRST_TOUCH] = first_touch_miss(who.pass_success, who.first_touch)
        P[i, col.SIGMA] = sigma(
            who.pass_success,
            float(P[i, col.FIRST_TOUCH]),
            float(P[i, col.VMAX]),
            float(P[i, col.TAU]),
            who.reaction_s + float(C[READ_TIME]),
            who.reaction_sd_s,
            float(C[WEIGHT_ERROR]),
            float(C[RECEIVER_REACH]),
            float(C[MISCONTROL_STRETCH]),
            float(C[STRETCH_FREE]),
        )
        P[i, col.PRESS_EFFORT] = press_effort(who.pressing_speed_mps, who.vmax_mps, float(P[i, col.TAU]))
        P[i, col.COMPOSURE], P[i, col.DUEL] = who.composure, who.duel
        P[i, col.WILLING] = who.drive * (who.critical_speed_mps / C[USUAL_CRITICAL]) ** float(C[FITNESS_SHARE])
        P[i, col.NSEG], P[i, col.MAN] = 1.0, -1.0
        P[i, col.WHISTLE] = game.bouts.seconds
        P[i, col.FRESH_VMAX], P[i, col.FRESH_SIGMA] = P[i, col.VMAX], P[i, col.SIGMA]
        P[i, col.FRESH_REACT] = P[i, col.REACT]
        P[i, col.CRITICAL], P[i, col.RESERVE_FULL] = who.critical_speed_mps, who.reserve_m
        P[i, col.RECOVERY] = who.recovery_s
        brought = Legs() if legs is None else legs[player.id]
        P[i, col.RESERVE], P[i, col.LOWEST] = brought.left * who.reserve_m, brought.left
        P[i, col.DRAWN] = brought.drawn
    return P


def plans(P: np.ndarray, places: list[tuple[float, float]]) -> np.ndarray:
    """The array M with everybody standing at his place at time 0."""
    M = np.zeros((len(places), col.SPAN, WIDTH))
    for i, (x, y) in enumerate(places):
        P[i, col.NSEG] = plan_stand(M[i], 0.0, x, y)
    return M


def apart(P: np.ndarray, B: np.ndarray, room: float, places: list[tuple[float, float]]) -> list[tuple[float, float]]:
    """The places at the start, opponents moved `room` metres off the free players of the side that is to have the ball, as far as
    their zones go; off those on the lines too where nobody had that much room to be served."""
    found = list(places)
    ours = [j for j in range(len(P)) if with_ball(P, B, j) and P[j, col.STYLE] != col.WAIT]
    theirs = [i for i in range(len(P)) if not with_ball(P, B, i) and P[i, col.STYLE] == col.FREE]
    served = any(P[j, col.OPEN] and has_room(places[j], [places[i] for i in theirs], room) for j in ours)
    ours = [j for j in ours if P[j, col.STYLE] == col.FREE or not served]
    for i in theirs:
        for _ in range(APART_TRIES if ours else 0):
            x, y = found[i]
            ox, oy = min((found[j] for j in ours), key=lambda at, x=x, y=y: math.hypot(at[0] - x, at[1] - y))
            gap = math.hypot(ox - x, oy - y)
            if gap >= room:
                break
            ux, uy = ((x - ox) / gap, (y - oy) / gap) if gap > 0.0 else (float(B[col.FRAME_X]), 0.0)
            found[i] = into_zone(P, i, ox + room * ux, oy + room * uy, 0.3)
    return found


def has_room(at: tuple[float, float], others: list[tuple[float, float]], room: float) -> bool:
    """Whether none of the others stands within `room` of a place."""
    return all(math.hypot(x - at[0], y - at[1]) >= room for x, y in others)


def shape(count: int, rank: int, turn: float = 0.0) -> tuple[float, float]:
    """Place number `rank` of `count` free players in the unit square [-1, 1]^2: a ring, with one in the middle from five on.

    turn    share of a place by which the ring is turned; the one in the middle then stands a little to that side of it
    """
    ring = count if count < 5 else count - 1
    if rank >= ring:
        return (math.copysign(MIDDLE_OFF, turn) if turn else 0.0), 0.0
    angle = 2.0 * math.pi * (rank + 0.5 + turn) / ring
    return 0.8 * math.sin(angle), 0.8 * math.cos(angle)


def turned(group: Group, groups: Iterable[Group]) -> float:
    """By what share of a place a group stands further round than it would alone.

    Two groups on the same lines share no place.  Nor do two sides in the same area: these turn away from each other, one as far as
    the other, so that each stands as the other does in a mirror.
    """
    side, style, place = group
    if style == "edge":
        beside = [one for one in groups if one[1:] == (style, place)]
        return beside.index(group) / len(beside)
    if style != "free" or side == "holder":
        return 0.0
    beside = [one for one in groups if one[1:] == (style, place) and one[0] != "holder"]
    return (beside.index(group) + 0.5) / len(beside) - 0.5


class Job(NamedTuple):
    """What one player is in the game at a moment: names of his role, style, place and side, and since when he has the role."""

    role: str
    style: str
    place: str
    side: str
    since: float


def job(standing: RuleState, i: int) -> Job:
    """That of player i now."""
    style, place = standing.job_of(i)
    return Job(standing.role[i], style, standing.place_of(i, place), standing.side_of(i), standing.since[i])


def assign(
    game: Game, standing: RuleState, P: np.ndarray, sides: dict[str, float], before: Sequence[Job] = ()
) -> tuple[Job, ...]:
    """Write side, style, zone, touch limit, slot and shape of every player as the rule book now has them; returns the jobs
    written.  What stands in P is what `before` says, so that only what has changed need be written."""
    jobs = tuple(job(standing, i) for i in range(len(game.players)))
    if jobs == before:
        return jobs
    groups: dict[Group, list[int]] = {}
    numbers = {name: float(k) for k, name in enumerate(standing.roles)}
    for i, (name, style, place, side, since) in enumerate(jobs):
        if style != "goal":
            groups.setdefault((side, style, place), []).append(i)
        if before and jobs[i] == before[i]:
            continue
        role = standing.roles[name]
        P[i, col.SIDE] = col.FLOATER if side == "holder" else sides[side]
        P[i, col.STYLE] = STYLES[style]
        P[i, col.LIMIT] = role.touches or 0
        instruct(P[i], role)
        P[i, col.ROLE] = numbers[name]
        P[i, col.SINCE] = since
        if style == "goal":
            keeper_zone(game, place, P[i])
        else:
            P[i, col.ZX0], P[i, col.ZY0], P[i, col.ZX1], P[i, col.ZY1] = game.area(place).bounds
    for group, members in groups.items():
        spread_out(P, members, group[1], turned(group, groups))
    return jobs


def instruct(row: np.ndarray, role: Role) -> None:
    """What the coach asks of a role, as the kernels read it."""
    row[col.DRIVE] = row[col.WILLING] * role.effort
    row[col.PRESSING], row[col.MARKING], row[col.WIN_BACK] = role.press, role.marking, role.win_back_s
    row[col.WIDTH], row[col.DEPTH], row[col.TEMPO] = role.width, role.depth, role.tempo
    row[col.FIXED] = float(role.positions == "fixed")


def keeper_zone(game: Game, name: str, row: np.ndarray) -> None:
    """Goal and box of a keeper."""
    goal = next(each for each in game.goals if each.name == name)
    out, beyond = KEEPER_BOX_M
    along = goal.width / 2.0 + beyond
    inward = INWARD[goal.end]
    row[col.GX], row[col.GY], row[col.GW] = goal.x, goal.y, goal.width
    if inward[0]:
        xs = sorted((goal.x, goal.x + inward[0] * out))
        row[col.ZX0], row[col.ZX1] = xs
        row[col.ZY0], row[col.ZY1] = goal.y - along, goal.y + along
    else:
        ys = sorted((goal.y, goal.y + inward[1] * out))
        row[col.ZY0], row[col.ZY1] = ys
        row[col.ZX0], row[col.ZX1] = goal.x - along, goal.x + along


def spread_out(P: np.ndarray, members: list[int], style: str, turn: float) -> None:
    """Give the members of one group their slots (edge) or places in the shape (free, wait), keeping what still fits.

    turn    share of a slot or place by which this group stands further round (`turned`)
    """
    count = len(members)
    if style == "edge":
        wanted = [(k + 0.5 + turn) / count for k in range(count)]
    else:
        wanted = [shape(count, k, turn) for k in range(count)]
    left = list(range(count))
    unplaced = []
    for i in members:
        if P[i, col.SPREAD] == 1.0 / count:
            kept = [
                k
                for k in left
                if (P[i, col.SLOT] if style == "edge" else (P[i, col.SHAPEX], P[i, col.SHAPEY])) == wanted[k]
            ]
            if kept:
                left.remove(kept[0])
                continue
        unplaced.append(i)
    for i, k in zip(unplaced, left, strict=True):
        P[i, col.SPREAD] = 1.0 / count
        if style == "edge":
            P[i, col.SLOT] = wanted[k]
        else:
            P[i, col.SHAPEX], P[i, col.SHAPEY] = wanted[k]
