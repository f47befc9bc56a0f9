"""Where numbers come from: the engine, versions of the program and its libraries, constants, speed bands."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from importlib.metadata import version

from sim.assumptions import NONE, Assumptions, OwnData, replaced
from sim.measures.thresholds import STRICT, Thresholds
from sim.pitch.assumptions import ENGINE
from sim.provenance import engine

LIBRARIES = ("numba", "numpy", "pandas", "pydantic", "scipy", "simpy")


@dataclass(frozen=True)
class Replaced:
    """An assumption of the program's (`own`) that was played with another `value`."""

    __pydantic_config__ = STRICT

    name: str
    unit: str
    own: float
    value: float


@dataclass(frozen=True)
class Provenance:
    """What made the numbers, beyond the game: the engine, versions of the libraries, the constants, the speed bands.

    `engine` is a digest of all sources that the numbers hang on: two programs that sign alike count alike.  `parameters` are the
    values played with; `assumptions` those that the user put in place of the program's own; `own_data`: how much of the user's
    own counts these were learned from.
    """

    __pydantic_config__ = STRICT

    engine: str
    libraries: Mapping[str, str]
    parameters: Mapping[str, float]
    thresholds: Thresholds
    assumptions: tuple[Replaced, ...]
    own_data: OwnData | None = None


def provenance_of(thresholds: Thresholds, assumptions: Assumptions = NONE) -> Provenance:
    """`assumptions`: what the user has put in place of the program's own."""
    constants = assumptions.table | {row.name: row.value for row in ENGINE} | assumptions.constants
    return Provenance(
        engine(), dict(libraries()), constants, thresholds, replacements(assumptions), assumptions.own_data
    )


@cache
def libraries() -> Mapping[str, str]:
    """The versions of the libraries that numbers hang on, looked up once a process."""
    return {name: version(name) for name in LIBRARIES}


def replacements(assumptions: Assumptions) -> tuple[Replaced, ...]:
    """Everything replaced, beside what the program would have taken."""
    own = {row.name: (row.value, row.unit) for row in ENGINE}
    return tuple(Replaced(*one) for one in replaced(assumptions, own))
