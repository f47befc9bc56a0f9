"""What happens where no rule of a phase says so: after a loss, over the line, after a shot.

Said side by side, and only for whom and for what it is true.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from sim.game.family import may, sides_at_start
from sim.game.model import Game, Phase, Rule
from sim.game.verbs import EndBout, Serve
from sim.words.listing import capital, listed
from sim.words.rule_heads import loss_head
from sim.words.who import side_called

IN_PLAY = (
    "interception",
    "tackle",
    "miscontrol",
    "misplaced",
)  # losses after which the ball is still there to be played


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
    """Whether a rule brings play to a stop when `side` does something."""
    return any(stops(rule) for rule in answering(phase, event, side, cause))


def played_on(game: Game, phase: Phase) -> Iterator[str]:
    """For whom, and after which losses, nobody stops play."""
    sides = list(sides_at_start(game))
    left = {
        side: tuple(
            cause
            for cause in IN_PLAY
            if not settled(phase, "loss", side, cause)
            and not any(settled(phase, "win", other) for other in sides if other != side)
        )
        for side in sides
    }
    alike = len(set(left.values())) == 1
    for side, causes in list(left.items())[: 1 if alike else None]:
        if not causes:
            continue
        whose = None if alike else side
        head = (
            f"{loss_head(game, whose)} with the ball still in" if causes == IN_PLAY else loss_head(game, whose, causes)
        )
        ruled = any(answering(phase, "loss", one, cause) for one in (sides if alike else [side]) for cause in causes)
        yield f"{head}: play goes on{' after that' if ruled else ''}, whoever wins it has it."


def over_the_line(game: Game, phase: Phase, served: str) -> Iterator[str]:
    """Who puts it out without a rule that gives the next ball; whoever puts it out without having had it has not lost it."""
    sides = list(sides_at_start(game))
    without = [side for side in sides if not settled(phase, "out", side)]
    having = [side for side in without if not settled(phase, "loss", side, "out")]
    if len(having) == len(sides):
        into_a_goal = " (a pass into a goal is out, too)" if game.goals else ""
        yield f"Over the line{into_a_goal}: {served}."
        return
    for side in having:
        yield f"If {side_called(game, side)} put it over the line: {served}."
    rest = [side for side in without if side not in having]
    if len(rest) == len(sides):
        yield f"If the side without the ball puts it over the line: {served}; that doesn't count as a loss."
    else:
        for side in rest:
            who = side_called(game, side)
            yield f"If {who} put it over the line without having had it: {served}; that doesn't count as a loss."


def after_shots(game: Game, phase: Phase, served_start: str, served_out: str) -> Iterator[str]:
    """What follows a shot that no rule gives a new ball for, and whether such a shot is a loss as well."""
    sides = [
        side
        for side in sides_at_start(game)
        if phase.aim_of(side) == "goal"
        and may(phase, "shoot", side)
        and any(goal.attacked_by in (side, "any") for goal in game.goals)
    ]
    for event, plain, named, then in (
        ("goal", "On a goal", "If {side} score", served_start),
        ("save", "On a save", "If a shot by {side} is saved", "the keeper has it, and play goes on"),
        ("miss", "On a miss", "If a shot by {side} misses", served_out),
    ):
        left = [side for side in sides if not settled(phase, event, side) and not settled(phase, "loss", side, "shot")]
        if left and left == sides:
            yield f"{plain}: {then}."
        else:
            for side in left:
                yield f"{named.format(side=side_called(game, side))}: {then}."
    stopped = any(settled(phase, event, side) for event in ("goal", "save", "miss") for side in sides)
    if stopped and any(answering(phase, "loss", side, "shot") for side in sides):
        yield "A shot after which one of these rules brings a new ball is not a loss as well."
    yield from shots_as_losses(game, phase, sides)


def shots_as_losses(game: Game, phase: Phase, sides: Sequence[str]) -> Iterator[str]:
    """Which shots no rule of their own gives a new ball for, and one of the loss answers to."""
    kinds = {
        side: [
            word
            for event, word in (("goal", "a goal"), ("save", "a saved shot"), ("miss", "a missed shot"))
            if not settled(phase, event, side) and answering(phase, "loss", side, "shot")
        ]
        for side in sides
    }
    alike = len({tuple(words) for words in kinds.values()}) == 1
    for side, words in list(kinds.items())[: 1 if alike else None]:
        if words:
            whose = "" if alike and len(sides) > 1 else f" by {side_called(game, side)}"
            yield f"{capital(listed(words, 'or'))}{whose} counts as losing it by a shot: what follows such a loss follows."
