"""The measurements, each a few numbers; what they mean is said where they become rows (`rows`)."""

from __future__ import annotations

import math
import os
import statistics
import subprocess
import sys
import time
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import ProcessPoolExecutor
from pathlib import Path

import simpy

from cli.shelf import VARIABLE
from sim.assumptions import NONE, Assumptions
from sim.experiments.compare import Variant, compare_all
from sim.experiments.estimate import estimate
from sim.experiments.replicate import play_batches
from sim.experiments.sessions import Batch, bout_counts, session_bouts, session_counts
from sim.game.model import Game
from sim.measures.session_counts import session_of
from sim.pitch.engine import play_bout
from sim.pitch.log import BoutLog
from sim.planning.block_loads import loads_of
from sim.planning.kept_loads import Shelf
from sim.players import draw_roster
from tests.bench.ticking import stepped
from tests.bench.workload import SEED, TIGHT, Size, shipped
from tests.kills import plan_in

ROOT = Path(__file__).resolve().parents[2]
TIMEOUTS = 1000


def seconds(work: Callable[[], object]) -> float:
    start = time.perf_counter()
    work()
    return time.perf_counter() - start


def bare_loop() -> None:
    """SimPy dispatching a thousand timeouts and nothing else."""
    env = simpy.Environment()

    def wait():
        for _ in range(TIMEOUTS):
            yield env.timeout(1.0)

    env.process(wait())
    env.run()


def sessions(game: Game, numbers: Sequence[int]) -> list[list[BoutLog]]:
    return [list(session_bouts(game, SEED, number)) for number in numbers]


def counted(game: Game, logs: list[list[BoutLog]]) -> list:
    return [session_of(bout_counts(game, one)) for one in logs]


def a_minute(game: Game, size: Size) -> tuple[float, float, float, float]:
    """One in-play minute over the bare loop: played, and played and counted; players x seconds of the watch a second; and the
    in-play minutes of it all.  Loop and play take turns, so that both see the same machine."""
    numbers = range(size.sessions)
    counted(game, sessions(game, numbers))  # whatever is built on first use
    loops, plays, wholes, minutes, watch = [], [], [], 0.0, 0.0
    for _ in range(size.repeats):
        loops += [seconds(bare_loop) for _ in range(10)]
        start = time.perf_counter()
        logs = sessions(game, numbers)
        played = time.perf_counter()
        counts = counted(game, logs)
        wholes.append(time.perf_counter() - start)
        plays.append(played - start)
        minutes, watch = sum(one.in_play_s for one in counts) / 60, sum(one.duration_s for one in counts)
    loop, play, whole = (statistics.median(values) for values in (loops, plays, wholes))
    return play / minutes / loop, whole / minutes / loop, len(game.players) * watch / whole, minutes


def burn(count: int) -> int:
    total = 0
    for i in range(count):
        total += i * i % 7
    return total


def two_over_one(games: Sequence[Game], size: Size) -> tuple[float, float]:
    """How many times faster with two processes: all games, and a control that only counts (what this machine can give)."""
    batches = [Batch(game, range(2 * size.sessions), session_counts) for game in games]
    found, control = [], []
    for _ in range(size.repeats):
        one, two = (seconds(lambda n=n: play_batches(batches, SEED, n)) for n in (1, 2))
        found.append(one / two)
        alone = seconds(lambda: (burn(size.burn), burn(size.burn)))
        with ProcessPoolExecutor(2) as pool:
            list(pool.map(int, range(2)))  # the processes are there before the clock starts
            control.append(alone / seconds(lambda pool=pool: list(pool.map(burn, [size.burn] * 2))))
    return statistics.median(found), statistics.median(control)


def stepping(size: Size) -> tuple[float, float, float]:
    """The loop in steps over the engine, on the tight square: the loop in plain Python over the compiled engine; both compiled;
    and passes of the loop over passes of the engine, as a sign that it is the same play."""
    game = shipped(TIGHT, size)
    compiled, plain, passes = [], [], []
    for repeat in range(size.repeats):
        ours, loop, here, there = 0.0, 0.0, 0, 0
        for number in range(size.ticked):
            roster = draw_roster(game, SEED, number)
            start = time.perf_counter()
            log = play_bout(game, roster, SEED, number)
            played = time.perf_counter()
            bout = stepped(game, SEED, number)
            ours, loop = ours + played - start, loop + time.perf_counter() - played
            here += sum(event[2] == "receive" for event in log.events)
            there += sum(event[2] == "receive" for event in bout.events)
        compiled.append(loop / ours)
        passes.append(there / max(here, 1))
        if repeat < size.slow:
            slow = float(child("-m", "tests.bench.plain", repr(list(size.changes)), env={"NUMBA_DISABLE_JIT": "1"}))
            plain.append(slow / (ours / size.ticked))
    return statistics.median(plain), statistics.median(compiled), statistics.median(passes)


def variance_ratios(size: Size, change: str) -> tuple[float | None, float | None]:
    """Variance of the difference in turnovers a minute, two lots of sessions over the same sessions: with players fixed, and
    with players drawn for every session."""
    found = []
    for session in (same_players, session_bouts):
        first, second = shipped(TIGHT, size), shipped(TIGHT, size, change)
        answer = compare_all(first, [Variant(second, (change,))], size.paired, SEED, 1, session=session)
        found.append(answer.comparisons[0].row("turnovers_per_min").variance_ratio)
    return found[0], found[1]


def same_players(game: Game, seed: int, replicate: int, assumptions: Assumptions = NONE) -> Iterator[BoutLog]:
    """A session by the players of session 0, rested before every bout."""
    roster = draw_roster(game, seed, 0, assumptions)
    for number in range(game.bouts.count):
        yield play_bout(game, roster, seed, replicate, number)


def child(*arguments: str, env: dict[str, str] | None = None) -> str:
    """What a new Python process prints."""
    more = os.environ | {"PYTHONPATH": str(ROOT)} | (env or {})
    done = subprocess.run([sys.executable, *arguments], cwd=ROOT, env=more, capture_output=True, text=True, check=True)
    return done.stdout


PEAK = """
import sys
from sim import estimate, load_game
result = estimate(load_game("tight-square", sys.argv[2:]), bouts=int(sys.argv[1]), workers=1)
try:
    lines = open("/proc/self/status").read().splitlines()
    print(next(line.split()[1] for line in lines if line.startswith("VmHWM")))
except OSError:
    import resource
    print(resource.getrusage(resource.RUSAGE_SELF).ru_maxrss)
"""


def peak(size: Size) -> tuple[float, float]:
    """Peak memory of an estimate of ten times as many bouts over that of few; and the latter in MB."""
    few, many = (float(child("-c", PEAK, str(bouts), *size.changes)) for bouts in (size.few, 10 * size.few))
    return many / few, few / 1024


EVENING = ("tight-square", "three-colours", "in-pairs")


def evening_over_blocks(size: Size) -> float:
    """A session of three blocks, each played once for all its places, over the estimates of its games one by one."""
    games = [shipped(name, size) for name in EVENING]
    found = []
    for _ in range(size.repeats):
        loads = seconds(lambda: loads_of(games, Shelf(), SEED, size.sessions))
        found.append(loads / sum(seconds(lambda one=one: alone(one, size)) for one in games))
    return statistics.median(found)


def alone(game: Game, size: Size) -> object:
    """One estimate of as many sessions."""
    return estimate(game, bouts=size.sessions * game.bouts.count, seed=SEED)


def known_over_new(size: Size, folder: Path) -> float:
    """The command of a plan once its blocks lie on the disk, over the same from nothing; each in a process of its own."""
    file = ROOT / "scenarios/evening/week.toml" if size.week else plan_in(folder)
    env = {VARIABLE: str(folder)}
    new, *known = (seconds(lambda: child("-m", "cli", "plan", str(file), env=env)) for _ in range(1 + size.plans))
    return statistics.median(known) / new


BARE = """
import typer
app = typer.Typer()
@app.command()
def hello(name: str) -> None:
    "Say hello."
    typer.echo(name)
@app.command()
def other(name: str) -> None:
    "Say more."
app()
"""


def help_over_bare(size: Size) -> tuple[float, float]:
    """`overload --help` over the help of a typer program of two commands that do nothing; and the former in seconds."""
    ours, bare = [], []
    for _ in range(size.starts):
        ours.append(seconds(lambda: child("-m", "cli", "--help")))
        bare.append(seconds(lambda: child("-c", BARE, "--help")))
    return statistics.median(ours) / statistics.median(bare), statistics.median(ours)


FIRST = "from sim import load_game, play; play(load_game('tight-square', ['bouts.minutes=0.1']), seed=1)"


def first_bout(size: Size, folder: Path) -> tuple[float, float | None]:
    """Seconds from starting Python to the end of a first short bout: with compiled code kept, and on a new machine."""
    warm = statistics.median(seconds(lambda: child("-c", FIRST)) for _ in range(size.repeats))
    if not size.cold:
        return warm, None
    import shutil

    for room in ("sim", "scenarios"):
        shutil.copytree(ROOT / room, folder / room, ignore=shutil.ignore_patterns("__pycache__"))
    env = os.environ | {"PYTHONPATH": str(folder)}
    cold = seconds(lambda: subprocess.run([sys.executable, "-c", FIRST], cwd=folder, env=env, check=True))
    return warm, cold


def exponent(points: Sequence[tuple[float, float]]) -> float:
    """Slope of log cost on log size, least squares."""
    logs = [(math.log(x), math.log(y)) for x, y in points]
    mx, my = (statistics.mean(values) for values in zip(*logs, strict=True))
    return sum((x - mx) * (y - my) for x, y in logs) / sum((x - mx) ** 2 for x, _ in logs)
