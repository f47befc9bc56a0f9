"""What a game file leaves out and what holds instead, as `overload check` tells it."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from sim.game.messages import show
from sim.words.screen import wrapped

HEADING = "Left out of the file, so as usual"
WHERE = "To write one: above the first line in [ ], or inside the { } where its table stands in braces."


def left_out_in_words(left_out: Iterable[tuple[str, Any]]) -> str:
    """Each key that is left out, with its value as one would write it there; nothing where the file says everything."""
    said = [f"{path} = {_plain(value)}" for path, value in left_out]
    return "\n".join([HEADING, *wrapped(f"{'; '.join(said)}.", "  "), *wrapped(WHERE, "  ")]) if said else ""


def left_out_in_brief(left_out: Iterable[tuple[str, Any]]) -> str:
    """How many keys are left out, and how they are shown; nothing where the file says everything."""
    many = len(list(left_out))
    values = "value" if many == 1 else "values"
    return (
        "\n".join(wrapped(f"{many} {values} left out of the file, so as usual; --details shows them.")) if many else ""
    )


def _plain(value: Any) -> str:
    """A value as it is written, whole numbers without a point."""
    if isinstance(value, dict):
        return f"{{ {', '.join(f'{key} = {_plain(one)}' for key, one in value.items())} }}"
    whole = isinstance(value, float) and value.is_integer()
    return show(int(value) if whole else value)
