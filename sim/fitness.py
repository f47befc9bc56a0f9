"""From fitness tests to a player's profile: closed forms and one fit.

*Sprint splits* give top speed and time constant.  The sprint is mono-exponential, x(t) = vmax (t - tau (1 - exp(-t/tau)));
a gate's clock starts after the body has begun to move, so a split is t(d) less an offset, fixed or estimated with the rest
(Vescovi & Jovanovic 2021, Front Sports Act Living 3:629694).  Left out, the offset is taken for slowness at the start of the
clock and the time constant comes out too small.

*Field tests of endurance* give the greatest oxygen uptake and through it critical speed:

intermittent run, level 1   0.0084 d + 36.4 (Bangsbo, Iaia & Krustrup 2008, Sports Med 38:37-51; the coefficients from memory)
30-15 shuttle               28.3 - 2.15 G - 0.741 A - 0.0357 W + 0.0586 A V + 1.03 V, G 1 men, 2 women (Buchheit 2008; from memory)

in mL/kg/min; the speed at which uptake is greatest is uptake / 3.5 in km/h (Leger; from memory), and critical speed is the share of
it in `sim.parameters` that the estimate of heart rate uses too.  These are estimates, give or take 10 %.

The first formula was made with adults and is refused for minors; in 18 women it read 18 % low (Martinez-Lagunas & Hartmann
2014).  The second holds age as a variable, was made with players of about 16 (from memory), and is refused below 13.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

import numpy as np

from sim.units import KMH_PER_MPS

USUAL_OFFSET_S = 0.3
"""Between the first movement and the start of a gate's clock (Vescovi & Jovanovic 2021)."""

ESTIMATE_SPREAD = 0.10
"""How far a field test may be off, as a share of the value: "give or take 10 %", drawn as one standard deviation (judgement).
The limits of agreement in Martinez-Lagunas & Hartmann 2014, -32 to -4 %, are those of a standard deviation of 7 %."""

OXYGEN_PER_KMH = 3.5
_START = (8.0, 1.1, USUAL_OFFSET_S)
_LEAST, _MOST = (
    (1.0, 0.02, -1.0),
    (20.0, 5.0, 2.0),
)  # far beyond anybody: what lies out there is refused by its legal range


@dataclass(frozen=True)
class Sprint:
    """The mono-exponential sprint through a player's splits; `worst_s` is the split furthest from it, at `worst_m`."""

    vmax_mps: float
    tau_s: float
    offset_s: float
    worst_s: float
    worst_m: float


@dataclass(frozen=True)
class Found:
    """What tests say of a player, by trait: exact values, and estimates as (value, standard deviation)."""

    exact: Mapping[str, float]
    estimates: Mapping[str, tuple[float, float]]


def sprint_time(distance_m: float, vmax_mps: float, tau_s: float) -> float:
    """Seconds from standing: t(d) = tau (D + 1 + W0(-exp(-D - 1))), D = d / (vmax tau) (derived)."""
    from scipy.special import lambertw

    reduced = distance_m / (vmax_mps * tau_s)
    return tau_s * (reduced + 1.0 + float(lambertw(-math.exp(-reduced - 1.0)).real))


@lru_cache(maxsize=1024)
def fit_sprint(metres: tuple[float, ...], seconds: tuple[float, ...], offset_s: float | None) -> Sprint:
    """The sprint with the least squares of the splits' times; with `offset_s` None the offset is estimated too."""
    from scipy.optimize import least_squares

    free = 2 if offset_s is not None else 3

    def apart(values: np.ndarray | Sequence[float], /) -> list[float]:
        vmax, tau = values[:2]
        late = offset_s if offset_s is not None else values[2]
        return [sprint_time(d, vmax, tau) - late - t for d, t in zip(metres, seconds, strict=True)]

    found = least_squares(
        apart, _START[:free], bounds=(_LEAST[:free], _MOST[:free]), xtol=1e-12, ftol=1e-12, gtol=1e-12
    )
    values = [float(value) for value in found.x]
    worst_s, worst_m = max(zip((abs(one) for one in apart(values)), metres, strict=True))
    return Sprint(values[0], values[1], offset_s if offset_s is not None else values[2], worst_s, worst_m)


def oxygen_of_intermittent_run(distance_m: float) -> float:
    """Greatest oxygen uptake (mL/kg/min) of an adult from the distance run in the intermittent test, level 1."""
    return 0.0084 * distance_m + 36.4


def oxygen_of_shuttle(speed_kmh: float, age: float, weight_kg: float, female: bool) -> float:
    """Greatest oxygen uptake (mL/kg/min) from the last speed reached in the 30-15 shuttle test."""
    sex = 2 if female else 1
    return 28.3 - 2.15 * sex - 0.741 * age - 0.0357 * weight_kg + 0.0586 * age * speed_kmh + 1.03 * speed_kmh


def critical_speed_of(oxygen: float, share: float) -> float:
    """Critical speed (m/s), `share` of the speed at which uptake is greatest."""
    return share * oxygen / OXYGEN_PER_KMH / KMH_PER_MPS


def oxygen_of(player: Any) -> float | None:
    """Greatest oxygen uptake from a player's endurance test, or None without one."""
    if player.intermittent_run is not None:
        return oxygen_of_intermittent_run(player.intermittent_run)
    if player.shuttle is not None:
        test = player.shuttle
        return oxygen_of_shuttle(test.speed_kmh, test.age, test.weight_kg, test.sex == "female")
    return None


def sprint_of(player: Any) -> Sprint | None:
    """The sprint through a player's splits, or None without any."""
    test = player.sprint
    return None if test is None else fit_sprint(tuple(test.metres), tuple(test.seconds), test.offset_seconds)


def from_tests(player: Any, share: float) -> Found:
    """What the tests of a player of a resolved game say; `share` is critical speed over that of the greatest uptake."""
    exact, estimates = {}, {}
    sprint, oxygen = sprint_of(player), oxygen_of(player)
    if sprint is not None:
        exact = {"vmax_mps": sprint.vmax_mps, "tau_s": sprint.tau_s}
    if oxygen is not None:
        speed = critical_speed_of(oxygen, share)
        estimates = {"critical_speed_mps": (speed, ESTIMATE_SPREAD * speed)}
    return Found(exact, estimates)
