"""The lines of the areas: who stands on them, how wide the run-off beyond them is, and when a ball over them is out."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Literal

from sim.game.messages import Problem, broken
from sim.game.model import Game
from sim.game.spec import AreaSpec, GameSpec
from sim.units import to_metres

RUN_OFF_M = 3.0
RUN_OFF_MANNED_M = 2.0  # where players stand on the lines and step back to take a ball
NARROWEST_PLAYED_M = 0.5  # in less than a stride nobody steps back
Post = tuple[str, str]
"""Style and place of a role in a phase."""


def _manned(posts: Iterable[Post], areas: Iterable[str], homes: Iterable[str | None]) -> set[str]:
    """The areas on whose lines somebody plays; "active" is any area, "home" that of any team."""
    places: set[str | None] = {place for style, place in posts if style == "edge"}
    if "home" in places:
        places |= set(homes)
    return {area for area in areas if area in places or "active" in places}


def manned(game: Game) -> set[str]:
    """The areas on whose lines somebody plays in some phase of a game."""
    told = [
        (role, {job.role: (job.style, job.place) for job in phase.jobs}) for phase in game.phases for role in game.roles
    ]
    posts = [post for role, jobs in told for post in ([jobs[role.name]] if role.name in jobs else role.posts)]
    return _manned(posts, (area.name for area in game.areas), (team.home for team in game.teams))


def manned_as_written(spec: GameSpec) -> set[str]:
    """The same of the short form."""
    posts = []
    for phase in spec.phases.values():
        for name, role in spec.roles.items():
            style, _, place = phase.jobs[name].split() if name in phase.jobs else (role.style, "in", role.place)
            posts.append((style, place))
            more = [] if name in phase.jobs else [words for words in (role.with_ball, role.without_ball) if words]
            posts += [(words.split()[0], words.split()[2]) for words in more]
    return _manned(posts, spec.areas, (team.home for team in spec.teams.values()))


def run_off_m(spec: GameSpec, name: str) -> float:
    """The free strip around an area, metres."""
    written = spec.areas[name].run_off
    if written is not None:
        return to_metres(written, spec.units)
    return RUN_OFF_MANNED_M if name in manned_as_written(spec) else RUN_OFF_M


def out_of(spec: GameSpec, name: str) -> Literal["line", "run-off"]:
    """When a ball over the line of an area is out: as written, else as players stand on the line and have room behind it."""
    area: AreaSpec = spec.areas[name]
    if area.out is not None:
        return area.out
    return "run-off" if name in manned_as_written(spec) and run_off_m(spec, name) >= NARROWEST_PLAYED_M else "line"


def line_problems(spec: GameSpec) -> Iterator[Problem]:
    """A run-off that is to be played in has to have room, and somebody to play in it."""
    for name, area in spec.areas.items():
        if area.out != "run-off":
            continue
        if name not in manned_as_written(spec):
            yield broken(f"areas.{name}.out", "be line, as nobody stands on the lines of this area", area.out)
        elif (wide := run_off_m(spec, name)) < NARROWEST_PLAYED_M:
            must = f'be at least {NARROWEST_PLAYED_M:g} metres where out = "run-off"'
            yield broken(f"areas.{name}.run_off", must, wide)
