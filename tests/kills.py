"""Commands that are stopped, ended or killed at a random moment: nothing is left running, nothing finished is lost.

    python -m tests.kills 20 [SEED [COMMAND]]

plays every command once undisturbed; then, so many times, starts one, ends it after a random part of that time by a signal drawn
by lot, sees that all its processes are gone, gives the same command again until it ends by itself, and holds the answer against
the undisturbed one, byte by byte.  Of a plan also what lay on the disk when it ended must still lie there, untouched where it was
whole.  With a COMMAND all are ends of that one.
"""

from __future__ import annotations

import math
import os
import random
import re
import signal
import subprocess
import sys
import tempfile
import time
import uuid
from dataclasses import dataclass
from pathlib import Path

import numpy as np

from cli.shelf import VARIABLE

ROOT = Path(__file__).resolve().parents[1]
MARK = "OVERLOAD_KILLED"
SIGNALS = (signal.SIGINT, signal.SIGTERM, signal.SIGKILL)
START_S = 1.5  # of an undisturbed run, before the command itself begins
BLOCKS = "blocks"
GONE_S = 10.0  # until when all processes must be gone after the one that asked
SMALL = ["tight-square", "--set", "bouts.minutes=0.5", "--set", "bouts.count=2", "--workers", "2"]
COMMANDS = {
    "estimate": [*SMALL, "--bouts", "240"],
    "compare": [*SMALL, "--bouts", "120", "--change", "areas.square.length=9"],
    "tune": [*SMALL, "--knob", "side=9..11", "--target", "turnovers_per_min=2", "--budget", "120", "--fresh", "40"],
    "plan": [],
    "sweep": [*SMALL, "--key", "side=8..11", "--bouts", "40"],
}
PLAN = """
title = "Random ends"
players = 12
population = "amateur men"
games = ["tight.toml", "even.toml"]
times_a_week = 2
[match_values]
metres = 9800
accelerations = 300
[[evenings]]
date = 2026-08-11
minutes = 75
[[evenings]]
date = 2026-08-13
minutes = 60
[[matches]]
date = 2026-08-15
name = "at Quillhaven"
"""
"""Two shipped games in two sizes each, with the bouts of `BOUT`: thirty-two sessions from nothing."""
BOUT = "bouts = { seconds = 60, rest_seconds = 60 }"
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
    if command == "plan":
        return [command, str(plan_in(folder)), "--json", str(answer), "--workers", "2"], answer
    if command == "sweep":
        return [command, *COMMANDS[command], "--save", str(kept)], kept
    return [command, *COMMANDS[command], "--save", str(kept), "--json", str(answer)], answer


def plan_in(folder: Path) -> Path:
    """The plan file, with its games beside it."""
    for name, shipped in (("tight", "tight-square"), ("even", "even-keep-ball")):
        text = (ROOT / "scenarios" / f"{shipped}.toml").read_text(encoding="utf-8")
        short = re.sub(r"^bouts\b.*$", BOUT, text, count=1, flags=re.MULTILINE)
        (folder / f"{name}.toml").write_text(short, encoding="utf-8")
    file = folder / "plan.toml"
    file.write_text(PLAN, encoding="utf-8")
    return file


def kept_in(blocks: Path) -> dict[str, tuple[int, dict[int, bytes]]]:
    """What lies on the disk of each block: when it was written, and the loads of its sessions by number."""
    found = {}
    for file in blocks.glob("*.npz"):
        with np.load(file) as arrays:
            loads = zip(arrays["number"].tolist(), arrays["loads"], strict=True)
            found[file.name] = (file.stat().st_mtime_ns, {number: one.tobytes() for number, one in loads})
    return found


def run(
    line: list[str],
    after: float | None = None,
    how: signal.Signals = signal.SIGKILL,
    once: Path | None = None,
    program: tuple[str, ...] = ("-m", "cli"),
    blocks: Path | None = None,
) -> Ran:
    """One run, ended by a signal so many seconds after the command has begun if it has not ended before, or once it has written a
    file; all its processes must be gone then.  `program`: what Python is told to run; `blocks`: where played blocks are kept."""
    mark = uuid.uuid4().hex
    env = os.environ | {MARK: mark, "PYTHONPATH": str(ROOT)} | ({} if blocks is None else {VARIABLE: str(blocks)})
    process = subprocess.Popen(
        [sys.executable, *program, *line], cwd=ROOT, env=env,
        stdout=subprocess.DEVNULL, stderr=subprocess.PIPE, text=True, start_new_session=True,
        preexec_fn=lambda: signal.signal(signal.SIGINT, signal.default_int_handler),
    )  # fmt: skip
    while after is not None and process.poll() is None and not hears(process.pid):
        time.sleep(0.02)  # before that it is Python's own, which a busy machine may take long to start
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


def hears(process: int) -> bool:
    """Whether it has taken being told to end into its own hands, as a command does at its beginning and Python alone never."""
    found = re.search(r"^SigCgt:\s*(\w+)$", Path(f"/proc/{process}/status").read_text(encoding="utf-8"), re.MULTILINE)
    return found is not None and bool(int(found[1], 16) >> (signal.SIGTERM - 1) & 1)


def moment(lot: random.Random, took: float) -> float:
    """When to end a command that took so long undisturbed: seconds after it has begun."""
    return lot.uniform(0.0, max(0.0, took - START_S))


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
    ran = run([*line, "--workers", "1"], blocks=folder / BLOCKS)  # the last one counts
    assert (ran.code, ran.err) == (0, ""), ran
    return answer.read_bytes(), time.monotonic() - start


def survives(command: str, folder: Path, after: float, how: signal.Signals, wanted: bytes) -> str:
    """What became of one kill; an AssertionError if anything is lost or left."""
    line, answer = asked(command, folder)
    blocks = folder / BLOCKS
    ran = run(line, after, how, blocks=blocks)
    kept = kept_in(blocks)
    assert "Traceback" not in ran.err, ran.err
    assert ran.code in ((STOPPED[how], -how) if ran.killed else (0,)), (
        ran
    )  # -how: on its very last moments, the answer given
    again = run(line, blocks=blocks)
    assert again.code == 0, again
    assert answer.read_bytes() == wanted, f"{command} ended by {how.name} after {after:.2f} s came to another answer"
    there = kept_in(blocks)
    sessions = max((len(one) for _, one in there.values()), default=0)
    for name, (at, numbers) in kept.items():
        assert there[name][1].items() >= numbers.items(), f"{name}: a session that was finished is gone, or another"
        assert len(numbers) < sessions or there[name][0] == at, f"{name}: a whole block was written anew"
    ended = f"exit code {ran.code}" if ran.killed else "had ended by itself"
    had = f" with {sum(len(one) for _, one in kept.values())} sessions kept" if command == "plan" else ""
    return f"{command:<9} {how.name:<8} after {after:6.2f} s: {ended}{had}, then the same answer"


def main(times: int, seed: int, only: str = "") -> None:
    lot = random.Random(seed)
    with tempfile.TemporaryDirectory() as place:
        top = Path(place)
        (top / "whole").mkdir()
        run(["play", "tight-square"])  # what is compiled on first use is compiled now, and in nobody's time
        wanted = {command: whole(command, top / "whole") for command in COMMANDS if only in ("", command)}
        for number in range(times):
            folder = top / str(number)
            folder.mkdir()
            command, how = lot.choice(list(wanted)), lot.choice(SIGNALS)
            answer, took = wanted[command]
            sys.stdout.write(survives(command, folder, moment(lot, took), how, answer) + "\n")
            sys.stdout.flush()


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 20, int(sys.argv[2]) if len(sys.argv) > 2 else 1, *sys.argv[3:4])
