"""The answer of a comparison as a coach reads it: headline, table, what to count on the grass, what next, footer."""

from __future__ import annotations

import math

from sim.experiments.compare import CHANGED
from sim.experiments.comparison import Arm, Compared, Comparison, Row
from sim.experiments.reduced import is_refused
from sim.words.assumptions import replaced_in_words
from sim.words.commands import Given, try_next
from sim.words.figures import NOT_KNOWN, two
from sim.words.losses import footer, lead

MOST_BOUTS = 4000
HOURS = 600

NAMES = {
    "turnovers_per_min": "turnovers/min",
    "turnovers_per_clock_min": "turnovers/min",
    "balls_lost_per_min": "balls lost/min",
    "shot_ends_per_min": "ends by a shot/min",
    "passes_per_min": "passes/min",
    "pass_completion": "passes completed, %",
    "pass_run_median": "passes in a possession (the middle one)",
    "pass_run_share_reaching": "possessions that reach the passes asked, %",
    "in_play_share": "ball in play, %",
    "defending_share_most": "defending, most of all, %",
    "points_per_min": "points/min",
    "threshold_reached_per_min": "thresholds reached/min",
    "transfers_per_min": "balls across/min",
    "break_aways_per_bout": "break-aways/bout",
    "goals_per_bout": "goals/bout",
    "distance_per_min": "metres/min",
}
MATTERS = {"turnovers_per_min": "turnovers", "balls_lost_per_min": "balls lost", "distance_per_min": "metres"}
COUNTED = {"turnovers_per_min": "turnovers", "balls_lost_per_min": "balls lost"}


def compared_in_words(found: Compared, given: Given | None = None) -> str:
    """Everything `overload compare` prints; `given`: how the user asked."""
    if len(found.comparisons) == 1:
        return comparison_in_words(found.comparisons[0], given)
    parts = [part for one in found.comparisons for part in (heading(one), *answer(one, given))]
    lines = dict.fromkeys(line for one in found.comparisons for line in one.cautions[:-1])
    first = found.comparisons[0]
    own = replaced_in_words(first.provenance.assumptions)
    foot = "\n".join([footer({row.measure for one in found.comparisons for row in one.rows}), *lines, first.cautions[-1]])
    return "\n\n".join(part for part in (*parts, own, foot) if part)


def comparison_in_words(found: Comparison, given: Given | None = None) -> str:
    """One comparison, whole."""
    own = replaced_in_words(found.provenance.assumptions)
    foot = "\n".join([footer({row.measure for row in found.rows}), *found.cautions])
    return "\n\n".join(part for part in (*answer(found, given), own, foot) if part)


def heading(found: Comparison) -> str:
    title = f"{found.second.name}, against {found.first.name}"
    return f"{title}\n{'-' * len(title)}"


def answer(found: Comparison, given: Given | None) -> list[str]:
    """The paragraphs of one comparison, without its footer."""
    parts = [
        headline(found, given),
        "\n".join(table(found)),
        "\n".join([on_the_grass(found), pairing(found)]),
        "\n".join(next_steps(found, given)),
    ]
    return [part for part in parts if part]


def own_changes(arm: Arm, other: Arm) -> list[str]:
    return [change for change in arm.changes if change not in other.changes]


def columns(found: Comparison) -> tuple[str, str]:
    """What the two arms are called."""
    return found.first.name, found.second.name


def other_of(found: Comparison, given: Given | None) -> str | None:
    """The other game, as the user gave it (it is what its arm is called); None for a tweak of the first."""
    other = found.first.game != found.second.game if given is None else found.second.name in given.others
    return found.second.name if other else None


def versus(found: Comparison, given: Given | None) -> str:
    """``A against B``; games of one title by what the user calls them."""
    titles = found.second.title, found.first.title
    if given is not None and titles[0] == titles[1]:
        titles = f"{titles[0]} ({found.second.name})", f"{titles[1]} ({given.game})"
    return " against ".join(titles)


def headline(found: Comparison, given: Given | None) -> str:
    """What was asked, the difference in losses with its range, and how sure that is."""
    changed = own_changes(found.second, found.first)
    if other_of(found, given) is not None:
        asked = versus(found, given)
    else:
        asked = f"{found.first.title}, with {' and '.join(changed) if changed else 'nothing changed'}"
    row = losses(found)
    if row.first is None or row.second is None:
        return f"{asked}: how often they lose it cannot be told."
    return (
        f"{asked}: they lose it {two(row.second)} times a minute of play instead of {two(row.first)}, a difference of "
        f"{gap(row)}.\n{sure(row, found.sessions)}"
    )


def losses(found: Comparison) -> Row:
    """Balls lost, where shots are told apart, else turnovers."""
    return found.row(lead({row.measure for row in found.rows}))


def scale(row: Row) -> float:
    return 100.0 if row.unit == "share" else 1.0


def gap(row: Row) -> str:
    """``+0.15 (-0.36 to +0.66)``, shares in per cent."""
    return gap_of(*(scale(row) * value for value in (row.difference, row.low, row.high)))


def gap_of(*values: float) -> str:
    """``+0.15 (-0.36 to +0.66)``: all three to the place of the second digit of the largest."""
    largest = max(abs(value) for value in values)
    if largest == 0:
        return "0 (0 to 0)"
    places = 1 - math.floor(math.log10(largest))
    middle, low, high = (f"{round(value, places) + 0.0:+.{max(places, 0)}f}" for value in values)
    return f"{middle} ({low} to {high})"


def sure(row: Row, sessions: int) -> str:
    """The word of confidence, for losses."""
    least = NOT_KNOWN if row.worthwhile is None else two(row.worthwhile)
    return {
        "clear, matters": f"Clear, and large enough to matter (we ask for {least} at least).",
        "clear, size open": f"Clear that there is a difference; whether it is large enough to matter ({least}) is open.",
        "no difference that matters": f"If there is a difference at all, it is too small to matter (under {least}).",
        "cannot tell": f"Cannot tell from {sessions} pairs of sessions: it may be luck.",
    }[row.verdict]


def chance(value: float | None) -> str:
    if value is None:
        return NOT_KNOWN
    if value > 0.99:
        return "over 99 %"
    return "under 1 %" if value < 0.01 else f"{100 * value:.0f} %"


def table(found: Comparison) -> list[str]:
    """Every measure: both arms, the difference, how likely the second is the larger one, and the verdict."""
    first, second = columns(found)
    rows = [["", "clock", first, second, "difference", "long run", "one evening", "pairing", "verdict"]]
    for row in found.rows:
        name = NAMES[row.measure] + (f" {row.scope.removeprefix('role:')}" if row.scope != "game" else "")
        if row.first is None:
            rows.append([name, row.clock, *[NOT_KNOWN] * 6, row.verdict])
            continue
        by = scale(row)
        chances = [chance(row.long_run), chance(row.evening), worth(row)]
        rows.append([name, row.clock, two(by * row.first), two(by * row.second), gap(row), *chances, row.verdict])
    widths = [max(len(row[i]) for row in rows) for i in range(len(rows[0]))]
    lines = [
        "  ".join(
            [
                row[0].ljust(widths[0]),
                *(cell.rjust(width) for cell, width in zip(row[1:-1], widths[1:-1], strict=True)),
                row[-1],
            ]
        ).rstrip()
        for row in rows
    ]
    intro = f"Means of {found.sessions} pairs of sessions with the same players; in brackets the 95 % range of the difference."
    told = [
        f"Chance that {second!r} is the larger: in the long run with players whose strength we do not know, and on one evening.",
        "Pairing: so many times the bouts it would take without the same players and luck in both.",
        "Each range is 95 % on its own. Clear is said with all rows in mind: one false alarm in 20 such answers at most (Holm).",
    ]
    return [intro, *lines, *told, what_matters(found)]


def worth(row: Row) -> str:
    return NOT_KNOWN if row.variance_ratio is None else two(row.variance_ratio)


def what_matters(found: Comparison) -> str:
    """The sizes asked for, which are a choice."""
    wanted = [
        f"{100 * row.worthwhile / abs(row.first):.0f} % of {what}"
        for row, what in ((row, MATTERS.get(row.measure)) for row in found.rows)
        if what and row.worthwhile and row.first
    ]
    return f"Matters: from {', '.join(dict.fromkeys(wanted))} on (house default unless given with --worthwhile)."


def on_the_grass(found: Comparison) -> str:
    """Minutes to count until it shows."""
    count = found.counting
    if count is None or count.minutes is None or count.poisson is None:
        return f"On the grass: there is no difference in {COUNTED[losses(found).measure]} to be counted."
    row = losses(found)
    real = "" if row.verdict.startswith("clear") else "if that difference is real, "
    least = (
        f"; {minutes(count.poisson)} at the very least, were losses pure chance"
        if count.minutes > count.poisson
        else ""
    )
    most = max(count.minutes, count.poisson)
    if most > HOURS:
        return (
            f"On the grass: {real}it would take about {minutes(most)} minutes of play of each to see it in 4 cases of 5{least}. "
            "Do not count for it."
        )
    return (
        f"On the grass: {real}count {COUNTED[row.measure]} for about {minutes(most)} minutes of play of each to see it in "
        f"4 cases of 5{least}."
    )


def minutes(value: float) -> str:
    return f"{float(f'{value:.2g}'):.0f}" if value >= 1 else "1"


def pairing(found: Comparison) -> str:
    row = losses(found)
    ratio = row.variance_ratio
    if ratio is None:
        return "Same players and same luck in both."
    return f"Same players and same luck in both: worth {two(ratio)} times the bouts for {COUNTED[row.measure]}."


def next_steps(found: Comparison, given: Given | None) -> list[str]:
    """What would change the answer, and one thing to do, as a command."""
    row = losses(found)
    change = "What would change it: other players (--population), or your own counts."
    if is_refused(found.cautions):
        return [change]
    other, tweak = other_of(found, given), own_changes(found.second, found.first)
    if row.verdict in ("cannot tell", "clear, size open") and row.worthwhile:
        half = (row.high - row.low) / 2
        bouts = math.ceil(max(2.0, (half / row.worthwhile) ** 2) * found.bouts / 100) * 100
        if bouts > MOST_BOUTS:
            return [change, f"Try next: a larger change. This one needs more than {MOST_BOUTS} bouts."]
        return [change, *try_next("to narrow the range", more_of(found, given, bouts), [f"{bouts} bouts"])]
    whole = given and given.about("estimate", game=other, changes=tweak)
    return [change, *try_next("to see the second one whole", whole, found.second.changes)]


def more_of(found: Comparison, given: Given | None, bouts: int) -> str | None:
    """The same question, of this one variant, with more bouts."""
    if given is None:
        return None
    other = other_of(found, given)
    name = found.second.name if other is None and found.second.name != CHANGED else None
    more = ("--name", name), ("--worthwhile", given.asked("--worthwhile")), ("--bouts", bouts)
    return given.against(other, own_changes(found.second, found.first), *more)
