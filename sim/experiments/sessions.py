"""One session: its bouts and rests, by the same players, and what is read off them.

The address of a session is its game, seed and number: the same address gives the same bits, wherever it is played and in
whichever order.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import partial
from typing import Generic, Protocol, TypeVar

from sim import streams
from sim.assumptions import NONE, Assumptions
from sim.errors import InputError
from sim.game.delays import restarts_later
from sim.game.model import Game
from sim.measures.session_counts import SessionCounts, counts_of_bout, session_of
from sim.pitch.log import BoutLog
from sim.players import Profile, draw_roster, typical_roster

T = TypeVar("T")
Roster = Callable[[Game, int, int, Assumptions], dict[str, Profile]]
"""(game, seed, session number, assumptions) -> profile of every player, by id."""
SessionReader = Callable[[Game, Iterable[BoutLog], Assumptions], T]
"""What is made of the bouts of one session, in their order; they are played one by one as it asks for them."""


class SessionPlayer(Protocol):
    """Plays the bouts of session number `replicate`, in order.

    Other processes must be able to import it.  Where nothing is replaced it is called without `assumptions`.
    """

    def __call__(self, game: Game, seed: int, replicate: int, /, assumptions: Assumptions = ...) -> Iterator[BoutLog]:
        """The logs, each played as it is asked for."""
        ...


def same_players(game: Game, seed: int, replicate: int, assumptions: Assumptions = NONE) -> dict[str, Profile]:
    """The players of session 0, on the day of this session."""
    return draw_roster(game, seed, 0, assumptions, day=replicate)


def typical_players(game: Game, seed: int, replicate: int, assumptions: Assumptions = NONE) -> dict[str, Profile]:
    """Everybody at the mean of the population, in every session."""
    return typical_roster(game, assumptions)


def session_bouts(
    game: Game, seed: int, replicate: int, assumptions: Assumptions = NONE, roster: Roster = draw_roster
) -> Iterator[BoutLog]:
    """The bouts of one session, in order, by the same players, who bring their legs and their roles from bout to bout."""
    from sim.pitch.session import bouts_in_turn

    players = roster(game, seed, replicate, assumptions)
    played = restarts_later(game, restart_delay_s(seed, replicate, assumptions))
    yield from bouts_in_turn(played, players, seed, replicate, assumptions.constants)


def restart_delay_s(seed: int, replicate: int, assumptions: Assumptions) -> float:
    """How much later than the file says the restarts of a session come: one draw of our doubt a session."""
    later, unsure = (assumptions.table[name] for name in ("restarts_later_s", "restarts_unsure_s"))
    if not unsure:
        return later
    key = streams.key_of(seed, replicate, 0, streams.stream_index("profile"), streams.hash_id("club:restarts"))
    return later + unsure * streams.normal(key, 0)


def bout_of(game: Game, seed: int, session: int, bout: int, assumptions: Assumptions = NONE) -> BoutLog:
    """The log of one bout (from 0) of one session; those before it are played, too.

    Raises `InputError` where the series was decided before it.
    """
    number = -1
    for number, log in enumerate(session_bouts(game, seed, session, assumptions)):
        if number == bout:
            return log
    raise InputError(f"must be at most {number + 1}, as nobody plays on after that one (got {bout + 1})", "bout")


@dataclass(frozen=True)
class Batch(Generic[T]):
    """Sessions of one game, by `numbers`: what is made of each (`read`), who plays them, and under which assumptions."""

    game: Game
    numbers: Sequence[int]
    read: SessionReader[T]
    player: SessionPlayer = session_bouts
    assumptions: Assumptions = NONE

    @property
    def bouts(self) -> int:
        """How many bouts these sessions have."""
        return len(self.numbers) * self.game.bouts.count


def play_sessions(batch: Batch[T], seed: int) -> list[T]:
    """What is read off each session of a batch, in the order of its numbers, in this process."""
    play = partial(batch.player, assumptions=batch.assumptions) if batch.assumptions else batch.player
    return [batch.read(batch.game, play(batch.game, seed, number), batch.assumptions) for number in batch.numbers]


def bout_counts(game: Game, logs: Iterable[BoutLog], assumptions: Assumptions = NONE) -> tuple[SessionCounts, ...]:
    """The counts of each bout of one session, in order; each goes on from the one before it."""
    counts: list[SessionCounts] = []
    for log in logs:
        before = counts[-1] if counts else None
        counts.append(counts_of_bout(game, log, before=before, values=assumptions.table))
    return tuple(counts)


def session_counts(game: Game, logs: Iterable[BoutLog], assumptions: Assumptions = NONE) -> SessionCounts:
    """The counts of one whole session."""
    return session_of(bout_counts(game, logs, assumptions))
