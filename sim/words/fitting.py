"""What fits on a screen: of the things beside the answer as many as there is room for, the first of them first."""

from __future__ import annotations

from collections.abc import Sequence

from sim.results import Replaced
from sim.words.assumptions import replaced_in_words
from sim.words.screen import LINES, MOST_BESIDE, Screen, wrapped


def fitted(
    asked: str,
    answer: Sequence[str],
    beside: Sequence[str],
    doing: Sequence[str],
    cautions: Sequence[str],
    flowing: bool = False,
) -> str:
    """The screen; what is left out of `beside` stands behind ``--details``.  Nothing else is ever left out.

    `flowing`: the sentences of the answer may follow each other on one line, so that at least one thing beside it finds room.
    """
    layouts = [answer, [" ".join(answer)]] if flowing else [answer]
    for least in (1, 0):
        for said in layouts:
            for count in range(min(len(beside), MOST_BESIDE), least - 1, -1):
                text = Screen(asked, said, beside[:count], doing, cautions).text()
                if len(text.splitlines()) <= LINES:
                    return text
    return Screen(asked, layouts[-1], [], doing, cautions).text()


def folded(text: str, width: int | None) -> str:
    """Sentences folded to fit a terminal (None: a pipe, where they stay as they are); tables fit already, commands stay whole."""
    if width is None:
        return text
    lines = text.splitlines()
    return "\n".join(part for line in lines for part in (wrapped(line, width=width) if len(line) > width else [line]))


def own_assumptions(replaced: Sequence[Replaced]) -> list[str]:
    """What was replaced by the user, in one line for the small screen; how many where there are several."""
    if len(replaced) > 1:
        return [f"Played with {len(replaced)} assumptions of your own (--details names them)."]
    return [replaced_in_words(replaced)] if replaced else []
