"""Handing out work: every task once, not too far ahead, and nothing that is finished is lost on an interruption."""

from __future__ import annotations

import os
import signal
import threading
import time
from concurrent.futures import ThreadPoolExecutor
from contextlib import contextmanager

import pytest

from sim.experiments.executors import Here, Lost, Processes, SessionExecutor, executor_for, spread, standing, too_small


class Threads(SessionExecutor):
    """Two at a time, and three handed out: the third waits."""

    size, ahead = 2, 3

    @contextmanager
    def working(self):
        with ThreadPoolExecutor(self.size) as pool:
            yield pool


@pytest.mark.parametrize("executor", [Here(), Threads(), Processes(2)], ids=lambda executor: type(executor).__name__)
def test_every_task_is_played_once_and_kept_under_its_place(executor: SessionExecutor):
    kept = []
    spread(executor, [(divmod, 100 + place, 7) for place in range(30)], lambda place, what: kept.append((place, what)))
    assert sorted(kept) == [(place, divmod(100 + place, 7)) for place in range(30)]


def test_no_more_is_handed_out_than_asked():
    at_once, most, lock = 0, 0, threading.Lock()

    class Counting(Threads):
        @contextmanager
        def working(self):
            with super().working() as pool:
                submit = pool.submit

                def counted(*task):
                    nonlocal at_once, most
                    with lock:
                        at_once += 1
                        most = max(most, at_once)
                    return submit(*task)

                pool.submit = counted
                yield pool

    def kept(_place, _what):
        nonlocal at_once
        with lock:
            at_once -= 1

    spread(Counting(), [(time.sleep, 0.001)] * 20, kept)
    assert (at_once, most) == (0, 3)


@pytest.mark.parametrize("how", [KeyboardInterrupt, Lost])
def test_what_is_being_played_at_an_interruption_is_kept_and_nothing_more_is_begun(how: type[BaseException]):
    begun, kept = [], []
    both_begun, interrupted = threading.Event(), threading.Event()

    def task(place: int) -> int:
        begun.append(place)
        if place:
            both_begun.set()
        assert (interrupted if place else both_begun).wait(60)
        return place

    def keep(place: int, what: int) -> None:
        kept.append((place, what))
        if not interrupted.is_set():
            interrupted.set()
            raise how

    with pytest.raises(how):
        spread(Threads(), [(task, place) for place in range(10)], keep)
    assert (1, 1) in kept and set(begun) <= {0, 1, 2} and {place for place, _ in kept} == set(begun)


def test_a_task_that_fails_does_not_hide_behind_the_others():
    with pytest.raises(ZeroDivisionError):
        spread(Threads(), [(divmod, 1, 0), (divmod, 1, 1)], lambda place, what: None)


def test_nobody_is_hired_for_nothing():
    assert isinstance(executor_for(4, 1), Here) and isinstance(executor_for(1, 100), Here)
    assert executor_for(4, 3).size == 3 and executor_for(2, 100).size == 2
    mine = Threads()
    assert executor_for(mine, 1) is mine


def test_too_small_names_each_with_its_least():
    assert too_small(bouts=(0, 1), seed=(-1, 0), workers=(None, 1), executor=(Threads(), 1)) == [
        "bouts must be at least 1 (got 0)",
        "seed must be at least 0 (got -1)",
    ]


def test_standing_processes_stay_for_the_next_question():
    played = []
    with standing(2) as executor:
        for _ in range(3):
            spread(executor, [(os.getpid,)] * 8, lambda _place, process: played.append(process))
    assert len(played) == 24 and len(set(played)) <= 2 and os.getpid() not in played
    with standing(1) as executor:
        assert isinstance(executor, Here)
    mine = Threads()
    with standing(mine) as executor:
        assert executor is mine


def ends_at_3(place: int) -> int:
    if place == 3:
        os.kill(os.getpid(), signal.SIGKILL)
    return place


def test_a_standing_process_that_is_ended_from_outside_is_told():
    with standing(2) as executor, pytest.raises(Lost, match="processes must stay until the end"):
        spread(executor, [(ends_at_3, place) for place in range(20)], lambda _place, _what: None)
