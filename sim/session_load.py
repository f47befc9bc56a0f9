"""What a session weighs: the published sum and nothing more.

It describes what was done.  It says nothing about injuries: the ratio of recent to usual load, in particular, is a rescaling of
recent load without a prediction of its own (Impellizzeri et al. 2020, Sports Med), and is not offered.
"""

from __future__ import annotations


def effort_load(effort: float, minutes: float) -> float:
    """Load of a session (units of its own): perceived effort on the scale 0 to 10 times minutes (Foster 1998, MSSE 30:1164)."""
    return effort * minutes
