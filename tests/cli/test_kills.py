"""Ended at a random moment, by Ctrl-C, TERM or KILL: nothing is left running, and the same command comes to the same answer.

One kill of a command for each signal here, and of the two that keep a table of their own: a sweep in `test_sweep`, a calibration
below; `python -m tests.kills 20` ends as many as it is told, at random, by any signal.
"""

from __future__ import annotations

import os
import random
import signal
import sys
import time
from pathlib import Path

import pytest
from typer.testing import CliRunner

from cli.app import app
from cli.shelf import VARIABLE
from sim.experiments.executors import Lost, Processes, spread
from tests import kills

pytestmark = [
    pytest.mark.slow,
    pytest.mark.skipif(not Path("/proc/self/environ").exists(), reason="looks for processes the way of Linux"),
]
LOT = random.Random()  # another moment every time: what holds at some moments only is to be found out


@pytest.mark.parametrize(
    ("command", "how"),
    [
        ("estimate", signal.SIGKILL),
        ("compare", signal.SIGTERM),
        ("tune", signal.SIGINT),
    ],
)
def test_what_is_ended_at_a_random_moment_goes_on_to_the_same_answer(command, how, tmp_path: Path):
    (tmp_path / "whole").mkdir()
    wanted, took = kills.whole(command, tmp_path / "whole")
    sys.stdout.write(kills.survives(command, tmp_path, kills.moment(LOT, took), how, wanted) + "\n")


def test_a_plan_that_is_killed_loses_nothing_it_has_finished(tmp_path: Path):
    whole = tmp_path / "whole"
    whole.mkdir()
    line, answer = kills.asked("plan", whole)
    done = CliRunner().invoke(app, [*line, "--workers", "1"], env={VARIABLE: str(whole / kills.BLOCKS)})
    assert (done.exit_code, done.stderr) == (0, "")
    wanted = answer.read_bytes()
    for number in range(2):
        folder = tmp_path / str(number)
        folder.mkdir()
        after = kills.moment(LOT, 2 * kills.START_S)
        sys.stdout.write(kills.survives("plan", folder, after, signal.SIGKILL, wanted) + "\n")


ONE_SESSION = """
import runpy
from sim.evidence import playing
playing.SIZE = playing.Size(1, 1, 1, 1, 1)
runpy.run_module("cli", run_name="__main__")
"""
"""`overload`, with evaluations of one session of each game."""


@pytest.mark.parametrize("how", [signal.SIGKILL, signal.SIGTERM])
def test_a_calibration_that_is_ended_leaves_nobody_behind_and_keeps_its_checkpoint(
    how, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
):
    from sim.evidence import playing
    from sim.evidence.evaluations import CHECKPOINT, Evaluations

    monkeypatch.setattr(playing, "SIZE", playing.Size(1, 1, 1, 1, 1))
    kept = tmp_path / CHECKPOINT
    line = ["calibrate", "--save", str(tmp_path), "--constants", "walk", "--budget", "64", "--workers", "2"]
    # Ended as soon as its first evaluation is written down.
    ran = kills.run(line, 300.0, how, once=kept, program=("-c", ONE_SESSION))
    assert ran.killed and ran.code == {signal.SIGKILL: -9, signal.SIGTERM: 130}[how] and "Traceback" not in ran.err, ran
    fresh = Evaluations(lambda constants, seed: {})
    assert fresh.resume(kept.read_text(encoding="utf-8")) and fresh.known


def test_workers_survive_a_signal_to_the_group_and_a_lost_one_is_said():
    kept = []
    with pytest.raises(Lost, match="processes must stay until the end"):
        spread(Processes(2), [(ends_itself, place) for place in range(20)], lambda place, what: kept.append(place))
    assert kept, "what was finished is kept"


def ends_itself(place: int) -> int:
    assert os.getpgid(0) == os.getpid(), "in a group of its own: what is told to the asker's group is not told to it"
    if place == 15:
        os.kill(os.getpid(), signal.SIGKILL)
    time.sleep(0.02)
    return place
