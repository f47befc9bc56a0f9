"""How far the work is: one line on stderr that rewrites itself, and only where a person is watching."""

from __future__ import annotations

import sys
import time
from typing import Self


class Progress:
    """Called with (done, total); shows at most ten lines a second and wipes its line at the end."""

    def __init__(self, noun: str):
        self.noun = noun
        self.watched = sys.stderr.isatty()
        self.width = 0
        self.last = 0.0

    def __enter__(self) -> Self:
        self._show("starting (the first run on a machine takes a minute)")
        return self

    def __exit__(self, *_: object) -> None:
        self._show("")
        if self.watched:
            sys.stderr.write("\r")
            sys.stderr.flush()

    def __call__(self, done: int, total: int) -> None:
        now = time.monotonic()
        if now - self.last >= 0.1:
            self.last = now
            self._show(f"{done} of {total} {self.noun}")

    def say(self, line: str) -> None:
        """Show this line now."""
        self._show(line)

    def _show(self, line: str) -> None:
        if not self.watched:
            return
        self.width = max(self.width, len(line))
        sys.stderr.write("\r" + line.ljust(self.width))
        sys.stderr.flush()
