"""What is said of a logbook: what has been kept, what is in it, and what was put right."""

from __future__ import annotations

from collections.abc import Sequence

from sim.errors import InputError
from sim.own_counts.columns import COUNTS
from sim.own_counts.delivered import COLUMNS, Amendment, Delivery
from sim.own_counts.logbook import WITHDRAWN, Correction, Evening, Kept
from sim.own_counts.planning import Plan
from sim.own_counts.tally import Row
from sim.words.listing import listed, some
from sim.words.own_counts import day
from sim.words.tables import table

NOT_JUDGED = " The forecast was stopped and is not kept: give the same command again."
LONGER_THAN_PLANNED = " More was counted than was planned: that is held against a forecast made now."
EMPTY = "Nothing is in this logbook yet."


def kept(new: int, rows: int, path: str) -> str:
    """``Kept in club.log: four rows.``"""
    if not new:
        return f"Already in {path}: nothing was written twice. A second count of the same kind needs --bout."
    there = "" if new == rows else f" ({some(rows - new, 'row')} were there already)"
    return f"Kept in {path}: {some(new, 'row')}{there}."


def counts_of(row: Row) -> str:
    """``losses 14, wins 5``."""
    return ", ".join(f"{name.replace('_', ' ')} {row.counts[name]}" for name in COUNTS if name in row.counts)


def note(one: Kept) -> str:
    """What is to be known of a row besides."""
    return "; ".join(
        part
        for part in ("withdrawn" if one.withdrawn else "", one.row.changed and f"changed: {one.row.changed}")
        if part
    )


def listed_in_words(evenings: Sequence[Evening], forecasts: int, corrections: int, width: int | None) -> str:
    """All rows, the earliest first, and how much else there is."""
    rows = [
        (str(one.id), day(evening.day), evening.game, "" if one.row.bout is None else str(one.row.bout),
         f"{one.row.minutes:g} {one.row.clock}", counts_of(one.row), note(one))
        for evening in evenings
        for one in evening.rows
    ]  # fmt: skip
    if not rows:
        return EMPTY
    text = table(("row", "date", "game", "bout", "minutes", "counted", ""), rows, width, left=(1, 2, 4, 5, 6))
    return f"{text}\n\n{some(forecasts, 'forecast')}, {some(corrections, 'correction')}."


def plans_in_words(plans: Sequence[Plan], evenings: Sequence[Evening]) -> str:
    """What is planned and not counted yet, a line each; nothing where there is nothing of it."""
    counted = {(evening.day, evening.setup) for evening in evenings}
    last = {(plan.day, plan.setup): plan for plan in plans if (plan.day, plan.setup) not in counted}
    return "\n".join(
        f"Planned for {day(plan.day)}, not counted yet: {plan.game} (forecast kept {plan.made})."
        for plan in last.values()
    )


def files_in_words(files: Sequence[Delivery]) -> str:
    """The files of devices that were handed in, a line each."""
    return "\n".join(
        f"File {one.id}: {one.name}, {some(len(one.rows), 'row')}, handed in on {day(one.made[:10])}"
        + amended_in_words(one)
        + (f"; taken back ({one.taken_back})." if one.taken_back else ".")
        for one in files
    )


def amended_in_words(one: Delivery) -> str:
    """``; line 2 put right, line 5 withdrawn``."""
    gone = {change.line for change in one.amended if change.field == WITHDRAWN}
    right = {change.line for change in one.amended} - gone
    said = [(right, "put right"), (gone, "withdrawn")]
    return "".join(
        f"; {'line' if len(lines) == 1 else 'lines'} {listed([str(line) for line in sorted(lines)])} {what}"
        for lines, what in said
        if lines
    )


def line_in_words(found: Delivery, line: int) -> str:
    """One row of a file of a device with everything, and what was put right in it."""
    own = [change for change in found.amended if change.line == line]
    row = next((one for one in found.rows if one.line == line), None)
    if row is None and not own:
        raise InputError(f"must be a line of file {found.id} that was kept (got {line})", "ROW")
    lines = [f"File {found.id} ({found.name}), line {line}:"]
    if row is None:
        lines.append("  withdrawn: it does not count")
    else:
        lines += [
            f"  {name.replace('_', ' ')}: {value:g}"
            if isinstance(value, float)
            else f"  {name.replace('_', ' ')}: {value}"
            for name in (*COLUMNS[1:],)
            if (value := getattr(row, name)) not in (None, "")
        ]
    return "\n".join([*lines, *(changed_in_words(change) for change in own)])


def changed_in_words(change: Correction | Amendment) -> str:
    """One correction: when, who, what and why."""
    before, after = change.before or "nothing", change.after or "nothing"
    return f"  {change.made} {change.who}: {change.field} {before} -> {after} ({change.why})"


def shown_in_words(one: Kept, evening: Evening, corrections: Sequence[Correction]) -> str:
    """One row with everything, and its corrections in order."""
    row = one.row
    lines = [
        f"Row {one.id}: {evening.game} ({evening.typed}), {day(evening.day)}",
        f"  bout: {'not said' if row.bout is None else row.bout}",
        f"  minutes: {row.minutes:g} on the {row.clock}"
        if row.clock == "watch"
        else f"  minutes: {row.minutes:g}, ball rolling",
        f"  counted: {counts_of(row)}",
        *([f"  changed: {row.changed}"] if row.changed else []),
        *([f"  players: {row.players}"] if row.players else []),
        *(["  withdrawn: it does not count"] if one.withdrawn else []),
    ]
    return "\n".join([*lines, *(changed_in_words(change) for change in corrections)])
