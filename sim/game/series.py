"""Can the next bout have of this one what the file says: the first ball, the points, the team that has won?"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import chain

from sim.errors import any_of
from sim.game.actions import ScoreAction
from sim.game.carry_on import CARRY_ON, START_ANEW
from sim.game.messages import Problem, broken, show
from sim.game.resolve import start_phase
from sim.game.roster import Place, roster, sides_of
from sim.game.spec import GameSpec


def series_problems(spec: GameSpec) -> Iterator[Problem]:
    """Why the bouts cannot be played as a series."""
    bouts = spec.bouts
    if bouts.points == CARRY_ON and bouts.first_to is not None:
        yield broken(
            "bouts.points", f"be {show(START_ANEW)} with first_to, or a bout would be over as it begins", bouts.points
        )
    for key in ("longest_stay", "tie"):
        if getattr(bouts, key) is not None and bouts.stays is None:
            yield broken(f"bouts.{key}", 'be left out unless stays = "winner"', getattr(bouts, key))
    yield from chain(_without_points(spec), _first_ball(spec))
    if bouts.stays is not None:
        yield from chain(_staying(spec), _teams(spec))


def _without_points(spec: GameSpec) -> Iterator[Problem]:
    """What asks who has won, where nobody gets points."""
    bouts, rules = spec.bouts, [rule for phase in spec.phases.values() for rule in phase.rules.values()]
    if any(isinstance(action, ScoreAction) for rule in rules for action in rule.do):
        return
    asks: dict[str, object] = {"best_of": bouts.best_of or None, "stays": bouts.stays}
    asks["first_ball"] = bouts.first_ball if bouts.first_ball in ("winner", "loser") else None
    for key, value in asks.items():
        if value is not None:
            yield broken(f"bouts.{key}", "go with a rule that gives points, { score = 1 }", value)


def _first_ball(spec: GameSpec) -> Iterator[Problem]:
    """A side that may have the first ball can begin with it."""
    bouts, sides = spec.bouts, sides_of(spec)
    if bouts.first_ball == "start":
        return
    floaters = sum(spec.roles[place.role].side == "holder" for place in roster(spec))
    attacked = {goal.attacked_by for goal in spec.goals.values()}
    for side, players in sides.items():
        if len(players) + floaters < 2:
            yield broken("bouts.first_ball", f'be "start", as {side} have nobody to pass to', bouts.first_ball)
        elif spec.phases[start_phase(spec)].aim == "goal" and not attacked & {side, "any"}:
            yield broken("bouts.first_ball", f'be "start", as {side} have no goal to attack', bouts.first_ball)


def _staying(spec: GameSpec) -> Iterator[Problem]:
    """What does not go with a winner who stays."""
    bouts = spec.bouts
    if bouts.rotate == "list":
        yield broken("bouts.stays", 'be left out where rotate = "list"', bouts.stays)
    elif bouts.roles == START_ANEW:
        yield broken("bouts.stays", f"go with roles = {show(CARRY_ON)}", bouts.roles)
    if bouts.best_of:
        yield broken("bouts.stays", "be left out with best_of", bouts.stays)
    for name, player in spec.players.items():
        if player.never:
            yield broken(
                f"players.{name}.never", "be left out with bouts.stays, by which teams change whole", player.never
            )


def _teams(spec: GameSpec) -> Iterator[Problem]:
    """Two teams, a side each, and others of their size that are off."""
    everybody = roster(spec)
    by_bibs = [name for name, role in spec.roles.items() if role.side == "team"]
    if by_bibs:
        must = f'be left out where roles.{by_bibs[0]}.side = "team": name the two sides, which teams take in turn'
        yield broken("bouts.stays", must, spec.bouts.stays)
        return
    plays = {team: {side for side in _sides(spec, everybody, team)} for team in spec.teams}
    for side in sides_of(spec):
        here = [team for team, sides in plays.items() if side in sides]
        if len(here) != 1:
            got = any_of(here, "and") if here else "none"
            yield Problem("bouts.stays", f"must have one team on every side (got {got} on {side})")
    off = [team for team, sides in plays.items() if not sides]
    split = [team for team, sides in plays.items() if sides and _rests(spec, everybody, team)]
    if not off:
        yield Problem("bouts.stays", "must have a team that is off, all of which waits or floats (got none)")
    for team in split:
        yield Problem("bouts.stays", f"must have teams that play whole (got some of {team} who wait or float)")
    sizes = {team: sum(place.team == team for place in everybody) for team in spec.teams}
    if len(set(sizes.values())) > 1:
        got = ", ".join(f"{team} {size}" for team, size in sizes.items())
        yield Problem("bouts.stays", f"must have teams of one size (got {got})")


def _apart(spec: GameSpec, place: Place) -> bool:
    """Whether a player waits or floats."""
    role = spec.roles[place.role]
    return role.style == "wait" or role.side == "holder"


def _sides(spec: GameSpec, everybody: list[Place], team: str) -> list[str]:
    """The sides that players of a team play for."""
    return [spec.roles[place.role].side for place in everybody if place.team == team and not _apart(spec, place)]


def _rests(spec: GameSpec, everybody: list[Place], team: str) -> bool:
    """Whether any of a team waits or floats."""
    return any(place.team == team and _apart(spec, place) for place in everybody)
