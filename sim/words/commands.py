"""The commands that an answer prints: about the game as the user gave it, with the players, the assumptions and the seed that
he asked for, and safe to paste into a shell.

`Given` says how the user asked.  Nothing else makes a command, and without it (an answer made by a program, which
may have its game from anywhere) the changes alone are said.
"""

from __future__ import annotations

import shlex
from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, final

if TYPE_CHECKING:
    from sim.game.model import Game

USUAL_SEED = 1
"""What `--seed` is where it is not given; a test holds the commands to it."""

Option = tuple[str, object]


@final  # so that `given and given.about(...)` is a command or nothing
@dataclass(frozen=True)
class Given:
    """How the user asked: `command`, the game as typed (`others` beside it), what was set, who plays, which assumptions and seed.

    `played` is that game as it was read (None: not known): changes of it are then said by their everyday names.
    `question`: the other options that make the question, in the order of the command line; a flag has the value True, and what
    was not given None.
    """

    command: str
    game: str
    changes: tuple[str, ...] = ()
    population: str | None = None
    assumptions: str | None = None
    seed: int = USUAL_SEED
    others: tuple[str, ...] = ()
    question: tuple[Option, ...] = ()
    played: Game | None = None

    def about(self, command: str, *options: Option, game: str | None = None, changes: Sequence[str] = ()) -> str:
        """Another command about this game, or about `game` of the others; `changes` are set on top."""
        ours = game in (None, self.game)
        kept = with_tweak(self.changes, changes)[: -len(changes) or None]  # as the user typed them
        said = (*kept, *(self.plain(changes) if ours else changes))
        return self._line(command, [game or self.game], said, options)

    def again(self, *options: Option) -> str:
        """The same question once more; `options` take the place of those of the same name."""
        names = [name for name, _ in options]
        kept = [one for one in self.question if one[0] not in names]
        return self._line(self.command, [self.game, *self.others], self.changes, (*kept, *options))

    def against(self, other: str | None, tweak: Sequence[str], *options: Option) -> str:
        """The game beside another one, or beside itself with a tweak."""
        games = [self.game] if other is None else [self.game, other]
        said = tweak if other is not None else self.plain(tweak)
        return self._line("compare", games, self.changes, (*(("--change", one) for one in said), *options))

    def plain(self, changes: Sequence[str]) -> Sequence[str]:
        """Changes of this game by their everyday names."""
        from sim.game.everyday import shortened  # heavy: `overload --help` does without

        return changes if self.played is None else shortened(self.played, changes)

    def asked(self, option: str) -> object:
        """What an option of the question was given; None where it was not."""
        return dict(self.question).get(option)

    def _line(self, command: str, games: Sequence[str], changes: Sequence[str], options: Sequence[Option]) -> str:
        seed = None if self.seed == USUAL_SEED else self.seed
        players = (("--population", self.population), ("--assumptions", self.assumptions), ("--seed", seed))
        whole = (*(("--set", one) for one in changes), *options, *players)
        return " ".join(["overload", command, *(shlex.quote(one) for one in games), *options_of(whole)])


def options_of(options: Sequence[Option]) -> list[str]:
    """Options as typed; a list is an option given several times."""
    found = []
    for name, value in options:
        for one in value if isinstance(value, (list, tuple)) else [value]:
            if one is not None and one is not False:
                found.append(name if one is True else f"{name} {shlex.quote(str(one))}")
    return found


def key_of(change: str) -> str:
    """What a change sets: the KEY of KEY=VALUE."""
    return change.partition("=")[0].strip()


def with_tweak(base: Sequence[str], tweak: Sequence[str]) -> tuple[str, ...]:
    """What a tweaked game is loaded with: a tweak takes the place of a --set of the same key."""
    keys = {key_of(one) for one in tweak}
    return (*(one for one in base if key_of(one) not in keys), *tweak)


def try_next(why: str, command: str | None, changes: Sequence[str] = ()) -> list[str]:
    """The advice and its command; without a command what to change, as KEY=VALUE."""
    if command is not None:
        return [f"Try next, {why}:", f"  {command}"]
    return [f"Try next, {why}: {', '.join(changes)}."] if changes else [f"Try next, {why}."]
