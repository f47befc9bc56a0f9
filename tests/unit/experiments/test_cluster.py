"""The same bits from a real cluster on this machine, whatever happens to its workers, and what is refused.

Needs the extra `cluster`; the refusals that do not are in `tests/cli/test_cluster.py`.
"""

from __future__ import annotations

import json
import os
import signal
import subprocess
import sys
import time
from collections.abc import Callable
from functools import cache
from pathlib import Path

import pytest
from typer.testing import CliRunner

from cli.app import app
from sim import __version__
from sim.errors import InputError
from sim.experiments import cluster, executors
from sim.experiments.replicate import play_batches, replicate
from sim.experiments.sessions import Batch, session_counts
from sim.measures.session_counts import SessionCounts
from tests.unit.experiments.staged import broken_at_2, staged
from tests.unit.experiments.staged_cluster import (
    KEPT,
    MARK,
    PARENT,
    interrupts_the_asker_at_50,
    kills_every_worker,
    kills_its_worker_once,
)
from tests.unit.measures.handmade import square_game

pytest.importorskip("distributed", reason="needs the extra `cluster`")
pytestmark = pytest.mark.slow

ROOT = Path(__file__).resolve().parents[3]
GAME = square_game(count=3)
HERE = "127.0.0.1"
BOUTS, LONG = 240, 300  # sessions of three: 80 and 100


class Machines:
    """A scheduler and its workers, each a process of its own on 127.0.0.1; `env`: what else the workers are told."""

    processes: list[subprocess.Popen]
    address: str

    def __init__(self, folder: Path, workers: int, **env: str):
        self.folder, self.env = folder, os.environ | {"PYTHONPATH": str(ROOT), PARENT: str(os.getpid())} | env
        self.begin(workers)

    def begin(self, workers: int) -> None:
        """The scheduler takes whatever port is free at that moment and writes it down: one found free before might be taken."""
        self.processes = []
        self.told.unlink(missing_ok=True)
        at = ("--host", HERE, "--port", "0", "--scheduler-file", str(self.told))
        self.start("dask_scheduler", *at, "--no-dashboard", "--no-show")
        for _ in range(workers):
            self.hire()
        self.address = self.found()

    @property
    def told(self) -> Path:
        """Where the scheduler says how it is reached."""
        return self.folder / "scheduler.json"

    def found(self) -> str:
        """The address of the scheduler, as soon as it has one; a minute at most."""
        until = time.monotonic() + 60
        while time.monotonic() < until and self.processes[0].poll() is None:
            try:
                return json.loads(self.told.read_text(encoding="utf-8"))["address"]
            except (FileNotFoundError, json.JSONDecodeError):  # not yet, or not all of it
                time.sleep(0.02)
        raise AssertionError((self.folder / "log").read_text(encoding="utf-8"))

    def hire(self) -> None:
        alone = ("--no-nanny", "--nthreads", "1", "--no-dashboard", "--local-directory", str(self.folder))
        self.start("dask_worker", "--scheduler-file", str(self.told), "--host", HERE, *alone)

    def start(self, what: str, *arguments: str) -> None:
        with (self.folder / "log").open("ab") as log:
            command = [sys.executable, "-m", f"distributed.cli.{what}", *arguments]
            self.processes.append(subprocess.Popen(command, cwd=self.folder, env=self.env, stdout=log, stderr=log))

    def wait_for(self, workers: int) -> None:
        """Until so many workers have come, a minute at most."""
        from distributed import Client

        with Client(self.address, timeout=60, set_as_default=False) as client:
            client.wait_for_workers(workers, timeout=60)

    def mend(self, workers: int) -> None:
        """As at the beginning, whoever has been killed since."""
        dead = [process for process in self.processes if process.poll() is not None]
        if not dead:
            return
        if self.processes[0] in dead:
            self.end()
            self.begin(workers)
        else:
            self.processes = [process for process in self.processes if process not in dead]
            for _ in dead:
                self.hire()
        self.wait_for(workers)

    def end(self) -> None:
        for process in reversed(self.processes):
            process.kill()
            process.wait()


@pytest.fixture(scope="module")
def started(tmp_path_factory: pytest.TempPathFactory):
    """A scheduler and two workers for all tests here."""
    folder = tmp_path_factory.mktemp("cluster")
    found = Machines(folder, 2, **{MARK: str(folder / "killed"), KEPT: str(folder / "kept")})
    try:
        found.wait_for(2)
        yield found
    finally:
        found.end()


@pytest.fixture
def machines(started: Machines) -> Machines:
    """The scheduler with two workers, whatever a test before has done to them."""
    Path(started.env[KEPT]).unlink(missing_ok=True)
    started.mend(2)
    return started


def says_it_is_kept(machines: Machines) -> Callable[[int, int], None]:
    """A progress by which the workers hear that the asker has something."""
    return lambda done, wanted: Path(machines.env[KEPT]).touch()


@cache
def alone(bouts: int) -> list[SessionCounts]:
    """So many bouts in this process."""
    return replicate(GAME, bouts, 5, 1, session=staged).sessions


def bits(counts: list[SessionCounts]) -> list:
    """Every number of every field, to the last bit."""
    return [
        (name, value.dtype.str, value.shape, value.tobytes()) if hasattr(value, "tobytes") else (name, value)
        for one in counts
        for name, value in vars(one).items()
    ]


def test_serial_processes_and_cluster_give_the_same_bits(machines: Machines):
    with cluster.connected(machines.address) as found:
        assert found.size == 2
        played = [
            alone(BOUTS),
            *(replicate(GAME, BOUTS, 5, workers, session=staged).sessions for workers in (2, found)),
        ]
        batches = [Batch(GAME, numbers, session_counts, staged) for numbers in (range(30), [4])]
        arms = [play_batches(batches, 5, workers) for workers in (1, found)]
    assert bits(played[0]) == bits(played[1]) == bits(played[2])
    assert len(played[0]) == BOUTS // 3
    assert [bits([arm[number] for number in sorted(arm)]) for arm in arms[0]] == [
        bits([arm[number] for number in sorted(arm)]) for arm in arms[1]
    ]
    assert bits(played[0][:20]) != bits(replicate(GAME, 60, 6, 1, session=staged).sessions)


@pytest.mark.parametrize(
    "command",
    [
        ["estimate", "--bouts", "8", "--json", "-"],
        ["compare", "--change", "areas.square.length=9", "--bouts", "8", "--json", "-"],
        ["sweep", "--key", "side=9,11", "--bouts", "4"],
    ],
    ids=lambda one: one[0],
)
def test_the_engine_itself_gives_the_same_answer(machines: Machines, command: list[str]):
    short = ["tight-square", "--set", "bouts.minutes=0.5", "--set", "bouts.count=2"]
    answers = []
    for crew_option in (["--workers", "1"], ["--cluster", machines.address]):
        result = CliRunner().invoke(app, [command[0], *short, *command[1:], *crew_option], catch_exceptions=False)
        assert (result.exit_code, result.stderr) == (0, "")
        answers.append(result.stdout)
    assert answers[0] == answers[1]
    if "--json" in command:
        assert json.loads(answers[0])


def test_a_worker_that_is_killed_loses_nothing_and_changes_nothing(machines: Machines):
    told = []
    with cluster.connected(machines.address) as found:
        played = replicate(
            GAME, BOUTS, 5, found, lambda done, wanted: told.append((done, wanted)), session=kills_its_worker_once
        )
    assert Path(machines.env[MARK]).exists()
    assert sum(process.poll() == -signal.SIGKILL for process in machines.processes[1:]) == 1
    assert bits(played.sessions) == bits(alone(BOUTS))
    assert told == sorted(told) and told[-1] == (BOUTS, BOUTS) and found.lost == ""


@pytest.mark.usefixtures("hears_interruptions")
def test_an_interruption_keeps_what_is_finished_and_the_cluster_goes_on(machines: Machines):
    with cluster.connected(machines.address) as found:
        played = replicate(GAME, LONG, 5, found, says_it_is_kept(machines), session=interrupts_the_asker_at_50)
        numbers = [one.replicate for one in played.sessions]
        # which are done by then hangs on the workers: a batch of the first may still be out
        assert numbers and numbers == sorted(set(numbers)) and len(numbers) < played.wanted == LONG // 3
        whole = alone(LONG)
        assert bits(played.sessions) == bits([whole[number] for number in numbers])
        known = {one.replicate: one for one in played.sessions}
        assert bits(replicate(GAME, LONG, 5, found, session=staged, known=known).sessions) == bits(whole)


def test_a_bug_is_not_swallowed(machines: Machines):
    with cluster.connected(machines.address) as found, pytest.raises(ZeroDivisionError, match="broken on purpose"):
        replicate(GAME, 60, 0, found, session=broken_at_2)


@pytest.fixture
def other_program(monkeypatch: pytest.MonkeyPatch):
    """From here on this process is of another version; processes that run already are not."""

    def become() -> None:
        monkeypatch.setattr(cluster, "__version__", "0.0.9")
        monkeypatch.setattr(cluster, "engine", lambda: "another")
        cluster.facts.cache_clear()

    yield become
    monkeypatch.undo()
    cluster.facts.cache_clear()


def test_workers_of_another_program_are_refused(machines: Machines, other_program):
    other_program()
    with pytest.raises(InputError) as refused, cluster.connected(machines.address):
        pass
    assert len(refused.value.problems) == 4, "version and sources, of two workers"
    text = str(refused.value)
    assert text.count(f"--cluster: worker tcp://{HERE}:") == 4
    assert f"must be of the same version of the program (got {__version__} there, 0.0.9 here)" in text


def test_a_worker_of_another_program_that_comes_later_plays_nothing(machines: Machines, other_program):
    with cluster.connected(machines.address) as found:
        other_program()
        with pytest.raises(InputError, match="--cluster: a worker that came later must be of the same version"):
            replicate(GAME, 60, 0, found, session=staged)


def test_a_scheduler_with_nobody_to_play_is_refused(tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    monkeypatch.setattr(cluster, "ANSWER_S", 30.0)  # it is only starting
    (tmp_path / "sim.py").write_text("", encoding="utf-8")
    machines = Machines(tmp_path, 0, PYTHONPATH=str(tmp_path))
    try:
        with pytest.raises(InputError) as refused, cluster.connected(machines.address):
            pass
        assert str(refused.value) == f"--cluster: must have a worker at least (got none at {machines.address})"
        machines.hire()
        machines.wait_for(1)
        with pytest.raises(InputError, match="must have this program installed") as refused:
            with cluster.connected(machines.address):
                pass
        assert len(refused.value.problems) == 1
    finally:
        machines.end()


def test_when_nobody_is_left_what_is_finished_is_kept(machines: Machines, monkeypatch: pytest.MonkeyPatch):
    monkeypatch.setattr(executors, "LOOK_S", 0.2)
    monkeypatch.setattr(cluster, "NOBODY_LOOKS", 3)
    with cluster.connected(machines.address) as found:
        played = replicate(GAME, BOUTS, 5, found, says_it_is_kept(machines), session=kills_every_worker)
        numbers = [one.replicate for one in played.sessions]
        assert found.lost == "workers must stay until the end (got none any more)"
        # which are done by then hangs on the workers
        assert numbers and max(numbers) < 40 and played.wanted == BOUTS // 3
        with pytest.raises(InputError, match="--cluster: workers must stay until the end"):
            replicate(GAME, BOUTS, 5, found, session=staged)


def test_a_scheduler_that_goes_away_keeps_what_is_finished(machines: Machines, monkeypatch: pytest.MonkeyPatch):
    monkeypatch.setattr(executors, "LOOK_S", 0.2)

    def end_it(done: int, wanted: int) -> None:
        if machines.processes[0].poll() is None:
            machines.processes[0].kill()

    monkeypatch.setattr(cluster, "NOBODY_LOOKS", 3)
    with cluster.connected(machines.address) as found:
        played = replicate(GAME, BOUTS, 5, found, end_it, session=staged)
    assert 0 < len(played.sessions) < played.wanted == BOUTS // 3
    assert found.lost
