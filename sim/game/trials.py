"""Fitness tests of a player in a game file: `sprint`, `intermittent_run` and `shuttle` of a table in `players`.

What they are turned into stands in `sim.fitness`.  Here: their keys, their ranges, and when they are refused: splits that are
no sprint, values no player of the engine may have, and formulas of adults for minors.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise
from typing import Annotated, Any, Literal

from pydantic import BeforeValidator, Field, WithJsonSchema
from pydantic_core import PydanticCustomError

from sim.fitness import USUAL_OFFSET_S, critical_speed_of, fit_sprint, oxygen_of
from sim.game.messages import Problem, broken
from sim.game.values import SpecTable
from sim.parameters import defaults
from sim.populations import KINDS, POPULATIONS

ESTIMATED = "estimated"
LATEST_OFFSET_S = 0.6
FEWEST_SPLITS = 3
FEWEST_ESTIMATED = 4
SHORTEST_SPRINT_M = 20.0  # judgement: after 20 m a 9.2 m/s sprinter is at 94 % of top speed, after 10 m at 83 %
FURTHEST_S = 0.1  # judgement: gates and thumbs err by less
ADULT = 18
YOUNGEST = 13


def _offset(value: Any) -> Any:
    number = isinstance(value, (int, float)) and not isinstance(value, bool)
    if value == ESTIMATED or (number and 0 <= value <= LATEST_OFFSET_S):
        return value
    raise PydanticCustomError("rule", f'must be "{ESTIMATED}" or a number from 0 to {LATEST_OFFSET_S:g}')


Offset = Annotated[
    float | str,
    BeforeValidator(_offset),
    WithJsonSchema({"anyOf": [{"const": ESTIMATED}, {"type": "number", "minimum": 0, "maximum": LATEST_OFFSET_S}]}),
]


class SprintSpec(SpecTable):
    """A sprint from standing with split times."""

    metres: list[Annotated[float, Field(gt=0, le=60)]] = Field(
        min_length=FEWEST_SPLITS,
        description="Distances of the gates. Unit: m, always. Rising, at least 20 m, at most 60 m.",
    )
    seconds: list[Annotated[float, Field(gt=0, le=30)]] = Field(
        min_length=FEWEST_SPLITS, description="Time at each of them. Unit: s. Rising, one for each distance."
    )
    offset_seconds: Offset = Field(
        default=USUAL_OFFSET_S,
        description='How long after the first movement the clock starts, 0 to 0.6, or "estimated" from four splits or more. '
        "Unit: s. Default 0.3, usual for gates.",
    )


class ShuttleSpec(SpecTable):
    """An intermittent shuttle test of 30 s runs and 15 s walks."""

    speed_kmh: float = Field(ge=8, le=25, description="Speed of the last stage completed. Unit: km/h. Legal 8 to 25.")
    age: float = Field(ge=YOUNGEST, le=60, description="Age of the player. Unit: years. Legal 13 to 60.")
    weight_kg: float = Field(ge=25, le=150, description="Weight of the player. Unit: kg. Legal 25 to 150.")
    sex: Literal["male", "female"] = Field(description="As the formula of the test needs it: male or female.")


SprintKey = Annotated[
    SprintSpec | None,
    Field(default=None, description="Split times of a sprint: top speed and time constant, exact for the day."),
]
IntermittentRun = Annotated[
    float | None,
    Field(
        default=None,
        gt=0,
        le=4000,
        description="Distance in the intermittent run with short recoveries, level 1: critical speed, give or take 10 %. Adults "
        "only. Unit: m, always. Legal above 0, to 4000.",
    ),
]
ShuttleKey = Annotated[
    ShuttleSpec | None,
    Field(
        default=None, description="Last speed of a 30-15 shuttle test: critical speed, give or take 10 %. Not for U12."
    ),
]


def trial_problems(path: str, player: Any, population: str | None) -> Iterator[Problem]:
    """What is wrong with the tests in a player's table; `population` is that of the player's team, where it is known."""
    if player.sprint is not None:
        yield from _sprint(f"{path}.sprint", player.sprint)
    if player.intermittent_run is not None and player.shuttle is not None:
        yield Problem(path, "must give either intermittent_run or shuttle (got both)")
        return
    refused = list(_minors(path, player, population))
    yield from refused
    oxygen = None if refused else oxygen_of(player)
    if oxygen is not None:
        key = "shuttle" if player.intermittent_run is None else "intermittent_run"
        speed = critical_speed_of(oxygen, defaults()["critical_share_of_aerobic"])
        yield from _legal(f"{path}.{key}", "a critical speed", "critical_speed_mps", speed)


def offset_of(test: SprintSpec) -> float | None:
    """The offset in seconds, or None where it is to be estimated."""
    return None if test.offset_seconds == ESTIMATED else float(test.offset_seconds)


def _sprint(path: str, test: SprintSpec) -> Iterator[Problem]:
    found = []
    if len(test.seconds) != len(test.metres):
        found.append(broken(path, f"hold one time for each of the {len(test.metres)} distances", len(test.seconds)))
    for key in ("metres", "seconds"):
        if any(after <= before for before, after in pairwise(getattr(test, key))):
            found.append(broken(f"{path}.{key}", "rise from split to split", getattr(test, key)))
    if offset_of(test) is None and len(test.metres) < FEWEST_ESTIMATED:
        rule = f"hold at least {FEWEST_ESTIMATED} distances where the offset is estimated"
        found.append(broken(f"{path}.metres", rule, test.metres))
    if max(test.metres) < SHORTEST_SPRINT_M:
        found.append(
            broken(f"{path}.metres", f"reach at least {SHORTEST_SPRINT_M:g} m, or top speed does not show", test.metres)
        )
    yield from found
    if found:
        return
    fit = fit_sprint(tuple(test.metres), tuple(test.seconds), offset_of(test))
    if fit.worst_s > FURTHEST_S:
        rule = f"must hold splits of one sprint, none more than {FURTHEST_S:g} s off"
        yield Problem(path, f"{rule} (got {fit.worst_s:.2g} s off at {fit.worst_m:g} m)")
        return
    beyond = [
        *_legal(path, "a top speed", "vmax_mps", fit.vmax_mps),
        *_legal(path, "a time constant", "tau_s", fit.tau_s),
    ]
    if not 0 <= fit.offset_s <= LATEST_OFFSET_S:
        beyond.append(Problem(path, f"must give an offset of 0 to {LATEST_OFFSET_S:g} s (got {fit.offset_s:.2g})"))
    yield from beyond[:1]  # they come of the same splits


def _legal(path: str, what: str, trait: str, value: float) -> Iterator[Problem]:
    kind = next(kind for kind in KINDS if kind.name == trait)
    if not kind.low <= value <= kind.high:
        yield Problem(path, f"must give {what} of {kind.low:g} to {kind.high:g} {kind.unit} (got {value:.3g})")


def _minors(path: str, player: Any, population: str | None) -> Iterator[Problem]:
    if population is None:
        return
    minors = POPULATIONS[population].minors
    if player.intermittent_run is not None and minors:
        rule = f"be left out for {population}, as its formula is that of adults"
        yield broken(f"{path}.intermittent_run", rule, player.intermittent_run)
    if player.shuttle is None:
        return
    if population == "U12":
        rule = f"must be left out for U12, as its formula was made with older players (got age {player.shuttle.age:g})"
        yield Problem(f"{path}.shuttle", rule)
    elif minors and player.shuttle.age >= ADULT:
        yield broken(f"{path}.shuttle.age", f"be below {ADULT} for {population}", player.shuttle.age)
    elif not minors and player.shuttle.age < ADULT:
        rule = f"be at least {ADULT} for {population}, as minors are drawn from their own populations"
        yield broken(f"{path}.shuttle.age", rule, player.shuttle.age)
