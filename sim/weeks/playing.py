"""From a plan file to what it plans with: the squad and the games read, set up for who is there, and played or found."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from sim.errors import InputError
from sim.game.loader import load_game
from sim.game.model import Game
from sim.game.shipped import shipped_games
from sim.groups.fitting import fits
from sim.squads.squad_file import read_squad
from sim.weeks.bands import TOP_UP
from sim.weeks.moving import Move, file_after
from sim.weeks.people import Member, members_of
from sim.weeks.plan import Table, labels_on, people_on, require_known, turnouts
from sim.weeks.table import PLAYED_BOUTS, laid_out, offers
from sim.weeks.week_file import PlanFile

if TYPE_CHECKING:
    from sim.experiments.executors import Workers
    from sim.planning.kept_loads import Shelf


@dataclass(frozen=True)
class Asked:
    """A plan file with its squad and its games, checked, before anything is played; `move`: a day to be moved."""

    file: PlanFile
    members: tuple[Member, ...]
    games: tuple[Game, ...]
    move: Move | None = None

    @property
    def people(self) -> list[int]:
        """For how many the games must be known."""
        after = [] if self.move is None else turnouts(file_after(self.file, self.move), self.members)
        return sorted({*turnouts(self.file, self.members), *after})


def asked_of(file: PlanFile, folder: Path, move: Move | None = None) -> Asked:
    """The plan file with what it names; files lie in its `folder`, or are named in full."""
    days = [*(one.day for one in file.evenings), *(one.day for one in file.matches)]
    if move is not None:
        days.append(move.to)
    members = members_of([read_squad(_place(folder, name)) for name in file.squad], days)
    require_known(file, members)
    names = file.games or tuple(shipped_games())
    games = []
    for name in names:
        place = folder / name
        source = place if place.is_file() else name
        games.append(load_game(source, [f"bouts.count={PLAYED_BOUTS}"], file.population))
    found = Asked(file, tuple(members), tuple(games), move)
    _require_games(found)
    return found


def _place(folder: Path, name: str) -> Path:
    return Path(name) if Path(name).is_absolute() else folder / name


def _require_games(asked: Asked) -> None:
    """Refuse an evening that none of the games can hold; a top-up of a few may do without."""
    problems = []
    holds: dict[int, str] = {}
    for evening in asked.file.evenings:
        people = people_on(asked.file, asked.members, evening)
        if people < 1 or TOP_UP in labels_on(asked.file, evening):
            continue
        if people not in holds:
            found = fits(asked.games, people)
            holds[people] = "" if any(one.how != "not at all" for one in found) else found[0].why
        if holds[people]:
            problems.append(f"games must hold the {people} of {evening.day}: {holds[people]}")
    if problems:
        raise InputError(problems)


def table_of(
    asked: Asked,
    shelf: Shelf,
    seed: int = 1,
    workers: Workers = None,
    progress: Callable[[int, int], None] | None = None,
) -> Table:
    """What the games give, for every number of people; all are played together."""
    laid = {people: laid_out(asked.games, people, asked.file.sizes) for people in asked.people}
    every = [one for own in laid.values() for one in own]
    found = iter(offers(every, shelf, seed, workers=workers, progress=progress) if every else [])
    return {people: [next(found) for _ in own] for people, own in laid.items()}
