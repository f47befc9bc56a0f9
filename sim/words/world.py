"""What is said when the world outside does not let a command end as it should."""

from __future__ import annotations

NOTHING_FINISHED = "Stopped before anything was finished: nothing to show."


def not_written(place: str, reason: str) -> str:
    """Why a place could not be written."""
    return f"{place} could not be written ({reason})"


def refused_by_the_system(place: str, reason: str) -> str:
    """Something else that the system would not do; there may be no place to name."""
    return f"{place}: {reason}" if place else reason


def ready_in_words(compiled_before: bool) -> str:
    """The line before anything is played; on a machine where fast code must first be built that is what takes the time."""
    return (
        "Starting"
        if compiled_before
        else "Getting ready: the first run on this machine takes about half a minute longer."
    )


def speed_in_words(each_second: float | None) -> str:
    """How many are done in a second, or in a minute where that is less than one."""
    if not each_second:
        return ""
    return f"{each_second:.0f} a second" if each_second >= 1 else f"{60 * each_second:.0f} a minute"


def left_in_words(seconds: float | None) -> str:
    """How long it will take still."""
    if seconds is None:
        return ""
    if seconds < 100:
        return f"{seconds:.0f} s left"
    return f"{seconds / 60:.0f} min left" if seconds < 6000 else f"{seconds / 3600:.0f} h left"
