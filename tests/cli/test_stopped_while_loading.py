"""Ctrl-C in the first second, while Python still reads the program: one line and exit code 130, no traceback."""

from __future__ import annotations

import signal
import subprocess
import sys
from pathlib import Path

import pytest

from sim.words.world import NOTHING_FINISHED

ROOT = Path(__file__).resolve().parents[2]

HEARD = "signal.signal(signal.SIGINT, signal.default_int_handler)"
"""Whoever runs the tests may have it shut off, as in the background of a script."""
STOPPED = """
import os, runpy, signal, sys
{before}

class Stops:
    "Presses Ctrl-C when this module is asked for."
    def find_spec(self, name, path=None, target=None):
        if name == {module!r}:
            os.kill(os.getpid(), signal.SIGINT)

sys.meta_path.insert(0, Stops())
sys.argv = ["overload", "--version"]
runpy.run_module("cli", run_name="__main__")
"""


def stopped(module: str, before: str = HEARD) -> subprocess.CompletedProcess[str]:
    code = STOPPED.format(module=module, before=before)
    return subprocess.run([sys.executable, "-c", code], cwd=ROOT, capture_output=True, text=True)


@pytest.mark.skipif(not hasattr(signal, "SIGKILL"), reason="needs the signals of Unix")
@pytest.mark.parametrize("module", ["cli.app", "typer", "cli.why", "sim.errors"])
def test_ctrl_c_while_the_program_is_loaded(module: str):
    done = stopped(module)
    assert (done.returncode, done.stdout, done.stderr) == (130, "", NOTHING_FINISHED + "\n")


@pytest.mark.skipif(not hasattr(signal, "SIGKILL"), reason="needs the signals of Unix")
def test_what_was_shut_off_from_outside_stays_shut_off():
    done = stopped("typer", "signal.signal(signal.SIGINT, signal.SIG_IGN)")
    assert done.returncode == 0 and done.stdout.startswith("overload ") and done.stderr == ""
