"""Who plays: this process, many processes, or the workers of a cluster - one way of handing out work to all of them.

An *executor* takes tasks (a function and what it is given) through a `concurrent.futures.Executor`, a few ahead of what
is finished.  A task depends on nothing but what it is given, so who plays it, and in which order, changes no bit.
"""

from __future__ import annotations

import os
from collections import deque
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import FIRST_COMPLETED, Executor, Future, ProcessPoolExecutor, wait
from concurrent.futures.process import BrokenProcessPool
from contextlib import contextmanager
from typing import Any

from sim.experiments import hands

AHEAD = 4  # tasks handed out for each that can be played at the same time
LOOK_S = 2.0  # how often an executor looks whether anybody is left


class Lost(Exception):
    """Nobody is left to play, for this reason; what is finished is kept.  `source`: the option that asked for them."""

    source = "--workers"


class SessionExecutor:
    """Plays `size` tasks at the same time, `ahead` of them handed out beforehand.

    `first_here`: the first session is better played in this process, because code that is compiled on first use is
    then compiled once and not in every other.
    """

    size = 1
    ahead = 1
    first_here = True

    @contextmanager
    def working(self) -> Iterator[Executor]:
        """The `concurrent.futures` executor that takes the tasks; raises `Lost` if nobody is left to play them."""
        raise NotImplementedError

    def look(self) -> None:
        """Raise `Lost` if nobody is left."""


class Here(SessionExecutor):
    """This process, one task after the other, each at the moment it is handed out."""

    @contextmanager
    def working(self) -> Iterator[Executor]:
        """One that plays at once."""
        yield AtOnce()


class AtOnce(Executor):
    """Whatever goes wrong comes out of `submit` as it is."""

    def submit(self, fn: Callable, /, *args: Any, **kwargs: Any) -> Future:
        """The future of a call that is already over."""
        future: Future = Future()
        future.set_result(fn(*args, **kwargs))
        return future


class Processes(SessionExecutor):
    """Processes of this machine, which end with this one; what stops this one does not reach them."""

    def __init__(self, size: int):
        self.size, self.ahead = size, AHEAD * size

    @contextmanager
    def working(self) -> Iterator[Executor]:
        """A pool of new processes, gone at the end."""
        with process_pool(self.size) as pool:
            yield pool


class Standing(SessionExecutor):
    """Processes that are there already and stay (`standing`)."""

    first_here = False

    def __init__(self, pool: Executor, size: int):
        self.pool, self.size, self.ahead = pool, size, AHEAD * size

    @contextmanager
    def working(self) -> Iterator[Executor]:
        """The pool that stands."""
        with broken_is_lost():
            yield self.pool


Workers = int | SessionExecutor | None
"""How many processes (None: one a processor; 1: this one), or an executor."""


@contextmanager
def broken_is_lost() -> Iterator[None]:
    """A pool one of whose processes was ended from outside is lost."""
    try:
        yield
    except BrokenProcessPool:
        raise Lost("processes must stay until the end (got one that was ended from outside)") from None


@contextmanager
def process_pool(size: int) -> Iterator[Executor]:
    """So many processes that play."""
    with broken_is_lost(), ProcessPoolExecutor(size, initializer=hands.begin) as pool:
        yield pool


@contextmanager
def standing(workers: Workers = None) -> Iterator[SessionExecutor]:
    """These workers for several questions in a row: processes that load the compiled code once."""
    if isinstance(workers, SessionExecutor):
        yield workers
    elif (size := workers or os.cpu_count() or 1) == 1:
        yield Here()
    else:
        with process_pool(size) as pool:
            yield Standing(pool, size)


def executor_for(workers: Workers, sessions: int) -> SessionExecutor:
    """An executor no larger than there are sessions to play."""
    if isinstance(workers, SessionExecutor):
        return workers
    count = min(workers or os.cpu_count() or 1, sessions)
    return Here() if count <= 1 else Processes(count)


def spread(executor: SessionExecutor, tasks: Sequence[tuple], keep: Callable[[int, Any], None]) -> None:
    """`keep(place, result)` for every task = (function, *what it is given), as each is finished.

    An interruption (Ctrl-C, an executor that is lost, a bug) hands out nothing more, keeps what is finished, and goes on up.
    """
    waiting = deque(enumerate(tasks))
    out: dict[Future, int] = {}
    with executor.working() as pool:
        try:
            while waiting or out:
                while waiting and len(out) < executor.ahead:
                    place, task = waiting[0]
                    out[pool.submit(*task)] = place
                    waiting.popleft()
                done, _ = wait(out, timeout=LOOK_S, return_when=FIRST_COMPLETED)
                if not done:
                    executor.look()
                for future in done:
                    keep(out[future], future.result())
                    del out[future]
        except BaseException:
            wait([future for future in out if not future.cancel()])
            for future, place in out.items():
                if not future.cancelled() and future.exception() is None:
                    keep(place, future.result())
            raise


def too_small(**asked: tuple[Any, float]) -> list[str]:
    """A message for each of these (value, least) whose value is below the least; None and an executor never are."""
    return [
        f"{name} must be at least {least} (got {value})"
        for name, (value, least) in asked.items()
        if value is not None and not isinstance(value, SessionExecutor) and value < least
    ]
