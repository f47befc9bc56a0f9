"""A week looked back on, in words: evening by evening and player by player, planned beside played, and missing where it is."""

from __future__ import annotations

from collections.abc import Sequence

from sim.experiments.last_line import LINE
from sim.weeks.amounts import LOADS
from sim.weeks.choosing import scale
from sim.weeks.filling import NOTICED
from sim.weeks.plan import Planned
from sim.weeks.review import Looked, Own
from sim.words.listing import listed, some
from sim.words.plan_details import short_in_words
from sim.words.plan_words import amount, day_of, ends_of, evenings_that, label_of
from sim.words.screen import WIDTH, Screen
from sim.words.tables import table

MISSING = "missing"
HEADS = ("evening", "day", "band, km", "planned, km", "bouts, min", "played, min")
PLAYER_HEADS = ("player", "bouts, min", "played, min")
MOST_SHORT = 6


def review_on_a_screen(plan: Planned, week: int, looked: Sequence[Looked], own: Sequence[Own], details: bool) -> str:
    """The week in review; with `details` every player's row."""
    asked = f"{plan.file.title}: week {week}, planned and played"
    rows = [row_of(one) for one in looked]
    body = table(HEADS, rows, WIDTH, (0, 1)).splitlines() if rows else []
    told = shorts_told(own)
    shown = told if details else told[:MOST_SHORT]
    more = [f"{len(told) - len(shown)} more in --details."] if len(told) > len(shown) else []
    people = ["", *table(PLAYER_HEADS, [player_row(one) for one in own], WIDTH).splitlines()] if details and own else []
    beside = [*missed_lines(looked), *shown, *more]
    return Screen(asked, [headline(looked, own), *body, *people], beside, doing(looked), [LINE]).text()


def shorts_told(own: Sequence[Own]) -> list[str]:
    """Who is short of what, and what would make it up, in the order of the squad file."""
    return [
        short_in_words(one.line.member.name, one.short, one.fill, " on top")
        + (" By minutes played." if one.played_min is not None and one.asked_min else "")
        for one in own
        if one.fill is not None
    ]


def headline(looked: Sequence[Looked], own: Sequence[Own]) -> str:
    """How much is written down, and how many are short."""
    if not looked:
        return "No evening was planned in this week."
    written = sum(one.played is not None for one in looked)
    if not written:
        return "Nothing is written down of this week: what was played is missing, so the plan alone says who is short."
    short = sum(bool(one.short) for one in own)
    who = f"{some(short, 'player')} {'is' if short == 1 else 'are'} short of something" if short else "nobody is short"
    is_ = ("is written down", "is not written down", "are written down")
    return f"{evenings_that(written, len(looked), is_)}; {who}."


def missed_lines(looked: Sequence[Looked]) -> list[str]:
    """``Tue 11 Aug: 25 of 40 min of bouts played; by that 3.4 km, short of 4.4 to 6.4.``

    A line for every evening that by the minutes played missed a band by more than a tenth, or was shorter or longer by as much.
    """
    lines = []
    for one in looked:
        if one.played is None or not one.asked_min:
            continue
        came_to, need = one.came_to, one.planned.need
        out = [
            f"{amount(name, came_to[name])}, {'short of' if off < 0 else 'over'} "
            f"{ends_of(name, need.bands[name].low, need.bands[name].high)}"
            for name in LOADS
            if name in need.bands and name in came_to
            if abs(off := need.bands[name].off(came_to[name])) > NOTICED * scale(need, name)
        ]
        head = f"{day_of(one.planned.evening.day)}: {one.played_min:.0f} of {one.asked_min:.0f} min of bouts played"
        if out:
            lines.append(f"{head}; by that {listed(out)}.")
        elif abs(one.played_min - one.asked_min) > NOTICED * one.asked_min:
            lines.append(f"{head}; by that no band is missed.")
    return lines


def row_of(one: Looked) -> tuple[str, ...]:
    """An evening: its band and what was planned in kilometres, minutes of bouts planned and played."""
    planned = one.planned
    band = planned.need.bands.get("metres")
    low, high = planned.usual
    return (
        day_of(planned.evening.day),
        label_of(planned.labels),
        "no band" if band is None else ends_of("metres", band.low, band.high),
        f"{amount('metres', planned.amounts['metres']).split()[0]} ({ends_of('metres', low['metres'], high['metres'])})"
        if planned.taken
        else "no game",
        f"{one.asked_min:.0f}",
        MISSING if one.played is None else f"{one.played_min:.0f}",
    )


def player_row(one: Own) -> tuple[str, ...]:
    """A player: minutes of bouts planned for him, and played."""
    return one.line.member.name, f"{one.asked_min:.0f}", MISSING if one.played_min is None else f"{one.played_min:.0f}"


def doing(looked: Sequence[Looked]) -> list[str]:
    """What to write down next time."""
    missing = [day_of(one.planned.evening.day) for one in looked if one.played is None]
    if missing:
        return [f"Missing: {listed(missing)}. Hand it in with `overload tally`, with who played."]
    without = [
        day_of(one.planned.evening.day) for one in looked if one.played is not None and one.played.shirts is None
    ]
    if without:
        return [f"Who played is not written down of {listed(without)}: shirts under who_played say it."]
    return []
