"""Teams that change sides: rules that go by the colour of who did it, and points that are counted by colour."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from sim.errors import any_of
from sim.game.messages import Problem, broken, show, unknown

OF_A_COLOUR = ("loss", "win", "out", "home", "goal", "save", "miss", "foul")
"""Events that one player is known to have done."""
NO_AIM = "an aim is a side's, as all colours of a side share the one ball"


def colour_problems(spec: Any) -> Iterator[Problem]:
    """What is wrong with whatever asks for a colour."""
    for phase_name, phase in spec.phases.items():
        for rule_name, rule in phase.rules.items():
            path = f"phases.{phase_name}.rules.{rule_name}.colour"
            if rule.colour is not None and rule.on not in OF_A_COLOUR:
                yield broken(path, f"be left out unless on = {any_of([show(on) for on in OF_A_COLOUR])}", rule.colour)
            if rule.colour is not None and rule.colour not in spec.teams:
                yield unknown(path, "a team", rule.colour, spec.teams)
    if spec.bouts.points_by == "colour":
        yield from _points(spec)


def _points(spec: Any) -> Iterator[Problem]:
    """Why points cannot be counted by colour."""
    bouts, path = spec.bouts, "bouts.points_by"
    by_bibs = [name for name, role in spec.roles.items() if role.side == "team"]
    if by_bibs:
        yield broken(path, f'be left out where roles.{by_bibs[0]}.side = "team", as every side is one colour', "colour")
    elif len(spec.teams) < 2:
        yield broken(path, "be left out where there is one team", "colour")
    if bouts.first_to is None and not bouts.best_of:
        yield broken(path, "go with first_to or best_of, the words that count points", "colour")
    by_side = {
        "points": bouts.points == "carry on",
        "level_seconds": bouts.level_seconds > 0,
        "stays": bouts.stays is not None,
        "first_ball": bouts.first_ball in ("winner", "loser"),
    }
    for key in (key for key, asked in by_side.items() if asked):
        must = 'be left out with points_by = "colour", as it goes by the points of a side'
        yield broken(f"bouts.{key}", must, getattr(bouts, key))
    for side, points in spec.start.points.items():
        yield broken(f"start.points.{side}", 'be left out with bouts.points_by = "colour"', points)


def side_or_colour(spec: Any, path: str, got: str, sides: Any, instead: str) -> Problem:
    """That something is no side; where it is a colour, what goes by colour `instead`."""
    found = unknown(path, "a side", got, sides)
    if got not in spec.teams:
        return found
    return Problem(path, f"{found.rule.removesuffix(')')}; {instead})")
