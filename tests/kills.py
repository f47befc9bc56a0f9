"""Commands that are stopped, ended or killed at a random moment: nothing is left running, nothing finished is lost.

    python -m tests.kills 20 [SEED]

plays every command once undisturbed; then, so many times, starts one, ends it after a random part of that time by a signal drawn
by lot, sees that all its processes are gone, gives the same command again until it ends by itself, and holds the answer against
the undisturbed one, byte by byte.
"""

from __future__ import annotations

import math
import os
import random
import signal
import subprocess
import sys
import tempfile
import time
import uuid
from dataclasses import dataclass
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
MARK = "OVERLOAD_KILLED"
SIGNALS = (signal.SIGINT, signal.SIGTERM, signal.SIGKILL)
START_S = 1.5  # Python itself is starting until then
GONE_S = 10.0  # until when all processes must be gone after the one that asked
SMALL = ["tight-square", "--set", "bouts.minutes=0.5", "--set", "bouts.count=2", "--workers", "2"]
COMMANDS = {
    "estimate": [*SMALL, "--bouts", "240"],
    "compare": [*SMALL, "--bouts", "120", "--change", "areas.square.length=9"],
    "tune": [*SMALL, "--knob", "side=9..11", "--target", "turnovers_per_min=2", "--budget", "120", "--fresh", "40"],
    "sweep": [*SMALL, "--key", "side=8..11", "--bouts", "40"],
}
STOPPED = {signal.SIGINT: 130, signal.SIGTERM: 143, signal.SIGKILL: -9}


@dataclass(frozen=True)
class Ran:
    """How a command ended: exit code, whether by itself, what it said."""

    code: int
    killed: bool
    err: str


def asked(command: str, folder: Path) -> tuple[list[str], Path]:
    """The command line and the file its answer is in."""
    kept, answer = folder / f"{command}.kept", folder / f"{command}.json"
    if command == "sweep":
        return [command, *COMMANDS[command], "--save", str(kept)], kept
    return [command, *COMMANDS[command], "--save", str(kept), "--json", str(answer)], answer


def run(
    line: list[str],
    after: float | None = None,
    how: signal.Signals = signal.SIGKILL,
    once: Path | None = None,
    program: tuple[str, ...] = ("-m", "cli"),
) -> Ran:
    """One run, ended by a signal after so many seconds if it has not ended before, or once it has written a file; all its
    processes must be gone then.  `program`: what Python is told to run."""
    mark = uuid.uuid4().hex
    process = subprocess.Popen(
        [sys.executable, *program, *line], cwd=ROOT, env=os.environ | {MARK: mark, "PYTHONPATH": str(ROOT)},
        stdout=subprocess.DEVNULL, stderr=subprocess.PIPE, text=True, start_new_session=True,
        preexec_fn=lambda: signal.signal(signal.SIGINT, signal.default_int_handler),
    )  # fmt: skip
    until = math.inf if after is None else time.monotonic() + after
    while process.poll() is None and time.monotonic() < until and not (once and once.exists()):
        time.sleep(0.02)
    killed = process.poll() is None
    if killed:
        process.send_signal(how)
    _, err = process.communicate(timeout=600)
    if how is signal.SIGKILL and process.returncode == 0:
        killed = False  # whoever was killed cannot say that all is well: it had just ended by itself
    until = time.monotonic() + GONE_S
    while left := those_with(mark):
        assert time.monotonic() < until, f"{len(left)} processes are left over"
        time.sleep(0.05)
    return Ran(process.returncode, killed, err)


def those_with(mark: str) -> list[int]:
    """Processes that have this mark in their surroundings."""
    found = []
    for place in Path("/proc").glob("[0-9]*/environ"):
        try:
            if f"{MARK}={mark}".encode() in place.read_bytes():
                found.append(int(place.parent.name))
        except OSError:
            continue
    return found


def whole(command: str, folder: Path) -> tuple[bytes, float]:
    """The undisturbed answer of one process, and how long it took."""
    line, answer = asked(command, folder)
    start = time.monotonic()
    ran = run([*line, "--workers", "1"])  # the last one counts
    assert (ran.code, ran.err) == (0, ""), ran
    return answer.read_bytes(), time.monotonic() - start


def survives(command: str, folder: Path, after: float, how: signal.Signals, wanted: bytes) -> str:
    """What became of one kill; an AssertionError if anything is lost or left."""
    line, answer = asked(command, folder)
    ran = run(line, after, how)
    assert "Traceback" not in ran.err, ran.err
    assert ran.code in ((STOPPED[how], -how) if ran.killed else (0,)), (
        ran
    )  # -how: on its very last moments, the answer given
    again = run(line)
    assert again.code == 0, again
    assert answer.read_bytes() == wanted, f"{command} ended by {how.name} after {after:.2f} s came to another answer"
    ended = f"exit code {ran.code}" if ran.killed else "had ended by itself"
    return f"{command:<9} {how.name:<8} after {after:6.2f} s: {ended}, then the same answer"


def main(times: int, seed: int) -> None:
    lot = random.Random(seed)
    with tempfile.TemporaryDirectory() as place:
        top = Path(place)
        (top / "whole").mkdir()
        run(["play", "tight-square"])  # what is compiled on first use is compiled now, and in nobody's time
        wanted = {command: whole(command, top / "whole") for command in COMMANDS}
        for number in range(times):
            folder = top / str(number)
            folder.mkdir()
            command, how = lot.choice(list(COMMANDS)), lot.choice(SIGNALS)
            answer, took = wanted[command]
            sys.stdout.write(survives(command, folder, lot.uniform(START_S, took), how, answer) + "\n")
            sys.stdout.flush()


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 20, int(sys.argv[2]) if len(sys.argv) > 2 else 1)
