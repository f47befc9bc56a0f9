"""Tables of words and figures, laid out by `rich`: folded to fit a terminal, a line a row in a pipe."""

from __future__ import annotations

import io
from collections.abc import Sequence

BESIDE = 2  # spaces between two columns
NO_LIMIT = 10_000  # columns: no table of ours is wider


def table(head: Sequence[str], rows: Sequence[Sequence[str]], width: int | None = None, left: Sequence[int] = (0,)) -> str:
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
    for i in range(count):
        side = "left" if i in left else "right"
        laid.add_column(Text(head[i]) if head else "", justify=side, overflow="fold", no_wrap=width is None)
    for row in rows:
        laid.add_row(*(Text(cell) for cell in row))
    out = Console(file=io.StringIO(), width=width or NO_LIMIT, color_system=None, legacy_windows=False, force_terminal=False)
    out.print(laid)
    return "\n".join(line.rstrip() for line in out.file.getvalue().splitlines())
