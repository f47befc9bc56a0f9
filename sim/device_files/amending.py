"""Putting a row of a device right: what is typed becomes fields before and after, and the row must still be a possible one."""

from __future__ import annotations

import math
from collections.abc import Sequence

from sim.device_files.entries import impossible
from sim.errors import InputError, any_of
from sim.game.messages import show
from sim.own_counts.delivered import LOADS, WHOLE, WORDS, Delivered, put

FIELDS = ("player", "role", "bout", "minutes", *LOADS)
"""What can be put right; another day or drill is another row: withdraw this one, and hand it in anew."""
STARTS = {"fast_metres": "fast_from", "sprint_metres": "sprint_from"}
"""What says from which speed on metres count."""
WHERE = "FIELD=VALUE"


def cell(row: Delivered, field: str) -> str:
    """A field of a row as it is typed; "" where there is nothing."""
    value = getattr(row, field)
    return "" if value is None else value if isinstance(value, str) else f"{value:g}"


def amended(row: Delivered, typed: Sequence[str]) -> list[tuple[str, str, str]]:
    """(field, before, after) of each change from FIELD=VALUE as typed; refused where the row would be no possible one."""
    after, changes = row, []
    for one in typed:
        field, equals, text = (part.strip() for part in one.partition("="))
        if not equals or field not in FIELDS:
            raise InputError(f"must read {WHERE}, FIELD one of {any_of(FIELDS)} (got {one!r})", WHERE)
        require_value(row, field, text)
        if cell(put(row, field, text), field) != cell(row, field):
            changes.append((field, cell(row, field), text))
            after = put(after, field, text)
    if not changes:
        raise InputError(f"must change something (got {', '.join(typed)}, as it is)", WHERE)
    if reason := impossible(after, after.minutes):
        raise InputError(f"must leave a row that can be (got one {reason})", WHERE)
    return changes


def require_value(row: Delivered, field: str, text: str) -> None:
    """Refuse what cannot stand in a field."""
    if field in WORDS:
        if field == "player" and not text:
            raise InputError("player must name somebody (got nothing)", WHERE)
        return
    if not text:
        if field == "minutes":
            raise InputError("minutes must be given (got nothing)", WHERE)
        return
    try:
        value = int(text) if field in WHOLE else float(text)
    except ValueError:
        kind = "a whole number" if field in WHOLE else "a number"
        raise InputError(f"{field} must be {kind} (got {show(text)})", WHERE) from None
    if not math.isfinite(value):
        raise InputError(f"{field} must be a number (got {show(text)})", WHERE)
    if field in STARTS and not getattr(row, STARTS[field]):
        raise InputError(f"{field} must stay empty, as the file says no speed for it (got {show(text)})", WHERE)
