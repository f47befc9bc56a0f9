"""Where numbers come from: versions of the program and its libraries, constants, speed bands."""

from __future__ import annotations

from importlib.metadata import version

from sim.measures.thresholds import Thresholds
from sim.parameters import defaults
from sim.pitch.assumptions import ENGINE
from sim.results import Provenance

LIBRARIES = ("numba", "numpy", "pandas", "pydantic", "scipy", "simpy")


def provenance_of(thresholds: Thresholds) -> Provenance:
    constants = dict(defaults()) | {row.name: row.value for row in ENGINE}
    return Provenance({name: version(name) for name in LIBRARIES}, constants, thresholds)
