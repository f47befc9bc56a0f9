"""The first run on a machine: everything is asked for, with the right types, once, by two processes."""

from __future__ import annotations

import json
import multiprocessing
import os
import subprocess
import sys
from pathlib import Path

import pytest
from numba import config

from sim import compiled
from sim.experiments import first_run
from sim.experiments.executors import Here, Processes, SessionExecutor

ROOT = Path(__file__).resolve().parents[3]
needs_the_compiler = pytest.mark.skipif(bool(config.DISABLE_JIT), reason="plain Python compiles nothing")

WITH_OTHERS = {  # called by plain Python, too, but compiled before that, inside what is asked for
    "sim.energy.follow",
    "sim.pitch.positions.into_zone",
    "sim.pitch.fatigue.balance_after",
    "sim.pitch.fatigue.slowed",
}
NO_SHIPPED_GAME_CALLS = {
    "sim.pitch.entries.ball_stops",  # where only a pass across may leave its area
    "sim.pitch.entries.through_gate",  # where there are gates
    "sim.pitch.entries.may_be",  # where there are zones
    "sim.pitch.entries.place_at_start",
    "sim.pitch.entries.offside_now",
}
CALLED = """
import gc, json
from numba.core.dispatcher import Dispatcher
from sim import load_game
from sim.experiments.replicate import replicate
from tests.support.games import GAMES
for name in GAMES:
    replicate(load_game(name), 12, 1, 1)
found = {}
for one in gc.get_objects():
    if isinstance(one, Dispatcher) and one.py_func.__module__.startswith("sim.") and one.py_func.__module__ != "sim.streams":
        for types in one.overloads:
            found[one.py_func.__module__ + "." + one.py_func.__name__ + str(types)] = one.stats.cache_misses[types]
print(json.dumps(found))
"""


@needs_the_compiler
def test_all_that_a_bout_calls_is_asked_for_and_nothing_else():
    """With everything in the cache a function is read from there when plain Python calls it: that has to be the list."""
    first_run.get_ready(2)
    done = subprocess.run([sys.executable, "-c", CALLED], cwd=ROOT, capture_output=True, text=True, check=True)
    called = json.loads(done.stdout)
    asked = {
        f"{one.py_func.__module__}.{one.py_func.__name__}{types}"
        for one, types in (*first_run.FIRST, *first_run.SECOND)
    }
    assert {one.partition("(")[0] for one in set(called) - asked} == WITH_OTHERS, "compiled at its first call only"
    idle = {one.partition("(")[0] for one in asked - set(called)}
    assert idle == NO_SHIPPED_GAME_CALLS, "called with other types, or no more"
    assert [one for one, missing in called.items() if missing] == [], "not found in the cache"


@needs_the_compiler
def test_a_number_written_in_a_call_does_not_compile_a_function_again():
    inner = compiled.njit()(lambda which, yes: which + 1 if yes else which)
    outer = compiled.njit()(lambda which: inner(2, True) + inner(3, False) + inner(which, which > 0))
    assert outer(1) == 3 + 3 + 2
    assert len(inner.overloads) == 1


@pytest.fixture
def heaps(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> Path:
    """Heaps of pretended functions, each of which leaves a file with the number of the process that compiled it."""

    class Pretended:
        def __init__(self, name: str):
            self.name = name

        def compile(self, handed: tuple) -> None:
            if handed == ("breaks",):
                raise KeyboardInterrupt
            (tmp_path / self.name).write_text(str(os.getpid()))

    monkeypatch.setattr(config, "CACHE_DIR", str(tmp_path))
    monkeypatch.setattr(config, "DISABLE_JIT", 0)
    monkeypatch.setattr(first_run, "FIRST", ((Pretended("first"), ()),))
    monkeypatch.setattr(first_run, "SECOND", ((Pretended("second"), ()),))
    return tmp_path


def who(heaps: Path) -> dict[str, int]:
    return {name: int((heaps / name).read_text()) for name in ("first", "second") if (heaps / name).exists()}


@pytest.mark.parametrize("workers", [2, 3, Processes(2)])
def test_two_processes_share_the_work(heaps: Path, workers):
    first_run.get_ready(workers)
    found = who(heaps)
    assert found["first"] == os.getpid() != found["second"]
    assert compiled.is_complete()


@pytest.mark.parametrize("workers", [1, Here()])
def test_one_worker_is_one_process(heaps: Path, workers):
    first_run.get_ready(workers)
    assert set(who(heaps).values()) == {os.getpid()} and compiled.is_complete()


class Elsewhere(SessionExecutor):
    size, first_here = 8, False


def test_what_is_done_is_not_done_again_nor_for_machines_elsewhere_nor_in_plain_python(heaps: Path, monkeypatch):
    first_run.get_ready(Elsewhere())
    monkeypatch.setattr(config, "DISABLE_JIT", 1)
    first_run.get_ready(1)
    assert who(heaps) == {} and not compiled.is_complete()
    monkeypatch.setattr(config, "DISABLE_JIT", 0)
    compiled.set_complete()
    first_run.get_ready(2)
    assert who(heaps) == {}


def test_a_stop_leaves_no_process_behind_and_the_next_run_tries_again(heaps: Path, monkeypatch: pytest.MonkeyPatch):
    monkeypatch.setattr(first_run, "FIRST", ((first_run.FIRST[0][0], ("breaks",)),))
    with pytest.raises(KeyboardInterrupt):
        first_run.get_ready(2)
    assert multiprocessing.active_children() == [] and not compiled.is_complete()


def test_a_helper_that_is_lost_does_no_harm(heaps: Path, monkeypatch: pytest.MonkeyPatch):
    monkeypatch.setattr(first_run, "SECOND", ((first_run.SECOND[0][0], ("breaks",)),))
    first_run.get_ready(2)
    assert list(who(heaps)) == ["first"] and not compiled.is_complete()
