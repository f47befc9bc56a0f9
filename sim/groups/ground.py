"""The ground of a game, larger or smaller: every piece of it in whole metres, what touched still touches, goals on their lines."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Mapping
from typing import Any

from sim.geometry import ROUNDING_M

LINE_SHARE = 0.5
"""A gate wider than this share of the ground across is a line over it, and stretched with it."""
CONES_TO = 0.5
"""Gates are set to the nearest half metre."""
NEARBY = tuple(1.0 + sign * step / 100.0 for step in range(9) for sign in (1, -1)[: 2 if step else 1])
"""Other factors that will do as well, the nearest first: a ground a few hundredths off is as good, and squares stay squares."""


def stretched(data: Mapping[str, Any], factor: float) -> dict[str, Any]:
    """Plain data of a game in metres (`sim.game.write.to_short`), all lengths of its ground times `factor`, as near as whole metres
    come to it; a little more or less where only so lengths that were alike stay alike.

    Run-offs, goals and gates between two cones keep their width.  Zones keep their share of their area: thirds stay thirds, though
    their lines then need not lie in whole metres.
    """
    tried = (_stretched(data, factor * near) for near in NEARBY)
    return next((found for found in tried if _alike(data, found)), None) or _stretched(data, factor)


def _alike(before: Mapping[str, Any], after: Mapping[str, Any]) -> bool:
    """Whether areas and their sides that were of one length are so still."""
    now: dict[float, set[float]] = {}
    for name, area in before["areas"].items():
        for key in ("length", "width"):
            now.setdefault(round(area[key], 6), set()).add(round(after["areas"][name][key], 6))
    return all(len(found) == 1 for found in now.values())


def _stretched(data: Mapping[str, Any], factor: float) -> dict[str, Any]:
    along = _Axis([area["centre"][0] for area in data["areas"].values()], _sizes(data, "length"), factor)
    across = _Axis([area["centre"][1] for area in data["areas"].values()], _sizes(data, "width"), factor)
    parts = {
        table: {name: one | _part(one, along, across) for name, one in data.get(table, {}).items()}
        for table in ("areas", "zones")
    }
    placed = {
        table: {
            name: one | {"centre": _moved(one["centre"], along, across)} for name, one in data.get(table, {}).items()
        }
        for table in ("goals", "gates")
    }
    for gate in placed["gates"].values():
        axis = across if gate["way"] == "west-east" else along
        gate["width"] = axis.line(gate["width"])
        gate["centre"] = [round(at / CONES_TO) * CONES_TO for at in gate["centre"]]
    return {**data, **{table: found for table, found in (parts | placed).items() if found}}


def _sizes(data: Mapping[str, Any], key: str) -> list[float]:
    return [area[key] for area in data["areas"].values()]


def _part(one: Mapping[str, Any], along: _Axis, across: _Axis) -> dict[str, Any]:
    """Size and place of an area or a zone."""
    (x, y), (length, width) = one["centre"], (one["length"], one["width"])
    west, east = along(x - length / 2), along(x + length / 2)
    south, north = across(y - width / 2), across(y + width / 2)
    return {"length": east - west, "width": north - south, "centre": [(west + east) / 2, (south + north) / 2]}


def _moved(centre: list[float], along: _Axis, across: _Axis) -> list[float]:
    return [along(centre[0]), across(centre[1])]


class _Axis:
    """Where a place on one axis comes to lie: every stretch between two edges of areas is a whole number of metres."""

    def __init__(self, centres: list[float], sizes: list[float], factor: float):
        ends = sorted(end for at, size in zip(centres, sizes, strict=True) for end in (at - size / 2, at + size / 2))
        self.before = [end for i, end in enumerate(ends) if i == 0 or end - ends[i - 1] > ROUNDING_M]
        gaps = [later - earlier for earlier, later in zip(self.before, self.before[1:], strict=False)]
        steps = [max(1.0, float(round(gap * factor))) for gap in gaps]
        total, self.after = sum(steps), [-sum(steps) / 2]
        for step in steps:
            self.after.append(self.after[-1] + step)
        self.stretch = total / sum(gaps)

    def __call__(self, at: float) -> float:
        """The new place; beyond the ground as far from it as before."""
        if at <= self.before[0]:
            return self.after[0] + at - self.before[0]
        if at >= self.before[-1]:
            return self.after[-1] + at - self.before[-1]
        i = bisect_right(self.before, at) - 1
        share = (at - self.before[i]) / (self.before[i + 1] - self.before[i])
        return self.after[i] + share * (self.after[i + 1] - self.after[i])

    def line(self, width: float) -> float:
        """The new width of a line across; of a gap between two cones the old one."""
        whole = self.before[-1] - self.before[0]
        return round(width * self.stretch / CONES_TO) * CONES_TO if width > LINE_SHARE * whole else width
