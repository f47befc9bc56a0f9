"""What a sweep prints: one line a run with what the game is about, and where the whole table lies."""

from __future__ import annotations

from collections.abc import Sequence

from sim.assumptions import NONE, Assumptions
from sim.experiments.headline import keys_of
from sim.experiments.provenance import replacements
from sim.experiments.sequential import headline_of
from sim.experiments.sweep import ENDS, Axis, Lines, Run, cautions_of
from sim.game.model import Game
from sim.words.assumptions import replaced_in_words
from sim.words.commands import Given
from sim.words.comparison import NAMES
from sim.words.figures import NOT_KNOWN, two
from sim.words.losses import footer, lead
from sim.words.tuned import clock


def sweep_in_words(
    base: Game,
    axes: Sequence[Axis],
    runs: Sequence[Run],
    found: Lines,
    place: str | None,
    assumptions: Assumptions = NONE,
    given: Given | None = None,
) -> str:
    """Everything `overload sweep` prints; `given`: how the user asked."""
    known = {name for name, _ in keys_of(base)}
    measures = list(dict.fromkeys([headline_of(base), lead(known), "in_play_share"]))
    rows = [("run", *(axis.key for axis in axes), *(f"{NAMES[one]}, {clock(one)} (95 % range)" for one in measures))]
    for run in runs:
        if run.id in found:
            rows.append((run.id, *run.values, *(said(found[run.id], one, len(axes)) for one in measures)))
    widths = [max(len(row[i]) for row in rows) for i in range(len(rows[0]))]
    lines = ["  ".join(cell.rjust(width) for cell, width in zip(row, widths, strict=True)) for row in rows]
    head = f"{base.title}, {len(found)} of {len(runs)} runs, the same players and luck in all of them."
    ends = [f"All measures of all runs: {place}"] if place else ["To keep all measures of all runs: --save FILE."]
    if len(found) < len(runs):
        missing = f"Stopped early: {len(runs) - len(found)} runs are missing"
        if place and given is not None:
            ends.insert(0, f"{missing}. To go on:\n  {given.again()}")
        else:
            how = "the same command goes on" if place else "with --save the same command would go on"
            ends.insert(0, f"{missing}; {how}.")
    own = replaced_in_words(replacements(assumptions))
    foot = "\n".join([footer(measures), *cautions_of(axes, runs, found)])
    return "\n\n".join(part for part in (head, "\n".join(lines), "\n".join(ends), own, foot) if part)


def said(cells: list[list[str]], measure: str, keys: int) -> str:
    """``3.1 (2.9 to 3.3)`` for the whole game; a range from few sessions ends where the measure itself does (0, and 100 %)."""
    at = {name: 1 + keys + i for i, name in enumerate(ENDS)}
    row = next(one for one in cells if (one[at["measure"]], one[at["scope"]]) == (measure, "game"))
    by, most = (100, 100.0) if row[at["unit"]] == "share" else (1, float("inf"))
    numbers = [
        two(min(max(by * float(row[at[name]]), 0.0), most)) if row[at[name]] else NOT_KNOWN
        for name in ("mean", "low", "high")
    ]
    return f"{numbers[0]} ({numbers[1]} to {numbers[2]})"
