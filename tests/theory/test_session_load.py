"""The load of a session against a published worked example: C-8.5 (C-8.10 stands with the running figures)."""

from __future__ import annotations

import pytest

from sim.session_load import effort_load

pytestmark = pytest.mark.theory


def test_effort_times_minutes():
    """C-8.5: published example, effort 7 for 75 minutes."""
    assert effort_load(7, 75) == 525
