"""Where numbers come from: versions of the program and its libraries, constants, speed bands."""

from __future__ import annotations

from importlib.metadata import version

from sim.measures.load import Thresholds
from sim.parameters import defaults
from sim.results import Provenance

LIBRARIES = ("numba", "numpy", "pandas", "pydantic", "scipy", "simpy")


def provenance_of(thresholds: Thresholds) -> Provenance:
    return Provenance({name: version(name) for name in LIBRARIES}, dict(defaults()), thresholds)
