"""Ctrl-C while the processes that play are being started: nobody is left waiting for them."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
ENDED = """
import os, signal
from concurrent.futures import ProcessPoolExecutor
from cli.stops import stops
from sim.experiments.executors import Processes, spread

launch = ProcessPoolExecutor._launch_processes

signal.signal(signal.SIGINT, signal.default_int_handler)  # whoever runs the tests may have it shut off

def launched(pool):
    launch(pool)
    os.kill(os.getpid(), signal.SIGINT)  # the processes are there, and the thread that ends them is not yet

ProcessPoolExecutor._launch_processes = launched
with stops() as stopped:
    try:
        spread(Processes(2), [(pow, 2, number) for number in range(40)], lambda place, found: None)
    except KeyboardInterrupt:
        pass
raise SystemExit(stopped.exit_code if stopped.signal else 0)
"""


@pytest.mark.skipif(sys.platform == "win32", reason="processes are started otherwise there")
def test_a_stop_between_two_starts_leaves_nobody():
    ran = subprocess.run([sys.executable, "-c", ENDED], cwd=ROOT, capture_output=True, text=True, timeout=30)
    assert (ran.returncode, ran.stderr) == (130, "")
