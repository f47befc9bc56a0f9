"""Everything of a plan: every evening and what stands in its way, every player's own line, his largest jump, what bands rest on."""

from __future__ import annotations

from collections.abc import Sequence

from sim.experiments.last_line import LINE
from sim.weeks.amounts import LOADS, Amounts
from sim.weeks.days import week_number
from sim.weeks.filling import Fill, Short, fill, short_of
from sim.weeks.lines import Day, Line
from sim.weeks.plan import Planned, PlannedEvening
from sim.words.listing import listed, some
from sim.words.plan_screen import Misses, evening_of, evenings_of, heat_of, jump_of
from sim.words.plan_words import HOUSE, NAMES, amount, day_of, ends_of, missed_of
from sim.words.tables import table

WHY = {
    "trains": "all of it",
    "match": "match",
    "away": "away",
    "recovers": "recovers, no game",
    "catching up": "came late",
    "not asked": "no game",
    "in goal": "in goal",
    "keepers' coach": "keepers' coach",
}
HEADS = ("player", "day", "", "min", "km", "m fast", "hard stops, starts", "bouts")
BLANK = "-"
OF_MINORS = "Minors train: no fast metres, as no adults' speed holds for them."


def plan_in_full(plan: Planned, misses: Misses, width: int | None) -> str:
    """All of it, part by part."""
    parts = ["Evenings (the band in brackets)", *evenings_of(plan, plan.evenings), ""]
    told = [
        f"{day_of(one.evening.day)}, {missed_of(miss.measure, miss.off, miss.binding)}."
        for one in plan.evenings
        for miss in misses.get(one.evening.day, ())
    ]
    parts += ["Bands that are missed by more than a tenth", *(told or ["None."]), ""]
    parts += ["Eight evenings in ten, one player", *usual_of(plan), ""]
    parts += ["Heat", *heat_of(plan.evenings), ""] if heat_of(plan.evenings) else []
    if plan.lines:
        rows = [row for line in plan.lines for row in rows_of(line)]
        parts += ["Player by player, in the order of the squad file", table(HEADS, rows, width, (0, 1, 2, 7)), ""]
        field = [line for line in plan.lines if not line.member.keeper]
        rises = [jump_of(line) for line in field if len(line.weeks) > 1 or line.member.weeks_before]
        parts += ["Largest rise from one week to the next", *rises, ""] if rises else []
        parts += ["Short of the lower ends of his bands, week by week", *(shorts_of(plan) or ["Nobody."]), ""]
    return "\n".join([*parts, *resting_on(plan), LINE])


def usual_of(plan: Planned) -> list[str]:
    """The range of every evening."""
    found = []
    for one in plan.evenings:
        if one.taken:
            low, high = one.usual
            said = [f"{NAMES[name]} {ends_of(name, low[name], high[name])}" for name in LOADS if name in low]
            found.append(f"{day_of(one.evening.day)}: {', '.join(said)}")
    return found


def rows_of(line: Line) -> list[tuple[str, ...]]:
    """A row for each day of a player."""
    return [
        (line.member.name if i == 0 else "", day_of(day.day), why_of(day), *figures(day.amounts), bouts_of(day))
        for i, day in enumerate(line.days)
    ]


def why_of(day: Day) -> str:
    """Why the day is as it is; a limit with who set it."""
    if day.why == "match" and day.amounts.get("minutes") == 0:
        return "not in the match"
    return f"limit, {day.by}" if day.why == "limited" else WHY[day.why]


def figures(amounts: Amounts) -> tuple[str, str, str, str]:
    """Minutes, kilometres, fast metres, hard changes of speed; what is not known is blank."""
    minutes = f"{amounts['minutes']:.0f}" if "minutes" in amounts else BLANK
    loads = [amount(name, amounts[name]).split()[0] if name in amounts else BLANK for name in LOADS]
    return minutes, loads[0], loads[1], loads[2]


def bouts_of(day: Day) -> str:
    """``4 + 3``: bouts of each game."""
    return " + ".join(str(one) for one in day.bouts) or BLANK


def shorts_of(plan: Planned) -> list[str]:
    """Who is short of what in which week, and what would fill it."""
    found = []
    for line in plan.lines:
        for number in line.weeks:
            days = [day for day in line.days if week_number(day.day, plan.file.first) == number]
            if shorts := short_of(days):
                found.append(
                    f"Week {number}, {short_in_words(line.member.name, shorts, fill(shorts, line.member, days))}"
                )
    return found


def short_in_words(name: str, shorts: Sequence[Short], how: Fill, when: str = "") -> str:
    """``7 Brandt: short by 80 of 240 m fast; two runs of 60 m on Tue 11 Aug, walk back after each (2 min), make it up.``

    `when` in place of the day.
    """
    missing = f"short by {listed([missing_of(one) for one in shorts])}"
    why = {
        "limit": f"the limit set by {how.by}" if how.by else "his limits",
        "time": "the time of the evening",
        "heat": "the heat",
        "": "twelve at most",
    }[how.bound]
    if how.runs == 0:
        return f"{name}: {missing}; no runs on top: {why}."
    day = when or (f" on {day_of(how.on)}" if how.on else "")
    back = "walk back after each" if how.runs > 1 else "walk back after it"
    runs = f"{some(how.runs, 'run')} of 60 m{day}, {back} ({how.runs} min),"
    left = [amount(measure, value) for measure, value in how.left.items() if value > 0]
    if left:
        return f"{name}: {missing}; {runs} {'leave' if how.runs > 1 else 'leaves'} {listed(left)} ({why})."
    return f"{name}: {missing}; {runs} {'make' if how.runs > 1 else 'makes'} it up."


def missing_of(short: Short) -> str:
    """``3.8 of 7.8 km``."""
    return f"{amount(short.measure, short.least - short.has).split()[0]} of {amount(short.measure, short.least)}"


def resting_on(plan: Planned) -> list[str]:
    """What the bands stand on, and what is left blank."""
    known = plan.file.match_bands
    minors = plan.file.minors or any(line.member.minor for line in plan.lines)
    blank = [NAMES[name] for name in LOADS if name not in known and not (minors and name == "fast_metres")]
    lines = [HOUSE, *([OF_MINORS] if minors else [])]
    if blank:
        lines.append(f"No band for {listed(blank)}: no full match of yours is in the file (match_values).")
    lent = [NAMES[name] for name in LOADS if name in known and name not in plan.file.full_match]
    if lent:
        lines.append(
            f"A full match of adult men stands in for yours: {listed(lent)} (wide; give your own in match_values)."
        )
    unsaid = [match for match in plan.file.matches if not match.minutes]
    if unsaid and plan.lines:
        lines.append(
            "Matches without minutes count for nobody's metres; the day after, everybody is taken to have played."
        )
    return lines


def event_of(one: PlannedEvening) -> tuple[str, str]:
    """Title and text of an evening in a calendar."""
    games = listed([taken.offer.game for taken in one.taken]) or "no game"
    return f"Training: {games}", "\n".join([*evening_of(one), *heat_of([one]), LINE])
