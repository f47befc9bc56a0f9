"""How often each rule of a game comes up, what never happens in it, and the points a bout: for people."""

from __future__ import annotations

from sim.game.family import sides_at_start
from sim.game.model import Game
from sim.game.verbs import Score
from sim.results import Measure, Result
from sim.words.figures import ranged
from sim.words.screen import wrapped

# A threshold reached in fewer possessions than this is not seen on the grass: a session of an hour has a few hundred.
RARELY = 0.01


def fired(result: Result, game: Game) -> list[tuple[str, str, Measure]]:
    """(phase, rule, row) of every rule, in the order of the file."""
    names = [(phase.name, rule.name) for phase in game.phases for rule in phase.rules]
    return [(*name, row) for name, row in zip(names, result.rows("rule_fired_per_bout"), strict=True)]


def rules_fired(result: Result, game: Game) -> str:
    """How often every rule fires in a bout; the long form of an answer."""
    phases: dict[str, list[str]] = {}
    for phase, rule, row in fired(result, game):
        if row.mean is not None:
            phases.setdefault(phase, []).append(f"{rule} {ranged(row.mean, row.session_low, row.session_high)}")
    if not phases:
        return ""
    several = len(game.phases) > 1
    said = [f"{f'in {phase}, ' if several else ''}{', '.join(rules)}" for phase, rules in phases.items()]
    return f"How often each rule comes up in a bout, on the watch: {'; '.join(said)}."


def never_fired(result: Result, game: Game) -> str:
    """The rules that never fired, in a line; nothing where all did."""
    phases: dict[str, list[str]] = {}
    for phase, rule, row in fired(result, game):
        if row.mean == 0:
            phases.setdefault(phase, []).append(rule)
    if not phases:
        return ""
    several = len(game.phases) > 1
    said = "; ".join(f"{', '.join(rules)}{f' in {phase}' if several else ''}" for phase, rules in phases.items())
    return f"Never came up in {bouts_of(result)}: {said}."


def points(result: Result, game: Game) -> str:
    """The points of each side in a bout, wherever points are counted; the long form of an answer."""
    said = [
        f"{side} {ranged(row.mean, row.session_low, row.session_high)}"
        for side, row in points_of(result, game)
        if row.mean is not None
    ]
    return f"Points a bout, on the watch: {', '.join(said)}." if said else ""


def points_of(result: Result, game: Game) -> list[tuple[str, Measure]]:
    """(side, its row), where points are counted at all; where teams change sides, by colour."""
    if not any(isinstance(action, Score) for phase in game.phases for rule in phase.rules for action in rule.do):
        return []
    colours = {row.scope.removeprefix("team:"): row for row in result.rows("colour_points_per_bout")}
    if colours:
        outfield = {one.team for one in game.players if game.role(one.role).style != "goal"}
        return [(team, row) for team, row in colours.items() if team in outfield and row.mean is not None]
    found = [(side, row_of(result, game, side)) for side in sides_at_start(game)]
    return [(side, row) for side, row in found if row is not None]


def row_of(result: Result, game: Game, side: str) -> Measure | None:
    """The points of a side: they stand beside the team, or any of the roles, that is this side."""
    scopes = [f"team:{side}", *(f"role:{role.name}" for role in game.roles if role.side == side)]
    return next((row for row in result.rows("points_per_bout") if row.scope in scopes), None)


def tried(result: Result, game: Game) -> str:
    """What some bouts of a game showed about its rules, after them (`overload check`)."""
    lines = [f"Played {bouts_of(result)} of it (seed {result.seed})."]
    for row in result.rows("threshold_chance"):
        if row.mean is not None and row.unit == "1/possession" and row.mean < RARELY:
            wanted = row.definition.removeprefix("threshold: ").split(";")[0]
            reached = "never reached" if row.mean == 0 else "reached less than once in 100 times they have the ball"
            lines.append(f"{wanted}: {reached}. Ask for fewer, or make the ball easier to keep.")
    never = never_fired(result, game)
    if never:
        lines.append(never)
    elif any(phase.rules for phase in game.phases):
        lines.append("Every rule came up.")
    return "\n".join(["Tried", *(part for line in lines for part in wrapped(line, "  "))])


def bouts_of(result: Result) -> str:
    """``1 bout``, ``200 bouts``."""
    return f"{result.bouts} bout{'s' if result.bouts != 1 else ''}"
