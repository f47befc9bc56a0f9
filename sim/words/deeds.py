"""Passes told apart, gates, and counts of a game's own, in plain words."""

from __future__ import annotations

from sim.game.borders import distance
from sim.game.counters import ANY_GATE, Conditions, Counter, Gate
from sim.game.model import Game, Rule
from sim.game.sought import lies_inside
from sim.geometry import ROUNDING_M
from sim.words.ground_words import ON_SIDE
from sim.words.listing import listed, number, number_word, small
from sim.words.places import area_called, place_called, within
from sim.words.who import one_of

_COUNTED = {
    "passes": "passes",
    "wins": "balls won",
    "touches": "touches",
    "balls": "balls brought into play",
    "seconds": "seconds with the ball in play",
}
_RESET = {
    "loss": "the others get the ball",
    "out": "the ball goes out",
    "score": "points are given",
    "phase": "a phase begins",
}
_THERE_M = 0.05  # nearer than this to the middle of an area is in it


def told_apart(game: Game, one: Conditions) -> str:
    """What is asked of a pass, as it follows the word: `` to a builder from the box, through gate left``."""
    who = [
        "" if one.by_role is None else f"by {one_of(one.by_role)}",
        "" if one.to_role is None else f"to {one_of(one.to_role)}",
    ]
    how = [
        "" if one.from_area is None else f"from {place_called(game, one.from_area)}",
        "" if one.to_area is None else f"received {within(game, one.to_area)}",
        "" if one.through is None else through(one),
        "with the first touch" if one.first_time else "",
        "not straight back to whom it came from" if one.not_back else "",
    ]
    said = [words for words in how if words]
    joined = " " if said and not said[0].startswith("not ") else ", "
    return "".join(f" {words}" for words in who if words) + (joined + ", ".join(said) if said else "")


def through(one: Conditions) -> str:
    """Through which gate."""
    gate = "any gate" if one.through == ANY_GATE else f"gate {one.through}"
    return f"through {gate}{' other than the one of their last pass through a gate' if one.other_gate else ''}"


def deed_head(game: Game, rule: Rule, side: str | None) -> str:
    """When a rule on a pass, a carry, a foul or a counter answers; `side` is who has to do it, None anybody."""
    if rule.on == "carry":
        by = "" if rule.by_role is None else f", as {one_of(rule.by_role)}"
        area = place_called(game, rule.to_area or "active")
        return f"If {side} carry the ball into {area}{by}" if side else f"Carry the ball into {area}{by}"
    if rule.on == "foul":
        return foul_head(game, rule, side)
    if rule.on == "pass":
        return f"{f'If {side} complete' if side else 'Complete'} a pass{told_apart(game, rule)}"
    reached = number_word(rule.count or 0)
    whose = f"the {rule.counter} count of {side}" if side else f"the {rule.counter} count"
    return f"Every {reached} on {whose}" if rule.each else f"When {whose} reaches {reached}"


def foul_head(game: Game, rule: Rule, side: str | None) -> str:
    """When a rule on a foul answers: ``On a foul by a hunter on a builder in the box``."""
    on = "" if rule.to_role is None else one_of(rule.to_role)
    there = "" if rule.from_area is None else f" {within(game, rule.from_area)}"
    if side:
        by = "" if rule.by_role is None else f", as {one_of(rule.by_role)}"
        return f"If {side} foul{f' {on}' if on else ''}{there}{by}"
    by = "" if rule.by_role is None else f" by {one_of(rule.by_role)}"
    return f"On a foul{by}{f' on {on}' if on else ''}{there}"


def deed_in_short(game: Game, rule: Rule) -> str:
    """The same in few words, for a diagram."""
    if rule.on == "carry":
        return f"carried into {rule.to_area}"
    if rule.on == "foul":
        return small(foul_head(game, rule, None)).removeprefix("on ")
    if rule.on == "pass":
        return f"a pass{told_apart(game, rule)}"
    return f"{'each ' if rule.each else ''}{rule.count:g} {rule.counter}"


def counters_in_words(game: Game) -> list[str]:
    """What every count of the game's own counts, where it starts and what sets it back."""
    return [_counter(game, one) for one in game.counters]


def _counter(game: Game, one: Counter) -> str:
    whose = "each side has its own" if one.scope == "side" else "one for both sides"
    what = "seconds of having the ball in play" if (one.of, one.scope) == ("seconds", "side") else _COUNTED[one.of]
    start = f"starts at {one.start}" if one.start else "starts at nothing"
    back = f"and again when {listed([_RESET[what] for what in one.resets], 'or')}" if one.resets else "in every bout"
    return f"The {one.name} count is of {what}{told_apart(game, one)}; {whose}; it {start}, {back}."


def counted_anew(name: str) -> str:
    """A count that is set back."""
    return f"the {name} count starts again"


def gates_in_words(game: Game) -> list[str]:
    """Where every gate stands, how wide it is, and which way it is played through."""
    return [
        f"Gate {gate.name}: two cones {number(gate.width)} m apart, {_stands(game, gate)}, played through "
        f"{'from left to right' if gate.way == 'west-east' else 'from near to far'} or the other way."
        for gate in game.gates
    ]


def _stands(game: Game, gate: Gate) -> str:
    """From the middle of the smallest area it stands in."""
    inside = [area for area in game.areas if distance(area, gate.x, gate.y) <= ROUNDING_M]
    area = min(inside, key=lambda one: one.length * one.width)
    off = [
        f"{number(abs(metres))} m {ON_SIDE[ends[metres > 0]]}"
        for metres, ends in ((gate.x - area.x, ("west", "east")), (gate.y - area.y, ("south", "north")))
        if abs(metres) > _THERE_M
    ]
    middle = f"the middle of {area_called(area.name)}"
    return f"{' and '.join(off)} {middle}" if off else f"in {middle}"


def not_sought(game: Game) -> list[str]:
    """What players are not after, though a rule answers to it."""
    asked = [rule for phase in game.phases for rule in phase.rules if rule.on == "carry"]
    if all(lies_inside(game, rule.to_area) for rule in asked):
        return []
    return ["Nobody carries the ball into an area for its own sake, only on the way to what the play is for."]
