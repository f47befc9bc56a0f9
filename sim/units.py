"""Units people write, and the SI units everything inside is in.

Lengths in a game file are metres, or yards where the file says ``units = "yards"``; speeds shown to
people are km/h.  The factors are exact by definition (international yard, 1959).
"""

from __future__ import annotations

METRES_PER_YARD = 0.9144
KMH_PER_MPS = 3.6
SECONDS_PER_MINUTE = 60.0

LENGTH_UNITS = {"metres": 1.0, "yards": METRES_PER_YARD}


def to_metres(length: float, units: str) -> float:
    """A length written in `units` ("metres" or "yards"), in metres."""
    return length * LENGTH_UNITS[units]


def to_kmh(speed_mps: float) -> float:
    """A speed in m/s as km/h."""
    return speed_mps * KMH_PER_MPS
