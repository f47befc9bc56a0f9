"""How a plan is said: days, labels, amounts beside their bands, games with their bouts."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date

from sim.weeks.amounts import Measure
from sim.weeks.bands import TOP_UP, Band
from sim.weeks.choosing import Taken
from sim.weeks.days import Match
from sim.weeks.plan import PlannedEvening
from sim.weeks.reasons import Binding
from sim.words.figures import metres, span, two
from sim.words.listing import capital, listed, number_word
from sim.words.set_ups import in_short
from sim.words.setting_up import time_of

DAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")
MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")
NAMES: Mapping[Measure, str] = {
    "minutes": "minutes",
    "metres": "distance",
    "fast_metres": "fast running",
    "accelerations": "hard stops and starts",
}
HARD = NAMES["accelerations"]
BINDS: Mapping[Binding, str] = {
    "minutes": "a longer evening would do it",
    "themes": "its themes stand in the way",
    "variety": "the game that would do it has come often enough that week",
    "blocks": "one game more would do it",
    "other bands": "nearer would break another band",
    "games": "no game here gives it",
    "heat": "the heat table takes it away, and nothing is added",
}
HOUSE = "Bands: house defaults (common practice, no source) but where your file has its own."


def evenings_that(count: int, total: int, does: tuple[str, str, str]) -> str:
    """``Every evening fits its bands``, ``One of two evenings fits its bands``, ``The evening does not fit its bands``.

    `does`: what one does, what it does not, what several do.
    """
    one, not_, many = does
    if total == 1:
        return f"The evening {one if count else not_}"
    if count in (0, total):
        return f"{'Every' if count else 'No'} evening {one}"
    return f"{capital(number_word(count))} of {number_word(total)} evenings {one if count == 1 else many}"


def day_of(day: date) -> str:
    """``Tue 11 Aug``."""
    return f"{DAYS[day.weekday()]} {day.day} {MONTHS[day.month - 1]}"


def label_of(labels: Sequence[str]) -> str:
    """``MD+2 and MD-2``; nothing where no match is near."""
    return listed(["MD+1 (top-up)" if one == TOP_UP else one for one in labels]) if labels else "no match near"


def kilometres(value: float) -> str:
    """``4.6``: metres as kilometres, to a tenth."""
    return f"{value / 1000:.1f}"


def amount(measure: Measure, value: float) -> str:
    """``4.6 km``, ``90 m fast``, ``75 min``, ``80 hard stops and starts``."""
    if measure == "metres":
        return f"{kilometres(value)} km"
    if measure == "minutes":
        return f"{value:.0f} min"
    return f"{metres(value)} m fast" if measure == "fast_metres" else f"{two(value)} {HARD}"


def ends_of(measure: Measure, low: float, high: float) -> str:
    """``4.4 to 6.4``, in the unit of `amount`."""
    if measure == "metres":
        return span(low, high, kilometres)
    return span(low, high, (lambda value: f"{value:.0f}") if measure == "minutes" else metres)


def beside_band(measure: Measure, value: float, band: Band | None) -> str:
    """``4.6 km (4.4-6.4)``: with the band in brackets, where there is one."""
    said = amount(measure, value)
    return said if band is None else f"{said} ({ends_of(measure, band.low, band.high).replace(' to ', '-')})"


def amounts_of(one: PlannedEvening) -> str:
    """All amounts of an evening with their bands."""
    return ", ".join(beside_band(name, value, one.need.bands.get(name)) for name, value in one.amounts.items())


def game_of(taken: Taken) -> str:
    """``in-pairs, two groups of 6 v 2 in 14 x 14 m: 4 bouts of 4 min, 60 s rest``."""
    offer = taken.offer
    bouts = f"{taken.bouts} bouts" if taken.bouts > 1 else "a bout"
    rest = f", {time_of(offer.rest_s)} rest" if offer.rest_s and taken.bouts > 1 else ""
    return f"{offer.game}{_layout(taken)}: {bouts} of {time_of(offer.work_s)}{rest}"


def _layout(taken: Taken) -> str:
    told = [in_short(game) for game in taken.offer.groups]
    if not told:
        return ""
    kinds = [one if told.count(one) == 1 else f"{number_word(told.count(one))} of {one}" for one in dict.fromkeys(told)]
    return f", {listed(kinds)}"


def match_of(match: Match) -> str:
    """``Sat 15 Aug: friendly on the lower pitch``."""
    return f"{day_of(match.day)}, {'friendly' if match.friendly else 'match'}: {match.name}"


def missed_of(measure: Measure, off: float, binding: Sequence[Binding]) -> str:
    """``fast running 120 m short: no game here gives it``."""
    how = "short" if off < 0 else "too much"
    size = amount(measure, abs(off)).removesuffix(" fast").removesuffix(f" {HARD}")
    return f"{NAMES[measure]} {size} {how}: {listed([BINDS[one] for one in binding[:2]], 'or')}"
