"""Areas as written: their sizes in metres, and where each is said to lie."""

from __future__ import annotations

from collections.abc import Iterator

from sim.game.bounds import FURTHEST_M, LONGEST_SIDE_M, SHORTEST_SIDE_M
from sim.game.messages import Problem, broken, unknown
from sim.game.spec import AreaSpec, GameSpec
from sim.units import to_metres


def metres_problems(
    path: str, value: float | None, units: str, least: float = 0.0, most: float = FURTHEST_M
) -> Iterator[Problem]:
    """A length written in the file's unit against its bounds in metres."""
    size_m = 0.0 if value is None else to_metres(value, units)
    if value is not None and size_m > most:
        yield broken(path, f"be at most {most:g} metres", size_m)
    if value is not None and size_m < least:
        yield broken(path, f"be at least {least:g} metres", size_m)


def _placed_by(area: AreaSpec) -> list[str]:
    """The keys that say where an area lies."""
    return [key for key in ("beside", "within", "centre") if getattr(area, key) is not None]


def _placing(spec: GameSpec, name: str, area: AreaSpec) -> Iterator[Problem]:
    """What is wrong with where an area is said to lie."""
    path, placed = f"areas.{name}", _placed_by(area)
    if len(placed) > 1:
        yield Problem(path, f"must be placed by only one of beside, within and centre (got {', '.join(placed)})")
    for key in ("on", "gap"):
        if getattr(area, key) is not None and area.beside is None:
            yield broken(f"{path}.{key}", "be left out where beside is not given", getattr(area, key))
    if area.beside is not None and area.on is None:
        yield Problem(f"{path}.on", "must be given with beside (got nothing)")
    for key in ("beside", "within"):
        other = getattr(area, key)
        if other is not None and other not in spec.areas:
            yield unknown(f"{path}.{key}", "an area", other, spec.areas)
    seen: list[str] = []
    here: str | None = name
    while here in spec.areas and here not in seen:
        seen.append(here)
        here = spec.areas[here].beside or spec.areas[here].within
    if here == name:
        yield Problem(path, f"must not be placed by itself (got {', then '.join([*seen, here])})")


def area_problems(spec: GameSpec) -> Iterator[Problem]:
    """What is wrong with the sizes of areas, and with where they are said to lie."""
    unplaced = []
    for name, area in spec.areas.items():
        path = f"areas.{name}"
        for key in ("length", "width"):
            yield from metres_problems(f"{path}.{key}", getattr(area, key), spec.units, SHORTEST_SIDE_M, LONGEST_SIDE_M)
        yield from metres_problems(f"{path}.run_off", area.run_off, spec.units)
        yield from metres_problems(f"{path}.gap", area.gap, spec.units)
        for value in area.centre or ():
            yield from metres_problems(f"{path}.centre", value, spec.units, -FURTHEST_M)
        if not _placed_by(area):
            unplaced.append(path)
        yield from _placing(spec, name, area)
    for path in unplaced[1:]:
        yield Problem(path, "must say where it lies: beside and on, within, or centre (got nothing)")
