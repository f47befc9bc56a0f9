"""The small screen of a tune: which value it is, how close, the curve in short, what else changes."""

from __future__ import annotations

from sim.experiments.reduced import is_refused
from sim.experiments.tuned import STOPPED, Point, Tuned
from sim.game.model import Game
from sim.words.assumptions import own_assumptions
from sim.words.clocks import WATCH
from sim.words.commands import Given, try_next
from sim.words.differences import counts, lost_a_bout, what_else
from sim.words.figures import span, two
from sim.words.listing import capital, listed
from sim.words.measure_phrases import unit_of
from sim.words.screen import Screen, fit_screen
from sim.words.setting_up import question_line, spelt_time
from sim.words.tune_details import Labels, measures_in, not_extreme, scale_of_measure, value_label

ON_THE_CURVE = 8
"""Values that the short curve shows; the rest is in the details."""
MOST_NAMED = 3
SIZE = "size"
NOUNS = {
    "side": SIZE, "area": SIZE, "length": "length", "width": "width", "touches": "touch limit", "passes": "number of passes",
    "defenders": "number of defenders", "players": "number of players", "floaters": "number of floaters", "bout": "length of bout",
    "rest": "rest", "bouts": "number of bouts",
}  # fmt: skip


def tuned_on_a_screen(
    found: Tuned, game: Game, chosen: Game, labels: Labels | None = None, given: Given | None = None, unit: str = "m"
) -> str:
    """`game` as it is and as it is with the answer; `labels`: what each value comes to; `unit`: what the file counts lengths in."""
    whole = whole_of_tuned(found, game, chosen, labels, given, unit)
    return fit_screen(whole.asked, whole.answer, whole.beside, whole.doing, whole.cautions, flowing=True)


def whole_of_tuned(
    found: Tuned, game: Game, chosen: Game, labels: Labels | None = None, given: Given | None = None, unit: str = "m"
) -> Screen:
    """All there is to say in a few sentences, whether or not it fits on a screen."""
    labels = labels or {}
    played = sum(one.bouts for one in found.curve)
    question = f"{played} bouts over {len(found.curve)} {'sizes' if knob_noun(found) == SIZE else 'values'}"
    answer = stopped(found, labels) if STOPPED in found.cautions else ended(found, labels)
    doing = next_step(found, given)
    foot = [
        *found.cautions[:-1],
        *own_assumptions(found.provenance.assumptions, found.provenance.own_data),
        found.cautions[-1],
    ]
    return Screen(question_line(game, question, unit), answer, beside(found, (game, chosen), labels), doing, foot)


def knob_noun(found: Tuned) -> str:
    """What is turned: ``size``, ``touch limit``."""
    if len(found.knobs) > 1:
        return "value"
    knob = found.knobs[0]
    return NOUNS.get(knob) or NOUNS.get(knob.partition(".")[0]) or NOUNS.get(knob.rpartition(".")[2], "value")


def measured_figure(found: Tuned, value: float) -> str:
    """A figure of the target in two digits; a share in per cent."""
    return two(scale_of_measure(found.measure) * value)


def behind(found: Tuned) -> str:
    """What stands behind a figure of the target."""
    return unit_of(found.measure, found.scope, measures_in(found))


def doubt_of_point(found: Tuned, point: Point) -> str:
    """Our doubt, to the place of the figure it is about."""
    by = scale_of_measure(found.measure)
    places = len(two(by * point.mean).partition(".")[2])
    return f"give or take {by * (point.high - point.low) / 2:.{places}f}"


def wish(found: Tuned) -> str:
    """What was asked for: ``3``, ``the most``."""
    if isinstance(found.target, str):
        return f"the {found.target}"
    return f"{scale_of_measure(found.measure) * found.target:.4g}"


def best_of(found: Tuned) -> Point:
    """The answer, on its own sessions where it was played again."""
    return found.fresh or next(one for one in found.curve if one.values == found.answer)


def gives(found: Tuned, labels: Labels) -> str:
    """``8 x 8 m gives about 3.2 losses a minute with the ball rolling, give or take 0.4``."""
    point, label = best_of(found), value_label(labels, found.answer, found.knobs)
    return f"{capital(label)} gives about {measured_figure(found, point.mean)} {behind(found)}, {doubt_of_point(found, point)}"


def stopped(found: Tuned, labels: Labels) -> list[str]:
    """Nothing is concluded from half a search."""
    played = sum(one.bouts for one in found.curve)
    return [
        f"Stopped after {played} bouts: too soon to say which {knob_noun(found)} it is.",
        f"Nearest so far: {gives(found, labels)}.",
    ]


def ended(found: Tuned, labels: Labels) -> list[str]:
    """The answer and how sure it is."""
    if not not_extreme(found):
        label = capital(value_label(labels, found.answer, found.knobs))
        about = f"about {measured_figure(found, best_of(found).mean)} {behind(found)}, {doubt_of_point(found, best_of(found))}"
        lines = [f"{label} gives the {found.target}, {about}."]
    elif not found.reached:
        first, last = (value_label(labels, one.values, found.knobs) for one in (found.curve[0], found.curve[-1]))
        return [
            f"No: nothing from {first} to {last} gets to {wish(found)} {behind(found)}.",
            f"The nearest: {gives_only(found, labels)}.",
        ]
    else:
        lines = [f"{gives(found, labels)}; you asked for {wish(found)}."]
    return [*lines, *one_evening(found), *other_values(found, labels), *careful(found)]


def one_evening(found: Tuned) -> list[str]:
    """What one evening with the answer may bring, on both clocks where the measure has two; our doubt stands apart."""
    own = best_of(found).evening
    ends = measured_span(found, own.low, own.high)
    if not ends:
        return []
    watched = measured_span(found, own.watch_low, own.watch_high)
    both = f"; a minute {WATCH} {watched}" if watched else ""
    return [f"Usually {ends} (8 evenings in 10){both}."]


def measured_span(found: Tuned, low: float | None, high: float | None) -> str:
    """``2.2 to 3.9``, a share in per cent; nothing where it is not known."""
    return span(low, high, lambda value: measured_figure(found, value))


def gives_only(found: Tuned, labels: Labels) -> str:
    """``8 x 8 m, about 3.2, give or take 0.4``."""
    point = best_of(found)
    label = value_label(labels, found.answer, found.knobs)
    return f"{label}, about {measured_figure(found, point.mean)}, {doubt_of_point(found, point)}"


def other_values(found: Tuned, labels: Labels) -> list[str]:
    """Whether another value would do as well."""
    what, better = knob_noun(found), "closer" if not_extreme(found) else "better"
    if found.as_good:
        near = [one for one in found.as_good if comes_near(found, one)]
        open_ = [one for one in found.as_good if one not in near]
        said = [f"Perhaps as good: {some_named(found, near, labels)}."] if near else []
        if open_:
            said.append(f"Too few bouts to rule out: {some_named(found, open_, labels, doubt=True)}.")
        return said
    if found.sure:
        return [f"No other {what} is clearly {better}."]
    return [f"Another {what} may be {better}: all bouts of the budget were played."] if found.fresh else []


def comes_near(found: Tuned, values: tuple[int, ...]) -> bool:
    """Whether a value that may be as good also looks so: no farther off than the answer, but for what nobody would care about.

    Without this a value of which few bouts were played seems as good because so little is known of it.
    """
    if isinstance(found.target, str):
        return True
    mean = next(one.mean for one in found.curve if one.values == values)
    return abs(mean - found.target) <= abs(best_of(found).mean - found.target) + found.nearer


def some_named(found: Tuned, which: list[tuple[int, ...]], labels: Labels, doubt: bool = False) -> str:
    """``8 x 8 m and 9 x 9 m``, the first few of them; with `doubt` how little is known of each."""
    points = {one.values: one for one in found.curve}
    named = [value_label(labels, one, found.knobs) for one in which]
    if doubt:
        told = [f"{measured_figure(found, points[one].mean)}, {doubt_of_point(found, points[one])}" for one in which]
        named = [f"{name} ({own})" for name, own in zip(named, told, strict=True)]
    if len(named) > MOST_NAMED:
        named = [*named[:MOST_NAMED], f"{len(named) - MOST_NAMED} more"]
    return listed(named)


def careful(found: Tuned) -> list[str]:
    """What would be read wrongly without a word."""
    lines = []
    if not_extreme(found):
        if all(one.side != "at" for one in found.curve):
            lines.append(f"What you asked for lies between two of them; this is the nearer {knob_noun(found)}.")
        if found.fresh and found.fresh.side != "at":
            lines.append(f"Careful: played again it came out {found.fresh.side} what you asked for.")
    if found.crossings > 1:
        lines.append("Careful: it goes up and down; look at the whole curve (--details).")
    return lines


def beside(found: Tuned, games: tuple[Game, Game], labels: Labels) -> list[str]:
    """The curve, the count a coach makes, and what else changes."""
    same = found.effects and all(row.difference in (0, None) for row in found.effects)
    if same:
        whose = "The answer is" if found.as_it_is else "It plays the same as"
        return [curve_in_short(found, labels), f"{whose} the game as it is."]
    else_ = what_else(found.effects, (found.measure, found.scope)) if found.effects else []
    return [curve_in_short(found, labels), *neighbours(found, labels), *a_bout(found, games), *else_]


def neighbours(found: Tuned, labels: Labels) -> list[str]:
    """``Next to it, usually: 9 x 9 m 2.4 to 4.1; 11 x 11 m 1.9 to 3.3``: one evening of one knob's other values."""
    if len(found.knobs) > 1:
        return []
    at = next(i for i, one in enumerate(found.curve) if one.values == found.answer)
    beside = [one for i, one in enumerate(found.curve) if abs(i - at) == 1]
    told = [
        (value_label(labels, one.values, found.knobs), measured_span(found, one.evening.low, one.evening.high))
        for one in beside
    ]
    said = [f"{label} {ends}" for label, ends in told if ends]
    return [f"Next to it, usually: {'; '.join(said)}."] if said else []


def curve_in_short(found: Tuned, labels: Labels) -> str:
    """``First tries: 8 x 8 m: 3.2 | 9 x 9 m: 2.5``: the values around the answer, before it was played once more."""
    at = next(i for i, one in enumerate(found.curve) if one.values == found.answer)
    start = max(0, min(at - ON_THE_CURVE // 2, len(found.curve) - ON_THE_CURVE))
    shown = found.curve[start : start + ON_THE_CURVE]
    return "First tries: " + " | ".join(
        f"{value_label(labels, one.values, found.knobs)}: {measured_figure(found, one.mean)}" for one in shown
    )


def a_bout(found: Tuned, games: tuple[Game, Game]) -> list[str]:
    """Losses in a bout by the watch, with the answer and as it is."""
    lengths = games[0].bouts.seconds, games[1].bouts.seconds
    lost = lost_a_bout(found.effects, lengths) if found.effects else None
    if lost is None:
        return []
    before, after = counts(*lost)
    if lengths[0] != lengths[1]:
        now, then = (f"{n} times in {spelt_time(s)}" for n, s in zip((before, after), lengths, strict=True))
        return [f"They lose it about {then}, as it is {now}, {WATCH}."]
    than = f"not {before}" if before != after else "as before"
    return [f"They lose it about {after} times a bout, {than} ({spelt_time(lengths[0])} {WATCH})."]


def next_step(found: Tuned, given: Given | None) -> list[str]:
    """One thing to try."""
    if found.fresh is None:
        return try_next("to let it come to its end", given and given.again())
    if is_refused(found.cautions):
        return []
    if not found.reached:
        return [f"Try next: turn something else, or go further with the {knob_noun(found)}."]
    if not found.changes:
        return []
    whole = given and given.about("estimate", changes=found.changes)
    return try_next("to see it whole", whole, found.changes)
