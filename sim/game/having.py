"""Who can have the ball by the rules of a game, what brings play to a stop, and who can get points.

A side *has* the ball once it is its own: not while a win of its waits to be confirmed.  Where every loss of the others gives the
next ball back to them, a side wins the ball and never has it.
"""

from __future__ import annotations

from collections.abc import Iterable

from sim.game.family import may, sides_at_start
from sim.game.fouls import FOUL
from sim.game.model import Game, Phase, Rule
from sim.game.verbs import Assign, EndBout, OpenWindow, Score, Serve, Swap, Trade

IN_PLAY = ("interception", "tackle", "miscontrol")
"""Losses after which the ball is still there to be played; a stray pass that an opponent gets is an interception."""
LOSSES = ("loss", "out", "not won back", "foul")  # events of the side that has the ball no more
SHOTS = ("goal", "save", "miss")


def stops(rule: Rule) -> bool:
    """Whether play stops once the rule has fired."""
    return any(isinstance(action, (Serve, EndBout)) for action in rule.do)


def answering(phase: Phase, event: str, side: str, cause: str = "") -> list[Rule]:
    """The rules of a phase that answer when `side` does something (for "loss": loses it by `cause`)."""
    return [
        rule
        for rule in phase.rules
        if rule.on == event and rule.by in (None, side) and (not rule.causes or cause in rule.causes)
    ]


def settled(phase: Phase, event: str, side: str, cause: str = "") -> bool:
    """Whether a rule brings play to a stop whenever `side` does something."""
    return any(
        stops(rule) and not rule.last_step and rule.colour is None for rule in answering(phase, event, side, cause)
    )


def stops_when_lost(phase: Phase, side: str, others: Iterable[str], cause: str) -> bool:
    """Whether play always stops as a side loses it by a cause, by a rule of the loss or of the win."""
    return settled(phase, "loss", side, cause) or any(settled(phase, "win", other) for other in others if other != side)


def kept(game: Game) -> bool:
    """Whether there is a goal with a keeper in it at any time."""
    styles = {role.style for role in game.roles} | {job.style for phase in game.phases for job in phase.jobs}
    return "goal" in styles


def sides_having(game: Game) -> tuple[str, ...]:
    """The sides that can have the ball, in the order of the file."""
    sides = tuple(sides_at_start(game))
    found = {game.start_side}
    if _changes_hands_in_play(game) or (
        game.bouts.count > 1 and game.bouts.first_ball in ("in turn", "winner", "loser")
    ):
        found = set(sides)
    while len(found) < len(sides) and (more := _next(game, found, sides) - found):
        found |= more
    return tuple(side for side in sides if side in found)


def without_a_goal(game: Game, phase: Phase) -> list[str]:
    """The sides that can have the ball where goals are played at, and have none to attack: they keep it."""
    attacked = {goal.attacked_by for goal in game.goals}
    return [side for side in sides_having(game) if phase.aim_of(side) == "goal" and not attacked & {side, "any"}]


def stops_when_won(game: Game) -> bool:
    """Whether play stops whenever a ball that is still in is won."""
    sides = tuple(sides_at_start(game))
    return all(
        stops_when_lost(phase, side, sides, cause)
        for phase in game.phases
        for side in sides_having(game)
        for cause in IN_PLAY
    )


def _next(game: Game, having: set[str], sides: tuple[str, ...]) -> set[str]:
    """Who can have it after those who have it now: by a restart, or off them."""
    called = {
        action.what for phase in game.phases for rule in phase.rules for action in rule.do if isinstance(action, Serve)
    }
    called |= {"out"} | ({game.after_goal} if game.goals else set())
    if game.foul_share and game.restart(FOUL).to != "other":  # else whoever has it has it again
        called |= {FOUL}
    given = {game.restart(name).to for name in called}
    if not given <= set(sides):  # "other", "winner": whoever that is
        return set(sides)
    kept = all(
        all(stops_when_lost(phase, side, sides, cause) for cause in IN_PLAY) and _shots_settled(game, phase, side)
        for phase in game.phases
        for side in having
    )
    return given if kept else set(sides)


def _shots_settled(game: Game, phase: Phase, side: str) -> bool:
    """Whether no keeper plays on with a ball he has saved."""
    shoots = phase.aim_of(side) == "goal" and may(phase, "shoot", side)
    return not shoots or settled(phase, "save", side) or settled(phase, "loss", side, "shot")


def _changes_hands_in_play(game: Game) -> bool:
    """Whether a rule can move a player to another side while play goes on: he takes the ball with him."""
    return any(
        _moves(game, action) and not stops(rule) and not _stopped_with_it(phase, rule)
        for phase in game.phases
        for rule in phase.rules
        for action in rule.do
    )


def _moves(game: Game, action: object) -> bool:
    """Whether a consequence moves players from side to side."""
    if isinstance(action, Assign):
        return action.from_role is None or game.role(action.from_role).side != game.role(action.role).side
    return isinstance(action, (Swap, Trade))


def _stopped_with_it(phase: Phase, rule: Rule) -> bool:
    """Whether another rule of the same loss stops play whenever this one answers."""
    return rule.on == "loss" and any(
        one.on == "loss"
        and stops(one)
        and not (one.last_step or one.causes)
        and one.by in (None, rule.by)
        and one.colour in (None, rule.colour)
        for one in phase.rules
    )


# Points


def sides_scoring(game: Game) -> tuple[str, ...]:
    """The sides that can get points, in the order of the file."""
    having = sides_having(game)
    sides = tuple(sides_at_start(game))
    found = {
        side
        for phase in game.phases
        for rule in phase.rules
        for action in rule.do
        if isinstance(action, Score)
        for doer in _doers(game, phase, rule, sides, having)
        for side in _gains(action.to, rule.on, doer, sides)
    }
    return tuple(side for side in sides if side in found)


def _doers(game: Game, phase: Phase, rule: Rule, sides: tuple[str, ...], having: tuple[str, ...]) -> list[str]:
    """Whom the event of a rule can happen to."""
    if rule.by is not None:
        return [rule.by]
    if rule.on == "foul" and game.win.confirm not in ("control", "touch"):
        return list(sides)  # also those who have it, before the win of the others counts
    if rule.on in ("win", "wins", "foul"):
        return [side for side in sides if set(having) - {side}]
    if rule.on in ("won back", "not won back"):
        opening = [one for one in phase.rules if any(isinstance(action, OpenWindow) for action in one.do)]
        return [side for side in having if any(one.by in (None, side) for one in opening)]
    passes = {counter.name for counter in game.counters if counter.of == "passes"}
    if rule.on == "out" or (rule.on == "counter" and rule.counter not in passes):  # also of a ball that is won
        return list(sides)
    if rule.on in SHOTS:
        attacking = {goal.attacked_by for goal in game.goals}
        return [
            side
            for side in having
            if phase.aim_of(side) == "goal" and may(phase, "shoot", side) and attacking & {side, "any"}
        ]
    return list(having)


def _gains(to: str, event: str, doer: str, sides: tuple[str, ...]) -> set[str]:
    """Who gets the points of an event of `doer`."""
    others = set(sides) - {doer}
    lost = event in (*LOSSES, *SHOTS)
    words = {
        "holder": others if event in LOSSES else {doer},
        "winner": others if lost else {doer},
        "loser": {doer} if lost else others,
    }
    return words.get(to, {to})
