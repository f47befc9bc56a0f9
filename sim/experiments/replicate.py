"""Sessions, one after the other, in many processes or on many machines, with the same bits.

The unit of replication is a *session*: the bouts and rests the game declares, with the same drawn players
throughout.  Session number r depends on the game, the seed and r alone, so sessions can be played anywhere and in any
order; they are put together in the order of their numbers.  An interruption keeps the sessions that are finished.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from sim.assumptions import NONE, Assumptions
from sim.errors import InputError
from sim.experiments.executors import Here, Lost, SessionExecutor, Workers, executor_for, spread
from sim.experiments.first_run import get_ready
from sim.experiments.sessions import Bouts, Fold, play_sessions, session_bouts
from sim.game.model import Game
from sim.measures.session_counts import SessionCounts, session_of

Progress = Callable[[int, int], None]
Tell = Callable[[int, Mapping[int, Any]], None]

MOST_BOUTS = 1_000_000  # weeks of play on a desk
CHUNKS_A_WORKER = 4
LONGEST_CHUNK = 16  # sessions: an interruption waits for the chunks that are being played


@dataclass(frozen=True)
class Played:
    """Tallies of whole sessions in order of their number; `wanted` sessions were asked for."""

    sessions: tuple[SessionCounts, ...]
    wanted: int


def sessions_for(game: Game, bouts: int) -> int:
    """Whole sessions until at least so many bouts are done; refuses more than anybody waits for, before they are numbered."""
    if bouts > MOST_BOUTS:
        raise InputError(f"bouts must be at most {MOST_BOUTS} (got {bouts})")
    return -(-bouts // game.bouts.count)


def chunks(count: int, workers: int) -> list[range]:
    """Places 0 ... count-1 in consecutive chunks, about `CHUNKS_A_WORKER` a worker."""
    size = max(1, min(LONGEST_CHUNK, -(-count // (workers * CHUNKS_A_WORKER))))
    return [range(start, min(start + size, count)) for start in range(0, count, size)]


def replicate(
    game: Game,
    bouts: int,
    seed: int,
    workers: Workers = None,
    progress: Progress | None = None,
    session: Bouts = session_bouts,
    known: Mapping[int, SessionCounts] | None = None,
    assumptions: Assumptions = NONE,
    tell: Tell | None = None,
) -> Played:
    """Play sessions 0, 1, ... until at least `bouts` bouts are done; those `known`, by number, are not played again.

    `workers`: processes (None: one a processor; 1: this one) or a crew.  `progress(done, wanted)` counts bouts.  `session`
    plays the bouts of one session; with more than one worker it must be a function that other processes can import.
    `assumptions`: what replaces the program's own; `tell` as for `play_arms`.
    """
    wanted, known = sessions_for(game, bouts), known or {}
    missing = [number for number in range(wanted) if number not in known]

    def told(done: int, _: int) -> None:
        if progress is not None:
            progress((wanted - len(missing)) * game.bouts.count + done, wanted * game.bouts.count)

    own = [assumptions]
    (found,) = (
        play_conditions([game], [missing], seed, workers, told, session, assumptions=own, tell=tell)
        if missing
        else ({},)
    )
    every = {number: known[number] for number in known if number < wanted} | found
    return Played(tuple(every[number] for number in sorted(every)), wanted)


def play_conditions(
    games: Sequence[Game],
    numbers: Sequence[Sequence[int]],
    seed: int,
    workers: Workers = None,
    progress: Progress | None = None,
    session: Bouts = session_bouts,
    fold: Fold = session_of,
    warm: bool = True,
    assumptions: Sequence[Assumptions] = (),
    tell: Tell | None = None,
) -> list[dict[int, Any]]:
    """The sessions of these `numbers` of each game, by number; what is missing was interrupted.

    `assumptions`: what each game is played with (empty: the program's own).  `tell(arm, found)` has sessions by number as
    soon as they are finished; so that none has to wait for another, they are then played one by one.

    All games share the crew, so none of them waits for another.  `warm`: the first session is played here, if the crew
    would rather have it so.
    """
    wanted = sum(len(part) * game.bouts.count for game, part in zip(games, numbers, strict=True))
    get_ready(workers)
    crew = executor_for(workers, sum(len(part) for part in numbers))
    alone = isinstance(crew, Here)
    found: list[dict[int, Any]] = [{} for _ in games]
    own = list(assumptions) or [NONE] * len(games)
    first_here = alone or (warm and crew.first_here)
    parts = parts_of(numbers, crew.size, first_here)
    if alone or tell is not None:
        parts = [(arm, [number]) for arm, part in parts for number in part]

    def play(crew: SessionExecutor, parts: Sequence[tuple[int, Sequence[int]]]) -> None:
        def keep(place: int, folded: list) -> None:
            arm, part = parts[place]
            finished = dict(zip(part, folded, strict=True))
            found[arm].update(finished)
            if tell is not None:
                tell(arm, finished)
            if progress is not None:
                progress(sum(len(one) * game.bouts.count for one, game in zip(found, games, strict=True)), wanted)

        spread(crew, [(play_sessions, games[arm], seed, part, session, fold, own[arm]) for arm, part in parts], keep)

    try:
        if first_here:
            play(Here(), parts[:1])
            parts = parts[1:]
        play(crew, parts)
    except KeyboardInterrupt:
        if not any(found):
            raise
    except Lost as lost:
        if not any(found):
            raise InputError(str(lost), lost.source) from None
    return found


def parts_of(numbers: Sequence[Sequence[int]], workers: int, warm: bool) -> list[tuple[int, Sequence[int]]]:
    """(arm, session numbers) in chunks, the arms taking turns; if `warm` the very first session alone."""
    by_arm = []
    for arm, every in enumerate(numbers):
        first = 1 if warm and every and not by_arm else 0
        rest = every[first:]
        by_arm.append([(arm, rest[part.start : part.stop]) for part in chunks(len(rest), workers)])
        if first:
            by_arm[-1].insert(0, (arm, every[:1]))
    longest = max(len(parts) for parts in by_arm)
    return [parts[turn] for turn in range(longest) for parts in by_arm if turn < len(parts)]
