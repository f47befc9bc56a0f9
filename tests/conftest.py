"""Settings of the whole suite: on CI, property tests draw the same examples every time."""

from __future__ import annotations

import os

from hypothesis import HealthCheck, settings

# No deadline: two workers share the machine with compiled code that is built on first use.
settings.register_profile("here", deadline=None, suppress_health_check=[HealthCheck.too_slow])
settings.register_profile("ci", parent=settings.get_profile("here"), derandomize=True, database=None)
settings.load_profile("ci" if os.environ.get("CI") else "here")
