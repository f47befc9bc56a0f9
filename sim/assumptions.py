"""What a user has put in place of the program's own assumptions: one frozen value, handed on explicitly.

It holds only what differs: constants of the engine, of the heart rate and of the club by name, and numbers of the populations by
(population, trait, number).  Empty, everything is as it stands in `sim.parameters`, `sim.pitch.assumptions` and
`sim.populations`.  What may be replaced, and by what, is checked where the user's file is read
(`sim.experiments.assumption_file`).
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from functools import lru_cache
from types import MappingProxyType

from sim.parameters import TABLE, defaults
from sim.populations import Population, population

NUMBERS = ("mean", "spread", "ignorance")
"""What a trait of a population has (`sim.populations.Trait`)."""


@dataclass(frozen=True)
class OwnData:
    """How much of a user's own counts the values in force were learned from: `bouts` counted in `sessions`, `minutes` in all."""

    sessions: int
    bouts: int
    minutes: float


@dataclass(frozen=True)
class Assumptions:
    """`engine`, `heart`, `club`: (constant, value).  `populations`: (population, trait, one of `NUMBERS`, value); for how much
    days differ (`Population.days`) the number is "value".  `own_data`: None where nothing was learned from counts."""

    engine: tuple[tuple[str, float], ...] = ()
    populations: tuple[tuple[str, str, str, float], ...] = ()
    heart: tuple[tuple[str, float], ...] = ()
    club: tuple[tuple[str, float], ...] = ()
    own_data: OwnData | None = None

    def __bool__(self) -> bool:
        return bool(self.engine or self.populations or self.heart or self.club)

    @property
    def constants(self) -> dict[str, float]:
        """The engine's constants that differ, by name."""
        return dict(self.engine)

    @property
    def table(self) -> dict[str, float]:
        """Name -> value of all of `sim.parameters`, with those of the heart rate and the club that differ."""
        return dict(defaults()) | dict(self.heart) | dict(self.club)


NONE = Assumptions()
"""Nothing is replaced."""


@lru_cache(maxsize=256)
def preset(name: str, assumptions: Assumptions = NONE) -> Population:
    """The population of that name, with what the user has put in place."""
    found = population(name)
    traits, days = dict(found.traits), dict(found.days)
    for whose, trait, number, value in assumptions.populations:
        if whose == name and number in NUMBERS:
            own = traits[trait]
            numbers = {"mean": own.mean, "spread": own.spread, "ignorance": own.ignorance} | {number: value}
            traits[trait] = replace(own, mean=numbers["mean"], spread=numbers["spread"], ignorance=numbers["ignorance"])
        elif whose == name:
            days[trait] = replace(days[trait], value=value)
    return replace(found, traits=MappingProxyType(traits), days=MappingProxyType(days))


def replaced(
    assumptions: Assumptions, engine: Mapping[str, tuple[float, str]]
) -> Iterator[tuple[str, str, float, float]]:
    """(name, unit, the program's value, the user's) of everything replaced; `engine`: value and unit of its constants."""
    for name, value in assumptions.engine:
        own, unit = engine[name]
        yield f"engine.{name}", unit, own, value
    for group, values in (("heart", assumptions.heart), ("club", assumptions.club)):
        for name, value in values:
            yield f"{group}.{name}", TABLE[name].unit, TABLE[name].value, value
    for whose, trait, number, value in assumptions.populations:
        found = population(whose)
        place = f'population."{whose}".{trait}'
        if number in NUMBERS:
            yield f"{place}.{number}", found.traits[trait].kind.unit, getattr(found.traits[trait], number), value
        else:
            yield place, found.days[trait].unit, found.days[trait].value, value
