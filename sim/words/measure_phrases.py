"""Measures with their figures as a coach says them: what happens how often, what it is counted against, and of whom."""

from __future__ import annotations

from collections.abc import Collection

from sim.experiments.key_measures import LOST
from sim.words.clocks import CLOCKS, ROLLING, WATCH
from sim.words.figures import percent, two
from sim.words.measure_names import BY_WATCH, TURNOVERS, is_counted, wording
from sim.words.who import many_of

WHOLE = 3  # counts from this on are said whole: nobody counts a tenth of a ball
UNITS = {"share": "", "1/min": " a minute", "m/min": " m a minute", "1/bout": " a bout"}
"""Units as they are said after a figure; the others as they are written."""
SAME_BALL = (TURNOVERS, BY_WATCH, LOST, "losses_per_min", "wins_per_min", "shot_ends_per_min")
"""Measures that count much the same moments: of these one is enough."""
SHORT_CLOCKS = {ROLLING: "ball rolling", WATCH: "watch"}
"""The clocks as they stand in tables."""
PLACES = ("inside", "outside")
"""Roles whose names say where somebody is."""


def noun(measure: str, scope: str = "game", shots: bool = False) -> str:
    """``balls won``, ``metres for inside``; `shots`: whether the game has any."""
    return wording(measure).named(shots) + (f" for {players_of_role(whom(scope))}" if scope != "game" else "")


def whom(scope: str) -> str:
    """The team, role or player of a scope (``role:inside``); nothing of the whole game."""
    return scope.partition(":")[2]


def players_of_role(role: str) -> str:
    """``the players inside``, ``the chasers``, ``the outfield players``."""
    if role in PLACES:
        return f"the players {role}"
    return f"the {many_of(role)}"


def per(unit: str, clock: str) -> str:
    """What a count is counted against: ``a minute with the ball rolling``; nothing for what is no count."""
    if unit == "1/min":
        return f"a minute {CLOCKS[clock]}"
    return f"a bout {WATCH}" if unit == "1/bout" else ""


def per_of_rate(unit: str, clock: str) -> str:
    """The same of metres too; nothing for what is no rate."""
    return f"a minute {CLOCKS[clock]}" if unit == "m/min" else per(unit, clock)


def value(measure: str, unit: str, amount: float) -> str:
    """A figure as people say it, without its unit but for shares."""
    if unit == "share":
        return percent(amount)
    if wording(measure).whole:
        return whole_or_tenths(amount)
    return f"{amount:.0f}" if unit in ("m", "m/min") and abs(amount) >= WHOLE else two(amount)


def whole_or_tenths(amount: float) -> str:
    """Of things that are counted: whole, but for few of them."""
    if amount >= WHOLE - 0.05:
        return f"{amount:.0f}"
    return f"{amount:.1f}".removesuffix(".0") if amount >= 0.05 else two(amount)


def happens(measure: str, amount: str, scope: str = "game", shots: bool = False) -> str:
    """``they lose it about 4 times``: of what is counted; `amount` with any "about" or "fewer than" before its figure."""
    said = wording(measure)
    text = said.happens.format(times="once" if amount == "1" else f"{amount} times", n=amount)
    if shots and said.shots_too:
        text = text.replace("lose it", "lose it or shoot")
    return text if scope == "game" else text.replace("they ", f"{players_of_role(whom(scope))} ", 1)


def holds(measure: str, amount: str, scope: str, clock: str, unit: str = "") -> str:
    """``they string 12 passes together``: of what is no count; with its unit where it has no sentence of its own."""
    who = "they" if scope == "game" else players_of_role(whom(scope))
    sentence = wording(measure).holds
    if sentence:
        return sentence.format(v=amount, who=who)
    counted = UNITS.get(unit, f" {unit}" if unit else "")
    return f"{noun(measure, scope)}: {amount}{counted}, {CLOCKS[clock]}"


def unit_of(measure: str, scope: str, measures: Collection[str]) -> str:
    """What stands behind a figure of this measure; `measures` are all of the answer."""
    each = f" for each {scope.removeprefix('role:')} player" if scope != "game" else ""
    shots = LOST in measures and wording(measure).shots_too
    return wording(measure).behind_figure(shots) + ("" if shots else each)


def name_in_table(measure: str, scope: str, measures: Collection[str]) -> str:
    """What a measure is called in a table; `measures` are all of the answer."""
    return wording(measure).head(LOST in measures) + (f" {scope.removeprefix('role:')}" if scope != "game" else "")


def clock_of(measure: str) -> str:
    """The clock of a measure in a table: ``watch`` or ``ball rolling``."""
    return SHORT_CLOCKS[wording(measure).clock]


def instead_of(measure: str, now: str, before: str, scope: str, rate: str) -> str:
    """What becomes of a measure, behind a change: ``they string 6 passes, not 12``; `rate` is what it is counted against."""
    said = wording(measure)
    if said.aside:
        return said.aside.format(now=now, before=before, rate=rate, who=players_of_role(whom(scope)))
    return f"{now} {noun(measure)} {rate}, not {before}" if is_counted(measure) else ""
