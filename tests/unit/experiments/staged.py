"""Sessions made by hand, played in place of the engine's; importable, so that other processes find them."""

from __future__ import annotations

import os
import signal
import time

from sim.measures.session_counts import counts_of_bout, session_of
from sim.measures.summary import summarise
from tests.unit.measures.handmade import square_bout


def staged(game, seed, replicate):
    """The first loss comes later by what seed and session number make of it."""
    for number in range(game.bouts.count):
        yield square_bout(replicate, number, late=((seed + 7 * replicate + 3 * number) % 11) / 3)


def interrupted_at_3(game, seed, replicate):
    if replicate == 3:
        raise KeyboardInterrupt
    return staged(game, seed, replicate)


def interrupted_at_once(game, seed, replicate):
    raise KeyboardInterrupt


def interrupts_the_parent_at_5(game, seed, replicate):
    if replicate == 5:
        os.kill(os.getppid(), signal.SIGINT)
    return staged(game, seed, replicate)


def broken_at_2(game, seed, replicate):
    if replicate == 2:
        raise ZeroDivisionError("broken on purpose")
    return staged(game, seed, replicate)


def rows_of(game, sessions=3):
    found = [session_of([counts_of_bout(game, log) for log in staged(game, 1, number)]) for number in range(sessions)]
    return summarise(game, found), found[0].thresholds


def slow_at_1(game, seed, replicate):
    """Session 1 takes so long that others, played elsewhere, are finished before it."""
    if replicate == 1:
        time.sleep(0.5)
    return staged(game, seed, replicate)
