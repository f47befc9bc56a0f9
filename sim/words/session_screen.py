"""An evening on a small screen: who is in the band of the day, by which clock, with what, who moved, and what would close a gap."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from sim.experiments.last_line import LINE
from sim.game.terms import Bouts
from sim.planning.band import MEASURES
from sim.planning.closing import Change
from sim.planning.forecast import Forecast
from sim.planning.heat import Heat, in_force
from sim.planning.session import ANY_COLOUR, Planned, moved
from sim.planning.usual_evening import UsualEvening
from sim.squads.squad import Person
from sim.words.evening_figures import whole
from sim.words.figures import percent, two
from sim.words.listing import listed, number, number_word, some
from sim.words.screen import Screen
from sim.words.set_ups import numbers_of
from sim.words.within_limits import group, within_limits

SAID = {
    "minutes": "minutes on the pitch",
    "metres": "metres",
    "fast_metres": "fast metres",
    "accelerations": "hard accelerations",
    "decelerations": "hard decelerations",
    "effort": "effort x minutes",
    "middle": "minutes without the ball",
}
"""The measures of a band as they are said."""
SHORTLY = {
    "minutes": "{} min",
    "metres": "{} m",
    "fast_metres": "{} fast m",
    "accelerations": "{} hard accelerations",
    "decelerations": "{} hard decelerations",
    "effort": "{} points of effort",
    "middle": "{} min without the ball",
}
"""So much of it, in a row."""
HALVES = ("half a minute", "a minute", "a minute and a half")
"""What is put to every rest, by how many half minutes it is."""
FEW_NAMES = 3
"""So many are named; of more the shirts are told."""
MOST_PLACES = 2
"""Decimals of a figure at most."""
MOVES = 0.02
"""A share by which something must change to be told beside a change."""
KEPT = "What has been played of the blocks is kept: the same command goes on from there."
BESIDE_HEAT = (("minutes", "min"), ("metres", "m"))
"""What is told of the usual evening beside a hot one."""
NOT_PLAYED = "Plan it once without the heat, then what it takes off the usual evening stands here."
NO_TABLE = "No heat table was given: the limits of your club or federation decide, not this plan."


def session_on_a_screen(
    found: Forecast,
    before: Planned | None,
    change: Change | None,
    wbgt: float | None,
    doing: Sequence[str],
    usual: UsualEvening | None = None,
) -> str:
    """The whole answer; `before`: the plan for everybody who was expected; `wbgt`: a reading, with a table or without; `usual`: the
    evening without the heat, where that takes anything away."""
    plan = found.plan
    out = [gap_in_words(found, *one) for one in gaps(found)]
    beside = [*out, *set_anew(plan), clock(plan), kit(plan), *within_limits(found)]
    beside += moves(before, plan) if before else []
    heat = [] if wbgt is None else [heat_in_words(plan.heat), *taken_by_heat(found, usual)]
    closing = [change_in_words(found, change)] if change is not None else []
    if in_force(plan.heat) and gaps(found):
        closing = ["Less than the band is what the heat table is for: nothing is added to make up for it."]
    elif change is None and gaps(found):
        closing = ["No more or fewer bouts, rests or metres of one block bring more of them into the band."]
    sure = f"Trust the metres to about {two(doubt_of_metres(found))} %; accelerations and effort are rough."
    cautions = [f"Usually: eight sessions in ten. {sure}", LINE]
    return Screen(asked(plan), [*headline(found), *heat], beside, [*closing, *doing], cautions).text()


def asked(plan: Planned) -> str:
    """The evening, who is there, and how long it takes."""
    evening = plan.evening
    keepers = sum(person.keeps for person in plan.people)
    people = some(len(plan.people) - keepers, "player") + (f", {some(keepers, 'keeper')}" if keepers else "")
    blocks = sum(not part.goes_on for part in evening.parts)
    label = f" ({evening.band.label})" if evening.band.label else ""
    ground = f"{evening.ground.length:g} x {evening.ground.width:g} m"
    return (
        f"{evening.title}{label}: {people}; {some(blocks, 'block')} on {ground}, "
        f"{number(plan.long_s / 60)} of {evening.minutes:g} min"
    )


def headline(found: Forecast) -> list[str]:
    """What they get, and who is out of the band."""
    if not found.judged:
        return ["Nobody on full load is there: no player is held against the band."]
    minutes, metres = (typical(found, name) for name in ("minutes", "metres"))
    said = f"They get about {minutes} min and {metres} m each (usually {usual(found, 'metres')} m)"
    if not found.plan.evening.band.ends:
        return [f"{said}."]
    out = gaps(found)
    whose = f" (band: {found.plan.evening.band.source})" if found.plan.evening.band.source else ""
    if not out:
        return [f"{said}: all are in the band of the day{whose}."]
    count = len({i for _, _, who in out for i in who})
    are = "is" if count == 1 else "are"
    return [f"{said}: {count} of {len(found.judged)} {are} out of the band{whose}."]


def typical(found: Forecast, measure: str) -> str:
    """The mean of those on full load."""
    return whole(float(found.mean[found.judged, list(MEASURES).index(measure)].mean()))


def usual(found: Forecast, measure: str) -> str:
    """From the lowest to the highest of the ranges of one session, over those on full load: their means."""
    column = list(MEASURES).index(measure)
    low, high = (float(ends[found.judged, column].mean()) for ends in (found.low, found.high))
    return " to ".join(dict.fromkeys((whole(low), whole(high))))


def gaps(found: Forecast) -> list[tuple[str, int, list[int]]]:
    """(measure, -1 below or 1 above, who) of whatever is out of the band, in the order of the measures."""
    band = found.plan.evening.band
    every = []
    for j, name in enumerate(MEASURES):
        for side in (-1, 1):
            who = [i for i in found.judged if band.off(name, found.mean[i, j]) == side]
            if who:
                every.append((name, side, who))
    return every


def gap_in_words(found: Forecast, measure: str, side: int, who: Sequence[int]) -> str:
    """``Short of metres (2,800 to 4,200): 5, 8 and 14, about 2,500 to 2,700.``"""
    column = list(MEASURES).index(measure)
    values = found.mean[list(who), column]
    end = found.plan.evening.band.ends[measure][side > 0]
    ends = " to ".join(dict.fromkeys(beyond(float(one), end, side) for one in (values.min(), values.max())))
    band = " to ".join(f"{one:,g}" for one in found.plan.evening.band.ends[measure])
    people = [found.plan.people[i] for i in who]
    names = listed([person.called for person in people]) if len(who) <= FEW_NAMES else shirts(people)
    if len(who) == len(found.judged):
        names = "all of them"
    head = "Short of" if side < 0 else "Over in"
    return f"{head} {SAID[measure]} ({band}): {names}, about {ends}."


def beyond(value: float, end: float, side: int) -> str:
    """A figure out of the band, rounded no further than still reads so: below (-1) or above (1) that end of it."""
    for text in (whole(value), *(f"{value:,.{places}f}" for places in range(MOST_PLACES + 1))):
        if side * (float(text.replace(",", "")) - end) > 0:
            return text
    return f"just {'under' if side < 0 else 'over'} {end:,g}"


def shirts(people: Sequence[Person]) -> str:
    """``3, 4 and 8``."""
    return listed([str(person.shirt) for person in people])


def clock(plan: Planned) -> str:
    """``squares (4 x 2 min), after 15 min keep-ball (4 x 3 min), end after 56 min.``"""
    starts = [
        f"{after(start)}{part.name} ({bouts(one.games[0].bouts)})"
        for start, part, one in zip(plan.starts_s, plan.evening.parts, plan.line_ups, strict=True)
    ]
    return f"Clock: {', '.join(starts)}, end {after(plan.long_s).strip()}{free(plan)}."


def free(plan: Planned) -> str:
    """``; 34 min are free``: what is left of the evening; nothing below a minute."""
    left = plan.evening.minutes - plan.long_s / 60
    return f"; {whole(left)} min {'is' if round(left) == 1 else 'are'} free" if left >= 1 else ""


def set_anew(plan: Planned) -> list[str]:
    """``squares: 5 v 3 is now 4 v 3 and 4 v 2``: the set-ups of the blocks whose game had to change, in a line each."""
    lines = []
    for one in (line_up for line_up in plan.line_ups if line_up.anew):
        told = [numbers_of(game) for game in one.games]
        if set(told) == {numbers_of(one.asked)} and not one.waiting:
            continue  # other places, the same numbers
        kinds = [numbers if told.count(numbers) == 1 else f"{number_word(told.count(numbers))} of {numbers}"
                 for numbers in dict.fromkeys(told)]  # fmt: skip
        waiting = f", {number_word(len(one.waiting))} out in turn" if one.waiting else ""
        lines.append(f"Set up anew, {one.part.name}: {numbers_of(one.asked)} is now {listed(kinds)}{waiting}.")
    return lines


def bouts(own: Bouts) -> str:
    """``4 x 2 min``."""
    return f"{own.count} x {number(own.seconds / 60)} min"


def after(seconds: float) -> str:
    """``after 15 min ``, ``after 2 min 15 s ``: before what begins so long after the start; nothing at the start."""
    minutes, rest = divmod(round(seconds), 60)
    parts = [*([f"{minutes} min"] if minutes else []), *([f"{rest} s"] if rest else [])]
    return f"after {' '.join(parts)} " if parts else ""


def kit(plan: Planned) -> str:
    """What has to be there, and who runs it."""
    own = plan.kit
    later = [
        f"{part.name} {'none' if count == 0 else count} new"
        for part, count in zip(plan.evening.parts[1:], own.new_cones[1:], strict=True)
    ]
    cones = f"{own.cones} cones" + (f" ({', '.join(later)})" if later else "")
    colours = ", ".join(
        f"{count} {'of ' if colour == ANY_COLOUR else ''}{colour}" for colour, count in own.bibs.items()
    )
    people = "person" if own.staff == 1 else "people"
    balls, staff = some(own.balls, "ball"), number_word(own.staff)
    return f"Kit: {cones}; bibs: {colours or 'none'}; {balls}; {staff} {people} to run it."


def moves(before: Planned, after: Planned) -> list[str]:
    """Who plays in another group than planned, block by block."""
    lines = []
    for name, changed in moved(before, after):
        if changed:
            said = listed([f"{person.called} from {group(old)} to {group(new)}" for person, old, new in changed])
            lines.append(f"Moves in {name}: {said}.")
    return lines or ["Nobody moves."]


def doubt_of_metres(found: Forecast) -> float:
    """How sure the metres are, %: twice the standard error that comes of so few sessions, of whom it is largest; 1 at least."""
    column = list(MEASURES).index("metres")
    shares = [found.error[i, column] / found.mean[i, column] for i in found.judged if found.mean[i, column] > 0]
    return max(1.0, 200.0 * max(shares, default=0.0))


def heat_in_words(heat: Heat | None) -> str:
    """The reading, what the table makes of it, and who approved it; that there is no table."""
    if heat is None:
        return NO_TABLE
    if heat.rule is None:
        return f"{heat.wbgt:g} WBGT: below every row of {heat.source}."
    rule = heat.rule
    parts = [
        *([f"{100 * rule.bouts_share:.0f} % of the bouts"] if rule.bouts_share < 1 else []),
        *([f"bouts of {number(rule.most_work_s / 60)} min at most"] if np.isfinite(rule.most_work_s) else []),
        *(
            [f"rests of {number(rule.least_rest_s / 60)} min at least (between blocks too)"]
            if rule.least_rest_s
            else []
        ),
        *([f"drinks {number(rule.least_drinks_s / 60)} min a block"] if rule.least_drinks_s else []),
    ]
    return f"{heat.wbgt:g} WBGT: {listed(parts) or 'as planned'}, approved by {rule.approved_by}."


def taken_by_heat(found: Forecast, usual: UsualEvening | None) -> list[str]:
    """What the heat takes off the usual evening, or how to have it told."""
    if usual is None or not found.judged:
        return []
    if usual.found is None:
        return [NOT_PLAYED]
    before = " and ".join(f"{typical(usual.found, name)} {unit}" for name, unit in BESIDE_HEAT)
    minutes, metres = (lost(found, usual.found, name) for name, _ in BESIDE_HEAT)
    return [
        f"The usual evening is about {before} each: the heat takes {minutes} of the minutes, {metres} of the metres."
    ]


def lost(found: Forecast, usual: Forecast, measure: str) -> str:
    """How much less those on full load get than usual, as a share of it: figures rounded one by one need not add up."""
    column = list(MEASURES).index(measure)
    now, before = (float(one.mean[found.judged, column].mean()) for one in (found, usual))
    return percent(max(0.0, 1 - now / before) if before > 0 else 0.0)


def change_in_words(found: Forecast, change: Change) -> str:
    """The cheapest change that closes a gap, and what else moves."""
    size = abs(change.step)
    longer = (change.long_s - found.plan.long_s) / 60
    more = "more" if change.step > 0 else "fewer" if change.kind == "bout" else "less"
    said = {
        "bout": f"{some(size, 'bout')} {more} of {change.part}",
        "rest": f"{HALVES[size - 1]} {more} in each rest of {change.part}",
        "metre": f"{some(size, 'metre')} {more} each side in {change.part}",
    }[change.kind]
    rows = found.judged
    old, new = found.mean[rows].mean(axis=0), change.mean[rows].mean(axis=0)
    moving = [
        (new[j] > old[j], SHORTLY[name].format(whole(abs(float(new[j] - old[j])))))
        for j, name in enumerate(MEASURES)
        if name in found.told and abs(new[j] - old[j]) > MOVES * old[j]
    ]
    ways = (("more", [said for up, said in moving if up]), ("less", [said for up, said in moving if not up]))
    also = " and ".join(f"{listed(those)} {way}" for way, those in ways if those)
    now = sum(len(who) for _, _, who in gaps(found))
    closes = "brings everybody into the band" if change.off == 0 else f"leaves {some(change.off, 'gap')} of {now}"
    costs = f"{number(abs(longer))} min {'more' if longer > 0 else 'less'}" if longer else "no more time"
    return (
        f"Cheapest change: {said}, {costs} ({number(change.long_s / 60)} min in all), {closes}: "
        f"each {also or 'as before in all else'}."
    )
