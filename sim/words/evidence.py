"""The evidence as people read it: one small screen; or the count first, then every line, then what is known to miss."""

from __future__ import annotations

import math
from collections.abc import Sequence

from sim.evidence.reference_table import Miss
from sim.evidence.table import Count, Line, count, rows_verdicts
from sim.experiments.last_line import LINE
from sim.words.evidence_rows import subject_and_code, subject_of
from sim.words.listing import capital
from sim.words.screen import Screen, folded, wrapped
from sim.words.tables import table as laid_out

HOW_TO_READ = (
    "A measurement is inside when our mean lies within its stated size of the published figure; a direction is "
    "reproduced when the whole 99 % interval lies beyond the smallest size that counts (or inside the band)."
)
MARKS = (
    "Marks, given before the first run: input (a constant was set from it), fitted (the calibration sees it), "
    "predicted (neither). Strength of directions: *** and ** studies agree, * not settled (does not count), trade: common "
    "practice, no source."
)
STOPPED = "Stopped before everything was played: nothing to show."


MOST_OFF = 1  # figures on the small screen that are furthest off


def evidence_screen(lines: Sequence[Line], sessions: str, more: Sequence[str] = ()) -> Screen:
    """What `overload evidence` prints: how often it is right, and where it is not; `more`: counts of the kept tables beside it."""
    lines = list(lines)
    new, known = (count(lines, "measurement", (mark,)) for mark in ("predicted", "fitted"))
    studies, trade = count(lines, "direction", ("***", "**")), count(lines, "direction", ("trade",))
    return Screen(
        asked="How close is it to real games? Every published figure beside ours",
        answer=[
            f"Close enough: {new.inside} of {new.assessed} figures it was not built on, {known.inside} of {known.assessed} it was.",
            f"Change the game, and it goes the way of the studies {studies.inside} times in {studies.assessed}, the way every "
            f"coach knows {trade.inside} times in {trade.assessed}.",
            *(f"{capital(one)}." for one in more),
        ],
        beside=[*furthest_off(lines), *most_often_wrong(lines)][: 2 if more else None],
        doing=[
            "Every row, its source, and what we know about each miss:",
            f"  overload evidence --sessions {sessions} --details",
        ],
        cautions=[LINE],
    )


def furthest_off(lines: Sequence[Line]) -> list[str]:
    """The published figures that ours miss by most, in proportion."""
    missed = [
        line for line in lines if line.kind == "measurement" and line.verdict == "outside" and judged_by_size(line)
    ]
    missed.sort(key=distance, reverse=True)
    return [
        f"Furthest off: {subject_of(line)}: {three_digits(line.ours)} here, {line.published} published."
        for line in missed[:MOST_OFF]
    ]


def judged_by_size(line: Line) -> bool:
    """Whether it is one figure counted beside another, of which one can be so many times the other; not one made of others."""
    try:
        return line.row.isalnum() and line.ours > 0.0 and float(line.published) > 0.0
    except ValueError:
        return False


def distance(line: Line) -> float:
    """How many times too large or too small."""
    times = line.ours / float(line.published)
    return max(times, 1.0 / times)


def most_often_wrong(lines: Sequence[Line]) -> list[str]:
    """The claim of studies, and that of coaches, which is missed in most comparisons."""
    found = []
    for who, marks in (("Studies say", ("***", "**")), ("Every coach knows", ("trade",))):
        claims: dict[str, list[bool]] = {}
        for line in lines:
            if line.kind == "direction" and line.mark in marks and line.verdict:
                claims.setdefault(line.what.partition(" [")[0], []).append(line.verdict == "inside")
        if claims:
            claim, right = max(claims.items(), key=lambda one: one[1].count(False))
            if not all(right):
                found.append(f"{who}: {claim[0].lower()}{claim[1:]}. Here {sum(right)} times in {len(right)}.")
    return found


def evidence_in_words(
    lines: Sequence[Line], misses: Sequence[Miss] = (), size: str = "", width: int | None = None
) -> str:
    """Everything there is to say, in so many columns (None: every row is a line)."""
    lines = list(lines)
    parts = [
        "\n".join(counts_first(lines, size)),
        "Measurements\n" + rows_in_words([line for line in lines if line.kind == "measurement"], width),
        "Directions (change from A to B)\n"
        + rows_in_words([line for line in lines if line.kind == "direction"], width),
        known(misses, lines, width),
        "\n".join(["Sources", *sources(lines)]),
        "\n".join([HOW_TO_READ, MARKS, LINE]),
    ]
    return "\n\n".join(folded(part, width) for part in parts if part)


def counts_first(lines: list[Line], size: str) -> list[str]:
    """How many rows of each kind are right, those that were predicted first."""
    predicted = count(lines, "measurement", ("predicted",))
    fitted = count(lines, "measurement", ("fitted",))
    published = count(lines, "direction", ("***", "**"))
    trade = count(lines, "direction", ("trade",))
    return [
        f"Predicted measurements inside: {of(predicted)}.",
        f"Beside that, directions of the literature reproduced: {of(published)}; facts of the trade: {of(trade)}; "
        f"measurements the calibration has seen, inside: {of(fitted)}.",
        *open_rows(lines),
        *([f"Sessions: {size}."] if size else []),
    ]


def open_rows(lines: list[Line]) -> list[str]:
    """Rows that would count, and have no verdict in this version."""
    told = ("reported", "not played")
    verdicts = rows_verdicts(lines)
    rows = {line.row for line in lines if line.mark != "*" and not line.wanted.startswith(told)}
    found = [row for row in verdicts if row in rows and not verdicts[row]]
    return [f"Without a verdict in this version, and not counted: {', '.join(found)}."] if found else []


def of(found: Count) -> str:
    """``12 of 17``."""
    return f"{found.inside} of {found.assessed}"


def three_digits(value: float) -> str:
    """Three digits: published figures have as many, and some differ by a few per cent only."""
    rounded = float(f"{value:.2e}")
    return f"{rounded:.0f}" if abs(rounded) >= 100 else f"{rounded:.3g}"


def ours(line: Line) -> str:
    """The figure and its interval; changes in per cent."""
    if math.isnan(line.ours):
        return ""
    relative = line.kind == "direction" and not line.wanted.startswith(("below", "within", "up points"))
    scale, unit = (100.0, " %") if relative else (1.0, "")
    text = three_digits(scale * line.ours)
    if math.isnan(line.low):
        return text + unit
    return f"{text} ({three_digits(scale * line.low)} to {three_digits(scale * line.high)}){unit}"


def criterion(line: Line) -> str:
    """What the rule asks for."""
    rule, _, size = line.wanted.partition(" ")
    if rule == "up" and size.startswith("points"):
        return f"up {size.removeprefix('points ')} points"
    if line.wanted == "not played":
        return line.wanted
    if rule == "not":
        return f"not down {per_cent(size.removeprefix('down '))}"
    if rule in ("up", "down", "equal"):
        return f"{rule} {per_cent(size)}"
    words = {
        "percent": f"within {size} %",
        "absolute": f"within {size}",
        "band": size.replace("..", " to "),
        "within": size.replace("..", " to "),
        "below": f"below {size}",
        "above": f"at least {size}",
        "ascending": "in this order",
        "direction": "see directions",
        "reported": "shown only",
    }
    return words.get(rule, line.wanted)


def per_cent(size: str) -> str:
    """``0.03`` of the tables as ``3 %``."""
    return f"{100 * float(size):g} %"


def rows_in_words(lines: list[Line], width: int | None = None) -> str:
    """The rows as a table, or, where it does not fit, each row in lines of its own."""
    blind = any(line.left_out_verdict for line in lines)
    head = ["what (code)", "mark", "published", "ours", "wanted", "verdict", *(["left out"] if blind else [])]
    rows = [
        [
            f"{subject_and_code(line)}{f'; {line.note}' if line.note else ''}",
            line.mark,
            line.published,
            ours(line),
            criterion(line),
            line.verdict,
            *([left_out_figure(line)] if blind else []),
        ]
        for line in lines
    ]
    whole = laid_out(head, rows, left=range(len(head)))
    if width is None or max(map(len, whole.splitlines())) <= width:
        return whole
    return "\n".join(
        "\n".join([*wrapped(row[0], width=width), *wrapped(row_in_one_line(head, row), "    ", width)]) for row in rows
    )


def row_in_one_line(head: Sequence[str], row: Sequence[str]) -> str:
    """The figures of a row one after the other, for a screen too narrow for columns."""
    _, mark, published, own, asked, verdict, *left = row
    told = [
        f"{mark}: ours {own or '-'}",
        f"published {published}" if published else "",
        f"wanted {asked}",
        verdict,
        f"{head[-1]} {left[0]}" if left and left[0] else "",
    ]
    return ", ".join(one for one in told if one)


def left_out_figure(line: Line) -> str:
    """The figure of a row without its own study in the fit, and what it is then judged."""
    return "" if math.isnan(line.left_out) else f"{three_digits(line.left_out)} {line.left_out_verdict}".strip()


def known(misses: Sequence[Miss], lines: Sequence[Line], width: int | None) -> str:
    """Known misses, each with its reason."""
    if not misses:
        return ""
    said = {line.row: subject_of(line) for line in reversed(lines)}
    rows = [
        [
            f"{said.get(miss.row, miss.row)} ({miss.row})",
            f"{miss.value}{f' ({miss.interval})' if miss.interval else ''}",
            f"{miss.reason}; {miss.date}",
        ]
        for miss in misses
    ]
    return "Known misses\n" + laid_out(["what (code)", "ours", "why, as far as we know"], rows, width, left=range(3))


def sources(lines: list[Line]) -> list[str]:
    """Each source once, with its rows."""
    verdicts = rows_verdicts(lines)
    by_source: dict[str, list[str]] = {}
    for row in verdicts:
        source = next(line.source for line in lines if line.row == row)
        by_source.setdefault(source, []).append(row)
    return [f"{', '.join(rows)}: {source}" for source, rows in by_source.items()]
