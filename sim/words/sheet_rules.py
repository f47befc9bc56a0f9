"""The rules of a game in a few lines for the sheet, five at least, and how a ball comes back, from the same sentences as `check`.

What follows in the same way after several things is said once; how a new ball comes in stands under the restarts.  Nothing is
left out unless there is no room for it, and then the sheet says where to read on.
"""

from __future__ import annotations

from collections.abc import Sequence

from sim.game.model import Game, Phase, Restart, Rule
from sim.game.verbs import Action, Score, Serve
from sim.words.areas import at_the_lines, between
from sim.words.asked import first_touch, goes_on, in_zones, last_gate
from sim.words.deeds import counters_in_words
from sim.words.edge_cases import keepers_tackled, no_offside, who_lost_it
from sim.words.limits import endings, limits_in_words
from sim.words.listing import listed, small
from sim.words.playing import (
    at_the_whistle,
    charged,
    not_in_windows,
    room_at_restarts,
    stages,
    supplied,
    together,
    until_it_is_won,
)
from sim.words.rule_heads import rule_head
from sim.words.rules import NO_POINTS, consequence, first_ball, fouls, held, purpose_of, served
from sim.words.who import receiver
from sim.words.winning import won
from sim.words.without_a_rule import after_shots, over_the_line, played_on
from sim.words.zones import at_the_lines_inside

LEAST_LINES, APART, MOST_LINES = 5, 7, 14
MANY_RULES = 7  # from here on there is no room for what a coach would expect anyway
MORE = "There is more to the rules than fits here: see `overload check` as well."


def rule_lines(game: Game) -> list[str]:
    """Five to fourteen lines: sentences apart where there are few, those of a phase together where there are many, and where
    there is no room, what is left is pointed to."""
    fewer = [[" ".join(one) for one in part] for part in parts(game)]
    lines = [line for part in fewer for line in part]
    if len(lines) < LEAST_LINES:
        lines = apart([one for part in parts(game) for one in part])
    if len(lines) > MOST_LINES:
        lines = [line for part in fewer for line in (part[0], " ".join(part[1:])) if line]
    return lines if len(lines) <= MOST_LINES else [*lines[: MOST_LINES - 1], MORE]


def parts(game: Game) -> list[list[list[str]]]:
    """The rules phase by phase, then what holds always; of each its lines, of each line its sentences."""
    phases = [
        [
            purpose_lines(game, phase),
            *([one] for one in followed(game, phase)),
            *([rest] if (rest := otherwise(game, phase)) else []),
        ]
        for phase in game.phases
    ]
    return [
        *([one] for one in (stages(game),) if one),
        *phases,
        *([one] for one in (between(game), always(game)) if one),
    ]


def apart(lines: list[list[str]]) -> list[str]:
    """The sentences one by one, from the last line backwards, as far as there is room."""
    while len(lines) < APART and (long := [k for k, one in enumerate(lines) if len(one) > 1]):
        k = long[-1]
        lines = [*lines[:k], lines[k][:-1], lines[k][-1:], *lines[k + 1 :]]
    return [" ".join(one) for one in lines]


def purpose_lines(game: Game, phase: Phase) -> list[str]:
    """Who has the first ball, what the ball is for, what is allowed, and what the others do meanwhile."""
    first = [first_ball(game)] if phase.name == game.start_phase else []
    lines = [*first, *purpose_of(game, phase)]
    return lines if len(game.phases) == 1 else [f'Stage "{phase.name}": {lines[0]}', *lines[1:]]


def followed(game: Game, phase: Phase) -> list[str]:
    """A line for what follows after what; where several things end in the same way, one line for all of them."""
    groups: dict[tuple[Action, ...], list[Rule]] = {}
    for rule in phase.rules:
        groups.setdefault(rule.do, []).append(rule)
    tails: dict[tuple[Action, ...], list[tuple[Action, ...]]] = {}
    for do in groups:
        tails.setdefault(tail(do), []).append(do)
    lines = []
    for end, members in tails.items():
        if len(members) == 1:
            lines += sentences(game, groups[members[0]], members[0])
        else:
            lines.append(alike_in_one_line(game, [(groups[do], do) for do in members], end))
    return lines


def tail(do: tuple[Action, ...]) -> tuple[Action, ...]:
    """What follows apart from points."""
    return tuple(action for action in do if not isinstance(action, Score))


def sentences(game: Game, rules: Sequence[Rule], do: Sequence[Action]) -> list[str]:
    """``Lose it: whoever lost it swaps with the one who has been in longest; new ball to the outside players.``"""
    said: dict[str, list[str]] = {}
    for rule in rules:  # what a side is called depends on what has happened
        follows = [consequence_in_short(game, rule, action) for action in do]
        said.setdefault("; ".join(follows + (goes_on(game, rule) if do == rule.do else [])), []).append(
            rule_head(game, rule)
        )
    return [f"{any_head(heads)}: {then}." for then, heads in said.items()]


def any_head(heads: Sequence[str]) -> str:
    """Beginnings of a sentence, any of which will do: ``Win it or on a goal``."""
    first, *more = dict.fromkeys(heads)
    return listed([first, *(small(one) for one in more)], "or")


def alike_in_one_line(
    game: Game, groups: Sequence[tuple[Sequence[Rule], tuple[Action, ...]]], end: tuple[Action, ...]
) -> str:
    """The points of each, then what follows after all of them."""
    points = [
        line
        for rules, do in groups
        for line in sentences(game, rules, [one for one in do if isinstance(one, Score)])
        if do != end
    ]
    plain = [rule for rules, do in groups if do == end for rule in rules]
    after = f"{'After that' if len(points) == 1 else 'After these'}{', and' if plain else ''}"
    rules = [rule for rules, _ in groups for rule in rules]
    said = dict.fromkeys("; ".join(consequence_in_short(game, rule, action) for action in end) for rule in rules)
    if len(said) > 1 or not end:  # a side has another name in each of them
        return " ".join(line for rules, do in groups for line in sentences(game, rules, do))
    others = f" {listed([small(rule_head(game, rule)) for rule in plain], 'or')}" if plain else ""
    return f"{' '.join(points)} {after}{others}: {next(iter(said))}."


def consequence_in_short(game: Game, rule: Rule, action: Action) -> str:
    """A consequence; a new ball from the server in few words where the restarts say how it comes."""
    if isinstance(action, Serve):
        restart = game.restart(action.what)
        if restart.source == "server" and len(new_balls(game)[receiver(game, restart.to, rule.on)]) == 1:
            return f"new ball to {receiver(game, restart.to, rule.on)}"
    return consequence(game, rule, action)


def new_balls(game: Game) -> dict[str, list[tuple[Restart, str]]]:
    """By whom a new ball from the server goes to, after a rule: the ways it comes, each with the event it comes after."""
    found: dict[str, dict[tuple[float, str], tuple[Restart, str]]] = {}
    for phase in game.phases:
        for rule in phase.rules:
            for action in rule.do:
                if isinstance(action, Serve) and (restart := game.restart(action.what)).source == "server":
                    way = restart.seconds, restart.area
                    found.setdefault(receiver(game, restart.to, rule.on), {}).setdefault(way, (restart, rule.on))
    return {to: list(ways.values()) for to, ways in found.items()}


def otherwise(game: Game, phase: Phase) -> list[str]:
    """What follows where no rule of the phase says so, but over the line."""
    goal, out = game.restart(game.after_goal), game.restart("out")
    return [*played_on(game, phase), *after_shots(game, phase, served(game, goal, "goal"), served(game, out, "miss"))]


def always(game: Game) -> list[str]:
    """What holds all the time, and when the ball is won."""
    scored = any(isinstance(action, Score) for phase in game.phases for rule in phase.rules for action in rule.do)
    return [
        held(game),
        *first_touch(game),
        won(game),
        *until_it_is_won(game),
        *together(game),
        *fouls(game),
        *who_lost_it(game),
        *charged(game),
        *not_in_windows(game),
        *at_goals(game),
        *at_the_whistle(game),
        *counters_in_words(game),
        *last_gate(game),
        *endings(game),
        *limits_in_words(game),
        *([] if scored else [NO_POINTS]),
    ]


def at_goals(game: Game) -> list[str]:
    """That nobody is offside and keepers are tackled, where there is room to say so; `check` says it in any case."""
    many = sum(len(phase.rules) for phase in game.phases) >= MANY_RULES
    return [] if many else [*no_offside(game), *keepers_tackled(game)]


def served_to(game: Game) -> list[str]:
    """Of a ground in zones: in which of them the server plays a ball in."""
    if not game.zones or all(one.source != "server" for one in game.restarts):
        return []
    goals = any("goal" in phase.all_aims for phase in game.phases)
    half = ", own half first" if goals else ""
    return [f"The server plays it to whoever of them has room, in any zone{half}; to keepers last."]


def restart_lines(game: Game) -> list[str]:
    """How a ball comes back: after a rule, over the line and when it is, how far opponents keep off, how many balls there are."""
    lines = [f"New ball: {served(game, *ways[0])}." for ways in new_balls(game).values() if len(ways) == 1]
    out = game.restart("out")
    for phase in game.phases:
        lines += over_the_line(game, phase, served(game, out, "out"))
    lines += served_to(game) + at_the_lines(game) + at_the_lines_inside(game) + in_zones(game) + room_at_restarts()
    return list(dict.fromkeys([*lines, *supplied(game)]))
