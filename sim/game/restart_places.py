"""Where a dead ball comes back other than from the server, and by whom: is it there?"""

from __future__ import annotations

from collections.abc import Iterator

from sim.game.messages import Problem, broken, unknown
from sim.game.roster import sides_of
from sim.game.spec import GameSpec, RestartSpec


def restart_place_problems(spec: GameSpec, path: str, restart: RestartSpec) -> Iterator[Problem]:
    """A gate that is not there, an end that nobody defends, two who are to take it."""
    if restart.from_ == "gate" and restart.gate is None:
        yield Problem(f"{path}.gate", 'must be given with from = "gate" (got nothing)')
    if restart.gate is not None and restart.from_ != "gate":
        yield broken(f"{path}.gate", 'be left out unless from = "gate"', restart.gate)
    if restart.gate is not None and restart.gate not in spec.gates:
        yield unknown(f"{path}.gate", "a gate", restart.gate, spec.gates)
    if restart.by is not None and restart.role is not None:
        yield broken(f"{path}.by", "be left out where role is given", restart.by)
    if restart.from_ == "own end":
        sides = list(sides_of(spec))
        for side in [restart.to] if restart.to in sides else sides:
            if not any(
                goal.attacked_by in (other, "any") for goal in spec.goals.values() for other in sides if other != side
            ):
                yield broken(f"{path}.from", f"be another place, as {side} have no goal to defend", restart.from_)
