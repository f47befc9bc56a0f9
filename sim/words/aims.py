"""How a measure is said to a coach: what he would want more of, what happens, and on which clock it is counted."""

from __future__ import annotations

from collections.abc import Mapping

from sim.words.clocks import CLOCKS, WATCH
from sim.words.figures import percent, two
from sim.words.who import many_of

WHOLE = 3  # counts from this on are said whole: nobody counts a tenth of a ball

COUNTS: Mapping[str, tuple[str, str]] = {  # what there is more or fewer of, and how it happens so many times
    "turnovers_per_min": ("losses", "they lose it {times}"),
    "turnovers_per_clock_min": ("losses", "they lose it {times}"),
    "balls_lost_per_min": ("losses", "they lose it {times}"),
    "losses_per_min": ("losses", "they lose it {times}"),
    "shot_ends_per_min": ("shots", "they get a shot off {times}"),
    "wins_per_min": ("balls won", "the ball is won {times}"),
    "passes_per_min": ("passes", "they play {n} passes"),
    "balls_out_per_min": ("balls out", "it goes out {times}"),
    "points_per_min": ("points", "they score {n} points"),
    "points_per_bout": ("points", "they score {n} points"),
    "threshold_reached_per_min": ("times they get there", "they get to the number asked {times}"),
    "thresholds_per_bout": ("times they get there", "they get to the number asked {times}"),
    "transfers_per_min": ("balls across", "they get it across {times}"),
    "break_aways_per_bout": ("break-aways", "they break away {times}"),
    "goals_per_bout": ("goals", "they score {n} goals"),
    "shots_per_bout": ("shots", "they shoot {times}"),
}
SHOTS_TOO = ("turnovers_per_min", "turnovers_per_clock_min")  # where there are goals, shots are counted with the losses
OTHERS: Mapping[
    str, tuple[str, str]
] = {  # what is no count: what there is more or less of, and what is said of its value
    "pass_completion": ("passes that arrive", "{v} of their passes arrive"),
    "pass_run_median": ("passes in a run", "they string {v} passes together"),
    "pass_run_share_reaching": ("runs that get to the number asked", "{v} of runs get to the number asked"),
    "in_play_share": ("time with the ball rolling", "the ball rolls for {v} of the bout on the watch"),
    "defending_share_most": (
        "defending for the busiest",
        "the busiest defends {v} of the time with the ball rolling",
    ),
    "distance_per_min": ("metres", "{who} run {v} metres a minute on the watch"),
    "defending_share": ("defending", "{who} defend {v} of the time with the ball rolling"),
    "high_speed_distance_per_min": ("fast metres", "{who} run {v} m fast a minute on the watch"),
}
NAMES: Mapping[str, str] = {"metabolic_power": "cost of running", "loss_share_by_cause": "share of losses by cause"}
UNITS: Mapping[str, str] = {"share": "", "1/min": " a minute", "m/min": " m a minute", "1/bout": " a bout"}
"""Units as they are said after a figure; the others as they are written."""
SAME_BALL = (
    "turnovers_per_min", "turnovers_per_clock_min", "balls_lost_per_min", "losses_per_min", "wins_per_min", "shot_ends_per_min",
)  # fmt: skip
"""Measures that count much the same moments: of these one is enough."""


def noun(measure: str, scope: str = "game", shots: bool = False) -> str:
    """``balls won``, ``metres for inside``; `shots`: whether the game has any."""
    if measure in COUNTS:
        text = COUNTS[measure][0] + (" and shots" if shots and measure in SHOTS_TOO else "")
    else:
        text = OTHERS[measure][0] if measure in OTHERS else plain_name(measure)
    return text + (f" for {people(whom(scope))}" if scope != "game" else "")


def plain_name(measure: str) -> str:
    """A measure that has no words of its own: its name without the unit."""
    if measure in NAMES:
        return NAMES[measure]
    for ending in ("_per_min", "_per_bout", "_kmh", "_m", "_s"):
        measure = measure.removesuffix(ending)
    return measure.replace("_", " ")


def whom(scope: str) -> str:
    return scope.partition(":")[2]


def per(unit: str, clock: str) -> str:
    """What a rate is counted against: ``a minute with the ball rolling``; nothing for what is no rate."""
    if unit == "1/min":
        return f"a minute {CLOCKS[clock]}"
    return f"a bout {WATCH}" if unit == "1/bout" else ""


def value(measure: str, unit: str, amount: float) -> str:
    """A figure as people say it, without its unit but for shares."""
    if unit == "share":
        return percent(amount)
    if measure == "pass_run_median":
        return count(amount)
    return f"{amount:.0f}" if unit in ("m", "m/min") and abs(amount) >= WHOLE else two(amount)


def count(amount: float) -> str:
    """Of things that are counted: whole, but for few of them."""
    return (
        f"{amount:.0f}"
        if amount >= WHOLE - 0.05
        else f"{amount:.1f}".removesuffix(".0")
        if amount >= 0.05
        else two(amount)
    )


def happens(measure: str, amount: str, scope: str = "game", shots: bool = False) -> str:
    """``they lose it about 4 times``: of what is counted; `amount` with any "about" or "fewer than" before its figure."""
    text = COUNTS[measure][1].format(times="once" if amount == "1" else f"{amount} times", n=amount)
    if shots and measure in SHOTS_TOO:
        text = text.replace("lose it", "lose it or shoot")
    return text if scope == "game" else text.replace("they ", f"{people(whom(scope))} ", 1)


def holds(measure: str, amount: str, scope: str, clock: str, unit: str = "") -> str:
    """``they string 12 passes together``: of what is no count; with its unit where it has no sentence of its own."""
    who = "they" if scope == "game" else people(whom(scope))
    if measure in OTHERS:
        return OTHERS[measure][1].format(v=amount, who=who)
    counted = UNITS.get(unit, f" {unit}" if unit else "")
    return f"{noun(measure, scope)}: {amount}{counted}, {CLOCKS[clock]}"


PLACES = ("inside", "outside")
"""Roles whose names say where somebody is."""


def people(role: str) -> str:
    """``the players inside``, ``the chasers``, ``the outfield players``."""
    if role in PLACES:
        return f"the players {role}"
    return f"the {many_of(role)}"
