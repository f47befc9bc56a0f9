"""Can the next bout have of this one what the file says: the first ball, the points, the team that has won?"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import chain

from sim.errors import any_of
from sim.game.actions import AssignAction, ScoreAction
from sim.game.carry_on import CARRY_ON, START_ANEW
from sim.game.messages import Problem, broken, show
from sim.game.resolve import start_phase
from sim.game.roster import Place, roster, sides_of
from sim.game.spec import GameSpec
from sim.game.swaps import swaps_of
from sim.game.verbs import TEAM, unit_of

WHOLE = "as bouts.stays has teams change whole"


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
        yield from chain(_staying(spec), _limits(spec), _swaps(spec), _assigned(spec), _teams(spec))


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
    attacked, first = {goal.attacked_by for goal in spec.goals.values()}, spec.phases[start_phase(spec)]
    for side, players in sides.items():
        if len(players) + floaters < 2:
            yield broken("bouts.first_ball", f'be "start", as {side} have nobody to pass to', bouts.first_ball)
        elif first.aims.get(side, first.aim) == "goal" and not attacked & {side, "any"}:
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
    if bouts.points == CARRY_ON:
        yield broken("bouts.points", f"be {show(START_ANEW)} with stays", bouts.points)


def _limits(spec: GameSpec) -> Iterator[Problem]:
    """Limits of single players, for which a team would have to change without one."""
    for name, player in spec.players.items():
        for key in ("never", "most_bouts", "most_minutes"):
            if value := getattr(player, key):
                yield broken(f"players.{name}.{key}", f"be left out, {WHOLE}", value)


def _swaps(spec: GameSpec) -> Iterator[Problem]:
    """Changes in the middle of a bout after which a team would be split."""
    behind = next((name for name in spec.roles if _stays_behind(spec, name)), None)
    for path, action in swaps_of(spec):
        if unit_of(action.swap) != TEAM:
            yield broken(path, f"be of a team, {WHOLE}", action.swap)
        elif behind is not None:
            must = f"be left out where roles.{behind} keeps a goal or waits in one phase only, {WHOLE}"
            yield broken(path, must, action.swap)


def _stays_behind(spec: GameSpec, name: str) -> bool:
    """Whether whoever has a role may be left where he is when his team changes places."""
    jobs = [phase.jobs[name].split()[0] for phase in spec.phases.values() if name in phase.jobs]
    styles = {spec.roles[name].style, *jobs}
    return "goal" in styles or ("wait" in styles and len(styles) > 1)


def _assigned(spec: GameSpec) -> Iterator[Problem]:
    """Players who come in, or go out, one by one."""
    for phase_name, phase in spec.phases.items():
        for rule_name, rule in phase.rules.items():
            for action in (one for one in rule.do if isinstance(one, AssignAction)):
                path = f"phases.{phase_name}.rules.{rule_name}.do.assign"
                taken = list(spec.roles) if action.from_ is None else [action.from_]
                for name in taken:
                    if _apart(spec, name) != _apart(spec, action.assign):
                        yield broken(path, f"bring nobody in or out, {WHOLE}", f"{name} to {action.assign}")
                        break


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


def _apart(spec: GameSpec, name: str) -> bool:
    """Whether whoever has a role waits or floats."""
    role = spec.roles[name]
    return role.style == "wait" or role.side == "holder"


def _sides(spec: GameSpec, everybody: list[Place], team: str) -> list[str]:
    """The sides that players of a team play for."""
    return [spec.roles[place.role].side for place in everybody if place.team == team and not _apart(spec, place.role)]


def _rests(spec: GameSpec, everybody: list[Place], team: str) -> bool:
    """Whether any of a team waits or floats."""
    return any(place.team == team and _apart(spec, place.role) for place in everybody)
