"""Small things sentences are put together from: lists, numbers in words, amounts, times."""

from __future__ import annotations

from collections.abc import Iterable

from sim.errors import any_of
from sim.words.plurals import counted

WORDS = ("one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten")
MINUTE_S, WHOLE_S = 60, 6  # times from a minute on are said in minutes where a tenth of one is enough


def listed(words: Iterable[str], last: str = "and") -> str:
    """``a, b and c``."""
    return any_of(list(words), last)


def number(value: float) -> str:
    """To one decimal, without needless nought."""
    return f"{round(value, 1):g}"


def number_word(value: float) -> str:
    """Whole numbers up to ten in words, others in figures."""
    return WORDS[int(value) - 1] if value in range(1, len(WORDS) + 1) else f"{round(value, 1):g}"


def some(count: float, one: str) -> str:
    """``one pass``, ``8 balls``: an amount of something, up to ten in words."""
    return f"{number_word(count)} {counted(one, count)}"


def time(seconds: float) -> str:
    """``2 min``, ``1.5 min``, ``45 s``."""
    minutes = seconds >= MINUTE_S and seconds % WHOLE_S == 0
    return f"{number(seconds / MINUTE_S)} min" if minutes else f"{number(seconds)} s"


def capital(sentence: str) -> str:
    """A sentence with a capital letter."""
    return sentence[:1].upper() + sentence[1:]


def small(sentence: str) -> str:
    """A sentence as it goes on after a colon: with a small letter."""
    return sentence[:1].lower() + sentence[1:]
