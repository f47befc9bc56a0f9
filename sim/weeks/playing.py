"""From a plan file to what it plans with: the squad and the games read, set up for who is there, and played or found."""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING

from sim.errors import InputError
from sim.game.loader import load_game
from sim.game.model import Game
from sim.game.shipped import shipped_games
from sim.groups.fitting import fits
from sim.planning.heat import read_rules, too_hot, under
from sim.squads.ages import mixed_ages, of_minors, population_of, refuse_other_ages
from sim.squads.squad import Squad
from sim.squads.squad_file import read_squad
from sim.weeks.bands import TOP_UP
from sim.weeks.moving import Move, file_after
from sim.weeks.people import Member, members_of
from sim.weeks.plan import FEWEST_FOR_A_GAME, Table, labels_on, refuse_matches, require_known, turnout_on, turnouts
from sim.weeks.seats import Turnout
from sim.weeks.table import PLAYED_BOUTS, Laid, laid_out, offers
from sim.weeks.week_file import PlanFile

if TYPE_CHECKING:
    from sim.experiments.executors import Workers
    from sim.planning.kept_loads import Shelf


Lay = Callable[[Sequence[Game], int, Sequence[float], tuple[float, float]], list[Laid]]
"""Lays games out for so many, in sizes and on a ground: `sim.weeks.table.laid_out`, or what has it from the disk."""


@dataclass(frozen=True)
class Asked:
    """A plan file with its squad, and its games as they are laid out for so many as come, before anything is played.

    `move`: a day to be moved; `games`: as they are written.
    """

    file: PlanFile
    members: tuple[Member, ...]
    laid: Mapping[int, tuple[Laid, ...]]
    move: Move | None = None
    games: tuple[Game, ...] = ()


def asked_of(file: PlanFile, folder: Path, move: Move | None = None, lay: Lay = laid_out) -> Asked:
    """The plan file with what it names; files lie in its `folder`, or are named in full.  `lay` lays games out."""
    squads = [read_squad(file_in(folder, name)) for name in file.squad]
    members = members_of(squads)
    file = with_heat(_of_one_age(file, squads), folder)
    games = []
    for name in file.games or tuple(shipped_games()):
        place = folder / name
        source = place if place.is_file() else name
        games.append(load_game(source, [f"bouts.count={PLAYED_BOUTS}"], file.population))
    file, members = as_old_as_the_games(file, members, games)
    require_known(file, members)
    refuse_matches(file, members)
    if move is not None:
        refuse_matches(file_after(file, move), members)
    laid = laid_for(games, wanted_of(file, members, move), file, lay)
    _require_games(file, members, games, laid)
    return Asked(file, tuple(members), laid, move, tuple(games))


def wanted_of(file: PlanFile, members: Sequence[Member], move: Move | None) -> set[Turnout]:
    """Who trains on the evenings, before and after a move."""
    after = [] if move is None else turnouts(file_after(file, move), members)
    return {*turnouts(file, members), *after}


def asked_with(asked: Asked, members: Sequence[Member], lay: Lay = laid_out) -> Asked:
    """The same, laid out for these members as well: some of them are not counted on every evening."""
    wanted = wanted_of(asked.file, asked.members, asked.move) | wanted_of(asked.file, members, asked.move)
    return replace(asked, laid=laid_for(asked.games, wanted, asked.file, lay))


def _of_one_age(file: PlanFile, squads: Sequence[Squad]) -> PlanFile:
    """The file with the population of the squad where it says none itself; refused where anybody would be of another age."""
    people = [person for squad in squads for person in squad.people if person.status != "out"]
    refuse_other_ages(file.population, people, "", squads[0].source if squads else "")
    return replace(file, population=population_of(file.population, people))


def as_old_as_the_games(
    file: PlanFile, members: Sequence[Member], games: Sequence[Game]
) -> tuple[PlanFile, list[Member]]:
    """The file and its players, who are minors where the games are played by minors; refused where some are and some are not."""
    if problems := mixed_ages({f"games: {game.name}": game for game in games}):
        raise InputError(problems)
    minors = any(of_minors(game) for game in games)
    return replace(file, minors=minors), [replace(one, minor=one.minor or minors) for one in members]


def with_heat(file: PlanFile, folder: Path) -> PlanFile:
    """The file with the rows of its heat table; refused where nobody trains at a reading of it."""
    if not file.heat_table:
        return file
    place = file_in(folder, file.heat_table)
    rules = read_rules(place)
    problems = [
        f"evenings of {one.day}.wbgt {why}: take the evening out"
        for one in file.evenings
        if one.wbgt is not None and (why := too_hot(under(rules, one.wbgt, str(place))))
    ]
    if problems:
        raise InputError(problems)
    return replace(file, heat_rules=rules)


def laid_for(
    games: Sequence[Game], wanted: Collection[Turnout], file: PlanFile, lay: Lay = laid_out
) -> dict[int, tuple[Laid, ...]]:
    """The games as they are laid out, by how many are in them: for those who may be anywhere, and with those who need a place of
    their own where a game has one."""
    laid: dict[int, tuple[Laid, ...]] = {}
    for people in sorted({count for one in wanted for count in range(one.free, one.people + 1)}):
        every = lay(games, people, file.sizes, file.ground)
        laid[people] = tuple(own for own in every if any(one.fits(people, own.places) for one in wanted))
    return laid


def file_in(folder: Path, name: str) -> Path:
    """Where a file lies that a plan in this folder names."""
    return Path(name) if Path(name).is_absolute() else folder / name


def _require_games(
    file: PlanFile, members: Sequence[Member], games: Sequence[Game], laid: Mapping[int, Sequence[Laid]]
) -> None:
    """Refuse an evening that none of the games can hold; a top-up of a few may do without."""
    problems: dict[int, str] = {}  # the same number is refused once, on its first evening
    for evening in file.evenings:
        people = turnout_on(file, members, evening).free
        if people >= FEWEST_FOR_A_GAME and not laid.get(people) and TOP_UP not in labels_on(file, evening):
            why = fits(games[:1], people)[0].why or f"none has room on {file.ground[0]:g} x {file.ground[1]:g} m"
            problems.setdefault(people, f"games must hold the {people} players of {evening.day}: {why}")
    if problems:
        raise InputError(list(problems.values()))


def table_of(
    asked: Asked,
    shelf: Shelf,
    seed: int = 1,
    workers: Workers = None,
    progress: Callable[[int, int], None] | None = None,
) -> Table:
    """What the games give, for every number of people; all are played together."""
    every = [one for own in asked.laid.values() for one in own]
    found = iter(offers(every, shelf, seed, workers=workers, progress=progress) if every else [])
    return {people: [next(found) for _ in own] for people, own in asked.laid.items()}
