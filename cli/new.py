"""`overload new 5v2 --side 11 --touches 2`: starts a game file from the coach's numbers."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from cli import options
from cli.console import say


def new(
    numbers: Annotated[
        str,
        typer.Argument(metavar="NUMBERS", help="5v2, 6v3, or 4v4+2 with two floaters: who begins with the ball first."),
    ],
    side: Annotated[
        int | None,
        options.bounded("--side", 2, options.MOST_STEP, "Length of the area in metres (default: by the numbers)."),
    ] = None,
    width: Annotated[
        int | None, options.bounded("--width", 2, options.MOST_STEP, "Its width, if it is no square.")
    ] = None,
    touches: Annotated[
        int | None, options.bounded("--touches", 1, 10, "Most touches in a row (default: free).")
    ] = None,
    pairs: Annotated[bool, typer.Option("--pairs", help="Who loses it goes in with his partner.")] = False,
    out: Annotated[
        Path | None, typer.Option("--out", metavar="FILE", help="Write it there (default: print it).")
    ] = None,
) -> None:
    """Start a game file from your numbers: short, ready to be changed by hand."""
    from sim.groups.starting import Wish, file_of, numbers_of

    text = file_of(Wish(numbers_of(numbers), side, width, touches, pairs))
    if out is None:
        say(text.rstrip("\n"))
        return
    from cli.files import require_place, write_whole

    require_place("--out", out)
    write_whole(out, text)
