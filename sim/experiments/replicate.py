"""Sessions, one after the other or in many processes, with the same bits.

The unit of replication is a *session*: the bouts and rests the game declares, with the same drawn players
throughout.  Session number r depends on the game, the seed and r alone, so sessions can be played anywhere and in any
order; they are put together in the order of their numbers.  An interruption keeps the sessions that are finished.
"""

from __future__ import annotations

import os
import signal
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import FIRST_COMPLETED, Future, ProcessPoolExecutor, wait
from dataclasses import dataclass

from sim.game.model import Game
from sim.measures.tally import Tally, session_of, tally
from sim.pitch.log import BoutLog

Bouts = Callable[[Game, int, int], Iterator[BoutLog]]
Progress = Callable[[int, int], None]

CHUNKS_A_WORKER = 4
LONGEST_CHUNK = 16  # sessions: an interruption waits for the chunks that are being played


@dataclass(frozen=True)
class Played:
    """Tallies of whole sessions in order of their number; `wanted` sessions were asked for."""

    sessions: tuple[Tally, ...]
    wanted: int


def session_bouts(game: Game, seed: int, replicate: int) -> Iterator[BoutLog]:
    """The bouts of one session, in order, by the same players; what a bout takes out of them comes back in the rests."""
    from sim.pitch.engine import play_bout
    from sim.pitch.tiring import rested
    from sim.players import draw_roster

    roster = draw_roster(game, seed, replicate)
    reserves = None
    for number in range(game.bouts.count):
        log = play_bout(game, roster, seed, replicate, number, reserves=reserves)
        yield log
        reserves = {
            player: rested(left, roster[player], game.bouts.rest_seconds)
            for player, left in zip(log.players, log.reserve_end, strict=True)
        }


def play_sessions(game: Game, seed: int, replicates: Sequence[int], bouts: Bouts) -> list[Tally]:
    """Tallies of these sessions, in this process."""
    return [session_of([tally(game, log) for log in bouts(game, seed, replicate)]) for replicate in replicates]


def sessions_for(game: Game, bouts: int) -> int:
    """Whole sessions until at least so many bouts are done."""
    return -(-bouts // game.bouts.count)


def chunks(count: int, workers: int) -> list[range]:
    """Session numbers 0 ... count-1 in consecutive chunks, about `CHUNKS_A_WORKER` a worker."""
    size = max(1, min(LONGEST_CHUNK, -(-count // (workers * CHUNKS_A_WORKER))))
    return [range(start, min(start + size, count)) for start in range(0, count, size)]


def replicate(
    game: Game,
    bouts: int,
    seed: int,
    workers: int | None = None,
    progress: Progress | None = None,
    session: Bouts = session_bouts,
) -> Played:
    """Play sessions 0, 1, ... until at least `bouts` bouts are done.

    `workers`: processes (None: one a processor; 1: this one).  `progress(done, wanted)` counts bouts.  `session` plays
    the bouts of one session; with more than one worker it must be a function that other processes can import.
    """
    wanted = sessions_for(game, bouts)
    workers = min(workers or os.cpu_count() or 1, wanted)
    found: dict[int, Tally] = {}

    def keep(tallies: list[Tally]) -> None:
        found.update((one.replicate, one) for one in tallies)
        if progress is not None:
            progress(len(found) * game.bouts.count, wanted * game.bouts.count)

    try:
        # The first session is played here: code that is compiled on first use is compiled once, not in every process.
        keep(play_sessions(game, seed, [0], session))
        rest = [range(part.start + 1, part.stop + 1) for part in chunks(wanted - 1, workers)]
        if workers == 1:
            for number in (number for part in rest for number in part):
                keep(play_sessions(game, seed, [number], session))
        else:
            spread(game, seed, rest, workers, session, keep)
    except KeyboardInterrupt:
        if not found:
            raise
    return Played(tuple(found[number] for number in sorted(found)), wanted)


def spread(
    game: Game, seed: int, parts: list[range], workers: int, session: Bouts, keep: Callable[[list[Tally]], None]
) -> None:
    """Play the parts in processes; `keep` gets each as it is finished."""
    pool = ProcessPoolExecutor(workers, initializer=signal.signal, initargs=(signal.SIGINT, signal.SIG_IGN))
    everything: list[Future] = []
    try:
        everything += [pool.submit(play_sessions, game, seed, part, session) for part in parts]
        waiting = set(everything)
        while waiting:
            done, waiting = wait(waiting, return_when=FIRST_COMPLETED)
            for future in done:
                keep(future.result())
    except KeyboardInterrupt:
        pool.shutdown(cancel_futures=True)
        for future in everything:
            if not future.cancelled() and future.exception() is None:
                keep(future.result())
        raise
    finally:
        pool.shutdown(cancel_futures=True)
