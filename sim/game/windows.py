"""Windows to win the ball back, and ladders of touches: is what opens or lowers them there, and does something follow?"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from sim.game.actions import PhaseAction, ResetAction, StepAction, WindowAction
from sim.game.counting import STEPS
from sim.game.messages import Problem, broken, show
from sim.game.spec import GameSpec, RuleSpec

WINDOWS = ("won back", "not won back")
HOW = "{ window = 5 }"


def _has(rule: RuleSpec, kind: type) -> bool:
    return any(isinstance(action, kind) for action in rule.do)


def window_problems(spec: GameSpec) -> Iterator[Problem]:
    """Windows that nothing follows, and what waits for a window that nothing opens."""
    for name, phase in spec.phases.items():
        opening = [rule for rule in phase.rules if _has(phase.rules[rule], WindowAction)]
        answering = [rule for rule in phase.rules if phase.rules[rule].on in WINDOWS]
        if not opening:
            for rule in answering:
                must = f"go with a rule of phases.{name} that opens a window, {HOW}"
                yield broken(f"phases.{name}.rules.{rule}.on", must, phase.rules[rule].on)
        for rule in opening:
            path = f"phases.{name}.rules.{rule}.do.window"
            if not answering:
                yield Problem(
                    path, f'must have a rule of phases.{name} with on = "won back" or "not won back" (got none)'
                )
            if _has(phase.rules[rule], PhaseAction):
                yield Problem(path, "must stand in a rule that begins no phase, or the window is closed (got phase)")


def ladder_problems(spec: GameSpec) -> Iterator[Problem]:
    """Ladders that do not lead down or that nobody goes down, and steps without a ladder."""
    rules = [
        (f"phases.{name}.rules.{key}", rule) for name, phase in spec.phases.items() for key, rule in phase.rules.items()
    ]
    stepped = any(_has(rule, StepAction) for _, rule in rules)
    ladders = [name for name, role in spec.roles.items() if role.ladder]
    for name in ladders:
        role = spec.roles[name]
        steps = [*([role.touches] if isinstance(role.touches, int) else []), *role.ladder]
        if any(lower >= higher for higher, lower in pairwise(steps)):
            yield broken(
                f"roles.{name}.ladder",
                f"lead down, each fewer than the one before, from touches = {show(role.touches)}",
                role.ladder,
            )
        if not stepped:
            yield broken(f"roles.{name}.ladder", "be left out unless a rule has step", role.ladder)
    if ladders:
        return
    for path, rule in rules:
        if _has(rule, StepAction):
            yield Problem(f"{path}.do.step", "must have a role with a ladder (got none)")
        if any(isinstance(action, ResetAction) and action.reset == STEPS for action in rule.do):
            yield Problem(f"{path}.do.reset", "must have a role with a ladder (got steps, and none)")
        if rule.last_step:
            yield broken(f"{path}.last_step", "be left out where no role has a ladder", rule.last_step)
