"""Cells as numbers, times and days.  What can be read in two ways is not guessed: the whole file decides it, or the layout says it.

A decimal mark is known from any cell that can only be read one way (``12,5``; ``1.234,5``); ``1,234`` alone is not.  Which of day
and month comes first is known from any day above the twelfth.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from datetime import date, timedelta

from sim.device_files.tables import Cell
from sim.game.messages import show

MARKS = {"point": ".", "comma": ","}
ORDERS = ("day first", "month first")
TIMES = ("min", "s", "h:mm:ss", "mm:ss", "h:mm")
UNITS = {"km/h": 1.0, "m/s": 3.6, "km": 1000.0, "m": 1.0}
"""What a number in each unit is in ours (metres, km/h)."""

WITH_UNIT = re.compile(r"(.*?[0-9])\s*(km/h|m/s|km|min|m|s)")
DAY = re.compile(r"([0-9]{1,4})([./-])([0-9]{1,2})\2([0-9]{1,4})(?:[ T].*)?")
CLOCK = re.compile(r"[0-9]{1,4}(?::[0-9]{2}){1,2}(?:[.,][0-9]+)?")
SPACES = dict.fromkeys(map(ord, "\u00a0\u202f'’"), " ")
CENTURY = 2000


class Unreadable(ValueError):
    """Why a cell cannot be read: what it must be."""


def text(cell: Cell) -> str:
    """A cell as text: a whole number without its decimals."""
    if isinstance(cell, float):
        return f"{cell:.0f}" if cell.is_integer() else repr(cell)
    return str(cell).strip()


def parted(cell: Cell) -> tuple[str, str]:
    """(the number in a cell as text, the unit that stands behind it or nothing)."""
    whole = text(cell).translate(SPACES)
    found = WITH_UNIT.fullmatch(whole)
    return (found[1], found[2]) if found else (whole, "")


def mark_shown(cell: Cell) -> str | None:
    """The decimal mark that a cell shows: "." or ","; "?" where it could be either; None where it shows nothing."""
    if not isinstance(cell, str):
        return None
    number, _ = parted(cell)
    used = [one for one in number if one in ".,"]
    if not used or not re.fullmatch(r"[+-]?[0-9., ]+", number):
        return None
    if len(set(used)) == 2:
        return used[-1] if used.count(used[-1]) == 1 else None
    if len(used) > 1:
        return "," if used[0] == "." else "."
    before, _, after = number.lstrip("+-").partition(used[0])
    grouped = re.fullmatch(r"[1-9][0-9]{0,2}", before) and re.fullmatch(r"[0-9]{3}", after)
    return "?" if grouped else used[0]


def marks_of(cells: Iterable[Cell]) -> set[str]:
    """All that is shown by these cells, nothing left out."""
    return {mark for cell in cells if (mark := mark_shown(cell)) is not None}


def number(cell: Cell, mark: str, unit: str = "") -> float:
    """The number in a cell, with this decimal `mark`; a unit behind it must be `unit`."""
    if isinstance(cell, float):
        return cell
    digits, written = parted(cell)
    if written and written != unit:
        raise Unreadable(f"must be in {unit or 'no unit'}, as the layout says (got {show(text(cell))})")
    other = "," if mark == "." else "."
    whole = rf"[0-9]+|[0-9]{{1,3}}(?:[{other} ][0-9]{{3}})+"
    if not re.fullmatch(rf"[+-]?(?:{whole})?(?:[{mark}][0-9]+)?", digits) or not re.search("[0-9]", digits):
        raise Unreadable(f"must be a number (got {show(text(cell))})")
    return float(digits.replace(other, "").replace(" ", "").replace(mark, "."))


def minutes(cell: Cell, unit: str, mark: str) -> float:
    """A duration in minutes, written in `unit` (one of `TIMES`)."""
    if isinstance(cell, timedelta):
        return cell.total_seconds() / 60
    if unit in ("min", "s"):
        found = number(cell, mark, unit)
        return found if unit == "min" else found / 60
    written = text(cell)
    parts = written.replace(",", ".").split(":")
    if not CLOCK.fullmatch(written) or len(parts) != unit.count(":") + 1 or any(float(one) >= 60 for one in parts[1:]):
        raise Unreadable(f"must be {unit} (got {show(written)})")
    first, *rest = (float(one) for one in parts)
    if unit == "h:mm:ss":
        return 60 * first + rest[0] + rest[1] / 60
    return first + rest[0] / 60 if unit == "mm:ss" else 60 * first + rest[0]


def order_shown(cell: Cell) -> str | None:
    """Which of day and month a cell shows first; "?" where it could be either; None where it shows nothing, or the year first."""
    found = DAY.fullmatch(cell.strip()) if isinstance(cell, str) else None
    if found is None or len(found[1]) > 2:
        return None
    first, second = int(found[1]), int(found[3])
    if first > 12:
        return ORDERS[0]
    return ORDERS[1] if second > 12 else "?" if first != second else None


def orders_of(cells: Iterable[Cell]) -> set[str]:
    """All that is shown by these cells."""
    return {order for cell in cells if (order := order_shown(cell)) is not None}


def day(cell: Cell, order: str) -> date:
    """The day in a cell, with day or month first as `order` says; four digits in front are the year."""
    if isinstance(cell, date):
        return cell
    found = DAY.fullmatch(text(cell))
    try:
        if found is None:
            raise ValueError
        first, second, third = int(found[1]), int(found[3]), int(found[4])
        if len(found[1]) == 4:
            return date(first, second, third)
        year = third if len(found[4]) == 4 else CENTURY + third
        if len(found[1]) > 2 or len(found[4]) not in (2, 4):
            raise ValueError
        return date(year, second, first) if order == ORDERS[0] else date(year, first, second)
    except ValueError:
        raise Unreadable(f"must be a day, such as 2026-11-28 or 28.11.2026 (got {show(text(cell))})") from None
