"""Which passes the side with the ball is after because its rules reward them, written where the carrier's eyes are."""

from __future__ import annotations

from collections.abc import Iterator

from sim.game.counters import ANY_GATE, Conditions
from sim.game.model import Game, Rule
from sim.game.verbs import ChangePhase, Open, Score
from sim.pitch import arrays as col
from sim.pitch.state import NEVER, Bout

ANYTHING = Conditions()


def rewards(rule: Rule, side: str) -> bool:
    """Whether a side is glad of what follows when a rule answers to what it has done: points of its own, something opened, or
    another phase, and no points for the others."""
    if rule.by not in (None, side):
        return False
    points = [action.to in ("holder", side) for action in rule.do if isinstance(action, Score)]
    return all(points) and (bool(points) or any(isinstance(action, (Open, ChangePhase)) for action in rule.do))


def sought(game: Game, bout: Bout) -> Iterator[Conditions]:
    """What is asked of the passes that the side with the ball is rewarded for, as the phase has it."""
    counters = {one.name: one for one in game.counters if one.of == "passes"}
    for rule in bout.standing.phase.rules:
        asked: Conditions | None = rule if rule.on == "pass" else counters.get(rule.counter or "")
        if asked is not None and rewards(rule, bout.standing.side):
            asked = Conditions(**{name: getattr(asked, name) for name in Conditions.model_fields})
            if asked != ANYTHING:
                yield asked


def seek(bout: Bout) -> None:
    """Write down what is sought now."""
    game, play = bout.game, bout.match["play"][0]
    roles = {role.name: k for k, role in enumerate(game.roles)}
    gates = {gate.name: k for k, gate in enumerate(game.gates)}
    wanted = list(dict.fromkeys(sought(game, bout)))
    play["prizes_in_use"] = len(wanted)
    play["last_gate"] = gates.get(bout.standing.last_gate.get(bout.standing.side, ""), col.NO_GATE)
    for row, asked in zip(play["prizes"], wanted, strict=False):
        area = None if asked.to_area is None else game.area(asked.to_area)
        bounds = (-NEVER, -NEVER, NEVER, NEVER) if area is None else area.bounds
        row["west"], row["south"], row["east"], row["north"] = bounds
        row["gate"] = {None: col.NO_GATE, ANY_GATE: col.ANY_GATE}.get(asked.through, gates.get(asked.through or "", 0))
        row["by_role"] = roles.get(asked.by_role or "", col.NOBODY)
        row["to_role"] = roles.get(asked.to_role or "", col.NOBODY)
        row["other_gate"], row["first_time"], row["not_back"] = asked.other_gate, asked.first_time, asked.not_back


def set_up(bout: Bout) -> None:
    """Write where the gates stand."""
    play = bout.match["play"][0]
    play["gates_in_use"] = len(bout.game.gates)
    for row, gate in zip(play["gates"], bout.game.gates, strict=False):
        (row["west"], row["south"]), (row["east"], row["north"]) = gate.cones
