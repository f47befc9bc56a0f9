"""The evidence table as people read it: the count first, then every line, then what is known to miss."""

from __future__ import annotations

import math
from collections.abc import Sequence

from sim.evidence.kept import Miss
from sim.evidence.table import Count, Line, count, rows_verdicts
from sim.experiments.cautions import LINE

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


def evidence_in_words(lines: Sequence[Line], misses: Sequence[Miss] = (), size: str = "") -> str:
    """Everything `overload evidence` prints."""
    lines = list(lines)
    parts = [
        "\n".join(headline(lines, size)),
        "\n".join(["Measurements", *table([line for line in lines if line.kind == "measurement"])]),
        "\n".join(["Directions (change from A to B)", *table([line for line in lines if line.kind == "direction"])]),
        "\n".join(known(misses)),
        "\n".join(["Sources", *sources(lines)]),
        "\n".join([HOW_TO_READ, MARKS, LINE]),
    ]
    return "\n\n".join(part for part in parts if part)


def headline(lines: list[Line], size: str) -> list[str]:
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
    return f"{found.inside} of {found.judged}"


def signed(value: float) -> str:
    """Three digits: published figures have as many, and some differ by a few per cent only."""
    rounded = float(f"{value:.2e}")
    return f"{rounded:.0f}" if abs(rounded) >= 100 else f"{rounded:.3g}"


def ours(line: Line) -> str:
    """The figure and its interval; changes in per cent."""
    if math.isnan(line.ours):
        return ""
    relative = line.kind == "direction" and not line.wanted.startswith(("below", "within", "up points"))
    scale, unit = (100.0, " %") if relative else (1.0, "")
    text = signed(scale * line.ours)
    if math.isnan(line.low):
        return text + unit
    return f"{text} ({signed(scale * line.low)} to {signed(scale * line.high)}){unit}"


def wanted(line: Line) -> str:
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
    return f"{100 * float(size):g} %"


def table(lines: list[Line]) -> list[str]:
    blind = any(line.left_out_verdict for line in lines)
    head = ["", "mark", "published", "ours", "wanted", "verdict", *(["left out"] if blind else []), "what"]
    rows = [
        [
            line.part,
            line.mark,
            line.published,
            ours(line),
            wanted(line),
            line.verdict,
            *([left_out(line)] if blind else []),
            explained(line),
        ]
        for line in lines
    ]
    widths = [max(len(row[i]) for row in [head, *rows]) for i in range(len(head) - 1)]
    return [
        "  ".join([*(cell.ljust(width) for cell, width in zip(row, widths, strict=False)), row[-1]]).rstrip()
        for row in [head, *rows]
    ]


def left_out(line: Line) -> str:
    return "" if math.isnan(line.left_out) else f"{signed(line.left_out)} {line.left_out_verdict}".strip()


def explained(line: Line) -> str:
    return f"{line.what} ({line.note})" if line.note else line.what


def known(misses: Sequence[Miss]) -> list[str]:
    """Known misses, each with its reason."""
    if not misses:
        return []
    return [
        "Known misses",
        *(
            f"{miss.row}: {miss.value}{f' ({miss.interval})' if miss.interval else ''}; {miss.reason}; {miss.date}"
            for miss in misses
        ),
    ]


def sources(lines: list[Line]) -> list[str]:
    """Each source once, with its rows."""
    verdicts = rows_verdicts(lines)
    by_source: dict[str, list[str]] = {}
    for row in verdicts:
        source = next(line.source for line in lines if line.row == row)
        by_source.setdefault(source, []).append(row)
    return [f"{', '.join(rows)}: {source}" for source, rows in by_source.items()]
