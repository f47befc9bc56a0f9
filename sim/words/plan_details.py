"""Everything of a plan: every evening and what stands in its way, every player's own line, his largest jump, what bands rest on."""

from __future__ import annotations

from sim.experiments.cautions import LINE
from sim.weeks.amounts import LOADS, Amounts
from sim.weeks.filling import Fill, Short, fill, short_of
from sim.weeks.lines import Day, Line
from sim.weeks.plan import Planned, PlannedEvening
from sim.words.listing import listed, some
from sim.words.plan_screen import Misses, evening_of, evenings_of, jump_of
from sim.words.plan_words import HOUSE, NAMES, amount, day_of, ends_of, missed_of
from sim.words.tables import table

WHY = {
    "trains": "all of it",
    "match": "match",
    "away": "away",
    "recovers": "recovers, no game",
    "catching up": "came late",
    "not asked": "no game",
}
HEADS = ("player", "day", "", "min", "km", "m fast", "hard", "bouts")
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
    if plan.lines:
        rows = [row for line in plan.lines for row in rows_of(line)]
        parts += ["Player by player, in the order of the squad file", table(HEADS, rows, width, (0, 1, 2, 7)), ""]
        rises = [jump_of(line) for line in plan.lines if len(line.weeks) > 1 or line.member.weeks_before]
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
            own = {one.evening.day for one in plan.week(number)}
            days = [day for day in line.days if day.day in own]
            for short in short_of(days):
                found.append(
                    f"Week {number}, {short_in_words(line.member.name, short, fill(short, line.member, days))}"
                )
    return found


def short_in_words(name: str, short: Short, how: Fill) -> str:
    """``7 Brandt: fast running 80 m short of 240; 2 runs of 60 m fill it.``"""
    missing = amount(short.measure, short.least - short.has)
    said = f"{name}: {missing} short of {amount(short.measure, short.least)}"
    if how.runs == 0:
        return f"{said}; nothing more within the limit set by {how.by}." if how.by else f"{said}."
    runs = f"{some(how.runs, 'run')} of 60 m"
    if how.left > 0:
        return (
            f"{said}; {runs} leave {amount(short.measure, how.left)}{f', the limit set by {how.by}' if how.by else ''}."
        )
    return f"{said}; {runs} fill it."


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
    return f"Training: {games}", "\n".join([*evening_of(one), LINE])
