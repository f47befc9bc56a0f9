"""What a command is asked about, as typed: a game, what is changed in it, who plays, on which assumptions, with which seed."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING

from sim.words.commands import Given, Option, with_tweak

if TYPE_CHECKING:
    from sim.assumptions import Assumptions
    from sim.game.loader import Reading
    from sim.game.model import Game


@dataclass(frozen=True)
class Scenario:
    """As typed: GAME, and the values of --set, --population, --assumptions and --seed."""

    game: str
    changes: tuple[str, ...]
    population: str | None
    assumptions: Path | None
    seed: int

    def with_changes(self, more: Sequence[str]) -> Scenario:
        """With more changes: each takes the place of one of the same key."""
        return replace(self, changes=with_tweak(self.changes, tuple(more)))

    def of_game(self, other: str) -> Scenario:
        """The same of another game."""
        return replace(self, game=other)

    def load(self, more: Sequence[str] = ()) -> Game:
        """The game, with more changes on top."""
        from sim.game.loader import load_game

        return load_game(self.game, self.with_changes(more).changes, self.population)

    def read(self) -> Reading:
        """The game, and what its file leaves out."""
        from sim.game.loader import read_game

        return read_game(self.game, self.changes, self.population)

    def replaced(self) -> Assumptions:
        """What the file of --assumptions puts in place of ours."""
        from sim.experiments.assumption_file import read_or_none

        return read_or_none(self.assumptions)

    def given(self, command: str, *question: Option, others: Sequence[str] = (), played: Game | None = None) -> Given:
        """How the user asked, for every command that an answer prints; `played`: the game as it was read."""
        own = None if self.assumptions is None else str(self.assumptions)
        return Given(command, self.game, self.changes, self.population, own, self.seed, tuple(others), question, played)


def scenario_of(
    game: str,
    seed: int,
    population: str | None,
    changes: Sequence[str] | None,
    assumptions: Path | None = None,
) -> Scenario:
    """From the options of a command, in their order there."""
    return Scenario(game, tuple(changes or ()), population, assumptions, seed)
