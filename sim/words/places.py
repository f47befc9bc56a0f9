"""Where things are: areas by name, where they lie, the goals in them."""

from __future__ import annotations

from sim.game.borders import lies_in
from sim.game.model import Area, Game
from sim.words.ground_words import ON_SIDE
from sim.words.listing import listed, number
from sim.words.playing import fronts
from sim.words.who import side_called

_WHERE_NOT_WHAT = (
    *(
        "west",
        "east",
        "north",
        "south",
        "left",
        "right",
        "upper",
        "lower",
        "top",
        "bottom",
        "near",
        "far",
        "inner",
        "outer",
    ),
    *("home", "away", "big", "small", "long", "short", "wide", "narrow", "first", "second", "third"),
)
"""Names that say where or which a place is, not what it is: they need the word "area", or "zone"."""
_ON = ("pitch", "field", "ground", "grass")  # one plays on these, and in a square
_SHORTEST_WORD = 3  # letters: shorter names, and those with a figure in them, are no words


def area_called(name: str, kind: str = "area") -> str:
    """ "the square", "the west area", "area 2"; `kind`: what the place is, an area or a zone."""
    if name in _WHERE_NOT_WHAT:
        return f"the {name} {kind}"
    if name.startswith("area"):
        return name
    return f"{kind} {name}" if len(name) < _SHORTEST_WORD or any(sign.isdigit() for sign in name) else f"the {name}"


def another_area(game: Game) -> str:
    """An area that is not this one."""
    if len(game.areas) == 2:
        return "the other area"
    ends = _posts(game)
    return f"the other one ({listed([area_called(one) for one in ends], 'or')})" if len(ends) == 2 else "another area"


def _posts(game: Game) -> list[str]:
    """The areas in which whoever begins with the ball, or a floater, has a place; all where somebody goes where the ball is."""
    theirs = {
        place
        for role in game.roles
        if role.side in (game.start_side, "holder", "team") and role.style != "wait"
        for _, place in role.posts
    }
    everywhere = theirs & {"active", "home"} or {job.role for phase in game.phases for job in phase.jobs}
    return [area.name for area in game.areas if everywhere or area.name in theirs]


def within(game: Game, place: str) -> str:
    """In an area or a zone: "in the square", "on the pitch", "in the area the ball is in", "in their home area"."""
    return f"{'on' if place in _ON else 'in'} {place_called(game, place)}"


def within_area(name: str) -> str:
    """In an area: "in the square", "on the pitch", "in the far area"."""
    return f"{'on' if name in _ON else 'in'} {area_called(name)}"


def place_called(game: Game, place: str) -> str:
    """``the square``, ``the far zone``; ``the area the ball is in`` and ``their home area`` for the words of the game file."""
    kind = "zone" if any(zone.name == place for zone in game.zones) else "area"
    return {"active": "the area the ball is in", "home": "their home area"}.get(place) or area_called(place, kind)


def played_in(game: Game, place: str) -> str:
    """Where a ball is played; nothing where there is only one place for it."""
    if len(game.areas) == 1:
        return ""
    return f"; play is {'wherever the ball is' if place == 'active' else within(game, place)}"


def _lies(area: Area, earlier: list[Area]) -> str:
    """Where an area lies: inside one of the earlier ones, or beside the nearest of them (of two as near, the first)."""
    beside: list[tuple[float, str]] = []
    for other in earlier:
        there = area_called(other.name)
        if lies_in(area, other):
            middle = (area.x, area.y) == (other.x, other.y)
            return f", marked out {'in the middle of' if middle else 'inside'} {there}"
        w, s, e, n = area.bounds
        west, south, east, north = other.bounds
        for gap, side in ((w - east, "east"), (west - e, "west"), (s - north, "north"), (south - n, "south")):
            if gap >= -1e-6:
                apart = f"{number(abs(gap))} m {ON_SIDE[side]}" if gap > 1e-6 else f"touching the {side} side of"
                beside.append((round(gap, 6), f", {apart} {there}"))
                break
    return min(beside, key=lambda one: one[0])[1] if beside else ""


def areas_and_goals(game: Game) -> list[str]:
    """The areas and goals, as they are laid out."""
    lines = []
    for index, area in enumerate(game.areas):
        size = f"{number(area.length)} x {number(area.width)} m"
        where = _lies(area, list(game.areas[:index]))
        played = ", in which play goes on" if area.run_off_in_play else ""
        lines.append(f"Area {area.name}: {size}{where}; {number(area.run_off)} m free around it{played}.")
    for goal in game.goals:
        size = f"{number(goal.width)} m wide and {number(goal.height)} m high"
        scorer = "either side scores" if goal.attacked_by == "any" else f"{side_called(game, goal.attacked_by)} score"
        lines.append(f"Goal {goal.name}: at the {goal.end} end, {size}; {scorer} in it.")
    return lines + fronts(game)
