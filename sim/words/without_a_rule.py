"""What happens where no rule of a phase says so: after a loss, over the line, after a shot.

Said side by side, and only for whom and for what it is true.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from sim.game.family import may, sides_at_start
from sim.game.having import IN_PLAY, answering, kept, settled, sides_having, stops_when_lost
from sim.game.model import Game, Phase
from sim.words.listing import listed
from sim.words.rule_heads import loss_head
from sim.words.who import side_called

NO_GOAL_YET = "While shots do not count a ball in the goal is no goal: it is out, and lost."
INTO_A_GOAL = " (a pass into a goal or an own goal, too)"
NOT_THEIRS = " Off a side that has not won it, that is no loss."


def played_on(game: Game, phase: Phase) -> Iterator[str]:
    """For whom, and after which losses, nobody stops play; nothing for a side that never has the ball."""
    sides = list(sides_at_start(game))
    having = sides_having(game)
    left = {
        side: tuple(cause for cause in IN_PLAY if not stops_when_lost(phase, side, sides, cause)) for side in having
    }
    alike = len(set(left.values())) == 1 and list(having) == sides
    for side, causes in list(left.items())[: 1 if alike else None]:
        if not causes:
            continue
        whose = None if alike else side
        head = (
            f"{loss_head(game, whose)} with the ball still in" if causes == IN_PLAY else loss_head(game, whose, causes)
        )
        ruled = any(answering(phase, "loss", one, cause) for one in (having if alike else [side]) for cause in causes)
        yield f"{head}: play goes on{' after that' if ruled else ''}, whoever wins it has it."


def over_the_line(game: Game, phase: Phase, served: str) -> Iterator[str]:
    """Who puts it out without a rule that gives the next ball; whoever puts it out without having had it has not lost it."""
    sides = list(sides_at_start(game))
    having = sides_having(game)
    without = [side for side in sides if not settled(phase, "out", side)]
    losing = [side for side in without if side in having and not settled(phase, "loss", side, "out")]
    if len(without) == len(sides) and set(losing) == set(having):
        into_a_goal = INTO_A_GOAL if game.goals else ""
        yield f"Over the line{into_a_goal}: {served}.{'' if game.win.confirm == 'touch' else NOT_THEIRS}"
        return
    ruled = [side for side in having if side in without and side not in losing]
    if len(ruled) > 1 and ruled == list(having):
        yield "If the side with the ball puts it over the line, it has lost it."
    else:
        for side in ruled:
            yield f"If {side_called(game, side)} put it over the line, they have lost it."
    for side in losing:
        yield f"If {side_called(game, side)} put it over the line: {served}."
    rest = [side for side in without if side not in losing and set(having) - {side}]
    if len(rest) == len(sides):
        yield f"If the side without the ball puts it over the line: {served}; that doesn't count as a loss."
        return
    for side in rest:
        who = side_called(game, side)
        without_it = " without having had it" if side in having else ""
        yield f"If {who} put it over the line{without_it}: {served}; that doesn't count as a loss."


def after_shots(game: Game, phase: Phase, served_start: str, served_out: str) -> Iterator[str]:
    """What follows a shot that no rule gives a new ball for, and whether such a shot is a loss as well."""
    sides = [
        side
        for side in sides_at_start(game)
        if phase.aim_of(side) == "goal"
        and may(phase, "shoot", side)
        and any(goal.attacked_by in (side, "any") for goal in game.goals)
    ]
    if any(not phase.may_from_the_start("shoot", side) for side in sides):
        yield NO_GOAL_YET
    for event, plain, named, then in (
        ("goal", "On a goal", "If {side} score", served_start),
        ("save", "On a save", "If a shot by {side} is saved", "the keeper has it, and play goes on"),
        ("miss", "On a miss", "If a shot by {side} misses", served_out),
    ):
        if event == "save" and not kept(game):
            continue
        left = [side for side in sides if not settled(phase, event, side) and not settled(phase, "loss", side, "shot")]
        if left and left == sides:
            yield f"{plain}: {then}."
        else:
            for side in left:
                yield f"{named.format(side=side_called(game, side))}: {then}."
    stopped = [word for event, word in shots_of(game) if any(settled(phase, event, side) for side in sides)]
    if stopped and any(answering(phase, "loss", side, "shot") for side in sides):
        yield f"After {listed(stopped, 'or')} its own rule gives the new ball: nothing of a loss follows."
    yield from shots_as_losses(game, phase, sides)
    if sides and game.win.confirm != "touch":
        yield turned_aside(game)


def turned_aside(game: Game) -> str:
    """What becomes of a shot that somebody gets in the way of."""
    who = "an opponent turns aside, also a keeper," if kept(game) else "an opponent turns aside"
    return f"A shot {who} is not over yet: the ball is loose, and out off him over the line."


def shots_of(game: Game) -> list[tuple[str, str]]:
    """How a shot can end a possession: the event, and what it is called."""
    return [("goal", "a goal"), *([("save", "a saved shot")] if kept(game) else []), ("miss", "a missed shot")]


def shots_as_losses(game: Game, phase: Phase, sides: Sequence[str]) -> Iterator[str]:
    """After which shots, for want of a rule of their own that gives a new ball, one of the loss answers."""
    kinds = {
        side: [
            word
            for event, word in shots_of(game)
            if not settled(phase, event, side) and answering(phase, "loss", side, "shot")
        ]
        for side in sides
    }
    alike = len({tuple(words) for words in kinds.values()}) == 1
    for side, words in list(kinds.items())[: 1 if alike else None]:
        if words:
            whose = "" if alike and len(sides) > 1 else f" by {side_called(game, side)}"
            yield f"After {listed(words, 'or')}{whose} what follows a loss follows, too."
