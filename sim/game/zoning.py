"""Whether the zones of a game can be laid out and played."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from itertools import combinations
from typing import Any

from sim.game.bounds import LONGEST_SIDE_M, MOST_LIMITS, MOST_PLAYERS, SHORTEST_ZONE_M
from sim.game.colours import NO_AIM, side_or_colour
from sim.game.layout import lay_out, zones_of
from sim.game.messages import Problem, broken, show, unknown
from sim.game.opened import ever_open
from sim.game.roster import roster, sides_of
from sim.game.zone_spec import OPENED, ZoneSpec, zone_area
from sim.game.zones import HOLDER, OTHER, Zone
from sim.geometry import ROUNDING_M, covers, gaps
from sim.units import to_metres


def _placing(path: str, zone: ZoneSpec, areas: Mapping[str, Any]) -> Iterator[Problem]:
    placed = [key for key in ("at", "within", "centre") if getattr(zone, key) is not None]
    if len(placed) != 1:
        got = ", ".join(placed) or "nothing"
        yield Problem(path, f"must say where it lies by one of at, within and centre (got {got})")
        return
    end = zone.at is not None and zone.at.split()[1] == "end"
    if zone.at is not None and zone_area(zone.at) not in areas:
        yield unknown(f"{path}.at", "an area", zone_area(zone.at), areas)
    if zone.within is not None and zone.within not in areas:
        yield unknown(f"{path}.within", "an area", zone.within, areas)
    asked = {"depth": end, "length": zone.at is None, "width": zone.at is None}
    for key, needed in asked.items():
        value = getattr(zone, key)
        if needed and value is None:
            yield Problem(f"{path}.{key}", f"must be given with {placed[0]} (got nothing)")
        if not needed and value is not None and not (end and key == "width"):
            yield broken(f"{path}.{key}", f"be left out with at = {show(zone.at)}" if zone.at else "be left out", value)


def _sizes(path: str, zone: ZoneSpec, units: str) -> Iterator[Problem]:
    for key in ("depth", "length", "width"):
        value = getattr(zone, key)
        if value is not None and not SHORTEST_ZONE_M <= to_metres(value, units) <= LONGEST_SIDE_M:
            yield broken(f"{path}.{key}", f"be {SHORTEST_ZONE_M:g} to {LONGEST_SIDE_M:g} metres", value)


def zone_problems(spec: Any) -> Iterator[Problem]:
    """What is wrong with how zones are written."""
    sides = list(sides_of(spec))
    who = [*sides, *(name for name in spec.roles if name not in sides), HOLDER, OTHER]
    if (
        said := sum(len({*zone.least, *zone.most}) + len(zone.closed_to) for zone in spec.zones.values())
    ) > MOST_LIMITS:
        yield broken("zones", f"say at most {MOST_LIMITS} times in all who may be in one", said)
    for name, zone in spec.zones.items():
        path = f"zones.{name}"
        if name in (*spec.areas, "active", "home", "across", *OPENED):
            yield broken(path, "have a name that no area and no word of the rules has", name)
        yield from _placing(path, zone, spec.areas)
        yield from _sizes(path, zone, spec.units)
        named = {"closed_to": zone.closed_to, "least": zone.least, "most": zone.most}
        for key, found in named.items():
            for one in found:
                if one not in who:
                    yield unknown(f"{path}.{key}", "a side or a role", one, who)
                elif one in (HOLDER, OTHER) and one in spec.roles:
                    yield broken(f"roles.{one}", f"have another name: in {path}.{key} the word means a side", one)
        if zone.offside and not spec.goals:
            yield broken(f"{path}.offside", "be left out where there are no goals", zone.offside)


# --- can it be played?


def _free(spec: Any, who: str) -> int:
    """How many free players a word means at the start; of holder and other the smaller side."""
    everybody = [place for place in roster(spec) if spec.roles[place.role].style == "free"]
    sides: dict[str, int] = {}
    for place in everybody:
        side = spec.roles[place.role].side
        sides[place.team if side == "team" else side] = sides.get(place.team if side == "team" else side, 0) + 1
    if who in (HOLDER, OTHER):
        return min((sides.get(side, 0) for side in sides_of(spec)), default=0)
    return sides[who] if who in sides else sum(place.role == who for place in everybody)


def _assigned(spec: Any) -> set[str]:
    """Roles that rules put players in."""
    return {
        action.assign
        for phase in spec.phases.values()
        for rule in phase.rules.values()
        for action in rule.do
        if hasattr(action, "assign")
    }


def shut_to_side(spec: Any, zone: ZoneSpec, name: str, side: str) -> bool:
    """Whether a zone is closed to all of a side that has the ball, for good."""
    words = {side, HOLDER}
    roles = [role for role, one in spec.roles.items() if one.side == side]
    shut = words & set(zone.closed_to) or (roles and set(roles) <= set(zone.closed_to))
    return bool(shut) and name not in ever_open(spec, side)


def _numbers(spec: Any, name: str, zone: ZoneSpec) -> Iterator[Problem]:
    path = f"zones.{name}"
    for who, least in zone.least.items():
        there = _free(spec, who)
        if least > there and who not in _assigned(spec):
            yield broken(f"{path}.least.{who}", f"be at most the free players there are, {there}", least)
        if who in zone.most and zone.most[who] < least:
            yield broken(f"{path}.most.{who}", f"be at least {path}.least.{who}, {least}", zone.most[who])
        if who in zone.closed_to:
            yield broken(f"{path}.least.{who}", "be left out, as the zone is closed to them", least)


def _ground(spec: Any, laid: Mapping[str, Zone]) -> Iterator[Problem]:
    areas = lay_out(spec)[0]
    for name, zone in laid.items():
        if not any(covers(area.bounds, zone.bounds) for area in areas):
            yield Problem(f"zones.{name}", "must lie wholly inside an area (got ground outside)")
        if (least := min(zone.length, zone.width)) < SHORTEST_ZONE_M - ROUNDING_M:
            must = f"must be at least {SHORTEST_ZONE_M:g} metres each way (got {least:.2g} metres, as its area is so small)"
            yield Problem(f"zones.{name}", must)
    for area in areas:
        inside = [zone for zone in laid.values() if covers(area.bounds, zone.bounds)]
        apart = all(max(gaps(a.bounds, b.bounds)) >= -ROUNDING_M for a, b in combinations(inside, 2))
        size = sum(zone.length * zone.width for zone in inside)
        if inside and apart and size >= area.length * area.width * (1.0 - ROUNDING_M):
            yield from _room(spec, area.name, inside)


def _room(spec: Any, area: str, tiles: list[Zone]) -> Iterator[Problem]:
    """Zones that leave nothing of an area over leave everybody somewhere to be."""
    ever = ever_open(spec)
    for who in [*sides_of(spec), *spec.roles, HOLDER, OTHER]:
        room = 0
        for zone in tiles:
            most = next((one.most for one in zone.limits if one.who == who), None)
            shut = who in zone.closed_to and zone.name not in ever
            room += 0 if shut else MOST_PLAYERS if most is None else most
        if room < _free(spec, who):
            yield Problem(
                "zones",
                f"must leave every free player of {who} somewhere in areas.{area} (got room for {room} of {_free(spec, who)})",
            )


def _places(spec: Any) -> Iterator[Problem]:
    """Nobody's place is closed to him, and nobody has more company there than may be."""
    ever = ever_open(spec)
    for role, one in spec.roles.items():
        zone = spec.zones.get(one.place)
        if zone is None:
            continue
        side = set(sides_of(spec)) & {one.side}
        shut = (side | {role}) & set(zone.closed_to)
        if shut and one.place not in ever:
            yield broken(f"roles.{role}.place", f"be a zone that is not closed to {sorted(shut)[0]}", one.place)
        there = sum(place.role == role for place in roster(spec))
        if role in zone.most and zone.most[role] < there:
            yield broken(
                f"zones.{one.place}.most.{role}", f"be at least the {there} whose place it is", zone.most[role]
            )


def _needed(spec: Any) -> Iterator[Problem]:
    """What a rule waits for in a zone can happen there."""
    for phase_name, phase in spec.phases.items():
        for rule_name, rule in phase.rules.items():
            zone = spec.zones.get(rule.to) if rule.on in ("pass", "carry") else None
            sides = [rule.by] if rule.by is not None else list(sides_of(spec))
            if zone is not None and all(shut_to_side(spec, zone, rule.to, side) for side in sides):
                must = f"be a zone that is open to who has the ball, or opened, as zones.{rule.to}.closed_to shuts them out"
                yield broken(f"phases.{phase_name}.rules.{rule_name}.to", must, rule.to)


def zones_in_play(spec: Any) -> Iterator[Problem]:
    """Every reason why zones cannot be played."""
    if not spec.zones:
        return
    for name, zone in spec.zones.items():
        yield from _numbers(spec, name, zone)
    yield from _ground(spec, {zone.name: zone for zone in zones_of(spec)})
    yield from _places(spec)
    yield from _needed(spec)


def open_problems(spec: Any, path: str, what: str) -> Iterator[Problem]:
    """What is allowed or barred has a name that means something."""
    if what in OPENED:
        return
    if what not in spec.zones:
        yield unknown(path, "transfer, shoot or a zone", what, [*OPENED, *spec.zones])
    elif not spec.zones[what].closed_to:
        yield broken(path, f"be a zone that is closed to somebody, as zones.{what} is not", what)


# --- with and without the ball


def turning_problems(spec: Any, path: str, role: Any) -> Iterator[Problem]:
    """What is wrong with where a role plays with and without the ball."""
    for key in ("with_ball", "without_ball"):
        words = getattr(role, key)
        if words is None:
            continue
        if role.side == HOLDER:
            yield broken(f"{path}.{key}", "be left out of floaters, who are always with the ball", words)
        elif role.style in ("wait", "goal"):
            yield broken(f"{path}.{key}", f"be left out of roles with style = {show(role.style)}", words)
        elif words.split()[0] not in ("edge", "free"):
            yield broken(f"{path}.{key}", "be edge or free in a place", words)


def aim_problems(spec: Any, path: str, phase: Any, sides: list[str]) -> Iterator[Problem]:
    """Every side that aims at something of its own is one."""
    for side in phase.aims:
        if side not in sides:
            yield side_or_colour(spec, path, side, sides, NO_AIM)
