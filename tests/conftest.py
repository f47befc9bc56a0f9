"""Settings of the whole suite: on CI, property tests draw the same examples every time."""

from __future__ import annotations

import compileall
import os
from pathlib import Path

import pytest
from hypothesis import HealthCheck, settings
from hypothesis.internal.conjecture import providers

# No deadline: two workers share the machine with compiled code that is built on first use.
settings.register_profile("here", deadline=None, suppress_health_check=[HealthCheck.too_slow])
settings.register_profile("ci", parent=settings.get_profile("here"), derandomize=True, database=None)


def draw_nothing_from_modules() -> None:
    """Have examples depend on their test alone: Hypothesis also draws constants that stand in whatever modules of ours happen to be
    loaded, so which tests ran before, or in which worker, would change them.  It has no setting for that (6.170)."""
    if hasattr(providers, "_get_local_constants"):  # older ones draw no such constants
        none = providers.Constants()
        providers._get_local_constants = lambda: none


if os.environ.get("CI"):
    settings.load_profile("ci")
    draw_nothing_from_modules()
else:
    settings.load_profile("here")


def pytest_configure(config: pytest.Config) -> None:
    """Before workers begin, all that play needs is compiled, once: else each compiles it, and so does what they start.  So are
    our modules, to Python's own code: where it may not keep that (PYTHONDONTWRITEBYTECODE), every process would do it anew."""
    if getattr(config.option, "numprocesses", None) and not hasattr(config, "workerinput"):
        from sim.experiments.first_run import get_ready

        for package in ("sim", "cli"):
            compileall.compile_dir(Path(__file__).parents[1] / package, quiet=2)
        get_ready()
