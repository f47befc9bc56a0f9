"""The answer of a tune as a coach reads it: the value, how sure, the curve, what else moves, footer."""

from __future__ import annotations

from sim.experiments.reduced import is_refused
from sim.experiments.tuned import STOPPED, Point, Tuned
from sim.words.assumptions import replaced_in_words
from sim.words.commands import Given, try_next
from sim.words.comparison import NAMES, gap
from sim.words.figures import two
from sim.words.losses import footer

CLOCKS = {"distance_per_min": "watch", "turnovers_per_clock_min": "watch", "in_play_share": "watch"}
SHARES = ("pass_completion", "pass_run_share_reaching", "in_play_share", "defending_share_most")


def tuned_in_words(found: Tuned, given: Given | None = None) -> str:
    """Everything `overload tune` prints; `given`: how the user asked."""
    parts = [
        headline(found),
        "\n".join(curve(found)),
        "\n".join(effects(found)),
        "\n".join(next_steps(found, given)),
        replaced_in_words(found.provenance.assumptions),
        "\n".join([footer({found.measure, *(row.measure for row in found.effects)}), *found.cautions]),
    ]
    return "\n\n".join(part for part in parts if part)


def scale(measure: str) -> float:
    return 100.0 if measure in SHARES else 1.0


def key(what) -> tuple[str, str]:
    return what.measure, what.scope


def name_of(what) -> str:
    return NAMES[what.measure] + (f" {what.scope.removeprefix('role:')}" if what.scope != "game" else "")


def clock(measure: str) -> str:
    return "watch" if measure in CLOCKS or measure.endswith("_per_bout") else "in play"


def said(point: Point, by: float) -> str:
    return f"{two(by * point.mean)} ({two(by * point.low)} to {two(by * point.high)})"


def at(found: Tuned, values: tuple[int, ...]) -> str:
    """``side = 10`` or ``side = 10 and touches = 2``."""
    return " and ".join(f"{knob} = {value}" for knob, value in zip(found.knobs, values, strict=True))


def bare(values: tuple[int, ...]) -> str:
    return " with ".join(str(value) for value in values)


def ends(found: Tuned) -> str:
    parts = []
    for i, knob in enumerate(found.knobs):
        every = [one.values[i] for one in found.curve]
        parts.append(f"{knob} between {min(every)} and {max(every)}")
    return " and ".join(parts)


def headline(found: Tuned) -> str:
    """What was asked, the answer, and the word of confidence."""
    by = scale(found.measure)
    goal = f"the {found.target} " if isinstance(found.target, str) else f"{two(by * found.target)} "
    asked = f"{found.game.title}, {goal}{name_of(found)} ({clock(found.measure)})"
    point = found.fresh or next(one for one in found.curve if one.values == found.answer)
    played = "played again on fresh sessions it gives" if found.fresh else "it gave"
    fresh = f"{played} {said(point, by)}"
    if STOPPED in found.cautions:
        played = sum(one.bouts for one in found.curve)
        return (
            f"{asked}: stopped early, after {played} bouts over {len(found.curve)} values; which value it is cannot be told yet.\n"
            f"The nearest so far is {at(found, found.answer)}; {fresh}."
        )
    if not found.reached:
        return f"{asked}: no, {ends(found)} does not get there. The nearest is {bare(found.answer)}; {fresh}."
    lines = [f"{asked}: {at(found, found.answer)}; {fresh}."]
    if found.as_good:
        lines.append(f"Perhaps as good, as far as can be told: {', '.join(bare(one) for one in found.as_good)}.")
    if not isinstance(found.target, str):
        if all(one.side != "at" for one in found.curve):
            lines.append("No whole value hits it: the target lies between two of them, and this is the nearer.")
        if found.fresh and found.fresh.side != "at":
            lines.append(f"Careful: on fresh sessions it is {found.fresh.side} the target.")
    if found.crossings > 1:
        lines.append("Careful: the curve does not go one way; look at the whole of it.")
    close = f"{two(by * found.nearer)} {name_of(found)}"
    if found.sure:
        lines.append(f"Sure at 95 % that none of the others is better by more than {close}.")
    elif found.fresh:
        lines.append(
            f"Not sure that none of the others is better by more than {close}: all bouts of the budget were played."
        )
    return "\n".join(lines)


def curve(found: Tuned) -> list[str]:
    """Every candidate."""
    by = scale(found.measure)
    rows = [(*found.knobs, f"{name_of(found)}, 95 % range", "bouts", "target" if not_extreme(found) else "")]
    words = {"at": "cannot be told from it", "below": "below it", "above": "above it"}
    if not not_extreme(found):
        words = {"at": "may be it", "below": "surely not it", "above": "surely not it"}
    for point in found.curve:
        mark = " <" if point.values == found.answer else ""
        rows.append((*map(str, point.values), said(point, by), str(point.bouts), words[point.side] + mark))
    widths = [max(len(row[i]) for row in rows) for i in range(len(rows[0]) - 1)]
    return [
        "  ".join([*(cell.rjust(width) for cell, width in zip(row[:-1], widths, strict=True)), row[-1]]).rstrip()
        for row in rows
    ]


def not_extreme(found: Tuned) -> bool:
    return not isinstance(found.target, str)


def effects(found: Tuned) -> list[str]:
    """What else moves, against the game as it is."""
    if not found.effects:
        return []
    if all(row.difference in (0, None) for row in found.effects):
        if found.as_it_is:
            return ["That is the game as it is: nothing else moves."]
        return ["It plays the same as the game as it is: nothing moves."]
    others = [row for row in found.effects if key(row) != key(found)]
    moved = [row for row in others if row.verdict.startswith("clear")]
    open_ = [name_of(row) for row in others if row.verdict == "cannot tell"]
    lines = ["Against the game as it is nothing else clearly moves."]
    if moved:
        lines = ["What else moves, against the game as it is (95 % range of the difference):"]
        for row in moved:
            by = 100.0 if row.unit == "share" else 1.0
            lines.append(f"  {name_of(row)} ({row.clock}): {two(by * row.first)} -> {two(by * row.second)}, {gap(row)}")
    if open_:
        lines.append(f"Cannot tell whether these move: {', '.join(open_)}.")
    return lines


def next_steps(found: Tuned, given: Given | None) -> list[str]:
    """What would change the answer, and one thing to do."""
    change = "What would change it: other players (--population), or your own counts."
    if found.fresh is None:
        return [change, *try_next("to let it come to its end", given and given.again())]
    if is_refused(found.cautions):
        return [change]
    if not found.reached:
        return [change, f"Try next: another knob, or values beyond {ends(found)}."]
    if not found.changes or found.answer is None:
        return [change]
    whole = given and given.about("estimate", changes=found.changes)
    return [change, *try_next("to see it whole", whole, found.changes)]
