"""`--plot FILE`: refused before the first bout where it cannot be, drawn after the answer, its numbers beside it."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from cli.console import say

if TYPE_CHECKING:
    from sim.game.model import Game
    from sim.plots.page import Page

SUFFIXES = (".png", ".svg", ".pdf")
TABLE = ".csv"
BESIDE = ".numbers.csv"
"""How the numbers' file ends where another option writes the one that would be theirs."""


def numbers_of(plot: Path | None, *others: Path | str | None) -> Path | None:
    """Where the numbers of a picture go: beside it, under another name where one of `others` is written there."""
    if plot is None or not any(is_same(other, plot.with_suffix(TABLE)) for other in others):
        return None
    return plot.with_suffix(BESIDE)


def is_same(other: Path | str | None, place: Path) -> bool:
    """Whether another option writes this file ("-" is no file)."""
    return other not in (None, "-") and Path(other).resolve() == place.resolve()


def require_plot(plot: Path | None, *others: Path | str | None, numbers: Path | None = None) -> None:
    """Refuse a suffix we cannot draw, a place that cannot be written, and a table that would fall on one of `others`.

    `numbers`: where they go, if not into the table of the same name.
    """
    from cli.files import require_place
    from sim.errors import InputError

    if plot is None:
        return
    if plot.suffix.lower() not in SUFFIXES:
        raise InputError(f"must end in {', '.join(SUFFIXES[:-1])} or {SUFFIXES[-1]} (got {str(plot)!r})", "--plot")
    for place in (plot, numbers or plot.with_suffix(TABLE)):
        require_place("--plot", place)
        if any(is_same(other, place) for other in others):
            raise InputError(
                f"must be another file: {str(place)!r} is written by another option (got {str(plot)!r})", "--plot"
            )


def refuse_without(plot: Path | None, **given: object) -> None:
    """Refuse options that only say what is drawn, where nothing is."""
    from sim.errors import InputError

    for option, value in given.items():
        if plot is None and value is not None:
            raise InputError(f"must go with --plot (got {value!r} without)", f"--{option}")


def measure_of(text: str, games: Sequence[Game], by_role: bool = False) -> tuple[str, str]:
    """(measure, scope) of MEASURE or MEASURE.ROLE as typed; all games must have it.  `by_role`: more of them may be asked for."""
    from sim.experiments.everyday import measure_named
    from sim.experiments.key_measures import aims_of, keys_of

    every = [(aims_of if by_role else keys_of)(game) for game in games]
    known = [key for key in every[0] if all(key in own for own in every[1:])]
    return measure_named(text, games[0], known, "--measure")


def give_plot(plot: Path, page: Page, numbers: Path | None = None) -> None:
    """Write the picture and its numbers, both or, where drawing fails, neither; and say where they are."""
    from cli.files import encoded, write_together
    from sim.plots.page import numbers as numbers_in
    from sim.plots.page import picture
    from sim.words.picture_words import NOTHING_TO_DRAW, picture_written

    if page.frame.empty:
        say(NOTHING_TO_DRAW, err=True)
        return
    table = numbers or plot.with_suffix(TABLE)
    drawn, text = picture(page, plot.suffix.lower().removeprefix(".")), numbers_in(page)
    write_together({table: encoded(text), plot: drawn})
    say(picture_written(str(plot), str(table)), err=True)
