"""Which roles can be held in which phase, and how players come back from a phase that the whistle cuts off.

Worked out from the rules alone.  An assignment without a number is taken to leave nobody behind in the role it names with
`from`; any rule may fire, or not.
"""

from __future__ import annotations

from collections.abc import Collection, Sequence
from functools import cache
from typing import TypeGuard

from sim.game.model import Phase, Rule
from sim.game.verbs import Action, Assign, ChangePhase

Held = dict[str, set[str]]  # roles by phase


def _empties(action: Action, role: str) -> TypeGuard[Assign]:
    """Whether an action leaves nobody in `role`."""
    if not isinstance(action, Assign) or action.count is not None or action.other == "passer and receiver":
        return False
    return action.from_role == role or (action.from_role is None and action.who == "all")


def _after(rule: Rule, phase: str, roles: set[str]) -> tuple[str, set[str]]:
    """Phase and roles once a rule has fired in a phase with these roles."""
    now = set(roles)
    handed: set[str] = set()  # one rule takes nobody on from role to role twice
    for action in rule.do:
        if isinstance(action, ChangePhase):
            phase = action.what
        elif isinstance(action, Assign) and (action.from_role is None or action.from_role in now):
            stay, taken = (handed if action.from_role is not None else set()), action.role
            now = {role for role in now if role in stay or not _empties(action, role)} | {taken}
            if action.from_role is not None:
                handed.add(taken)
    return phase, now


def roles_in(phases: Sequence[Phase], first: str, begin: Collection[str]) -> Held:
    """The roles that somebody may hold in each phase, if players begin in `begin` in phase `first`."""
    held: Held = {phase.name: set() for phase in phases}
    held[first] |= set(begin)
    while True:
        before = {name: set(roles) for name, roles in held.items()}
        for phase in phases:
            for event in dict.fromkeys(rule.on for rule in phase.rules):
                found: Held = {phase.name: set(held[phase.name])}
                for rule in (one for one in phase.rules if one.on == event):
                    for name, roles in list(found.items()):
                        here, now = _after(rule, name, roles)
                        found[here] = found.get(here, set()) | now
                for name, roles in found.items():
                    held[name] |= roles
        if held == before:
            return held


def _leads(rule: Rule) -> str | None:
    """The phase a rule turns to, if any."""
    turns = [action.what for action in rule.do if isinstance(action, ChangePhase)]
    return turns[-1] if turns else None


def _steps(phases: Sequence[Phase], first: str) -> dict[str, int]:
    """How many changes of phase each phase is away from the first; without those that never lead there."""
    steps = {first: 0}
    for _ in phases:
        for phase in phases:
            nearest = [steps[to] + 1 for to in map(_leads, phase.rules) if to in steps]
            if nearest and phase.name not in steps:
                steps[phase.name] = min(nearest)
    return steps


def ways_back(phases: Sequence[Phase], first: str, begin: Collection[str]) -> dict[str, dict[str, set[str]]]:
    """By phase, every role that the first phase does not use, and the roles its holders may go back to as the phase ends.

    One is as it should be; none, or a role that the first phase does not use, says that nothing brings them back.
    """
    held, steps = roles_in(phases, first, begin), _steps(phases, first)
    by_name = {phase.name: phase for phase in phases}

    @cache  # phases may lead to each other in more ways than can be walked one by one
    def back(name: str, role: str) -> set[str]:
        if name == first or role in held[first]:
            return {role}
        found: set[str] = set()
        for rule in by_name[name].rules:
            to = _leads(rule)
            if to in steps and name in steps and steps[to] < steps[name]:
                fate, handed = role, False
                for action in rule.do:
                    if _empties(action, fate) and not (handed and action.from_role is not None):
                        fate, handed = action.role, action.from_role is not None
                found |= back(to, fate)
        return found

    return {
        phase.name: {role: back(phase.name, role) for role in sorted(held[phase.name] - held[first])}
        for phase in phases
    }
