"""What one block gives every place in it: played once, kept on disk, found again by whoever asks for the same game.

A *place* is a player of the game with the role and team he begins in.  Games are played with places, not with people: who
stands where is settled afterwards, and a plan that moves people from place to place plays nothing anew.

What plays stands inside the functions that do: where every block is known, nothing of it is loaded.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from sim.assumptions import NONE, Assumptions
from sim.game.model import Game
from sim.planning.kept_loads import MEASURES, SessionLoads, Shelf
from sim.session_load import effort_load

if TYPE_CHECKING:
    from sim.experiments.executors import Workers
    from sim.experiments.replicate import Progress
    from sim.measures.session_counts import SessionCounts
    from sim.pitch.log import BoutLog

PLACE = {name: i for i, name in enumerate(MEASURES)}
_CELLS = (
    "time_s",
    "in_play_s",
    "defending_s",
    "distance_m",
    "high_speed_m",
    "sprint_m",
    "accelerations",
    "decelerations",
)
_OFF_THE_PITCH = 2
"""The first so many count nothing while somebody waits outside."""
PLAYER_SECONDS, FEWEST, MOST = 100_000, 10, 30
"""Sessions of a game where no number is asked for: so many seconds of all players together, within these bounds: some
three seconds of two processors."""


class Place(NamedTuple):
    """A player of a game: his id there, and the team and role he begins in."""

    id: str
    team: str
    role: str


@dataclass(frozen=True, eq=False)
class BlockLoads:
    """What a block gives: `loads` [session, place, measure of `MEASURES`]; `lost`, `in_play_s`, `played_s` of the whole game, by
    session.  `posts`: places, by number in the list, whose players are taken to be alike."""

    game: Game
    places: tuple[Place, ...]
    posts: tuple[tuple[int, ...], ...]
    loads: np.ndarray
    lost: np.ndarray
    in_play_s: np.ndarray
    played_s: np.ndarray

    @property
    def sessions(self) -> int:
        """How many were played."""
        return len(self.loads)

    @cached_property
    def losses_per_min(self) -> float:
        """Balls lost a minute with the ball rolling, over all sessions."""
        return float(60.0 * self.lost.sum() / self.in_play_s.sum())

    def of(self, measure: str) -> np.ndarray:
        """[session, place] of one measure."""
        return self.loads[:, :, PLACE[measure]]

    def mean(self) -> np.ndarray:
        """[place, measure]: means over the sessions, those who begin in one post alike."""
        return self.alike.mean(axis=0)

    @cached_property
    def alike(self) -> np.ndarray:
        """`loads`, each place with the mean over the sessions of its whole post: the rules do not tell its players apart."""
        found = self.loads.copy()
        for post in self.posts:
            at = list(post)
            found[:, at] += self.loads[:, at].mean(axis=(0, 1)) - self.loads[:, at].mean(axis=0)
        return found


def posts_of(game: Game) -> tuple[tuple[int, ...], ...]:
    """Who begins in the same team and role with the same written of him, by place among the players of a game; where a list moves
    everybody on, each by himself."""
    found: dict[tuple, list[int]] = {}
    for i, player in enumerate(game.players):
        alike = player.model_copy(update={"id": "", "number": 0})
        found.setdefault((player.id,) if game.bouts.rotate == "list" else (alike,), []).append(i)
    return tuple(tuple(one) for one in found.values())


def places_of(game: Game) -> tuple[Place, ...]:
    """The places of a game, in the order of its players."""
    return tuple(Place(player.id, player.team, player.role) for player in game.players)


def usual_sessions(game: Game) -> int:
    """So many that a block is there within some seconds: fewer of long ones of many."""
    seconds = game.bouts.count * game.bouts.seconds * len(game.players)
    return max(FEWEST, min(MOST, round(PLAYER_SECONDS / seconds)))


def outside(game: Game) -> list[int]:
    """Roles, by place among the game's, whose players wait beside it in every phase."""
    playing = {job.role for phase in game.phases for job in phase.jobs if job.style != "wait"}
    return [i for i, role in enumerate(game.roles) if role.style == "wait" and role.name not in playing]


def loads_of_session(game: Game, logs: Iterable[BoutLog], assumptions: Assumptions = NONE) -> SessionLoads:
    """What one session gives; a reader for `sim.experiments.sessions.Batch`."""
    from sim.experiments.sessions import session_counts
    from sim.measures.catalogue import balls_lost
    from sim.measures.session_counts import COLUMN
    from sim.measures.sessions import Group, Sessions

    counts = session_counts(game, logs, assumptions)
    cells = counts.cells[:, :, [COLUMN[name] for name in _CELLS]].copy()
    cells[:, outside(game), :_OFF_THE_PITCH] = 0.0
    effort = _effort(game, counts, assumptions.table)
    loads = np.column_stack([cells.sum(axis=1), effort])
    everybody = Group("game", "game", np.ones(counts.cells.shape[:2], dtype=bool), None, None)
    lost = float(balls_lost(Sessions([counts]), everybody)[0])
    return SessionLoads(loads, lost, counts.in_play_s, counts.duration_s)


def _effort(game: Game, counts: SessionCounts, values: Mapping[str, float]) -> np.ndarray:
    """Effort times minutes by place, rests between the bouts included: what the players of a post would name together."""
    from sim.measures.internal_load import effort_of, has_minors
    from sim.measures.session_counts import COLUMN

    found = np.full(len(counts.players), np.nan)
    if has_minors(game):
        return found
    minutes = (counts.duration_s + (counts.bouts - 1) * game.bouts.rest_seconds) / 60.0
    beats, seconds = (counts.cells[:, :, COLUMN[name]].sum(axis=1) for name in ("heart_pct_s", "time_s"))
    for post in posts_of(game):
        at = list(post)
        found[at] = effort_load(effort_of(beats[at].sum() / seconds[at].sum(), values), minutes)
    return found


def by_place(game: Game) -> Game:
    """The game with its players called by their place in the list.

    Chance goes by name: the players at one place of two games are the same person, in one session on the same day.
    """
    names = {player.id: f"place-{i:02d}" for i, player in enumerate(game.players, 1)}
    players = tuple(player.model_copy(update={"id": names[player.id]}) for player in game.players)
    teams = tuple(
        team.model_copy(
            update={
                "players": tuple(names[one] for one in team.players),
                "pairs": tuple((names[one], names[other]) for one, other in team.pairs),
            }
        )
        for team in game.teams
    )
    return game.model_copy(update={"players": players, "teams": teams})


def loads_of(
    games: Sequence[Game],
    shelf: Shelf,
    seed: int = 1,
    sessions: int | None = None,
    workers: Workers = None,
    progress: Progress | None = None,
    assumptions: Assumptions = NONE,
) -> tuple[BlockLoads, ...]:
    """What each game gives (`sim.planning.block.game_of` makes that of a block), all of them played together.

    Sessions that lie on the `shelf` are not played again, and those that are played are put there.  `sessions`: of each
    (None: `usual_sessions`).  An interruption keeps what is finished, and comes out as `KeyboardInterrupt`.
    """
    played = [by_place(game) for game in games]
    kinds = [shelf.kind_of(game, seed, assumptions) for game in played]
    wanted = [usual_sessions(game) if sessions is None else sessions for game in games]
    found = [shelf.read(kind, len(game.players)) for kind, game in zip(kinds, games, strict=True)]
    missing = [[n for n in range(count) if n not in known] for count, known in zip(wanted, found, strict=True)]

    def tell(place: int, more: Mapping[int, SessionLoads]) -> None:
        found[place].update(more)
        shelf.put(kinds[place], found[place])

    if any(missing):
        from sim.experiments.replicate import play_batches
        from sim.experiments.sessions import Batch

        batches = [
            Batch(game, numbers, loads_of_session, assumptions=assumptions)
            for game, numbers in zip(played, missing, strict=True)
        ]
        play_batches(batches, seed, workers, progress, tell)
    if any(n not in known for count, known in zip(wanted, found, strict=True) for n in range(count)):
        raise KeyboardInterrupt
    return tuple(
        _together(game, [known[n] for n in range(count)])
        for game, known, count in zip(games, found, wanted, strict=True)
    )


def known_loads(
    games: Sequence[Game], shelf: Shelf, seed: int = 1, assumptions: Assumptions = NONE
) -> tuple[BlockLoads, ...] | None:
    """The same as `loads_of` with its usual sessions, from the `shelf` alone; None where any of them would have to be played."""
    found = []
    for game in games:
        known = shelf.read(shelf.kind_of(by_place(game), seed, assumptions), len(game.players))
        numbers = range(usual_sessions(game))
        if any(n not in known for n in numbers):
            return None
        found.append(_together(game, [known[n] for n in numbers]))
    return tuple(found)


def _together(game: Game, sessions: Sequence[SessionLoads]) -> BlockLoads:
    """Sessions in the order of their numbers."""
    whole = [np.array(part) for part in zip(*sessions, strict=True)]
    return BlockLoads(game, places_of(game), posts_of(game), *whole)
