"""From a game and its players to the arrays of one bout, and from the rule book's standing to zones and shapes."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from functools import lru_cache, partial
from types import SimpleNamespace
from typing import Any, NamedTuple

import numpy as np

from sim.game.model import Game, Role
from sim.geometry import INWARD, Bounds
from sim.pitch import arrays as col
from sim.pitch import entries, moves
from sim.pitch.assumptions import USUAL, constant
from sim.pitch.fatigue import FatigueState
from sim.pitch.moves import where
from sim.pitch.positions import into_zone
from sim.pitch.skill import bearing_error, press_effort
from sim.pitch.zone_limits import open_part
from sim.players import Profile
from sim.populations import population
from sim.rules.rule_state import RuleState
from sim.streams import hash_id
from sim.turning import TOTAL_ACCELERATION

STYLES = {"edge": col.EDGE, "free": col.FREE, "goal": col.GOAL, "wait": col.WAIT}
AIMS = {"keep": col.KEEP, "home": col.HOME, "goal": col.SCORE}
KEEPER_BOX_M = (8.0, 3.0)  # judgement: a keeper's zone, metres out from the goal line and beyond each post
APART_TRIES = 4  # each move off one player may lead to another
MIDDLE_OFF = (
    0.2  # judgement: where two sides share an area, each one's middle man stands off by this share of half its length
)
RING = 0.8  # judgement: how far out of the middle a side stands, over half the length and the width of its ground
INNER_RING = 0.5  # judgement: how far helpers do who would else stand on a place of those whom they play with,
OFF_A_PLACE = 0.2  # nearer to it than this
Group = tuple[str, str, str]  # side, style and place of players who share their places out among themselves


def put_constants(match: np.ndarray, assumptions: Mapping[str, float] | None = None) -> SimpleNamespace:
    """Write the engine's constants, any of them replaced by name; returns them by name."""
    numbers, values = constants_with(tuple((assumptions or {}).items()))
    match["constants"].view(np.float64)[:] = numbers  # field by field it takes fifty times as long
    return SimpleNamespace(**values)


@lru_cache(maxsize=64)
def constants_with(replaced: tuple[tuple[str, float], ...]) -> tuple[np.ndarray, dict[str, float]]:
    """The constants, some of them replaced: in their order, and by name."""
    values = {name: constant(name, dict(replaced)) for name in USUAL}
    return np.array(list(values.values())), values


def put_keys(players: np.ndarray, game: Game, seed: int, replicate: int, bout: int) -> None:
    """Write one key a player and stream of random numbers."""
    for i, player in enumerate(game.players):
        moves.put_keys(players, i, seed, replicate, bout, hash_id(player.id))


def abilities(
    game: Game,
    roster: Mapping[str, Profile],
    constants: SimpleNamespace,
    fatigue: Mapping[str, FatigueState] | None = None,
) -> np.ndarray:
    """Records of the players with their abilities; `legs`: what they bring from earlier bouts, by id (None: rested)."""
    players = col.table(len(game.players), col.PLAYER)
    for player, one in zip(game.players, col.records_in(players), strict=True):
        who = roster[player.id]
        brought = FatigueState() if fatigue is None else fatigue[player.id]
        put_abilities(one, who, constants)
        usual = population(game.team(player.team).population).traits["first_touch"].mean
        one.touch_level = usual / constants.usual_miss
        one.critical_speed, one.reserve_full, one.recovery_time = who.critical_speed_mps, who.reserve_m, who.recovery_s
        one.reserve, one.lowest_share, one.drawn = brought.left * who.reserve_m, brought.left, brought.drawn
        one.whistle_at = game.bouts.seconds
        one.plan_length, one.marks = 1, col.NOBODY
        one.spared = not player.tackles
    return players


def put_abilities(one: Any, who: Profile, constants: SimpleNamespace) -> None:
    """Write what a player can do, fresh."""
    tau = max(who.tau_s, who.vmax_mps / TOTAL_ACCELERATION)  # nobody starts harder than the total allows
    one.top_speed = one.fresh_top_speed = who.vmax_mps
    one.bearing_error = one.fresh_bearing_error = bearing_error(who.pass_success)
    one.reaction = one.fresh_reaction = who.reaction_s
    one.reaction_sd, one.time_constant, one.braking = who.reaction_sd_s, tau, who.brake_mps2
    one.first_touch_miss, one.composure, one.duel = who.first_touch, who.composure, who.duel
    one.press_effort = press_effort(who.pressing_speed_mps, who.vmax_mps, tau)
    fitness = who.critical_speed_mps / constants.usual_critical
    one.willingness = who.drive * fitness**constants.fitness_share


def stand_one(players: np.ndarray, i: int, x: float, y: float) -> None:
    """Player i stands at a place from time 0 on."""
    moves.stand(players, i, 0.0, x, y)


def stand_at(players: np.ndarray, places: Sequence[tuple[float, float]]) -> None:
    """Everybody stands at his place from time 0 on."""
    for i, (x, y) in enumerate(places):
        stand_one(players, i, x, y)


def apart(
    arrays: col.Arrays, constants: SimpleNamespace, places: list[tuple[float, float]]
) -> list[tuple[float, float]]:
    """The places at the start, opponents moved `start_room` off the free players of the side that is to have the ball, as far as
    their zones go; off those on the lines too where nobody had that much room to be served."""
    found = list(places)
    players, match, _ = arrays
    room, inset = constants.start_room, constants.apart_inset
    frame_x = float(match["play"]["frame_x"][0])
    ours = [j for j in range(len(players)) if entries.with_ball(*arrays, j) and players["style"][j] != col.WAIT]
    theirs = [i for i in range(len(players)) if not entries.with_ball(*arrays, i) and players["style"][i] == col.FREE]
    served = any(players["may_receive"][j] and has_room(places[j], [places[i] for i in theirs], room) for j in ours)
    ours = [j for j in ours if players["style"][j] == col.FREE or not served]
    for i in theirs:
        for _ in range(APART_TRIES if ours else 0):
            x, y = found[i]
            ox, oy = min((found[j] for j in ours), key=partial(gap_between, (x, y)))
            gap = math.hypot(ox - x, oy - y)
            if gap >= room:
                break
            ux, uy = ((x - ox) / gap, (y - oy) / gap) if gap > 0.0 else (frame_x, 0.0)
            found[i] = into_zone(players, i, ox + room * ux, oy + room * uy, inset)
    return found


def gap_between(one: tuple[float, float], other: tuple[float, float]) -> float:
    """Metres between two places."""
    return math.hypot(other[0] - one[0], other[1] - one[1])


def has_room(at: tuple[float, float], others: list[tuple[float, float]], room: float) -> bool:
    """Whether none of the others stands within `room` of a place."""
    return all(math.hypot(x - at[0], y - at[1]) >= room for x, y in others)


def shape(count: int, rank: int, turn: float = 0.0, out: float = RING) -> tuple[float, float]:
    """Place number `rank` of `count` free players in the unit square [-1, 1]^2: a ring, with one in the middle from five on.

    turn    share of a place by which the ring is turned; the one in the middle then stands a little to that side of it
    out     how far out of the middle the ring is
    """
    ring = count if count < 5 else count - 1
    if rank >= ring:
        return (math.copysign(MIDDLE_OFF, turn) if turn else 0.0), 0.0
    angle = 2.0 * math.pi * (rank + 0.5 + turn) / ring
    return out * math.sin(angle), out * math.cos(angle)


def ring_of(count: int, turn: float = 0.0, out: float = RING) -> list[tuple[float, float]]:
    """All places of so many free players (`shape`)."""
    return [shape(count, k, turn, out) for k in range(count)]


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


def helpers_ring(count: int, taken: Sequence[tuple[float, float]]) -> list[tuple[float, float]]:
    """The places of so many helpers among the sides whose places are `taken`: on a ring or half a place further round on it,
    whichever is further off the nearest of those, and inside it where neither is off enough.  Either way one side finds them as the
    other does in a mirror."""

    def room(places: list[tuple[float, float]]) -> float:
        return round(min((gap_between(one, other) for one in places for other in taken), default=math.inf), 9)

    outer = max((ring_of(count, turn) for turn in (0.0, 0.5)), key=room)  # of equals the first
    if room(outer) >= OFF_A_PLACE:
        return outer
    return max((ring_of(count, turn, INNER_RING) for turn in (0.0, 0.5)), key=room)


@lru_cache(maxsize=4096)
def places_of(group: Group, sizes: tuple[tuple[Group, int], ...]) -> tuple[tuple[float, ...], ...]:
    """The slots (edge) or places in the shape (free, wait) of a group beside the others, in order; `sizes`: of all groups."""
    side, style, place = group
    counts = dict(sizes)
    count, turn = counts[group], turned(group, counts)
    if style == "edge":
        return tuple(((k + 0.5 + turn) / count,) for k in range(count))
    if side != "holder" or style != "free":
        return tuple(ring_of(count, turn))
    beside = [one for one in counts if one[1:] == (style, place) and one[0] != "holder"]
    return tuple(helpers_ring(count, [at for one in beside for at in ring_of(counts[one], turned(one, counts))]))


class Job(NamedTuple):
    """What one player is in the game at a moment: names of his role, style, place and side, since when he has the role, his
    touch limit (0: none), and the zones that are closed to him."""

    role: str
    style: str
    place: str
    side: str
    since: float
    touches: int = 0
    shut: tuple[str, ...] = ()


def job(standing: RuleState, i: int) -> Job:
    """That of player i now."""
    style, place = standing.job_of(i)
    game = standing.game
    return Job(
        standing.role[i],
        style,
        standing.place_of(i, place),
        standing.side_of(i),
        standing.since[i],
        fewest(standing.touches_of(i), game.players[i].touches),
        standing.shut_to(i) if game.zones else (),
    )


def assign(
    game: Game,
    standing: RuleState,
    players: np.ndarray,
    sides: Mapping[str, int],
    before: Sequence[Job] = (),
    now: float = 0.0,
) -> tuple[Job, ...]:
    """Write side, style, zone, touch limit, slot and shape of every player as the rule book now has them; returns the jobs
    written.  What stands in `players` is what `before` says, so that only what has changed need be written."""
    jobs = tuple([job(standing, i) for i in range(len(game.players))])
    if jobs == before:
        return jobs
    groups: dict[Group, list[int]] = {}
    numbers = {name: k for k, name in enumerate(standing.roles)}
    rows = col.records_in(players)
    for i, (name, style, place, side, since, limit, shut) in enumerate(jobs):
        if style != "goal":
            groups.setdefault((side, style, place), []).append(i)
        if before and jobs[i] == before[i]:
            continue
        one = rows[i]
        one.side = col.FLOATER if side == "holder" else sides[side]
        one.style, one.touch_limit = STYLES[style], limit
        instruct(one, standing.roles[name])
        one.role, one.role_since = numbers[name], since
        if style == "goal":
            keeper_zone(game, place, one)
        else:
            one.west, one.south, one.east, one.north = own_ground(game, players, i, place, shut, now)
        one.locked = any(zone.name == place for zone in game.zones) if game.zones else False
        one.run_off = game.area(place).run_off_in_play if style == "edge" else 0.0
    sizes = tuple((group, len(members)) for group, members in groups.items())
    for group, members in groups.items():
        spread_out(rows, members, places_of(group, sizes))
    return jobs


def own_ground(  # noqa: PLR0913 - a player, his place, and what is shut to him when
    game: Game, players: np.ndarray, i: int, place: str, shut: Sequence[str], now: float
) -> Bounds:
    """The rectangle in which player i plays whose place is an area or a zone, without what is closed to him."""
    bounds = game.place(place).bounds
    if not shut:
        return bounds
    x, y, _, _ = where(players, i, now)
    return open_part(bounds, [zone for zone in game.zones if zone.name in shut], x, y)


def fewest(of_role: int | None, of_player: int | None) -> int:
    """The lower of two limits of touches, 0 where there is none."""
    if of_role is None or of_player is None:
        return of_role or of_player or 0
    return min(of_role, of_player)


def instruct(row: Any, role: Role) -> None:
    """What the coach asks of a role, as the kernels read it."""
    row.drive = row.willingness * role.effort
    row.pressing, row.marking, row.win_back = role.press, role.marking, role.win_back_s
    row.width, row.depth, row.tempo = role.width, role.depth, role.tempo
    row.fixed = role.positions == "fixed"


def keeper_zone(game: Game, name: str, row: Any) -> None:
    """Goal and box of a keeper."""
    goal = next(each for each in game.goals if each.name == name)
    out, beyond = KEEPER_BOX_M
    along = goal.width / 2.0 + beyond
    inward = INWARD[goal.end]
    row.goal_x, row.goal_y, row.goal_width = goal.x, goal.y, goal.width
    if inward[0]:
        row.west, row.east = sorted((goal.x, goal.x + inward[0] * out))
        row.south, row.north = goal.y - along, goal.y + along
    else:
        row.south, row.north = sorted((goal.y, goal.y + inward[1] * out))
        row.west, row.east = goal.x - along, goal.x + along


def spread_out(players: Sequence[Any], members: list[int], wanted: Sequence[tuple[float, ...]]) -> None:
    """Give the members of one group their slots or places in the shape (`places_of`), keeping what still fits."""
    count = len(members)
    on_lines = len(wanted[0]) == 1
    left = list(range(count))
    unplaced = []
    for i in members:
        one = players[i]
        here = (one.slot,) if on_lines else (one.shape_x, one.shape_y)
        kept = [k for k in left if here == wanted[k]] if one.share == 1.0 / count else []
        if kept:
            left.remove(kept[0])
        else:
            unplaced.append(i)
    for i, k in zip(unplaced, left, strict=True):
        one = players[i]
        one.share = 1.0 / count
        if on_lines:
            (one.slot,) = wanted[k]
        else:
            one.shape_x, one.shape_y = wanted[k]
