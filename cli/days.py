"""The day it is here."""

from __future__ import annotations

from datetime import date


def today() -> date:
    """The day by the clock and the time zone of this machine.  A command asks once: it has one day, also where midnight passes."""
    return date.today()
