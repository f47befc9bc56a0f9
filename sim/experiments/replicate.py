"""Sessions, one after the other, in many processes or on many machines, with the same bits.

The unit of replication is a *session*: the bouts and rests the game declares, with the same drawn players
throughout.  Session number r depends on the game, the seed and r alone, so sessions can be played anywhere and in any
order; they are put together in the order of their numbers.  An interruption keeps the sessions that are finished.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Generic

from sim.assumptions import NONE, Assumptions
from sim.errors import InputError
from sim.experiments.executors import Here, Lost, SessionExecutor, Workers, executor_for, spread
from sim.experiments.first_run import get_ready
from sim.experiments.sessions import Batch, SessionPlayer, T, play_sessions, session_bouts, session_counts
from sim.game.model import Game
from sim.measures.session_counts import SessionCounts

if TYPE_CHECKING:
    from sim.experiments.drawer import Drawer

Progress = Callable[[int, int], None]
"""progress(done, wanted), in bouts."""
Tell = Callable[[int, Mapping[int, T]], None]
"""tell(place of the batch, what is new of it by session number), as soon as it is finished."""

MOST_BOUTS = 1_000_000  # weeks of play on a desk
CHUNKS_A_WORKER = 4
LONGEST_CHUNK = 16  # sessions: an interruption waits for the chunks that are being played


@dataclass(frozen=True)
class Played:
    """Counts of whole sessions in order of their number; `wanted` sessions were asked for."""

    sessions: tuple[SessionCounts, ...]
    wanted: int


@dataclass(frozen=True)
class Replication:
    """How the sessions of a question are played: the same for all its games.

    `workers`: processes (None: one a processor; 1: this one) or an executor.  `player` plays the bouts of one session, under
    `assumptions` in place of the program's own.  `drawer`: where sessions are kept as they are played, and found again.
    """

    seed: int = 1
    workers: Workers = None
    progress: Progress | None = None
    player: SessionPlayer = session_bouts
    assumptions: Assumptions = NONE
    drawer: Drawer | None = None


def sessions_for(game: Game, bouts: int) -> int:
    """Whole sessions until at least so many bouts are done; refuses more than anybody waits for, before they are numbered."""
    if bouts > MOST_BOUTS:
        raise InputError(f"bouts must be at most {MOST_BOUTS} (got {bouts})")
    return -(-bouts // game.bouts.count)


def chunks(count: int, workers: int) -> list[range]:
    """Places 0 ... count-1 in consecutive chunks, about `CHUNKS_A_WORKER` a worker."""
    size = max(1, min(LONGEST_CHUNK, -(-count // (workers * CHUNKS_A_WORKER))))
    return [range(start, min(start + size, count)) for start in range(0, count, size)]


def replicate(  # noqa: PLR0913 - what may be asked for by keyword; inside it travels as one `Batch`
    game: Game,
    bouts: int,
    seed: int,
    workers: Workers = None,
    progress: Progress | None = None,
    session: SessionPlayer = session_bouts,
    known: Mapping[int, SessionCounts] | None = None,
    assumptions: Assumptions = NONE,
    tell: Tell[SessionCounts] | None = None,
) -> Played:
    """Play sessions 0, 1, ... until at least `bouts` bouts are done; those `known`, by number, are not played again.

    `session` plays the bouts of one session; with more than one worker it must be a function that other processes can
    import.  `workers`, `progress` and `assumptions` as in `Replication`; `tell` as for `play_batches`.
    """
    wanted, known = sessions_for(game, bouts), known or {}
    missing = [number for number in range(wanted) if number not in known]

    def told(done: int, _: int) -> None:
        if progress is not None:
            progress((wanted - len(missing)) * game.bouts.count + done, wanted * game.bouts.count)

    batch = Batch(game, missing, session_counts, session, assumptions)
    (found,) = play_batches([batch], seed, workers, told, tell) if missing else ({},)
    every = {number: known[number] for number in known if number < wanted} | found
    return Played(tuple(every[number] for number in sorted(every)), wanted)


class Finished(Generic[T]):
    """What is finished of some batches, by session number; told as it comes in."""

    def __init__(self, batches: Sequence[Batch[T]], progress: Progress | None, tell: Tell[T] | None):
        self.batches, self.progress, self.tell = batches, progress, tell
        self.found: list[dict[int, T]] = [{} for _ in batches]
        self.wanted = sum(one.bouts for one in batches)

    def add(self, place: int, numbers: Sequence[int], results: Sequence[T]) -> None:
        """Sessions of the batch at `place`."""
        more = dict(zip(numbers, results, strict=True))
        self.found[place].update(more)
        if self.tell is not None:
            self.tell(place, more)
        if self.progress is not None:
            counts = [one.game.bouts.count for one in self.batches]
            self.progress(sum(len(one) * n for one, n in zip(self.found, counts, strict=True)), self.wanted)

    @contextmanager
    def kept(self) -> Iterator[None]:
        """Meanwhile an interruption, or an executor that is lost, ends the playing and keeps what is finished, if anything is."""
        try:
            yield
        except KeyboardInterrupt:
            if not any(self.found):
                raise
        except Lost as lost:
            if not any(self.found):
                raise InputError(str(lost), lost.source) from None


def play_batches(
    batches: Sequence[Batch[T]],
    seed: int,
    workers: Workers = None,
    progress: Progress | None = None,
    tell: Tell[T] | None = None,
    warm: bool = True,
    singly: bool = False,
) -> list[dict[int, T]]:
    """What is read off the sessions of each batch, by number; what is missing was interrupted.

    All batches share the workers, so none of them waits for another.  `warm`: the first session is played here, if the
    executor would rather have it so.  `singly`: a session a task, so that an interruption need not wait for more than that;
    so it is, too, where somebody is told (`tell`).
    """
    get_ready(workers)
    executor = executor_for(workers, sum(len(one.numbers) for one in batches))
    alone = isinstance(executor, Here)
    first_here = alone or (warm and executor.first_here)
    parts = parts_of([one.numbers for one in batches], executor.size, first_here)
    if alone or singly or tell is not None:
        parts = [(place, [number]) for place, part in parts for number in part]
    finished = Finished(batches, progress, tell)

    def play(who: SessionExecutor, parts: Sequence[tuple[int, Sequence[int]]]) -> None:
        tasks = [(play_sessions, replace(batches[place], numbers=part), seed) for place, part in parts]
        spread(who, tasks, lambda i, results: finished.add(*parts[i], results))

    with finished.kept():
        if first_here:
            play(Here(), parts[:1])
            parts = parts[1:]
        play(executor, parts)
    return [dict(sorted(one.items())) for one in finished.found]


def parts_of(numbers: Sequence[Sequence[int]], workers: int, warm: bool) -> list[tuple[int, Sequence[int]]]:
    """(place of the batch, session numbers) in chunks, the batches taking turns; if `warm` the very first session alone."""
    by_batch: list[list[tuple[int, Sequence[int]]]] = []
    for place, every in enumerate(numbers):
        first = 1 if warm and every and not by_batch else 0
        rest = every[first:]
        by_batch.append([(place, rest[part.start : part.stop]) for part in chunks(len(rest), workers)])
        if first:
            by_batch[-1].insert(0, (place, every[:1]))
    longest = max((len(parts) for parts in by_batch), default=0)
    return [parts[turn] for turn in range(longest) for parts in by_batch if turn < len(parts)]
