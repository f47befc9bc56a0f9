"""Limits of a person: roles a player never takes, how many bouts and minutes he plays at most.

A limit is never broken: where the game would have to, it is refused.
"""

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
        if capped(player):
            yield from _cap_problems(spec, f"players.{place.id}", player, place.role)
        path = f"players.{place.id}.never"
        for role in player.never:
            if role not in spec.roles:
                yield unknown(path, "a role", role, spec.roles)
            elif role == place.role:
                yield broken(path, "leave out the role the player begins in", role)
        if player.never:
            yield from _forced(spec, path, player)


def capped(player: PlayerSpec) -> bool:
    """Whether there is an end to how much a player plays."""
    return player.most_bouts is not None or player.most_minutes is not None


def benches(spec: GameSpec) -> list[str]:
    """The roles whose players wait, whatever the phase."""
    waiting = [name for name, role in spec.roles.items() if role.style == "wait"]
    jobs = [role for phase in spec.phases.values() for role, words in phase.jobs.items() if words.split()[0] != "wait"]
    return [name for name in waiting if name not in jobs]


def _cap_problems(spec: GameSpec, path: str, player: PlayerSpec, role: str) -> Iterator[Problem]:
    """Nowhere to go for whoever has had his bouts or minutes, or a rule that would bring him back."""
    key = "most_bouts" if player.most_bouts is not None else "most_minutes"
    got = getattr(player, key)
    by_bibs = spec.roles[role].side == "team"
    fitting = [name for name in benches(spec) if (spec.roles[name].side == "team") == by_bibs]
    for name in (name for name in fitting if name in player.never):
        yield broken(f"{path}.never", f"leave out where he waits once he has had his {key}", name)
    if not fitting:
        of = ' and side = "team"' if by_bibs else ""
        must = f'go with a waiting role for him to go to: one with style = "wait"{of} in every phase'
        yield broken(f"{path}.{key}", must, got)
    for phase_name, phase in spec.phases.items():
        for rule_name, rule in phase.rules.items():
            if any(isinstance(action, TradeAction) for action in rule.do):
                where = f"phases.{phase_name}.rules.{rule_name}.do.trade"
                yield broken(f"{path}.{key}", f"be left out, as {where} gives everybody another role", got)


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
