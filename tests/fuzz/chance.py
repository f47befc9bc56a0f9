"""What is drawn for a random game: one of these, so many, or nothing.  From any source of random numbers, so that `hypothesis` may
be it and shrink, or a seed, where five hundred games have to come quickly."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from random import Random
from typing import Any


class Chance:
    """Draws; what shrinks towards nothing comes first."""

    def __init__(self, source: Random):
        self.source = source

    def yes(self, share: float = 0.5) -> bool:
        """True in so many cases."""
        return self.source.random() >= 1.0 - share

    def one(self, options: Iterable[Any]) -> Any:
        """One of these."""
        return self.source.choice(list(options))

    def whole(self, low: int, high: int) -> int:
        """A whole number, both ends included."""
        return self.source.randint(low, high)

    def real(self, low: float, high: float) -> float:
        """Any number; one time in three a whole one, as people write them, where there is one."""
        least, most = int(low) + (low > int(low)), int(high)
        if 0 <= least <= most and self.yes(1 / 3):
            return float(self.source.randint(least, most))
        return self.source.uniform(low, high)

    def some(self, options: Iterable[Any], least: int = 0, most: int | None = None) -> list:
        """Some of these, each once."""
        held = list(options)
        many = self.source.randint(min(least, len(held)), len(held) if most is None else min(most, len(held)))
        return self.source.sample(held, many)

    def perhaps(self, table: dict, **makers: Callable[[], Any]) -> dict:
        """The table with some of these values as well."""
        return table | {key: make() for key, make in makers.items() if self.yes()}
