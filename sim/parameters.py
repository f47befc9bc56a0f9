"""The table of assumptions: every constant of the engine, with its unit, spread and where it comes from.

This module holds the form of a row, the checks, and the constants of motion, ball and heart rate; the judgements of play are rows
of the same form in `sim.pitch.assumptions`.  What belongs to players (speed, reaction, passing) differs between
populations and stands in `sim.populations`, with the same columns.

`spread` is how unsure we are of the value itself (one standard deviation, same unit; 0 where it is a definition),
`low` and `high` the range we would defend.  `provenance` says what the value rests on:

published      stated in, or computed from, a named publication
open data      computed by us from openly available match data
house default  our choice among published or well-known values that differ
judgement      no source; ours to change
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from types import MappingProxyType

from sim.errors import InputError

PROVENANCES = ("published", "open data", "house default", "judgement")


@dataclass(frozen=True)
class Parameter:
    """One assumption."""

    name: str
    value: float
    unit: str
    spread: float
    low: float
    high: float
    provenance: str
    note: str


def problems(parameter: Parameter) -> list[str]:
    """What is wrong with one row; empty when all is well."""
    where = f"parameters.{parameter.name}"
    found = []
    numbers = {"value": parameter.value, "spread": parameter.spread, "low": parameter.low, "high": parameter.high}
    for column, number in numbers.items():
        if not math.isfinite(number):
            found.append(f"{where}.{column} must be a finite number (got {number})")
    if not parameter.name.isidentifier():
        found.append(f"{where}.name must be letters, digits and underscores (got {parameter.name!r})")
    if not parameter.unit:
        found.append(f"{where}.unit must be given, 1 for a pure number (got {parameter.unit!r})")
    if not parameter.note:
        found.append(f"{where}.note must say what the constant is and rests on (got {parameter.note!r})")
    if parameter.provenance not in PROVENANCES:
        found.append(f"{where}.provenance must be one of {', '.join(PROVENANCES)} (got {parameter.provenance!r})")
    if parameter.spread < 0:
        found.append(f"{where}.spread must be 0 or more (got {parameter.spread})")
    if not parameter.low <= parameter.value <= parameter.high:
        found.append(
            f"{where}.value must be between {parameter.low} and {parameter.high}, its low and high"
            f" (got {parameter.value})"
        )
    return found


def table(parameters: Iterable[Parameter]) -> Mapping[str, Parameter]:
    """A frozen table by name, refused when a row is not sound or a name stands there twice."""
    rows: dict[str, Parameter] = {}
    found: list[str] = []
    for parameter in parameters:
        found += problems(parameter)
        if parameter.name in rows:
            found.append(f"parameters.{parameter.name} must stand in the table once (got it twice)")
        rows[parameter.name] = parameter
    if found:
        raise InputError(found)
    return MappingProxyType(rows)


def defaults() -> Mapping[str, float]:
    """Name -> value of the whole table, frozen."""
    return MappingProxyType({name: parameter.value for name, parameter in TABLE.items()})


_MOTION = (
    Parameter("acceleration_limit_mps2", 8.0, "m/s2", 0.5, 6.5, 10.0, "judgement",
              "no acceleration in any direction is harder than this; a 9.2 m/s sprinter with 1.15 s starts at 8.0"),
    Parameter("turn_plant_least_s", 0.10, "s", 0.03, 0.0, 0.25, "judgement",
              "time lost planting the foot at a change of direction by 90 degrees; none below"),
    Parameter("turn_plant_most_s", 0.25, "s", 0.05, 0.10, 0.40, "judgement",
              "time lost planting the foot at a change of direction by 180 degrees"),
    Parameter("turn_plant_full_mps", 3.0, "m/s", 0.5, 1.0, 5.0, "judgement",
              "slower than this the plant shrinks in proportion"),
    Parameter("turn_speed_exponent", 2.0, "1", 0.3, 1.0, 3.0, "judgement",
              "speed kept through a change of direction by an angle is cos(angle / 2) to this power"),
)  # fmt: skip

_BALL = (
    Parameter("pass_speed_base_mps", 6.5, "m/s", 0.5, 5.0, 8.0, "open data",
              "mean speed between events of a ground pass of length d is base + slope d - bend d^2, through the medians 9.6,"
              " 11.5, 13.4, 14.9 m/s at 5-10, 10-15, 15-20, 20-30 m of three professional matches (StatsBomb open data)"),
    Parameter("pass_speed_slope_per_s", 0.45, "1/s", 0.05, 0.30, 0.60, "open data", "see pass_speed_base_mps"),
    Parameter("pass_speed_bend_per_ms", 0.0045, "1/(m s)", 0.002, 0.0, 0.010, "open data", "see pass_speed_base_mps"),
    Parameter("pass_speed_tracked_share", 0.87, "1", 0.04, 0.80, 1.0, "open data",
              "mean speed of a ground pass over what the law of pass_speed_base_mps gives: it goes through length over the time"
              " between events, which reads 1-2 m/s faster than tracked passes, and we follow these (launch 13.4-13.8 and"
              " arrival 8.2 m/s at 10-15 m, launch 15.8 and arrival 7.8 m/s at 15-20 m; open optical tracking)"),
    Parameter("pass_speed_level_from_m", 30.0, "m", 5.0, 20.0, 50.0, "judgement",
              "longer ground passes are not struck harder; no pass beyond 30 m is in the data"),
)  # fmt: skip

_HEART = (
    Parameter("critical_share_of_aerobic", 0.88, "1", 0.04, 0.80, 0.95, "judgement",
              "critical speed as a share of the speed at which oxygen uptake is greatest; sets a player's aerobic maximum"),
    Parameter("cost_beyond_running", 1.4, "1", 0.15, 1.1, 1.8, "judgement",
              "oxygen cost of play over metabolic power: ball, turns, duels, ground; shuttle running measured 30-50 % above"
              " steady running (Stevens et al. 2015, Med Sci Sports Exerc 47:1219)"),
    Parameter("heart_rate_at_rest_pct", 37.0, "%", 3.0, 30.0, 45.0, "house default",
              "% of maximum heart rate = this + slope x share of oxygen uptake (Swain et al. 1994, from memory)"),
    Parameter("heart_rate_per_uptake_pct", 64.0, "%", 3.0, 55.0, 70.0, "house default", "the slope, see heart_rate_at_rest_pct"),
    Parameter("heart_rate_start_pct", 60.0, "%", 8.0, 45.0, 75.0, "judgement", "heart rate after a warm-up, before the first bout"),
    Parameter("heart_rate_time_s", 35.0, "s", 5.0, 25.0, 45.0, "house default",
              "time constant with which the heart rate follows effort; from memory 25-40 s"),
    Parameter("heart_rate_rest_time_s", 52.5, "s", 14.6, 30.0, 75.0, "published",
              "time constant of its fall in rests; athletes seated, 52.5 (SD 14.6) s: J Sports Sci Med 10:369"),
    Parameter("heart_rate_player_sd_pct", 4.0, "%", 1.0, 2.0, 7.0, "judgement",
              "how much players differ in heart rate at the same share of their aerobic maximum"),
    Parameter("effort_from_pct", 50.0, "%", 4.0, 40.0, 60.0, "judgement",
              "mean heart rate (% of maximum) at which perceived effort is 0; it is 10 at 100 %, and even between"),
    Parameter("effort_player_sd", 1.0, "1", 0.3, 0.5, 2.0, "judgement",
              "how differently players rate the same work on the scale 0 to 10"),
)  # fmt: skip

_CLUB = (
    Parameter("restarts_later_s", 0.0, "s", 2.5, -5.0, 15.0, "house default",
              "how much later than its file says every restart of a game comes at your club (earlier: below 0)"),
    Parameter("restarts_unsure_s", 0.0, "s", 1.0, 0.0, 5.0, "house default",
              "how unsure we are of restarts_later_s (one standard deviation): drawn once a session; 0 until it is learned"),
)  # fmt: skip

HEART = tuple(row.name for row in _HEART)
"""Names of the constants of heart rate and effort, which no compiled code holds."""
CLUB = tuple(row.name for row in _CLUB)
"""Names of what is a club's own, whatever game it plays and whoever its players are."""

TABLE: Mapping[str, Parameter] = table(_MOTION + _BALL + _HEART + _CLUB)
"""The constants of motion, ball, heart rate and the club by name; the engine puts its own beside them (`sim.pitch.assumptions`)."""
