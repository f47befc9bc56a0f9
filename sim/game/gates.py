"""Are the gates where a ball can go through them?"""

from __future__ import annotations

from collections.abc import Iterator

from sim.game.borders import distance
from sim.game.bounds import FURTHEST_M, LONGEST_SIDE_M
from sim.game.counters import ANY_GATE
from sim.game.layout import gates_of, lay_out
from sim.game.messages import Problem, broken, unknown
from sim.game.spec import GameSpec
from sim.geometry import ROUNDING_M
from sim.units import to_metres

NARROWEST_GATE_M = 0.5  # two balls' width, and a little


def gate_problems(spec: GameSpec) -> Iterator[Problem]:
    """What is wrong with how gates are written."""
    asked = [rule.through for phase in spec.phases.values() for rule in phase.rules.values()]
    asked += [counter.through for counter in spec.counters.values()]
    asked += [spec.win.gate, *(restart.gate for restart in spec.restarts.values())]
    for name, gate in spec.gates.items():
        path = f"gates.{name}"
        if name == ANY_GATE:
            yield broken(path, "have another name: any is a word of the rules", name)
        if (gate.within is None) == (gate.centre is None):
            got = "nothing" if gate.within is None else "both"
            yield Problem(path, f"must say where it stands by either within or centre (got {got})")
        if gate.within is not None and gate.within not in spec.areas:
            yield unknown(f"{path}.within", "an area", gate.within, spec.areas)
        if any(abs(to_metres(one, spec.units)) > FURTHEST_M for one in gate.centre or ()):
            yield broken(f"{path}.centre", f"lie within {FURTHEST_M:g} metres of the origin", gate.centre)
        if not NARROWEST_GATE_M <= to_metres(gate.width, spec.units) <= LONGEST_SIDE_M:
            yield broken(f"{path}.width", f"be {NARROWEST_GATE_M:g} to {LONGEST_SIDE_M:g} metres", gate.width)
        if name not in asked and ANY_GATE not in asked:
            yield Problem(path, "must be played through by a rule or a counter (got none)")


def win_problems(spec: GameSpec) -> Iterator[Problem]:
    """A gate that wins are confirmed by and that is not there; a contest that cannot come."""
    if spec.win.gate is not None and spec.win.gate not in (ANY_GATE, *spec.gates):
        yield unknown("win.gate", "a gate", spec.win.gate, [*spec.gates, ANY_GATE])
    if spec.win.gate == ANY_GATE and not spec.gates:
        yield broken("win.gate", "go with a gate in gates", spec.win.gate)
    if spec.win.contested != "goes on" and spec.win.confirm in ("touch", "control"):
        yield broken("win.contested", "be left out where a win counts at once", spec.win.contested)


def stands_in_play(spec: GameSpec) -> Iterator[Problem]:
    """Both cones of a gate stand in one area."""
    areas = lay_out(spec)[0]
    for gate in gates_of(spec):
        if not any(all(distance(area, *cone) <= ROUNDING_M for cone in gate.cones) for area in areas):
            yield Problem(f"gates.{gate.name}", "must stand with both cones in one area (got a cone outside)")
