"""Sessions of the conditions, played as those of every other question are, and what is observed in each."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from functools import partial

import numpy as np

from sim.assumptions import Assumptions
from sim.evidence.conditions import SAME_PLAYERS, SEED, TYPICAL_PLAYERS, Condition, game_of
from sim.evidence.measures import Unknown, observed
from sim.evidence.session import session_of
from sim.experiments.executors import Workers
from sim.experiments.replicate import Progress, play_batches
from sim.experiments.sessions import Batch, SessionPlayer, same_players, session_bouts, typical_players
from sim.game.model import Game
from sim.pitch.log import BoutLog

Question = tuple[str, str]
"""(measure, scope)"""
Observations = dict[Question, list[np.ndarray]]
"""What every session contributes to each measure, in order of the session (`sim.evidence.measures.observed`)."""


def session_player(condition: Condition) -> SessionPlayer:
    """Who plays the sessions of a condition."""
    if TYPICAL_PLAYERS in condition.changes:
        return partial(session_bouts, roster=typical_players)
    return partial(session_bouts, roster=same_players) if SAME_PLAYERS in condition.changes else session_bouts


def answers_of(
    questions: Iterable[Question], game: Game, logs: Iterable[BoutLog], _assumptions: Assumptions
) -> dict[Question, np.ndarray]:
    """What one session contributes to each of these; a measure that does not exist is left out."""
    session, found = session_of(game, list(logs)), {}
    for measure, scope in questions:
        try:
            found[measure, scope] = observed(session, measure, scope)
        except Unknown:
            continue
    return found


def observe(
    wanted: Mapping[Condition, tuple[int, tuple[Question, ...]]],
    workers: Workers = None,
    progress: Progress | None = None,
) -> dict[Condition, Observations]:
    """(sessions, questions) of every condition, played and asked; an interruption leaves nothing."""
    batches = [
        Batch(game_of(one), range(sessions), partial(answers_of, questions), session_player(one), one.assumptions)
        for one, (sessions, questions) in wanted.items()
    ]
    played = play_batches(batches, SEED, workers, progress, singly=True)
    if any(len(found) < len(batch.numbers) for found, batch in zip(played, batches, strict=True)):
        raise KeyboardInterrupt
    observations: dict[Condition, Observations] = {one: {} for one in wanted}
    for condition, found in zip(wanted, played, strict=True):
        for answers in found.values():
            for question, value in answers.items():
                observations[condition].setdefault(question, []).append(value)
    return observations
