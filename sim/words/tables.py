"""Tables of words and figures, laid out by `rich`: folded to fit a terminal, a line a row in a pipe."""

from __future__ import annotations

import io
from collections.abc import Sequence
from typing import Literal

BESIDE = 2  # spaces between two columns
NARROWEST = 6  # columns of the terminal for each of the table: below it any layout is as good as another
NO_LIMIT = 10_000  # columns: no table of ours is wider


def table(
    head: Sequence[str], rows: Sequence[Sequence[str]], width: int | None = None, left: Sequence[int] = (0,)
) -> str:
    """A table in plain text.

    `head`: the names of the columns (empty: no line of names).  `rows`: cells, as many as columns.  `width`: columns of
    the terminal, where cells are folded to fit (None: a pipe, where every row is one line).  `left`: which columns begin
    at the left; the others are figures and end at the right.
    """
    from rich.console import Console
    from rich.table import Table
    from rich.text import Text

    count = len(head) or max((len(row) for row in rows), default=0)
    laid = Table(box=None, show_header=bool(head), padding=(0, BESIDE, 0, 0), pad_edge=False, header_style="")
    widths = None if width is None else whole_words(head, rows, count, width, left)
    for i in range(count):
        side: Literal["left", "right"] = "left" if i in left else "right"
        own = widths[i] if widths else None
        laid.add_column(Text(head[i]) if head else "", justify=side, overflow="fold", no_wrap=width is None, width=own)
    for row in rows:
        laid.add_row(*(Text(cell) for cell in row))
    out = io.StringIO()
    Console(file=out, width=width or NO_LIMIT, color_system=None, legacy_windows=False, force_terminal=False).print(
        laid
    )
    return "\n".join(line.rstrip() for line in out.getvalue().splitlines())


def whole_words(
    head: Sequence[str], rows: Sequence[Sequence[str]], count: int, width: int, left: Sequence[int]
) -> list[int] | None:
    """How wide each of `count` columns is so that as few words as can be are broken; None where there is no room for them at all.

    Each has room for its longest word (the widest have to give way where even that is too much).  What is left goes to cells that
    could stand in one line, names first, then to heads.
    """
    cells = [[row[i] for row in rows if i < len(row)] for i in range(count)]
    heads = [head[i] if head else "" for i in range(count)]
    words = [[word for cell in (*cells[i], heads[i]) for word in cell.split()] for i in range(count)]
    widths = [max(map(len, own), default=1) for own in words]
    spare = width - sum(widths) - BESIDE * (count - 1)
    if width < NARROWEST * count:
        return None
    while spare < 0:
        widths[widths.index(max(widths))] -= 1
        spare += 1
    bodies = [(i, max(map(len, cells[i]), default=1)) for i in sorted(range(count), key=lambda i: i not in left)]
    for i, wish in (*bodies, *enumerate(map(len, heads))):
        more = min(spare, max(wish - widths[i], 0))
        widths[i], spare = widths[i] + more, spare - more
    return widths
