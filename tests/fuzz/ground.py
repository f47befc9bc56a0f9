"""The ground of a random game: areas that lie apart or inside each other, and goals, gates and zones where each has its room.

Where everything lies is worked out here, in the file's unit and about the middle of the first area, so that the next thing goes
where there is room for it.
"""

from __future__ import annotations

from typing import NamedTuple

from sim.game.zone_spec import PARTS
from tests.fuzz.chance import Chance
from tests.fuzz.draft import Draft

AREAS, GOALS, GATES, ZONES = (
    ("meadow", "paddock", "orchard"),
    ("larch", "maple", "hazel"),
    ("stile", "hatch"),
    ("glade", "copse"),
)
OUTWARD = {"west": (-1, 0), "east": (1, 0), "south": (0, -1), "north": (0, 1)}
UPRIGHT = ("west", "east")
LEAST_M, MOST_M = 3.4, 40.0
TOUCHING = 1e-6
GROWS = 3.0  # metres or yards by which an area may grow
ALL_OF_A_GOAL = 9.0  # an end, in metres or yards, that a goal of full size fits on


class Spot(NamedTuple):
    """A rectangle: its middle, its length from west to east and its width."""

    x: float
    y: float
    length: float
    width: float

    def gaps(self, other: Spot) -> tuple[float, float]:
        """How far apart the two are along and across; less than 0 where they overlap."""
        return (
            abs(self.x - other.x) - (self.length + other.length) / 2,
            abs(self.y - other.y) - (self.width + other.width) / 2,
        )

    def lies_in(self, other: Spot) -> bool:
        """Whether it lies wholly inside the other one."""
        along, across = abs(self.x - other.x) + self.length / 2, abs(self.y - other.y) + self.width / 2
        return along <= other.length / 2 + TOUCHING and across <= other.width / 2 + TOUCHING

    def touches(self, other: Spot) -> bool:
        """Whether the two share a stretch of line."""
        inside = self.lies_in(other) or other.lies_in(self)
        low, high = sorted(self.gaps(other))
        return not inside and abs(high) <= TOUCHING and low < -TOUCHING

    def goes_with(self, others: list[Spot]) -> bool:
        """Whether it lies apart from each of the others, or one inside the other."""
        return all(max(self.gaps(one)) >= 0 or self.lies_in(one) or one.lies_in(self) for one in others)

    def beside(self, end: str, gap: float, length: float, width: float) -> Spot:
        """A rectangle of that size at an end of this one."""
        dx, dy = OUTWARD[end]
        return Spot(
            self.x + dx * ((self.length + length) / 2 + gap),
            self.y + dy * ((self.width + width) / 2 + gap),
            length,
            width,
        )


def areas(chance: Chance, draft: Draft) -> dict:
    """One to three areas; sometimes one on either side of the first, written once."""
    found: dict[str, dict] = {}
    for name in AREAS[: chance.one([1, 1, 1, 2, 2, 3])]:
        length, width = chance.real(LEAST_M, MOST_M), chance.real(LEAST_M, MOST_M)
        area, spot = _placed(chance, draft, length, width) if found else ({"length": length, "width": width}, None)
        if spot is None and chance.yes(0.2):  # as wide as it is long
            width = area.pop("length")
            area["length"] = width
            del area["width"]
        found[name] = chance.perhaps(area, run_off=lambda: chance.real(0, 10))
        draft.spots[name] = spot or Spot(0.0, 0.0, length, width)
    if len(found) == 1 and chance.yes(0.15):
        size, gap = (chance.real(LEAST_M, MOST_M), chance.real(LEAST_M, MOST_M)), chance.one([0, 0, 3.5])
        for name, end in (("west-pen", "west"), ("east-pen", "east")):
            draft.spots[name] = draft.spots[AREAS[0]].beside(end, gap, *size)
        pen = {"length": size[0], "width": size[1], "beside": AREAS[0], "on": "west", "gap": gap, "other_side": True}
        found["west-pen"] = pen
    return found


def _placed(chance: Chance, draft: Draft, length: float, width: float) -> tuple[dict, Spot]:
    """An area beside, inside or clear of those there are: as it is written, and where that is."""
    there = list(draft.spots.values())
    gap, share = chance.one([0, 0, chance.real(0, 15)]), (chance.real(0.3, 1.0), chance.real(0.3, 1.0))
    beside, within = [], []
    for name, spot in draft.spots.items():
        for end in OUTWARD:
            one = spot.beside(end, gap, length, width)
            words = {"length": length, "width": width, "beside": name, "on": end} | ({"gap": gap} if gap else {})
            beside += [(words, one)] if one.goes_with(there) else []
        size = max(LEAST_M, spot.length * share[0]), max(LEAST_M, spot.width * share[1])
        inside = Spot(spot.x, spot.y, *size)
        words = {"length": size[0], "width": size[1], "within": name}
        within += [(words, inside)] if inside.goes_with(there) else []
    x = max(one.x + one.length / 2 for one in there) + chance.real(1, 30) + length / 2
    clear = Spot(x, chance.real(-20, 20), length, width)
    apart = [({"length": length, "width": width, "centre": [clear.x, clear.y]}, clear)]
    return chance.one(chance.one([options for options in (beside, beside, within, apart) if options]))


def can_be_between(draft: Draft) -> bool:
    """Whether any two areas share a line over which a ball in play may roll, wherever it is played."""
    names = list(draft.spots)
    if len(names) == 2 or "west-pen" in names:
        return any(draft.spots[AREAS[0]].touches(draft.spots[name]) for name in names[1:])
    return False


def room_to_change(draft: Draft) -> str | None:
    """An area that may grow or shrink a little: nothing else has its lines on the way."""
    if draft.gates or draft.zones:
        return None
    for name, spot in draft.spots.items():
        around = spot._replace(length=spot.length + 2 * GROWS, width=spot.width + 2 * GROWS)
        others = [one for other, one in draft.spots.items() if other != name]
        if all(max(around.gaps(one)) > 0 for one in (*others, *draft.mouths)):
            return name
    return None


def goals(chance: Chance, draft: Draft) -> dict:
    """Goals at the ends of areas or anywhere, none on the ground of another; sometimes one for each side, written once."""
    found: dict[str, dict] = {}
    if len(draft.sides) == 2 and chance.yes(0.1):
        spot = draft.spots[AREAS[0]]
        size = min(spot.width, chance.real(0.5, 7.3))
        draft.attacked |= set(draft.sides)
        draft.goals += ["west-net", "east-net"]
        draft.mouths += [_mouth(spot, end, 1.0, 0.0) for end in UPRIGHT]
        net = {"at": f"west end of {AREAS[0]}", "width": size, "attacked_by": draft.sides[0]}
        return {"west-net": net | {"other_side": True}}
    mouths = draft.mouths
    for name in GOALS[: chance.one([0, 0, 1, 2, 2, 3])]:
        width, away = chance.real(0.5, 7.3), chance.real(0, 5)
        ends = [(area, end, _mouth(spot, end, width, away)) for area, spot in draft.spots.items() for end in OUTWARD]
        free = [(area, end, mouth) for area, end, mouth in ends if _clear(mouth, mouths)]
        if free and chance.yes(0.7):
            area, end, mouth = chance.one(free)
            goal = {"at": f"{end} end of {area}", "width": max(mouth.length, mouth.width), "distance": away}
            if goal["width"] >= ALL_OF_A_GOAL:
                del goal["width"]
        else:
            end, middle = chance.one(OUTWARD), [chance.real(-30, 30), chance.real(-30, 30)]
            mouth = _mouth(Spot(*middle, 0.0, 0.0), end, width, 0.0, room=width)
            if not _clear(mouth, mouths):
                continue
            goal = {"end": end, "centre": middle, "width": width}
        goal |= {"attacked_by": chance.one(["any", *draft.sides])}
        if goal["attacked_by"] == "any" and chance.yes():
            del goal["attacked_by"]
        draft.attacked |= set(draft.sides) if goal.get("attacked_by", "any") == "any" else {goal["attacked_by"]}
        draft.goals.append(name)
        mouths.append(mouth)
        found[name] = chance.perhaps(goal, height=lambda: chance.real(0.5, 2.44))
    return found


def _mouth(spot: Spot, end: str, width: float, away: float, room: float | None = None) -> Spot:
    """The line between the posts of a goal at an end, at most as wide as there is room."""
    dx, dy = OUTWARD[end]
    size = min(width, (spot.width if end in UPRIGHT else spot.length) if room is None else room)
    x, y = spot.x + dx * (spot.length / 2 + away), spot.y + dy * (spot.width / 2 + away)
    return Spot(x, y, 0.0, size) if end in UPRIGHT else Spot(x, y, size, 0.0)


def _clear(mouth: Spot, others: list[Spot]) -> bool:
    return all(max(mouth.gaps(one)) > 0.01 for one in others)


def gates(chance: Chance, draft: Draft) -> dict:
    """None to two gates, each with both cones in an area; sometimes two, written once."""
    home = draft.spots[AREAS[0]]
    if chance.yes(0.08):
        size = min(home.length, home.width) / 4
        draft.gates += ["west-gap", "east-gap"]
        return {
            "west-gap": {
                "centre": [-home.length / 4, chance.one([0.0, home.width / 5])],
                "width": size,
                "other_side": True,
            }
        }
    found = {}
    for name in GATES[: chance.whole(0, 2)]:
        area = chance.one(draft.spots)
        room = min(draft.spots[area].width, draft.spots[area].length)
        gate = {"width": room * chance.real(0.3, 1.0)}
        gate |= {"within": area} if chance.yes(0.7) else {"centre": [draft.spots[area].x, draft.spots[area].y]}
        if room > 2.0 and chance.yes(0.2):
            del gate["width"]
        found[name] = chance.perhaps(gate, way=lambda: chance.one(["west-east", "south-north"]))
        draft.gates.append(name)
    return found


def zones(chance: Chance, draft: Draft) -> dict:
    """None to two zones, no two of the parts into which an area falls; sometimes one at either end, written once."""
    if chance.yes(0.55):
        return {}
    home = draft.spots[AREAS[0]]
    if chance.yes(0.15):
        draft.zones += ["west-verge", "east-verge"]
        verge = {
            "at": f"west end of {AREAS[0]}",
            "depth": max(1.2, home.length * chance.real(0.1, 0.4)),
            "other_side": True,
        }
        return {"west-verge": verge}
    found: dict[str, dict] = {}
    taken: set[tuple[str, str]] = set()
    for name in ZONES[: chance.one([1, 1, 2])]:
        area = chance.one(draft.spots)
        spot = draft.spots[area]
        kind = chance.one([one for one in (*PARTS, "within", "centre") if (area, one) not in taken])
        taken.add((area, kind))
        size = {
            "length": max(1.2, spot.length * chance.real(0.2, 0.9)),
            "width": max(1.2, spot.width * chance.real(0.2, 0.9)),
        }
        if kind in PARTS:
            part = chance.one(PARTS[kind])
            found[name] = {"at": f"{part} {kind} of {area}"}
            if kind == "end":
                deep, wide = (spot.length, spot.width) if part in UPRIGHT else (spot.width, spot.length)
                found[name]["depth"] = max(1.2, deep * chance.real(0.1, 0.45))
                found[name] = chance.perhaps(
                    found[name], width=lambda wide=wide: max(1.2, wide * chance.real(0.3, 0.9))
                )
        else:
            found[name] = size | ({"within": area} if kind == "within" else {"centre": [spot.x, spot.y]})
        draft.zones.append(name)
    return found
