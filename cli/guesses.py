"""Options that somebody guesses: the name of something that can be set, typed as an option of its own."""

from __future__ import annotations


def meant_by(error: Exception) -> str | None:
    """What to write instead of ``--touches 1``; None where the error is another, or no everyday name was meant.

    Told by the option that the error names: its class is private in typer, and in older ones that we allow it is another.
    """
    option = getattr(error, "option_name", None)
    if not isinstance(option, str) or not option.startswith("--"):
        return None
    from sim.game.everyday import NAMES  # heavy: only where something is wrong

    word = option.removeprefix("--")
    return f"{option} is not an option: write --set {word}=VALUE" if word in NAMES else None
