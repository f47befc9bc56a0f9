"""What holds for every small screen: how large it is, how it ends, and what is never said on it."""

from __future__ import annotations

import re

from sim.experiments.cautions import LINE
from sim.words.screen import COMMAND, LINES, WIDTH, whole_commands

STATISTICIANS = (
    "holm", "paired", "pairing", "power", "identified", "quantile", "percentile", "interval", "intervals", "variance", "deviation",
    "standard error", "significant", "significance", "p-value", "confidence", "hypothesis", "regression", "correlation", "median",
    "bootstrap", "monte carlo", "sensitivity", "distribution",
)  # fmt: skip
NOT_OURS = (
    "turnover", "turnovers", "by lot", "nought", "how-manieth", "hangs on", "as a rule", "cannot be told from", "minute of play",
    "not known", "nan", "null", "inf",
)  # fmt: skip
"""What a coach would not say, and what only a program would."""
USUALLY = re.compile(r"usually \d")
MEANING = re.compile(r"(eight|8) sessions in (ten|10)")
DOUBT = "give or take"


def prose(text: str) -> list[str]:
    """The lines that are sentences, not commands to be typed."""
    return [line for line in whole_commands(text).splitlines() if not line.startswith(COMMAND)]


def said(text: str, word: str) -> bool:
    """Whether a word, or some of them in a row, stands there, wherever the line is broken."""
    running = " ".join(" ".join(prose(text)).split()).lower()
    return re.search(rf"(?<![\w.-]){re.escape(word)}(?![\w-])", running) is not None


def holds(text: str, most: int = LINES) -> None:
    """A small screen as it should be, of `most` lines at most, a command counted as one.

    The words of `--details` below it are not its own.
    """
    lines = text.splitlines()
    assert len(whole_commands(text).splitlines()) <= most, f"{len(lines)} lines:\n{text}"
    for line in prose(text):
        assert len(line) <= WIDTH, f"{len(line)} columns: {line}"
    assert lines[-1] == LINE, f"ends with {lines[-1]!r}"
    found = [word for word in (*STATISTICIANS, *NOT_OURS) if said(text, word)]
    assert not found, f"says {found}:\n{text}"
    running = " ".join(" ".join(prose(text)).split())
    assert not re.search(r"\bNone\b(?! of)", running), f"says None:\n{text}"
    if USUALLY.search(running):
        assert len(MEANING.findall(running)) == 1, f"says what usually means, once:\n{text}"
    for line in prose(text):
        assert not (DOUBT in line and USUALLY.search(line)), f"two kinds of range: {line}"
