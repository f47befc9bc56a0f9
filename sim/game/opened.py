"""What the phases and rules of a game ever open, and to whom."""

from __future__ import annotations

from itertools import chain
from typing import Any

EITHER = ("holder", "winner", "loser")
"""Words of a rule that may mean one side or the other."""


def ever_open(spec: Any, side: str | None = None) -> set[str]:
    """What a phase or a rule opens at some time: "transfer", "shoot" and zones, to a side or (None) to anybody."""
    found = {what for phase in spec.phases.values() for what in phase.open}
    for phase in spec.phases.values():
        found |= set(chain(*(more for one, more in phase.open_for.items() if side in (None, one))))
        done = [action for rule in phase.rules.values() for action in rule.do if hasattr(action, "open")]
        found |= {action.open for action in done if side is None or action.for_ in (None, *EITHER, side)}
    return found
