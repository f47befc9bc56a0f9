"""How far the work is: one line on stderr that rewrites itself, and only where a person is watching.

`rich.progress` keeps the count, the speed and the time left and lays out the line; it is written here, so that the cursor
stays where it is and no thread runs beside processes that are being made.
"""

from __future__ import annotations

import os
import sys
import time
from typing import Self

from cli.console import encoding_of, fit
from sim.words.world import left_in_words, ready_in_words, speed_in_words

EVERY_S = 0.1  # nobody reads more lines in a second
BAR = 24  # columns
WIDEST = 79  # columns: one less than the narrowest usual terminal, whose last one would begin a new line


class Progress:
    """Called with (done, total); shows at most ten lines a second and wipes its line at the end."""

    def __init__(self, noun: str):
        self.noun = noun
        self.watched = sys.stderr.isatty()
        self.width = 0
        self.last = 0.0
        self.bar: Bar | None = None

    def __enter__(self) -> Self:
        if self.watched:
            from sim.compiled import is_complete

            self._show(ready_in_words(is_complete()))
        return self

    def __exit__(self, *_: object) -> None:
        self._show("")
        if self.watched:
            sys.stderr.write("\r")
            sys.stderr.flush()

    def __call__(self, done: int, total: int) -> None:
        """So much of `total` is done."""
        now = time.monotonic()
        if self.watched and now - self.last >= EVERY_S:
            self.last = now
            self.bar = self.bar or Bar(self.noun)
            self._show(self.bar.line(done, total, line_width()))

    def say(self, line: str) -> None:
        """Show this line now."""
        self._show(line)

    def _show(self, line: str) -> None:
        if not self.watched:
            return
        line = fit(line, encoding_of(err=True))[: line_width()]
        self.width = min(max(self.width, len(line)), line_width())
        sys.stderr.write("\r" + line.ljust(self.width))
        sys.stderr.flush()


class Bar:
    """How far it is, in one line: a bar, done and total, how fast, how long still."""

    def __init__(self, noun: str):
        from rich.console import Console
        from rich.progress import BarColumn, ProgressColumn, Task, TextColumn
        from rich.progress import Progress as Work
        from rich.text import Text

        class Told(ProgressColumn):
            """Speed and time left, as far as they are known."""

            def render(self, task: Task) -> Text:
                """What is known, with a comma between."""
                known = (speed_in_words(task.speed), left_in_words(task.time_remaining))
                return Text(", ".join(one for one in known if one))

        drawn = [BarColumn(BAR)] if encoding_of(err=True).lower().startswith("utf") else []
        text = TextColumn("{task.completed:.0f} of {task.total:.0f} " + noun.replace("{", "{{").replace("}", "}}"))
        self.page = Console(width=WIDEST, color_system=None, legacy_windows=False, force_jupyter=False)
        self.work = Work(*drawn, text, Told(), console=self.page, auto_refresh=False, get_time=lambda: time.monotonic())
        self.task = self.work.add_task("", total=None)

    def line(self, done: int, total: int, width: int) -> str:
        """The line after this much, in so many columns."""
        self.work.update(self.task, completed=done, total=total)
        with self.page.capture() as caught:
            self.page.print(self.work.get_renderable(), width=width, no_wrap=True, crop=True)
        return caught.get().splitlines()[0].rstrip()


def line_width() -> int:
    """How many columns may be written on the terminal behind stderr without a line going over its end."""
    try:
        found = os.get_terminal_size(sys.stderr.fileno()).columns
    except (OSError, ValueError):
        found = 0
    return min(WIDEST, max(1, found - 1)) if found else WIDEST  # 0: a terminal that does not know
