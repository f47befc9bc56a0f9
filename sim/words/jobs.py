"""Who does what beside a game: everything that somebody has to see, count or call stands with one person, and nobody counts two
things aloud while there is somebody who counts none.

The coach watches the ball and the players, the timekeeper the watch and the paper, the server the balls.
"""

from __future__ import annotations

from collections.abc import Iterator

from sim.game.equipment import server_needed
from sim.game.model import Game, Rule
from sim.game.sole import chosen_by_time, sole_comer
from sim.game.verbs import Action, Assign, OpenWindow, Serve, Swap
from sim.own_counts.columns import counts_of
from sim.words.by_hand import column_name
from sim.words.figures import present
from sim.words.listing import listed, number, small, time
from sim.words.points import points_counted
from sim.words.rule_heads import rule_head
from sim.words.rules import consequence

NEXT, WAITED = "next on the list", "waiting"
COACH, TIMEKEEPER, SERVER = "Coach", "Timekeeper", "Server"
PASSES = "the passes in a row"


def jobs(game: Game) -> list[str]:
    """A line for how many people it takes, then who counts what: aloud, on paper, by eye, and what nobody counts."""
    served = server_needed(game)
    first = "Three people; with two, the coach serves." if served else "Two people: coach and timekeeper."
    called = [f"Timekeeper, calls: {one}." for one in clocks_called(game)]
    seconds = [f"Timekeeper, aloud: {one}." for one in seconds_counted(game)]
    counts = [f"{who}, aloud: {listed(what)}." for who, what in shared_out(game).items()]
    eye = by_eye(game)
    return [
        first,
        *([server(game)] if served else []),
        timekeeper(game),
        *called,
        *seconds,
        *counts,
        *([f"Coach, by eye: {listed(eye)}."] if eye else []),
        f"Nobody counts the {time(game.hold_limit_s)} on the ball: the coach calls it when somebody plainly holds it too long.",
    ]


def rules_of(game: Game) -> Iterator[Rule]:
    """All rules, phase by phase."""
    return (rule for phase in game.phases for rule in phase.rules)


def server(game: Game) -> str:
    """Where he stands, and the wait that he counts."""
    balls = "all balls" if game.supply.balls > 1 else "the ball"
    called = {action.what for rule in rules_of(game) for action in rule.do if isinstance(action, Serve)}
    later = [one for one in game.restarts if one.name != "start" or one.name in called]
    waits = sorted({one.seconds for one in later if one.source == "server" and one.seconds})
    between = f" (he counts the {listed([number(one) for one in waits], 'or')} s before it)" if waits else ""
    return f"Server: at S on the picture with {balls}, plays in every new one{between}."


def timekeeper(game: Game) -> str:
    """The watch, and what he writes down."""
    columns = [column_name(one) for one in counts_of(game)]
    strokes = ["points in strokes"] if points_counted(game) else []
    return f"Timekeeper: watch and whistle. On paper: {listed([*columns, *strokes])}."


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


def counted_aloud(game: Game) -> list[str]:
    """What has to be counted as it happens, so that everybody hears it."""
    asked = any(rule.on == "passes" for rule in rules_of(game)) or game.win.confirm == "passes"
    found = [f"{PASSES} (the server's ball is none)"] if asked else []
    if any(rule.on == "wins" for rule in rules_of(game)):
        found.append("the balls won")
    found += [f"the {counter.name} count" for counter in game.counters]
    return found if asked or "longest_run" not in counts_of(game) else [*found, f"{PASSES}, for the longest run"]


def shared_out(game: Game) -> dict[str, list[str]]:
    """Who counts what aloud: one thing each as far as there are people; nobody who counts seconds aloud counts more."""
    people = [COACH, *([] if seconds_counted(game) else [TIMEKEEPER]), *([SERVER] if server_needed(game) else [])]
    found: dict[str, list[str]] = {}
    for k, what in enumerate(counted_aloud(game)):
        found.setdefault(people[k % len(people)], []).append(what)
    return found


def by_eye(game: Game) -> list[str]:
    """What the coach sees and calls without counting."""
    found = []
    if any(role.touches is not None for role in game.roles):
        found.append("the touch limit")
    if any(role.ladder for role in game.roles):
        found.append("how many touches each has left")
    if chosen_by_time(game):
        found.append("who has been in longest (that one comes out)")
    if any(from_the_list(game, rule, action) for rule in rules_of(game) for action in rule.do):
        found.append("who is next on the list (he calls him in)")
    if any(isinstance(action, Assign) for rule in rules_of(game) for action in rule.do):
        found.append("who takes another role (he calls the name)")
    return found


def from_the_list(game: Game, rule: Rule, action: Action) -> bool:
    """Whether somebody has to know who is next."""
    return isinstance(action, Swap) and action.other in (NEXT, WAITED) and not sole_comer(game, rule, action)


def seconds_counted(game: Game) -> list[str]:
    """What is counted in seconds from a moment that has to be seen: what is won by holding it, windows.  Not by the coach, who
    counts passes aloud."""
    found = []
    if game.win.confirm == "hold":
        found.append(f"{time(present(game.win.amount))} from the moment an opponent has it, then it is won")
    for rule in rules_of(game):
        for action in rule.do:
            if isinstance(action, OpenWindow) and action.unit == "seconds":
                head = small(rule_head(game, rule))
                found.append(f"{time(action.length)} to win it back, from the moment it is lost ({head})")
    return list(dict.fromkeys(found))
