"""Keeping what is finished as the work goes on: not so often that it takes time from playing."""

from __future__ import annotations

import time
from collections.abc import Callable

LEAST_S = 3.0  # between two times
SHARE = 20  # and so many times what keeping took: a twentieth of the time at most


class NowAndThen:
    """Does something when it is called, unless it has been done a moment ago."""

    def __init__(self, do: Callable[[], None], clock: Callable[[], float] = time.monotonic):
        self.do, self.clock = do, clock
        self.next = clock() + LEAST_S

    def __call__(self) -> None:
        """Do it, if it is time."""
        start = self.clock()
        if start < self.next:
            return
        self.do()
        end = self.clock()
        self.next = end + max(LEAST_S, SHARE * (end - start))
