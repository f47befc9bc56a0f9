"""How a whole file writes numbers and days: as its layout says, else as its cells show; what they leave open is asked for."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass

from sim.device_files.cells import MARKS, ORDERS, marks_of, orders_of
from sim.device_files.layouts import COUNTED, MEASURED, Layout
from sim.device_files.tables import Cell, Table, plain
from sim.errors import InputError, any_of
from sim.game.messages import show


@dataclass(frozen=True)
class Conventions:
    """The decimal `mark` ("." or ","), and whether day or month comes first (`ORDERS`)."""

    mark: str
    order: str


def places_of(table: Table, layout: Layout) -> dict[str, int]:
    """Where each column of the layout stands; one of which there are two is refused."""
    wanted = dict(layout.columns) | {f"{one}_from": name for one, name in layout.start_columns.items()}
    names = [plain(one) for one in table.head]
    double = sorted({name for name in wanted.values() if names.count(plain(name)) > 1})
    if double:
        raise InputError([f"column {show(one)} must stand there once (got it twice)" for one in double], layout.name)
    return {key: names.index(plain(name)) for key, name in wanted.items()}


def conventions_of(table: Table, layout: Layout, places: dict[str, int], source: str) -> Conventions:
    """What the file and its layout say; refused where both leave it open, or the cells contradict each other."""
    numbers = column_cells(table, [places[one] for one in (*MEASURED, *COUNTED) if one in places])
    days = column_cells(table, [places["date"]] if "date" in places else [])
    mark = settled(layout.decimal_mark and MARKS[layout.decimal_mark], numbers, marks_of)
    order = settled(layout.date_order, days, orders_of)
    problems = []
    if not mark:
        problems.append(open_question(layout.name, "decimal_mark", tuple(MARKS), numbers, marks_of))
    if not order:
        problems.append(open_question(layout.name, "date_order", ORDERS, days, orders_of))
    if problems:
        raise InputError(problems, source)
    return Conventions(mark, order)


def column_cells(table: Table, places: Sequence[int]) -> list[Cell]:
    """All cells of these columns."""
    return [cells[i] for _, cells in table.rows for i in places if i < len(cells)]


def settled(said: str, cells: Sequence[Cell], shown_by: Callable[[Iterable[Cell]], set[str]]) -> str:
    """What is said, else what all cells show that show anything; "" where that is left open."""
    if said:
        return said
    shown = shown_by(cells)
    if not shown:
        return MARKS["point"] if shown_by is marks_of else ORDERS[0]  # nothing in the file hangs on it
    clear = shown - {"?"}
    return clear.pop() if len(clear) == 1 else ""


def open_question(
    name: str, key: str, words: Sequence[str], cells: Sequence[Cell], shown_by: Callable[[Iterable[Cell]], set[str]]
) -> str:
    """What to write into the layout, with cells that show why."""
    kinds: dict[str, Cell] = {}
    for cell in cells:
        for kind in shown_by([cell]):
            kinds.setdefault(kind, cell)
    either = kinds.pop("?", "")
    if kinds:
        got = f"{any_of([show(str(one)) for one in kinds.values()], 'and')}, which contradict each other"
    else:
        got = f"{show(str(either))}, which can be read both ways"
    return f"[{name}].{key} must say {any_of([show(word) for word in words])} (got {got})"
