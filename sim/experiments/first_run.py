"""The first run on a machine: all that play needs is compiled before the first bout, in two processes at once.

Numba compiles a function when it is first called, one after the other: 50 s before the first answer.  Here the functions that
plain Python calls are asked for by name and types (what they call is compiled with them), in two heaps that take about as long.
Whatever one process has compiled lies in the cache, where the other finds it: the second heap begins with what shares nothing.
"""

from __future__ import annotations

import multiprocessing
import os
from collections.abc import Sequence
from typing import Any

from numba import config, from_dtype, types

from sim import compiled
from sim.experiments import hands
from sim.experiments.executors import SessionExecutor, Workers
from sim.measures import external_load, heart, power
from sim.pitch import arrays, entries, moves, skill, trace
from sim.pitch.engine import no_collector
from sim.trajectory import BALL_RUN, RUN

NUMBER, WHOLE, YES = types.float64, types.int64, types.boolean
LIST, TABLE, BLOCK = types.float64[::1], types.float64[:, ::1], types.float64[:, :, ::1]
PLAYERS, MATCH, RUNS = (from_dtype(of)[::1] for of in (arrays.PLAYER, arrays.MATCH, RUN))
MARKS, BALL_RUNS = (from_dtype(of)[::1] for of in (trace.MARK, BALL_RUN))
BOUT = (PLAYERS, MATCH, RUNS)  # `sim.pitch.arrays.Arrays`

Asked = tuple[Any, tuple]
"""A compiled function, and the types of what it is given."""

FIRST: tuple[Asked, ...] = (
    (entries.replan_all, (*BOUT, WHOLE, NUMBER)),  # two fifths of all there is to compile
    (entries.replan_until, (*BOUT, NUMBER, WHOLE, YES, NUMBER)),
    (entries.settle, (*BOUT, WHOLE, NUMBER, NUMBER, YES, NUMBER)),
)
SECOND: tuple[Asked, ...] = (
    (external_load.loads, (RUNS, TABLE, LIST, BLOCK, TABLE)),
    (power.energies, (RUNS, LIST, LIST)),
    (power.count_turns, (RUNS, NUMBER, WHOLE, NUMBER, TABLE)),
    (heart.beat, (RUNS, LIST, LIST, NUMBER, NUMBER, LIST, TABLE)),
    (skill.effort_for, (NUMBER,) * 3),
    (trace.put_path, (MARKS, NUMBER, BALL_RUNS)),
    (moves.put_keys, (PLAYERS, WHOLE, WHOLE, WHOLE, WHOLE, types.uint64)),
    (moves.stand, (PLAYERS, WHOLE, NUMBER, NUMBER, NUMBER)),
    (moves.where, (PLAYERS, WHOLE, NUMBER)),
    (moves.draw, (PLAYERS, WHOLE, WHOLE)),
    (entries.ball_point, (MATCH, NUMBER)),
    (entries.ball_stops, (MATCH,)),
    (entries.on_ground, (MATCH, NUMBER, NUMBER, NUMBER)),
    (entries.through_gate, (MATCH, WHOLE, NUMBER, NUMBER)),
    (entries.within_lines, (MATCH, NUMBER, NUMBER, NUMBER)),
    (entries.may_be, (*BOUT, WHOLE, NUMBER, NUMBER)),
    (entries.place_at_start, (*BOUT, WHOLE)),
    (entries.offside_now, (*BOUT, NUMBER)),
    (entries.ahead_of_goal, (PLAYERS, MATCH, WHOLE, NUMBER)),
    (entries.edge_point, (*BOUT, WHOLE, NUMBER)),
    (entries.shape_point, (*BOUT, WHOLE, NUMBER, NUMBER)),
    (entries.with_ball, (*BOUT, WHOLE)),
    (entries.room_at, (*BOUT, WHOLE, NUMBER, NUMBER, NUMBER)),
    (entries.past_chance, (*BOUT, WHOLE, WHOLE)),
    (entries.go_past, (*BOUT, WHOLE, WHOLE, NUMBER)),
    (entries.decide, (*BOUT, WHOLE, NUMBER, YES, NUMBER, YES, YES)),
    (entries.keep, (*BOUT, WHOLE, NUMBER, WHOLE, NUMBER)),
    (entries.shoot, (*BOUT, WHOLE, NUMBER)),
    (entries.next_tackle, (*BOUT, WHOLE, NUMBER, NUMBER)),
    (entries.miscontrols, (*BOUT, WHOLE, NUMBER)),
    (entries.spare_touch, (*BOUT, WHOLE)),
    (entries.record, (*BOUT, WHOLE, NUMBER)),
    (entries.go, (*BOUT, WHOLE, *(NUMBER,) * 6, YES)),
    (entries.pursue, (*BOUT, NUMBER, YES, WHOLE)),
)


def get_ready(workers: Workers = None) -> None:
    """Compile what is not compiled yet, where that has not been done before; with one worker in this process alone.

    Other machines compile there, each for itself.
    """
    if (
        config.DISABLE_JIT  # type: ignore[attr-defined]  # which numba sets from the environment
        or compiled.is_complete()
        or (isinstance(workers, SessionExecutor) and not workers.first_here)
    ):
        return
    size = workers.size if isinstance(workers, SessionExecutor) else workers or os.cpu_count() or 1
    if size == 1:
        compile_all((*FIRST, *SECOND))
        compiled.set_complete()
        return
    helper = multiprocessing.Process(target=compile_second, daemon=True)
    helper.start()
    try:
        compile_all(FIRST)
        helper.join()
    except BaseException:
        helper.kill()
        helper.join()
        raise
    if helper.exitcode == 0:  # otherwise what is missing is compiled when it is called, and the next run tries again
        compiled.set_complete()


def compile_second() -> None:
    """In a process of its own, which ends with the one that asked."""
    hands.begin()
    compile_all(SECOND)


def compile_all(asked: Sequence[Asked]) -> None:
    """Compile each of these functions for its types."""
    with no_collector():
        for function, handed in asked:
            function.compile(handed)
