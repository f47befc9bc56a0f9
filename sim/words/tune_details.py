"""A tune with everything behind it, for `--details`: the whole curve, how sure, and what else moves."""

from __future__ import annotations

from collections.abc import Mapping

from sim.experiments.comparison import Row
from sim.experiments.shares import is_share
from sim.experiments.tuned import Point, Tuned
from sim.words.assumptions import replaced_in_words
from sim.words.compare_details import gap
from sim.words.differences import both
from sim.words.figures import span, two
from sim.words.listing import capital
from sim.words.losses import USUALLY, footer
from sim.words.measure_phrases import clock_of, name_in_table
from sim.words.screen import folded
from sim.words.tables import table

ON_TARGET = {"at": "as good as on target", "below": "below it", "above": "above it"}
EXTREME = {"at": "may be it", "below": "not it", "above": "not it"}
CHOSEN = ", the nearest"
BEST = ", the answer"

Labels = Mapping[tuple[int, ...], str]
"""What each value of the knobs comes to, in words: ``8 x 8 m``."""


def details_of_tuned(found: Tuned, labels: Labels | None = None, width: int | None = None) -> str:
    """Everything about a tune; `width`: columns of the terminal, None in a pipe."""
    parts = [
        "\n".join(curve(found, labels or {}, width)),
        "\n".join(effects(found, width)),
        how_sure(found),
        replaced_in_words(found.provenance.assumptions),
        "\n".join([footer(measures_in(found)), found.cautions[-1]]),
    ]
    return folded("\n\n".join(part for part in parts if part), width)


def measures_in(found: Tuned) -> set[str]:
    """All measures that a tune tells of."""
    return {found.measure, *(row.measure for row in found.effects)}


def scale_of_measure(measure: str) -> float:
    """What a figure is multiplied by to be printed: shares are printed in per cent."""
    return 100.0 if is_share(measure) else 1.0


def key(what: Row | Tuned) -> tuple[str, str]:
    """By what a measure is known: (measure, scope)."""
    return what.measure, what.scope


def measure_name(found: Tuned, what: Row | Tuned) -> str:
    """What the measure of a row, or of the tune itself, is called in a table."""
    return name_in_table(what.measure, what.scope, measures_in(found))


def mean_with_doubt(point: Point, by: float) -> str:
    """``3.1 (2.9 to 3.3)``; `by`: see `scale_of_measure`."""
    return f"{two(by * point.mean)} ({two(by * point.low)} to {two(by * point.high)})"


def usually(point: Point, by: float) -> str:
    """What one evening may bring, ``2.4 to 3.9``; `by`: see `scale_of_measure`."""
    return span(point.evening.low, point.evening.high, lambda value: two(by * value))


def value_label(labels: Labels, values: tuple[int, ...], knobs: tuple[str, ...]) -> str:
    """``13 x 11 m``; ``side 8`` where nothing else is known of it."""
    return labels.get(values) or " and ".join(f"{knob} {value}" for knob, value in zip(knobs, values, strict=True))


def not_extreme(found: Tuned) -> bool:
    """Whether a number is asked for, not the most or the least."""
    return not isinstance(found.target, str)


def curve(found: Tuned, labels: Labels, width: int | None) -> list[str]:
    """Every value that was tried."""
    intro, head, rows = curve_cells(found, labels)
    count = len(found.knobs)
    return [intro, table(head, rows, width, (count, count + 4))]


def curve_cells(found: Tuned, labels: Labels) -> tuple[str, tuple[str, ...], list[list[str]]]:
    """(what it is, head, a row a value)."""
    by = scale_of_measure(found.measure)
    words, chosen = (ON_TARGET, CHOSEN) if not_extreme(found) else (EXTREME, BEST)
    asked = f"the {found.target}" if isinstance(found.target, str) else two(by * found.target)
    rows = [
        [
            *map(str, point.values),
            value_label(labels, point.values, found.knobs),
            mean_with_doubt(point, by),
            usually(point, by),
            str(point.bouts),
            words[point.side] + (chosen if point.values == found.answer else ""),
        ]
        for point in found.curve
    ]
    if found.fresh is not None:
        again = [
            *map(str, found.fresh.values),
            "played again",
            mean_with_doubt(found.fresh, by),
            usually(found.fresh, by),
            str(found.fresh.bouts),
        ]
        rows.append([*again, words[found.fresh.side] if not_extreme(found) else ""])
    head = (*found.knobs, "", measure_name(found, found), "usually", "bouts", f"asked: {asked}")
    intro = f"{measure_name(found, found)}, {clock_of(found.measure)}. In brackets our doubt (95 in 100). {USUALLY}"
    return capital(intro), head, rows


def effects(found: Tuned, width: int | None) -> list[str]:
    """What else moves, against the game as it is, each with its clock."""
    if not found.effects:
        return []
    if all(row.difference in (0, None) for row in found.effects):
        same = "That is the game as it is" if found.as_it_is else "It plays the same as the game as it is"
        return [f"{same}: nothing else moves."]
    others = [row for row in found.effects if key(row) != key(found)]
    open_ = [f"{measure_name(found, row)} ({clock_of(row.measure)})" for row in others if row.verdict == "cannot tell"]
    lines = ["Nothing else changes enough to notice."]
    if rows := effect_cells(found):
        lines = [
            "What else changes. In brackets our doubt about the difference (95 in 100).",
            table(("", "clock", "as it is", "with it", "difference"), rows, width, (0, 1)),
        ]
    if open_:
        lines.append(f"Could still be luck: {', '.join(dict.fromkeys(open_))}.")
    return lines


def effect_cells(found: Tuned) -> list[list[str]]:
    """A row for each other measure that changes: its name, its clock, as it is, with it, the difference."""
    rows = []
    for row in found.effects:
        if key(row) != key(found) and row.verdict.startswith("clear") and row.difference:
            by, (before, now) = scale_of_measure(row.measure), both(row)
            rows.append([measure_name(found, row), clock_of(row.measure), two(by * before), two(by * now), gap(row)])
    return rows


def how_sure(found: Tuned) -> str:
    """Whether another value may be better."""
    close = f"{two(scale_of_measure(found.measure) * found.nearer)} {measure_name(found, found)}"
    if found.sure:
        return f"Sure, 19 times in 20, that no other is better by more than {close}."
    if found.fresh is None:
        return ""
    return f"Not sure that no other is better by more than {close}: all bouts of the budget were played."
