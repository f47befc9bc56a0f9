"""Whether what a side aims at has a place on the ground, and rules that reward it."""

from __future__ import annotations

from collections.abc import Iterator

from sim.game.actions import OpenAction, PhaseAction, ScoreAction
from sim.game.counting import ConditionsSpec
from sim.game.messages import Problem, broken
from sim.game.roster import sides_of
from sim.game.spec import GameSpec, PhaseSpec, RuleSpec

REWARDED = {
    "gates": 'a rule that rewards a pass through a gate, { on = "pass", through = "any", do = [{ score = 1 }] }',
    "passes": 'a rule that rewards passes, { on = "passes", count = 6, do = [{ score = 1 }] }',
    "zones": 'a rule that rewards the ball in a zone, { on = ["pass", "carry"], to = "end", do = [{ score = 1 }] }',
}
"""What each aim goes with, for whoever has it."""


def _asked(spec: GameSpec, rule: RuleSpec) -> ConditionsSpec | None:
    """What a rule asks of passes or carries, itself or by its counter."""
    if rule.on == "counter":
        counter = spec.counters.get(rule.counter or "")
        return counter if counter is not None and counter.of == "passes" else None
    return rule if rule.on in ("pass", "carry", "passes") else None


def _is_for(spec: GameSpec, rule: RuleSpec, aim: str) -> bool:
    """Whether a rule rewards what such a side plays for."""
    asked = _asked(spec, rule)
    if asked is None or not any(isinstance(action, (ScoreAction, OpenAction, PhaseAction)) for action in rule.do):
        return False
    if aim == "gates":
        return asked.through is not None
    return rule.on != "carry" if aim == "passes" else asked.to is not None


def _rewarded(spec: GameSpec, phase: PhaseSpec, aim: str, side: str | None) -> bool:
    """Whether some rule of a phase rewards a side (None: any) for what it aims at."""
    return any(_is_for(spec, rule, aim) for rule in phase.rules.values() if None in (side, rule.by) or rule.by == side)


def aimed_at(spec: GameSpec) -> Iterator[Problem]:
    """Nothing is aimed at that the ground has no place for, or that nothing comes of."""
    for name, phase in spec.phases.items():
        sides = [side for side in sides_of(spec) if side not in phase.aims]
        alone = sides[0] if len(sides) == 1 else None
        for path, aim, side in (
            ("aim", phase.aim, alone),
            *((f"aims.{one}", aim, one) for one, aim in phase.aims.items()),
        ):
            if aim == "goal" and not spec.goals:
                yield broken(
                    f"phases.{name}.{path}", "be keep, home, gates, passes or zones where there are no goals", aim
                )
            if aim in REWARDED and not _rewarded(spec, phase, aim, side):
                yield broken(f"phases.{name}.{path}", f"go with {REWARDED[aim]}", aim)
