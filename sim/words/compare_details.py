"""A comparison with everything behind it, for `--details`: both games in every measure, how likely, and what to count."""

from __future__ import annotations

import math

from sim.experiments.compare import CHANGED
from sim.experiments.comparison import Compared, Comparison, Condition, Row
from sim.experiments.key_measures import LOST, OF_ROLES
from sim.words.assumptions import replaced_in_words
from sim.words.clocks import CLOCKS
from sim.words.commands import Given
from sim.words.figures import NOT_KNOWN, present, two
from sim.words.losses import footer, lead
from sim.words.measure_names import TURNOVERS, wording
from sim.words.measure_phrases import SHORT_CLOCKS, name_in_table
from sim.words.screen import folded
from sim.words.tables import table

MOST_BOUTS = 4000
HOURS = 600  # minutes of counting that nobody does

MATTERS = (TURNOVERS, LOST, OF_ROLES)
"""Measures of which it is said from what size on a difference is big."""
VERDICTS = {
    "clear, matters": "real, and big",
    "clear, size open": "real, how big isn't clear",
    "no difference that matters": "too small to notice",
    "cannot tell": "could still be luck",
}


def details_of_compared(found: Compared, width: int | None = None) -> str:
    """Everything about every comparison; `width`: columns of the terminal, None in a pipe."""
    every = found.comparisons
    parts = [
        part for one in every for part in ([comparison_heading(one)] if len(every) > 1 else []) + paragraphs(one, width)
    ]
    own = replaced_in_words(every[0].provenance.assumptions)
    foot = "\n".join([footer({row.measure for one in every for row in one.rows}), every[0].cautions[-1]])
    return folded("\n\n".join(part for part in (*parts, own, foot) if part), width)


def comparison_heading(found: Comparison) -> str:
    """What is compared with what, underlined."""
    title = f"{found.second.name}, against {found.first.name}"
    return f"{title}\n{'-' * len(title)}"


def paragraphs(found: Comparison, width: int | None) -> list[str]:
    """One comparison, without its foot."""
    return [
        "\n".join(differences(found, width)),
        "\n".join(chances(found, width)),
        "\n".join([minutes_to_count(found), what_matters(found)]),
    ]


def own_changes(condition: Condition, other: Condition) -> list[str]:
    """What one condition changes and the other does not."""
    return [change for change in condition.changes if change not in other.changes]


def columns(found: Comparison) -> tuple[str, str]:
    """What the two conditions are called."""
    return found.first.name, found.second.name


def other_of(found: Comparison, given: Given | None) -> str | None:
    """The other game, as the user gave it (it is what its condition is called); None for a tweak of the first."""
    other = found.first.game != found.second.game if given is None else found.second.name in given.others
    return found.second.name if other else None


def row_of_losses(found: Comparison) -> Row:
    """Balls lost, where shots are told apart, else turnovers."""
    return found.row(lead({row.measure for row in found.rows}))


def scale_of_row(row: Row) -> float:
    """What a figure of a row is multiplied by to be printed: shares are printed in per cent."""
    return 100.0 if row.unit == "share" else 1.0


def gap(row: Row) -> str:
    """``+0.15 (-0.36 to +0.66)``, shares in per cent."""
    return gap_of(*(scale_of_row(row) * present(value) for value in (row.difference, row.low, row.high)))


def gap_of(*values: float) -> str:
    """``+0.15 (-0.36 to +0.66)``: all three to the place of the second digit of the largest."""
    largest = max(abs(value) for value in values)
    if largest == 0:
        return "0 (0 to 0)"
    places = 1 - math.floor(math.log10(largest))
    middle, low, high = (f"{round(value, places) + 0.0:+.{max(places, 0)}f}" for value in values)
    return f"{middle} ({low} to {high})"


def chance(value: float | None) -> str:
    """A probability in whole per cent, without pretending that anything is certain."""
    if value is None:
        return NOT_KNOWN
    if value > 0.99:
        return "over 99 %"
    return "under 1 %" if value < 0.01 else f"{100 * value:.0f} %"


def differences(found: Comparison, width: int | None) -> list[str]:
    """Every measure: its clock, both games, the difference, and whether it is real."""
    return [
        f"From {found.sessions} sessions of each with the same players. In brackets our doubt about the difference (95 in 100).",
        table(("", "clock", *columns(found), "difference", ""), cells_of(found), width, (0, 1, 5)),
        "Real: all rows taken together, such a table shows a false one once in 20 times at most (Holm's method).",
    ]


def cells_of(found: Comparison) -> list[list[str]]:
    """A row a measure: its name, its clock, both games, the difference, and whether it is real."""
    measures = {row.measure for row in found.rows}
    cells = []
    for row in found.rows:
        name, clock = name_in_table(row.measure, row.scope, measures), SHORT_CLOCKS[CLOCKS[row.clock]]
        if row.first is None or row.second is None:
            cells.append([name, clock, *[NOT_KNOWN] * 3, VERDICTS[row.verdict]])
            continue
        by = scale_of_row(row)
        cells.append([name, clock, two(by * row.first), two(by * row.second), gap(row), VERDICTS[row.verdict]])
    return cells


def chances(found: Comparison, width: int | None) -> list[str]:
    """How likely the second one has more of it, and what it is worth that both have the same players and luck."""
    second, measures = found.second.name, {row.measure for row in found.rows}
    cells = [
        [name_in_table(row.measure, row.scope, measures), chance(row.long_run), chance(row.one_session), worth(row)]
        for row in found.rows
        if row.first is not None
    ]
    return [
        f"How likely there is more of it with {second!r}: over a season with whichever players, and tonight. Both had "
        "the same players and the same luck; the last column says how many times the bouts it would take without that.",
        table(("", "over a season", "tonight", "times the bouts"), cells, width),
    ]


def worth(row: Row) -> str:
    """How many times the bouts it would take without the same players and luck."""
    return NOT_KNOWN if row.variance_ratio is None else two(row.variance_ratio)


def what_matters(found: Comparison) -> str:
    """The sizes asked for, which are a choice."""
    wanted = [
        f"{100 * row.worthwhile / abs(row.first):.0f} % of {wording(row.measure).noun}"
        for row in found.rows
        if row.measure in MATTERS and row.worthwhile and row.first
    ]
    return f"Big: from {', '.join(dict.fromkeys(wanted))} on (our choice unless you give --worthwhile)."


def minutes_to_count(found: Comparison) -> str:
    """Minutes to count until it shows, in full."""
    count = found.counting
    if count is None or count.minutes is None or count.poisson is None:
        return "On the grass: there is no difference in losses to be counted."
    real = "" if row_of_losses(found).verdict.startswith("clear") else "if that difference is real, "
    most = max(count.minutes, count.poisson)
    least = (
        f"; {whole_minutes(count.poisson)} at the very least, were losses pure chance"
        if count.minutes > count.poisson
        else ""
    )
    text = f"{whole_minutes(most)} minutes of each with the ball rolling to see it four times in five{least}."
    if most > HOURS:
        return f"On the grass: {real}it would take about {text} Do not count for it."
    return f"On the grass: {real}count losses for about {text}"


def whole_minutes(value: float) -> str:
    """Minutes in two digits, and at least one."""
    return f"{float(f'{value:.2g}'):.0f}" if value >= 1 else "1"


def bouts_to_know(found: Comparison, row: Row) -> int | None:
    """So many bouts until the doubt is as small as the smallest difference that matters; None where that is too many."""
    half = (present(row.high) - present(row.low)) / 2
    bouts = math.ceil(max(2.0, (half / present(row.worthwhile)) ** 2) * found.bouts / 100) * 100
    return bouts if bouts <= MOST_BOUTS else None


def more_of(found: Comparison, given: Given | None, bouts: int) -> str | None:
    """The same question, of this one variant, with more bouts."""
    if given is None:
        return None
    other = other_of(found, given)
    name = found.second.name if other is None and found.second.name != CHANGED else None
    kept = [(option, given.asked(option)) for option in ("--worthwhile", "--measure")]
    return given.against(other, own_changes(found.second, found.first), ("--name", name), *kept, ("--bouts", bouts))
