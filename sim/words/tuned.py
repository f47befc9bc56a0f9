"""The answer of a tune as a coach reads it: the value, how sure, the curve, what else moves, footer."""

from __future__ import annotations

from sim.experiments.tuned import Point, Tuned
from sim.words.comparison import NAMES, TURNOVER, gap
from sim.words.figures import two


def tuned_in_words(found: Tuned) -> str:
    """Everything `overload tune` prints."""
    parts = [
        headline(found),
        "\n".join(curve(found)),
        "\n".join(effects(found)),
        "\n".join([TURNOVER, *found.cautions]),
    ]
    return "\n\n".join(parts)


def scale(found: Tuned) -> float:
    return next(100.0 if row.unit == "share" else 1.0 for row in found.effects if key(row) == key(found))


def key(what) -> tuple[str, str]:
    return what.measure, what.scope


def name_of(what) -> str:
    return NAMES[what.measure] + (f" {what.scope.removeprefix('role:')}" if what.scope != "game" else "")


def clock(found: Tuned) -> str:
    return next(row.clock for row in found.effects if key(row) == key(found))


def said(point: Point, by: float) -> str:
    return f"{two(by * point.mean)} ({two(by * point.low)} to {two(by * point.high)})"


def headline(found: Tuned) -> str:
    """What was asked, the answer, and the word of confidence."""
    by = scale(found)
    asked = f"{found.game.title}, {two(by * found.target)} {name_of(found)} ({clock(found)})"
    fresh = f"played again on fresh sessions it gives {said(found.fresh, by)}"
    ends = f"{found.curve[0].value} and {found.curve[-1].value}"
    if not found.reached:
        return (
            f"{asked}: no, {found.knob} between {ends} does not get there. The nearest is {found.answer}; {fresh}.\n"
            f"Try next: another knob, or values outside {ends}."
        )
    others = [str(value) for value in found.as_good if value != found.answer]
    lines = [f"{asked}: {found.knob} = {found.answer}; {fresh}."]
    if others:
        lines.append(f"Just as good, as far as can be told: {', '.join(others)}.")
    if not found.as_good:
        lines.append("No whole value hits it: the target lies between two of them, and this is the nearer.")
    if found.fresh.side != "at":
        lines.append(f"Careful: on fresh sessions it is {found.fresh.side} the target.")
    if found.crossings > 1:
        lines.append("Careful: the curve does not go one way; look at the whole of it.")
    lines.append("What would change it: other players (--population), or your own counts. To narrow it: more --bouts.")
    return "\n".join(lines)


def curve(found: Tuned) -> list[str]:
    """Every candidate."""
    by = scale(found)
    rows = [(found.knob, f"{name_of(found)}, 95 % range", "bouts", "target")]
    words = {"at": "cannot be told from it", "below": "below it", "above": "above it"}
    rows += [(str(point.value), said(point, by), str(point.bouts), words[point.side]) for point in found.curve]
    widths = [max(len(row[i]) for row in rows) for i in range(3)]
    return [
        "  ".join([*(cell.rjust(width) for cell, width in zip(row[:3], widths, strict=True)), row[3]]) for row in rows
    ]


def effects(found: Tuned) -> list[str]:
    """What else moves, against the game as it is."""
    if all(row.difference in (0, None) for row in found.effects):
        return ["That is the game as it is: nothing else moves."]
    moved = [row for row in found.effects if key(row) != key(found) and row.verdict.startswith("clear")]
    if not moved:
        return ["Against the game as it is nothing else clearly moves."]
    lines = ["What else moves, against the game as it is (95 % range of the difference):"]
    for row in moved:
        by = 100.0 if row.unit == "share" else 1.0
        lines.append(f"  {name_of(row)} ({row.clock}): {two(by * row.first)} -> {two(by * row.second)}, {gap(row)}")
    return lines
