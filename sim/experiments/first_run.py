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

from numba import config, types

from sim import compiled, motion
from sim.experiments import hands
from sim.experiments.executors import SessionExecutor, Workers
from sim.measures import external_load, heart, power
from sim.pitch import border, contest, ground, minds, moves, onball, shooting, skill
from sim.pitch.engine import no_collector

NUMBER, WHOLE, YES = types.float64, types.int64, types.boolean
LIST, TABLE, PLANS = types.float64[::1], types.float64[:, ::1], types.float64[:, :, ::1]
COUNT, KEYS, DRAWS = types.int64[::1], types.uint64[:, ::1], types.int64[:, ::1]
SEEN = (TABLE, PLANS, LIST)  # P, M, B: see `sim.pitch.columns`
ALL = (*SEEN, LIST, KEYS, DRAWS, TABLE, COUNT)  # P, M, B, C, K, N, G, count
DECIDED = (*SEEN, LIST, KEYS, DRAWS)  # P, M, B, C, K, N

Asked = tuple[Any, tuple]
"""A compiled function, and the types of what it is given."""

FIRST: tuple[Asked, ...] = (
    (minds.everybody_thinks, (*ALL, WHOLE, NUMBER)),  # two fifths of all there is to compile
    (minds.change_minds, (*ALL, NUMBER, WHOLE, YES, NUMBER, LIST)),
    (minds.settle, (*ALL, WHOLE, NUMBER)),
)
SECOND: tuple[Asked, ...] = (
    (external_load.loads, (TABLE, TABLE, LIST, PLANS, TABLE)),
    (power.energies, (TABLE, LIST, LIST)),
    (power.count_turns, (TABLE, NUMBER, WHOLE, NUMBER, TABLE)),
    (heart.beat, (TABLE, LIST, LIST, NUMBER, NUMBER, LIST, TABLE)),
    (skill.bearing_error, (*(NUMBER,) * 10, LIST)),
    (border.on_ground, (LIST, NUMBER, NUMBER, NUMBER)),
    (shooting.ahead_of_goal, (LIST, NUMBER, NUMBER)),
    (shooting.goal_chance, (*SEEN, LIST, WHOLE, NUMBER)),
    (motion.time_for, (NUMBER,) * 4),
    (motion.plan_stand, (TABLE, NUMBER, NUMBER, NUMBER)),
    (moves.where, (TABLE, PLANS, WHOLE, NUMBER)),
    (moves.draw, (KEYS, DRAWS, WHOLE, WHOLE)),
    (moves.draw_lognormal, (KEYS, DRAWS, WHOLE, WHOLE, NUMBER, NUMBER)),
    (ground.edge_point, (TABLE, LIST, LIST, WHOLE, NUMBER)),
    (ground.shape_point, (TABLE, LIST, LIST, WHOLE, NUMBER, NUMBER)),
    (ground.with_ball, (TABLE, LIST, WHOLE)),
    (ground.room_at, (*SEEN, WHOLE, NUMBER, NUMBER, NUMBER)),
    (onball.mean_to, (LIST, LIST, KEYS, DRAWS, WHOLE)),
    (onball.pressure, (*SEEN, WHOLE, NUMBER, NUMBER, NUMBER)),
    (onball.ready_to_release, (*SEEN, LIST, WHOLE, NUMBER, NUMBER)),
    (onball.choose, (*DECIDED, WHOLE, NUMBER, YES, NUMBER, LIST)),
    (onball.kick, (*DECIDED, WHOLE, NUMBER, NUMBER, NUMBER, YES, NUMBER)),
    (contest.miscontrol_chance, (*SEEN, LIST, WHOLE, NUMBER)),
    (contest.pursue, (*ALL, NUMBER, YES, WHOLE, LIST)),
    (shooting.shoot, (*DECIDED, WHOLE, NUMBER, LIST)),
    (onball.carry, (*SEEN, LIST, TABLE, COUNT, WHOLE, NUMBER)),
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
