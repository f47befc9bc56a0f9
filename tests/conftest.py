"""Settings of the whole suite: on CI, property tests draw the same examples every time."""

from __future__ import annotations

import os

import pytest
from hypothesis import HealthCheck, settings

# No deadline: two workers share the machine with compiled code that is built on first use.
settings.register_profile("here", deadline=None, suppress_health_check=[HealthCheck.too_slow])
settings.register_profile("ci", parent=settings.get_profile("here"), derandomize=True, database=None)
settings.load_profile("ci" if os.environ.get("CI") else "here")


def pytest_configure(config: pytest.Config) -> None:
    """Before workers begin, all that play needs is compiled, once: else each compiles it, and so does what they start."""
    if getattr(config.option, "numprocesses", None) and not hasattr(config, "workerinput"):
        from sim.experiments.first_run import get_ready

        get_ready()
