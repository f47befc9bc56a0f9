"""Zones in plain words: where each lies, who stays out of it, how many are in it."""

from __future__ import annotations

from sim.game.borders import around
from sim.game.model import Area, Game
from sim.game.zones import HOLDER, OTHER, Limit, Zone
from sim.geometry import ROUNDING_M
from sim.words.ground_words import ON_SIDE
from sim.words.listing import listed, number
from sim.words.places import area_called
from sim.words.who import in_role, many_of, side_called

_ENDS = ("west", "south", "east", "north")  # as in bounds


def who_called(game: Game, who: str) -> str:
    """Of whom a zone speaks: ``amber``, ``the side without the ball``."""
    words = {HOLDER: "the side with the ball", OTHER: "the side without the ball"}
    if who in words:
        return words[who]
    sides = {role.side for role in game.roles} | {team.name for team in game.teams}
    return side_called(game, who) if who in sides else many_of(who)


def lies(zone: Zone, area: Area) -> str:
    """``across the west end of the pitch``; ``at its north line``; how far off its middle."""
    there = area_called(area.name)
    on = [
        end for end, one, other in zip(_ENDS, zone.bounds, area.bounds, strict=True) if abs(one - other) <= ROUNDING_M
    ]
    match len(on):
        case 4:
            return f"all of {there}"
        case 3:
            end = next(
                end for end in on if {"west": "east", "east": "west", "south": "north", "north": "south"}[end] not in on
            )
            return f"across the {end} end of {there}, inside it"
        case 2 if set(on) in ({"west", "east"}, {"south", "north"}):
            return f"a strip across {there}, {_off(zone, area)}"
        case 1:
            return f"at the {on[0]} line of {there}"
    return f"in {there}, {_off(zone, area)}"


def _off(zone: Zone, area: Area) -> str:
    off = [
        f"{number(abs(metres))} m {ON_SIDE[ends[metres > 0]]}"
        for metres, ends in ((zone.x - area.x, ("west", "east")), (zone.y - area.y, ("south", "north")))
        if abs(metres) > ROUNDING_M
    ]
    return f"{' and '.join(off)} its middle" if off else "in its middle"


def _opens(game: Game, zone: Zone) -> str:
    said = [what for phase in game.phases for what in phase.opened]
    said += [
        action.what for phase in game.phases for rule in phase.rules for action in rule.do if action.verb == "open"
    ]
    return " until it is opened" if zone.name in said else ""


def _number(game: Game, one: Limit) -> str:
    most = [] if one.most is None else [f"no more than {one.most}"]
    least = [f"at least {one.least}"] if one.least else []
    return f"{' and '.join([*least, *most])} of {who_called(game, one.who)}"


def zone_line(game: Game, zone: Zone) -> str:
    """One zone, as it is laid out and kept."""
    size = f"{number(zone.length)} x {number(zone.width)} m"
    parts = [f"Zone {zone.name}: {size}, {lies(zone, around(game, zone))}"]
    if zone.closed_to:
        own = [in_place(game, role.name) for role in game.roles if role.place == zone.name]
        but = f", not to {listed(own)}" if own else ""
        parts.append(f"closed to {listed([who_called(game, who) for who in zone.closed_to])}{but}{_opens(game, zone)}")
    if zone.offside:
        parts.append("offside counts in it")
    if zone.limits:
        parts.append(f"in it {listed([_number(game, one) for one in zone.limits])}")
    elif not zone.closed_to and all_in_zones(game):
        parts.append("only for those placed in it")
    return f"{'; '.join(parts)}."


def all_in_zones(game: Game) -> bool:
    """Whether everybody who is no keeper has a zone as his place, so that nobody else comes into one."""
    names = {zone.name for zone in game.zones}
    posts = [one for role in game.roles for one in role.posts]
    posts += [(job.style, job.place) for phase in game.phases for job in phase.jobs]
    return all(place in names or style in ("goal", "wait") for style, place in posts)


def in_place(game: Game, role: str) -> str:
    """Those in a role: ``the west-keeper``, ``the wall players``."""
    alone = sum(player.role == role for player in game.players) == 1
    return in_role(role, 1) if alone else f"the {many_of(role)}"


def zones_in_words(game: Game) -> list[str]:
    """A line a zone."""
    return [zone_line(game, zone) for zone in game.zones]


def zone_opened(zone: str, whom: str) -> str:
    """What is allowed when a zone is opened, to everybody or ("" otherwise) to one side."""
    return f"zone {zone} is open to {whom or 'everybody'}"


def zone_closed(zone: str, whom: str) -> str:
    """What holds when it is closed again."""
    return f"zone {zone} is closed{f' to {whom}' if whom else ''} again"


def _but(game: Game) -> str:
    """Who is not held to the lines of zones."""
    styles = {style for role in game.roles for style, _ in role.posts} | {
        job.style for phase in game.phases for job in phase.jobs
    }
    free = [
        words for style, words in (("goal", "keepers"), ("edge", "those on the lines of an area")) if style in styles
    ]
    return f", {listed(free)} apart" if free else ""


def _why(game: Game) -> str:
    """Why somebody may not go into a zone."""
    full = any(one.most is not None for zone in game.zones for one in zone.limits)
    shut = any(zone.closed_to for zone in game.zones)
    why = [word for word, so in (("closed to him", shut), ("full", full)) if so]
    return f" (it is {listed(why, 'or')})" if why else ""


def _who_else(game: Game) -> str:
    """That a role which a rule gives somebody is no way into a full zone."""
    full = any(one.most is not None for zone in game.zones for one in zone.limits)
    taken = any(action.verb == "assign" for phase in game.phases for rule in phase.rules for action in rule.do)
    return ", in a new role too" if full and taken else ""


def at_the_lines_inside(game: Game) -> list[str]:
    """What lines inside an area mean in play."""
    names = {zone.name for zone in game.zones}
    places = {place for role in game.roles for _, place in role.posts}
    places |= {job.place for phase in game.phases for job in phase.jobs}
    lines = []
    if names & places:
        lines.append(
            "Anybody whose place is a zone keeps to it: he moves in it as he likes, up to its line, and reaches over that for a "
            "ball."
        )
    if any(zone.limited for zone in game.zones):
        lines.append(
            f"Who may not go into a zone{_why(game)}, or must not leave one, waits at its line{_who_else(game)}{_but(game)}."
        )
    if lines:
        lines[-1] += " The ball may go anywhere; where it stops and nobody may go, it is out."
    if any(zone.offside for zone in game.zones):
        lines.append(
            "Offside is who, as a pass to him is struck, is in a zone where it counts, nearer to the line of the goal his side "
            "goes for than the ball and than all but one of the others: if he gets the ball, it is lost."
        )
    return lines
