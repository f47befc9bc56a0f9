"""Putting a row of the logbook right: what is typed becomes fields before and after, and the row must still be a possible one."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from sim.errors import InputError, any_of
from sim.own_counts.columns import COUNTS
from sim.own_counts.sheet_file import row_typed
from sim.own_counts.tally import Row

FIELDS = ("bout", "minutes", "clock", *COUNTS, "changed", "players")
"""What can be put right; another day is another row: withdraw this one and give it anew."""


def cell(row: Row, field: str) -> str:
    """A field of a row as it is typed; "" where there is nothing."""
    if field in COUNTS:
        return str(row.counts[field]) if field in row.counts else ""
    value = getattr(row, field)
    return "" if value is None else f"{value:g}" if field == "minutes" else str(value)


def corrected(row: Row, typed: Sequence[str], today: date) -> list[tuple[str, str, str]]:
    """(field, before, after) of each change from FIELD=VALUE as typed; refused where the row would be no possible one."""
    fields = {}
    for one in typed:
        field, equals, value = one.partition("=")
        if not equals or field.strip() not in FIELDS:
            raise InputError(f"must read FIELD=VALUE, FIELD one of {any_of(FIELDS)} (got {one!r})", "FIELD=VALUE")
        fields[field.strip()] = value.strip()
    plain: dict[str, object] = {field: cell(row, field) for field in FIELDS}
    checked = row_typed(plain | fields | {"date": row.day}, None, today, options=False)
    changes = [
        (field, cell(row, field), cell(checked, field)) for field in fields if cell(row, field) != cell(checked, field)
    ]
    if not changes:
        raise InputError(f"must change something (got {', '.join(typed)}, as it is)", "FIELD=VALUE")
    return changes
