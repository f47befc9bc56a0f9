"""Ground that changes: areas are marked out anew while the ball is dead."""

from __future__ import annotations

from dataclasses import replace

from sim.game.resizing import resized
from sim.pitch.bout_parts import grounds_of
from sim.pitch.log import EventKind
from sim.pitch.state import Bout


def plan(bout: Bout, name: str, metres: float, to: float) -> None:
    """An area is to change its size by so much, until a side has come `to` that; on top of what it is to change already."""
    area = bout.game.area(name)
    length, width = bout.restart.sizes.get(name, (area.length, area.width))
    bout.restart.sizes[name] = resized(length, width, metres, to)


def lay_out(bout: Bout) -> None:
    """The areas that are to change are marked out anew; everybody's place follows when jobs are given out next."""
    sizes, bout.restart.sizes = bout.restart.sizes, {}
    changed = {
        name: bout.game.area(name).model_copy(update={"length": length, "width": width})
        for name, (length, width) in sizes.items()
        if (length, width) != (bout.game.area(name).length, bout.game.area(name).width)
    }
    if not changed:
        return
    areas = tuple(changed.get(area.name, area) for area in bout.game.areas)
    bout.game = bout.standing.game = bout.game.model_copy(update={"areas": areas})
    bout.layout = replace(bout.layout, grounds=grounds_of(bout.game))
    bout.jobs = ()
    for area in changed.values():
        bout.note(EventKind.GROUND, detail=area.name, x=area.length, y=area.width)
