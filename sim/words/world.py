"""What is said when the world outside does not let a command end as it should."""

from __future__ import annotations

NOTHING_FINISHED = "Stopped before anything was finished: nothing to show."


def not_written(place: str, reason: str) -> str:
    return f"{place} could not be written ({reason})"


def refused_by_the_system(place: str, reason: str) -> str:
    """Something else that the system would not do; there may be no place to name."""
    return f"{place}: {reason}" if place else reason
