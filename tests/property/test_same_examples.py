"""On CI a property test draws the same examples whatever else has been loaded before it."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
DRAWN_TWICE = """
import tests.conftest
from hypothesis import given, strategies as st

found = []

@given(st.lists(st.text() | st.integers() | st.floats()))
def draw(one):
    found.append(repr(one))

draw()
before, found = found, []
import sim.populations
draw()
assert len(found) >= 50
print("alike" if before == found else "not alike")
"""


def test_examples_do_not_change_with_what_is_loaded():
    where = os.environ | {"CI": "1", "PYTHONPATH": str(ROOT)}
    command = [sys.executable, "-W", "ignore", "-c", DRAWN_TWICE]
    assert subprocess.run(command, env=where, cwd=ROOT, capture_output=True, text=True, check=True).stdout == "alike\n"
