"""Of what age people are played: minors as minors, adults as adults, never both in one plan.

What is not said of somebody is not guessed: beside minors everybody's population must be known.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from sim.errors import InputError
from sim.game.model import Game
from sim.speed_zones import minors_of
from sim.squads.squad import Person


def minor(person: Person) -> bool:
    """Whether the squad file says that somebody is a minor."""
    return bool(person.population and minors_of([person.population]))


def of_minors(game: Game) -> bool:
    """Whether players of a population of minors take part in a game."""
    return bool(minors_of([team.population for team in game.teams]))


def refuse_other_ages(said: str | None, people: Sequence[Person], source: str, squad: str) -> None:
    """Refuse minors who would be planned as adults, adults as minors, and whoever is of no known age beside minors.

    `said`: the population of the whole plan, from the file `source`; None where each has that of the `squad` file, or of his game.
    """
    if said is not None:
        young = bool(minors_of([said]))
        other = next((person for person in people if person.population and minor(person) != young), None)
        if other is not None:
            age = "adults" if young else "minors"
            rule = f"population must be one of {age}, as that of {other.called} is, {other.population} (got {said})"
            raise InputError(rule, source)
        return
    first = next((person for person in people if minor(person)), None)
    other = next((person for person in people if not minor(person)), None)
    if first is not None and other is not None:
        rule = "be one of minors" if other.population else "be given"
        raise InputError(
            f"the population of {other.called} must {rule} where {first.called}'s is {first.population}"
            f" (got {other.population or 'none'})",
            squad or source,
        )


def population_of(said: str | None, people: Sequence[Person]) -> str | None:
    """The population of all teams of a game: the one that is said, or that of the people in it; None: as the game says."""
    if said is not None:
        return said
    found = sorted({person.population for person in people if person.population})
    if len(found) > 1:
        raise InputError(f"population must be given where people are of several (got {', '.join(found)})")
    return found[0] if found else None


def mixed_ages(games: Mapping[str, Game]) -> list[str]:
    """A line for every game, by where it stands, that would have the same people play as minors here and as adults there."""
    problems: list[str] = []
    first: tuple[str, bool] | None = None
    for where, game in games.items():
        played = sorted({team.population for team in game.teams})
        young = minors_of(played)
        if young and len(young) < len(played):
            problems.append(f"{where} must have teams of one age, or population be given (got {', '.join(played)})")
            continue
        if first is None:
            first = where, bool(young)
        elif first[1] != bool(young):
            age = "minors" if first[1] else "adults"
            rule = f"must be of {age}, as {first[0]} is, or population be given"
            problems.append(f"{where} {rule} (got {', '.join(played)})")
    return problems
