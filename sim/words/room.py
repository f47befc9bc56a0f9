"""What fits on a screen: of the things beside the answer as many as there is room for, the first of them first."""

from __future__ import annotations

from collections.abc import Sequence

from sim.results import Replaced
from sim.words.assumptions import replaced_in_words
from sim.words.screen import LINES, MOST_BESIDE, Screen


def fitted(
    asked: str, answer: Sequence[str], beside: Sequence[str], doing: Sequence[str], cautions: Sequence[str], flowing: bool = False
) -> str:
    """The screen; what is left out of `beside` stands behind ``--details``.  Nothing else is ever left out.

    `flowing`: the sentences of the answer may follow each other on one line where room is short.
    """
    for count in range(min(len(beside), MOST_BESIDE), -1, -1):
        text = Screen(asked, answer, beside[:count], doing, cautions).text()
        if len(text.splitlines()) <= LINES:
            return text
    return Screen(asked, [" ".join(answer)] if flowing else answer, [], doing, cautions).text()


def own_assumptions(replaced: Sequence[Replaced]) -> list[str]:
    """What was replaced by the user, in one line for the small screen; how many where there are several."""
    if len(replaced) > 1:
        return [f"Played with {len(replaced)} assumptions of your own (--details names them)."]
    return [replaced_in_words(replaced)] if replaced else []
