"""Where numbers come from: the engine, versions of the program and its libraries, constants, speed bands."""

from __future__ import annotations

from importlib.metadata import version

from sim.assumptions import NONE, Assumptions, replaced
from sim.measures.thresholds import Thresholds
from sim.pitch.assumptions import ENGINE
from sim.provenance import engine
from sim.results import Provenance, Replaced

LIBRARIES = ("numba", "numpy", "pandas", "pydantic", "scipy", "simpy")


def provenance_of(thresholds: Thresholds, assumptions: Assumptions = NONE) -> Provenance:
    """`assumptions`: what the user has put in place of the program's own."""
    constants = assumptions.table | {row.name: row.value for row in ENGINE} | assumptions.constants
    libraries = {name: version(name) for name in LIBRARIES}
    return Provenance(engine(), libraries, constants, thresholds, replacements(assumptions), assumptions.own_data)


def replacements(assumptions: Assumptions) -> tuple[Replaced, ...]:
    """Everything replaced, beside what the program would have taken."""
    own = {row.name: (row.value, row.unit) for row in ENGINE}
    return tuple(Replaced(*one) for one in replaced(assumptions, own))
