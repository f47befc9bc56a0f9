"""Arms: a game with its changes, people and constants, and the sessions played of it, in processes and once each.

The same arm asked for by many rows is played once.  Session r of any arm has the same seed and, where players have the same
names, the same players: arms are compared session by session, and so are sets of constants (common random numbers).
"""

from __future__ import annotations

import os
from collections.abc import Callable, Iterable, Mapping
from concurrent.futures import ProcessPoolExecutor, as_completed
from dataclasses import dataclass
from functools import cache

import numpy as np

from sim.evidence.measures import Unknown, observed
from sim.evidence.session import Session, session_of
from sim.evidence.tables import folder
from sim.experiments import hands
from sim.game.model import Game

SEED = 3
SAME_PLAYERS = "same players"
TYPICAL_PLAYERS = "typical players"
CHUNK_SECONDS = 3600.0  # of play times players, in one piece of work


@dataclass(frozen=True)
class Condition:
    """`changes` may hold "same players" (those of session 0 play them all) or "typical players" (everybody at the mean of
    the population).  `constants`: engine constants by name."""

    game: str
    changes: tuple[str, ...] = ()
    population: str = ""
    constants: tuple[tuple[str, float], ...] = ()

    def with_constants(self, more: Mapping[str, float]) -> Condition:
        return Condition(
            self.game, self.changes, self.population, tuple(sorted((dict(self.constants) | dict(more)).items()))
        )


Question = tuple[str, str]  # measure, scope
Answers = dict[Question, list[np.ndarray]]
Progress = Callable[[int, int], None]


def constants_of(words: Iterable[str]) -> tuple[tuple[str, float], ...]:
    """From "name=value" of a table."""
    return tuple(sorted((name.strip(), float(value)) for name, value in (word.split("=") for word in words)))


@cache
def game_of(arm: Condition) -> Game:
    from sim.game.loader import load_game

    changes = [change for change in arm.changes if "=" in change]
    return load_game(folder() / "games" / f"{arm.game}.toml", changes, arm.population or None)


def play_session(arm: Condition, replicate: int, seed: int = SEED) -> Session:
    """One session of an arm: its bouts and rests, by the same players."""
    from sim.pitch.session import bouts_in_turn
    from sim.players import draw_roster, typical_roster

    game = game_of(arm)
    if TYPICAL_PLAYERS in arm.changes:
        roster = typical_roster(game)
    else:
        roster = draw_roster(game, seed, 0 if SAME_PLAYERS in arm.changes else replicate, day=replicate)
    return session_of(game, list(bouts_in_turn(game, roster, seed, replicate, dict(arm.constants))))


def answers_of(session: Session, questions: Iterable[Question]) -> dict[Question, np.ndarray]:
    found = {}
    for measure, scope in questions:
        try:
            found[measure, scope] = observed(session, measure, scope)
        except Unknown:
            continue
    return found


def piece(arm: Condition, replicates: range, questions: tuple[Question, ...]) -> list[dict[Question, np.ndarray]]:
    """Work for one process."""
    return [answers_of(play_session(arm, replicate), questions) for replicate in replicates]


def pieces(arm: Condition, sessions: int) -> list[range]:
    game = game_of(arm)
    one = game.bouts.count * game.bouts.seconds * len(game.players)
    size = max(1, int(CHUNK_SECONDS / one))
    return [range(start, min(start + size, sessions)) for start in range(0, sessions, size)]


class Pool:
    """Processes that play; kept open by a calibration, which plays many times.  One worker: this process."""

    def __init__(self, workers: int | None = None):
        self.workers = workers or os.cpu_count() or 1
        self.pool = None

    def __enter__(self) -> Pool:
        if self.workers > 1:
            self.pool = ProcessPoolExecutor(self.workers, initializer=hands.begin)
        return self

    def __exit__(self, *_: object) -> None:
        if self.pool is not None:
            self.pool.shutdown(cancel_futures=True)

    def play(
        self,
        wanted: Mapping[Condition, tuple[int, tuple[Question, ...]]],
        progress: Progress | None = None,
        play: Callable = piece,
    ) -> dict[Condition, Answers]:
        """All sessions of all arms, longest pieces first; answers in order of the session."""
        work = [
            (arm, part, questions) for arm, (sessions, questions) in wanted.items() for part in pieces(arm, sessions)
        ]
        work.sort(key=lambda one: -len(one[1]) * game_of(one[0]).bouts.count * game_of(one[0]).bouts.seconds)
        done: dict[tuple[Condition, int], list] = {}
        if self.pool is None:
            for arm, part, questions in work:
                done[arm, part.start] = play(arm, part, questions)
                if progress is not None:
                    progress(len(done), len(work))
        else:
            waiting = {self.pool.submit(play, *one): (one[0], one[1].start) for one in work}
            for future in as_completed(waiting):
                done[waiting[future]] = future.result()
                if progress is not None:
                    progress(len(done), len(work))
        found: dict[Condition, Answers] = {arm: {} for arm in wanted}
        for arm, start in sorted(done, key=lambda key: key[1]):
            for session in done[arm, start]:
                for question, value in session.items():
                    found[arm].setdefault(question, []).append(value)
        return found
