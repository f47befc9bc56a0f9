"""Limits of a person: roles a player never takes.  A limit is never broken: where the game would have to, it is refused."""

from __future__ import annotations

from collections.abc import Iterator

from sim.game.actions import AssignAction, TradeAction, verb_of
from sim.game.messages import Problem, broken, unknown
from sim.game.roster import roster
from sim.game.spec import GameSpec, PlayerSpec


def limit_problems(spec: GameSpec) -> Iterator[Problem]:
    """Limits that lead nowhere, and those that the game would break."""
    for place in roster(spec):
        player = spec.players.get(place.id)
        if player is None:
            continue
        path = f"players.{place.id}.never"
        for role in player.never:
            if role not in spec.roles:
                yield unknown(path, "a role", role, spec.roles)
            elif role == place.role:
                yield broken(path, "leave out the role the player begins in", role)
        if player.never:
            yield from _forced(spec, path, player)


def _all(action: AssignAction) -> bool:
    """Whether everybody who can takes the role."""
    return action.count is None and action.choose != "passer and receiver"


def _forced(spec: GameSpec, path: str, player: PlayerSpec) -> Iterator[Problem]:
    """Where everybody changes, whoever it is."""
    if spec.bouts.rotate == "list":
        yield broken(
            path, 'be left out where bouts.rotate = "list", as the list gives everybody every role', player.never
        )
    for phase_name, phase in spec.phases.items():
        for rule_name, rule in phase.rules.items():
            for action in rule.do:
                where = f"phases.{phase_name}.rules.{rule_name}.do.{verb_of(action)}"
                if isinstance(action, TradeAction):
                    yield broken(path, f"be left out, as {where} gives everybody another role", player.never)
                if isinstance(action, AssignAction) and _all(action) and action.assign in player.never:
                    yield broken(path, f"leave out {action.assign}, as {where} gives it to all", player.never)
