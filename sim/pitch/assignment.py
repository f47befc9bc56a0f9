"""Who plays where: jobs written into the arrays, who may receive, the ground in play, and places at the start and at restarts."""

from __future__ import annotations

import math
from collections.abc import Iterable
from typing import Any

from sim.game.borders import distance
from sim.game.model import Area
from sim.pitch import arrays as col
from sim.pitch import border, entries, setup
from sim.pitch.aiming import aim, home_to_bring
from sim.pitch.moves import draw
from sim.pitch.seeking import seek
from sim.pitch.state import PLACE, Bout
from sim.pitch.zone_limits import write_limits


def assign(bout: Bout) -> None:
    """Zones, who may receive, ground in play, and what the holder aims at, as the rule book now has them."""
    standing = bout.standing
    bout.jobs = setup.assign(bout.game, standing, bout.records, bout.layout.sides, bout.jobs, bout.now)
    if bout.game.zones:
        write_limits(bout.match["play"][0], standing, bout.layout.sides)
    crossing = bout.possession.crossing
    if crossing is not None and crossing.end != standing.area:
        bout.possession.crossing = None  # the rules have moved the game elsewhere meanwhile
    mark_out(bout)
    area = bout.game.area(standing.area)
    home = home_to_bring(standing)
    room = 0.0
    transfer = standing.is_open("transfer", bout.playing())
    for player, job in zip(bout.players, bout.jobs, strict=True):
        here = (job.place, standing.area) in bout.layout.lies_in
        if here and job.style in ("edge", "free"):
            room += 0.5 if job.style == "edge" else 1.0  # half of what is about a player on the line lies outside
        if job.style in ("goal", "wait"):
            player.across, player.may_receive = False, job.style == "goal" and boxes_meet(player, area)
        else:
            player.across = transfer and not here
            player.may_receive = here or transfer or bout.layout.area_of[job.place] == home
    bout.play.spacing = math.sqrt(area.length * area.width / max(room, 1.0))
    if bout.layout.tells_apart:
        seek(bout)
    aim(bout)
    watch_stints(bout)


def watch_stints(bout: Bout) -> None:
    """Who comes into play that may play so long at most: the moment he has had it is waited for."""
    for i, stint in bout.standing.stints.items():
        before = stint.since
        stint.seen(bout.jobs[i].style != "wait", bout.now)
        if stint.since is not None and before is None and math.isfinite(stint.left(bout.now)):
            bout.expect(bout.now + stint.left(bout.now), "limit", None, i)


def boxes_meet(keeper: Any, area: Area) -> bool:
    """Whether the box of a keeper (his record) reaches into an area: there he is a support like any other."""
    west, south, east, north = area.bounds
    return bool(keeper.west < east and west < keeper.east and keeper.south < north and south < keeper.north)


def run_off_in_play(bout: Bout, area: Area) -> float:
    """How far beyond the line of an area the ball is in play now, metres: as the game has it, while anybody stands on that line."""
    manned = any(job.style == "edge" and job.place == area.name for job in bout.jobs)
    return area.run_off_in_play if manned else 0.0


def mark_out(bout: Bout) -> None:
    """The ground in play: that of the area the ball is in; of both, and of what lies between, while it is played across."""
    grounds, area = bout.layout.grounds, bout.standing.area
    areas = list(grounds[area])
    between: list[border.Part] = []
    crossing = bout.possession.crossing
    if crossing is not None and not crossing.landed:
        start = grounds[crossing.start]
        if area not in [one.name for one in start] or bout.game.between_areas == "out":
            here, there = (bout.game.area(name) for name in (crossing.start, crossing.end))
            (west, south, east, north), (w, s, e, n) = here.bounds, there.bounds
            both = min(west, w), min(south, s), max(east, e), max(north, n)
            between = [border.Part(both, min(run_off_in_play(bout, here), run_off_in_play(bout, there)))]
            areas += start
    bout.carrier.in_play = False
    parts = [border.Part(one.bounds, run_off_in_play(bout, one)) for one in areas]
    border.mark_out(bout.play, parts + between)


def nearest_area(bout: Bout, names: Iterable[str], x: float, y: float) -> tuple[str, float]:
    """Which of some areas a point lies in, or is nearest to (the first of several), and how far beyond its line it is (m)."""
    gaps = {name: distance(bout.game.area(name), x, y) for name in names}
    return min(gaps.items(), key=lambda gap: gap[1])


def nearest_in_play(bout: Bout, x: float, y: float) -> tuple[float, float]:
    """The point nearest to (x, y) of the area the ball is in and of those that form one ground with it."""
    name, _ = nearest_area(bout, [area.name for area in bout.layout.grounds[bout.standing.area]], x, y)
    west, south, east, north = bout.game.area(name).bounds
    return min(max(x, west), east), min(max(y, south), north)


def place_when_dead(bout: Bout, i: int) -> tuple[float, float]:
    """Where player i belongs while the ball is dead."""
    if bout.players[i].style == col.EDGE:
        return entries.edge_point(*bout.arrays, i, bout.players[i].slot)
    if bout.players[i].style == col.GOAL:
        return bout.players[i].goal_x, bout.players[i].goal_y
    return entries.shape_point(*bout.arrays, i, bout.ball.x, bout.ball.y)


def assign_start(bout: Bout) -> None:
    """Everybody stands at his place, a little off it by lot, and opponents off whoever is to have the ball."""
    places = []
    assign(bout)
    for i in range(len(bout.game.players)):
        x, y = place_when_dead(bout, i)
        if bout.players[i].style not in (col.EDGE, col.GOAL):
            x += bout.constants.start_spread * bout.play.frame_x * (draw(bout.records, i, PLACE) - 0.5)
            y += bout.constants.start_spread * bout.play.frame_y * (draw(bout.records, i, PLACE) - 0.5)
        places.append((x, y))
    setup.stand_at(bout.records, setup.apart(bout.arrays, bout.constants, places))
    for i in range(len(places) if bout.game.zones else 0):
        x, y = entries.place_at_start(*bout.arrays, i)
        setup.stand_one(bout.records, i, x, y)
