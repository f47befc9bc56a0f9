"""Who does what beside a game: everything that somebody has to see, count or call stands with one person.

The coach watches the ball and the players, the timekeeper the watch and the grid, the server the balls.
"""

from __future__ import annotations

from collections.abc import Iterator

from sim.game.equipment import server_needed
from sim.game.model import Game, Rule
from sim.game.verbs import Assign, OpenWindow, Swap
from sim.words.figures import present
from sim.words.listing import listed, number, small, time
from sim.words.rule_heads import rule_head
from sim.words.rules import consequence

LONGEST, NEXT, WAITED = "longest in", "next on the list", "waiting"


def jobs(game: Game) -> list[str]:
    """A line for how many people it takes, then the jobs of each."""
    served = server_needed(game)
    first = "Three people; with two, the coach serves." if served else "Two people: coach and timekeeper."
    counted = [f"The timekeeper counts aloud, {one}." for one in seconds_counted(game)]
    called = [f"The timekeeper calls, {one}." for one in clocks_called(game)]
    return [first, *([server(game)] if served else []), timekeeper(), *called, *counted, *coach(game)]


def rules_of(game: Game) -> Iterator[Rule]:
    """All rules, phase by phase."""
    return (rule for phase in game.phases for rule in phase.rules)


def server(game: Game) -> str:
    """Where he stands, and the wait that he counts."""
    balls = "all balls" if game.supply.balls > 1 else "the ball"
    waits = sorted(
        {one.seconds for one in game.restarts if one.source == "server" and one.name != "start" and one.seconds}
    )
    between = f" (he counts the {listed([number(one) for one in waits], 'or')} s before it)" if waits else ""
    return f"Server: at S on the picture with {balls}, plays in every new one{between}."


def timekeeper() -> str:
    """The watch and the grid."""
    return "Timekeeper: watch and whistle, marks the grid."


def clocks_called(game: Game) -> list[str]:
    """What the watch brings about: ``every 15 s: a point for the outside players``."""
    found = []
    for phase in game.phases:
        start = f"in {phase.name}, " if len(game.phases) > 1 else ""
        for rule in phase.rules:
            if rule.on == "time":
                then = "; ".join(consequence(game, rule, action) for action in rule.do)
                head = f"{'every' if rule.each else 'after'} {number(present(rule.count))} s"
                found.append(f"{start}{head}: {then}")
    return found


def coach(game: Game) -> list[str]:
    """What is seen and called that is no matter of seconds."""
    calls = []
    if any(role.touches is not None for role in game.roles):
        calls.append("the touch limit")
    if any(rule.on == "passes" for rule in rules_of(game)) or game.win.confirm == "passes":
        calls.append("the passes in a row, aloud")
    if any(rule.on == "wins" for rule in rules_of(game)):
        calls.append("the balls won")
    if any(role.ladder for role in game.roles):
        calls.append("how many touches each has left")
    calls += [f"the {counter.name} count" for counter in game.counters]
    lines = [f"Coach: calls {listed(calls)}." if calls else "Coach: sees that the rules are kept."]
    doing = [action for rule in rules_of(game) for action in rule.do]
    swaps = [action.other for action in doing if isinstance(action, Swap)]
    if LONGEST in swaps:
        lines.append("The coach remembers who has been in longest, and says who comes out.")
    if NEXT in swaps or WAITED in swaps:
        lines.append("The coach has the list of who is next, and calls him in.")
    if any(isinstance(action, Assign) for action in doing):
        lines.append("The coach calls by name whoever takes another role.")
    return lines


def seconds_counted(game: Game) -> list[str]:
    """What is counted in seconds from a moment that has to be seen: how long the ball is held, what is won by holding it, windows.
    Not by the coach, who counts passes aloud."""
    found = [f"from the moment a player has the ball: after {time(game.hold_limit_s)} it is lost"]
    if game.win.confirm == "hold":
        found.append(f"from the moment an opponent has it: after {time(present(game.win.amount))} it is won")
    for rule in rules_of(game):
        for action in rule.do:
            if isinstance(action, OpenWindow) and action.unit == "seconds":
                head = small(rule_head(game, rule))
                found.append(f"from the loss ({head}): {time(action.length)} to win it back, then it is over")
    return list(dict.fromkeys(found))
