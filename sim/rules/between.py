"""From the whistle to the next bout: who begins it in which role, and for how long he has had it already."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from sim.game.model import Game
from sim.game.ways import ways_back
from sim.rules.rotation import starting_roles


class Held(NamedTuple):
    """A player's role, and how many seconds of play he has had it (over as many bouts as it has lasted).

    Of one who plays so much at most: `bouts` and seconds (`played`) of play that he has had in the session.
    """

    role: str
    seconds: float = 0.0
    bouts: int = 0
    played: float = 0.0


def as_written(game: Game, bout: int, held: Sequence[Held] = ()) -> tuple[Held, ...]:
    """Everybody (order of `game.players`) begins afresh, as the file or the list says; what he has played stays (`held`: at the
    whistle of the bout before)."""
    roles = starting_roles(game, bout)
    before = held or [Held(role) for role in roles]
    return tuple(Held(role, 0.0, had.bouts, had.played) for role, had in zip(roles, before, strict=True))


def next_start(game: Game, bout: int, phase: str, held: Sequence[Held]) -> tuple[Held, ...]:
    """How everybody begins bout number `bout` (from 0) if the whistle of the one before blew in `phase` with `held`.

    Where roles carry on they are those of the whistle; who has one that the first phase does not use goes back as if
    the phase had just ended.
    """
    if game.bouts.roles != "carry on":
        return as_written(game, bout, held)
    back = way_back(game, phase)
    return tuple(
        (
            one._replace(role=back[one.role] if back[one.role] not in player.never else player.role, seconds=0.0)
            if one.role in back
            else one
        )
        for one, player in zip(held, game.players, strict=True)
    )


def way_back(game: Game, phase: str) -> dict[str, str]:
    """The roles that the first phase does not use, and the one (`sim.game.carry_on` has seen to it) that each goes back to."""
    ways = ways_back(game.phases, game.start_phase, {player.role for player in game.players})
    return {role: next(iter(back)) for role, back in ways[phase].items()}
