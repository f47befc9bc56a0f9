"""Ctrl-C, and being told to end (TERM): both stop the work, the answer is given from what is finished, the exit code says so."""

from __future__ import annotations

import _thread
import signal
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from types import FrameType

SIGNALS = (signal.SIGINT, signal.SIGTERM)
SAME_S = 1.0  # who stops a whole group of processes often tells each of them twice
AGAIN_S = 0.02  # when to try again where an exception would have been lost
SHELL = 128  # a shell adds this to the number of the signal that ended a command
CALLED_BACK = ("llvmlite",)  # packages whose callbacks into Python lose an exception, and say so on stderr
LOSING = (  # and functions that do, or that must not be left half-way
    "__del__",
    "cb",  # the weak references of Python's import
    "_start_executor_manager_thread",  # processes that were started, and nobody who would ever end them
)


class Ended(KeyboardInterrupt):
    """A kind of its own: where the plain one passes through `exec`, Python ends by Ctrl-C whatever the exit code asked for."""


@dataclass
class Stopped:
    """By which signal, if by any; `waiting`: it has come, and where it came an exception would have been lost."""

    signal: int = 0
    at: float = 0.0
    waiting: bool = False

    @property
    def exit_code(self) -> int:
        """As a shell has it: 130 after Ctrl-C, 143 when told to end."""
        return SHELL + (self.signal or signal.SIGINT)

    def __call__(self, number: int, frame: FrameType | None) -> None:
        """Handle a signal: stop the work here, or a moment later where that would be lost; a second one at once says no more."""
        now = time.monotonic()
        if self.signal and not self.waiting and now - self.at < SAME_S:
            return
        self.signal, self.at, self.waiting = number, now, loses(frame)
        if self.waiting:
            later = threading.Timer(AGAIN_S, _thread.interrupt_main, [number])
            later.daemon = True
            later.start()
            return
        raise Ended


def loses(frame: FrameType | None) -> bool:
    """Whether an exception raised here would never come out."""
    while frame is not None:
        if frame.f_code.co_name in LOSING or frame.f_globals.get("__name__", "").split(".")[0] in CALLED_BACK:
            return True
        frame = frame.f_back
    return False


@contextmanager
def stops() -> Iterator[Stopped]:
    """Meanwhile either signal is a KeyboardInterrupt; what was shut off from outside (in the background, say) stays shut off."""
    found, before = Stopped(), {}
    if threading.current_thread() is threading.main_thread():
        before = {one: signal.getsignal(one) for one in SIGNALS if signal.getsignal(one) not in (signal.SIG_IGN, None)}
    for one in before:
        signal.signal(one, found)
    try:
        yield found
    finally:
        for one, handler in before.items():
            signal.signal(one, handler)
