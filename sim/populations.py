"""Six presets of players: what is typical, how much players differ, and how unsure we are of the typical value.

A population is one `Trait` for every lasting field of `sim.players.Profile`.  Its three numbers mean three different things:
`mean` of the population, `spread` between its players (one standard deviation), and `ignorance` of the mean itself
(one standard deviation; more simulated bouts do not shrink it).  Each has a provenance in the words of
`sim.parameters`; all ignorances are judgement.  Units and legal ranges are the same for all populations.

What changes from day to day is one number of the profile, `drive`, and `days` says how much: the same players do not run
alike every evening.

No published game has been measured for "U12" and "mixed adults" (`measured` is False): what is said about them is an
extrapolation.  "From memory" in a note: recalled from the literature, not re-read.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

from sim.errors import InputError, any_of, nearest
from sim.parameters import Parameter

SPEED_CORRELATION = 0.4
"""Between a player's vmax and tau: faster players take longer to get there (judgement)."""

KEY_ABILITIES = MappingProxyType(
    {"pass_success": "pass_success", "pressing_speed": "pressing_speed_mps", "recovery": "recovery_s"}
)
"""The three values a coach can write, and the trait each one sets."""


@dataclass(frozen=True)
class Kind:
    """What a trait is, whoever has it.  `shape` says how players lie about their mean:

    normal      the spread stays as it is when the mean moves
    lognormal   never negative; the spread stays in proportion to the mean
    misses      1 minus a lognormal: the spread stays in proportion to what is missing to 1
    """

    name: str
    unit: str
    low: float
    high: float
    shape: str
    note: str


@dataclass(frozen=True)
class Trait:
    """One trait of one population; `mean_from`, `spread_from` and `ignorance_from` are provenances."""

    kind: Kind
    mean: float
    mean_from: str
    spread: float
    spread_from: str
    ignorance: float
    ignorance_from: str
    note: str


@dataclass(frozen=True)
class Population:
    """A preset.  `pass_success_words` is what coaches of such players should expect to write; `minors` are under 18.

    `days`: what `drive` (willingness to run) is on a usual day, and how much it differs between sessions, for the group and for
    each player.
    """

    name: str
    pass_success_words: str
    minors: bool
    measured: bool
    traits: Mapping[str, Trait]
    days: Mapping[str, Parameter]


KINDS = (
    Kind("vmax_mps", "m/s", 4.0, 11.0, "normal",
         "top speed of the mono-exponential sprint; spread 4 %"),
    Kind("tau_s", "s", 0.7, 1.8, "normal",
         "time constant of the sprint; spread 8 %"),
    Kind("brake_mps2", "m/s2", 2.0, 7.0, "normal",
         "hardest braking held through a stop; from memory 4.0-4.8 (SD 0.5) for trained men, women 10-15 % lower"),
    Kind("reaction_s", "s", 0.12, 0.60, "lognormal",
         "mean whole-body reaction to a kick; from memory 0.18-0.25 s simple, 0.30-0.45 s choice, less when anticipated"),
    Kind("reaction_sd_s", "s", 0.01, 0.20, "lognormal",
         "how much one player's reaction varies from kick to kick"),
    Kind("pass_success", "1", 0.50, 0.999, "misses",
         "share of unpressed ground passes that go through a gate 1.5 m wide, 10 m off"),
    Kind("first_touch", "1", 0.0, 0.20, "lognormal",
         "chance of a miscontrol unpressed, ball to feet"),
    Kind("pressing_speed_mps", "m/s", 2.0, 5.5, "normal",
         "mean over 8 m from standing; also never above the player's own sprint limit"),
    Kind("recovery_s", "s", 20.0, 180.0, "lognormal",
         "standing half-time of the hard-running reserve; the bi-exponential recovery of Chorley et al. 2022, Eur J Appl"
         " Physiol 122, is half done at 45 s (cycling)"),
    Kind("composure", "1", 0.0, 1.0, "normal",
         "how well the best option is chosen under pressure; a scale of our own"),
    Kind("duel", "logit", -3.0, 3.0, "normal",
         "skill in tackles and shielding against others of the population, whose mean is 0 by definition"),
    Kind("critical_speed_mps", "m/s", 2.0, 6.0, "normal",
         "fastest speed that can be kept up, in a straight line"),
    Kind("reserve_m", "m", 40.0, 400.0, "lognormal",
         "distance above critical speed until empty (D')"),
)  # fmt: skip
"""All traits; the order is part of how players are drawn: append, never insert or reorder."""


def _days(minors: bool) -> Mapping[str, Parameter]:
    """The day effect, from what is known of whole games: total distance of the same players between sessions."""
    known = (
        "standard deviation between sessions of the whole group's willingness to run; from a coefficient of variation of"
        " total distance of 2.2-4.6 % in professionals (Younesi et al. 2021, Biol Sport) and 6.9-8.3 % in youth (Clemente et"
        " al. 2019, Int J Environ Res Public Health 16:3612)"
    )
    rows = (
        Parameter("day_effort", 0.07 if minors else 0.04, "1", 0.015, 0.0, 0.15, "judgement", known),
        Parameter("day_effort_player", 0.02, "1", 0.01, 0.0, 0.10, "judgement",
                  "the same of each player by himself, beyond the group's"),
        Parameter("willingness", 1.0, "1", 0.05, 0.7, 1.3, "judgement",
                  "how willing the group is to run on its usual day, beside other groups of its level"),
    )  # fmt: skip
    return MappingProxyType({row.name: row for row in rows})


_FROM = {"P": "published", "H": "house default", "J": "judgement"}


def _population(
    name: str, pass_success_words: str, minors: bool, measured: bool, rows: dict[str, tuple], notes: dict[str, str]
) -> Population:
    """A preset from rows of (mean, its provenance, spread, its provenance, ignorance)."""
    traits = {}
    for kind in KINDS:
        mean, mean_from, spread, spread_from, ignorance = rows[kind.name]
        sources = {"mean_from": _FROM[mean_from], "spread_from": _FROM[spread_from], "ignorance_from": "judgement"}
        traits[kind.name] = Trait(
            kind=kind, mean=mean, spread=spread, ignorance=ignorance, note=notes.get(kind.name, ""), **sources
        )
    return Population(name, pass_success_words, minors, measured, MappingProxyType(traits), _days(minors))


_ALL = (
    _population("elite men", "0.99-0.999", False, True, {
        "vmax_mps": (9.2, "H", 0.37, "H", 0.15),
        "tau_s": (1.15, "H", 0.092, "H", 0.05),
        "brake_mps2": (4.5, "J", 0.5, "H", 0.3),
        "reaction_s": (0.28, "J", 0.02, "J", 0.03),
        "reaction_sd_s": (0.06, "J", 0.010, "J", 0.010),
        "pass_success": (0.997, "J", 0.0015, "J", 0.001),
        "first_touch": (0.005, "J", 0.002, "J", 0.0025),
        "pressing_speed_mps": (4.0, "J", 0.15, "J", 0.15),
        "recovery_s": (45.0, "H", 8.0, "J", 8.0),
        "composure": (0.75, "J", 0.08, "J", 0.08),
        "duel": (0.0, "J", 0.4, "J", 0.0),
        "critical_speed_mps": (4.2, "H", 0.3, "H", 0.15),
        "reserve_m": (200.0, "H", 50.0, "H", 25.0),
    }, {
        "vmax_mps": "from memory 8.9-9.5 (SD 0.35)",
        "tau_s": "from memory 1.10-1.25 (SD 0.10)",
        "critical_speed_mps": "from memory 3.9-4.4 (SD 0.3)",
        "reserve_m": "from memory 150-250 (SD 50)",
    }),
    _population("amateur men", "0.92-0.99", False, True, {
        "vmax_mps": (8.8, "H", 0.35, "H", 0.20),
        "tau_s": (1.20, "H", 0.096, "H", 0.05),
        "brake_mps2": (4.3, "J", 0.5, "H", 0.3),
        "reaction_s": (0.30, "J", 0.03, "J", 0.03),
        "reaction_sd_s": (0.07, "J", 0.012, "J", 0.012),
        "pass_success": (0.963, "J", 0.022, "J", 0.015),
        "first_touch": (0.01, "J", 0.004, "J", 0.004),
        "pressing_speed_mps": (3.8, "J", 0.20, "J", 0.15),
        "recovery_s": (45.0, "H", 10.0, "J", 10.0),
        "composure": (0.50, "J", 0.12, "J", 0.10),
        "duel": (0.0, "J", 0.5, "J", 0.0),
        "critical_speed_mps": (3.9, "H", 0.3, "H", 0.15),
        "reserve_m": (190.0, "H", 50.0, "H", 30.0),
    }, {
        "vmax_mps": "sub-elite men, from memory 8.4-8.9 (SD 0.4)",
        "tau_s": "sub-elite men, from memory 1.15-1.30",
        "critical_speed_mps": "young adults 3.21-3.23 in shuttles, which read 17 % low: Kirby et al. 2019, Med Sci Sports"
                              " Exerc 51:308, hence 3.88 in a straight line",
        "reserve_m": "footballers, from memory 150-250 (SD 50)",
    }),
    _population("U17 boys", "0.94-0.99", True, True, {
        "vmax_mps": (8.2, "H", 0.33, "H", 0.20),
        "tau_s": (1.15, "H", 0.092, "H", 0.05),
        "brake_mps2": (4.0, "J", 0.5, "J", 0.3),
        "reaction_s": (0.29, "J", 0.025, "J", 0.03),
        "reaction_sd_s": (0.07, "J", 0.012, "J", 0.012),
        "pass_success": (0.97, "J", 0.018, "J", 0.015),
        "first_touch": (0.009, "J", 0.004, "J", 0.004),
        "pressing_speed_mps": (3.7, "J", 0.20, "J", 0.15),
        "recovery_s": (45.0, "H", 10.0, "J", 10.0),
        "composure": (0.55, "J", 0.12, "J", 0.10),
        "duel": (0.0, "J", 0.5, "J", 0.0),
        "critical_speed_mps": (3.8, "H", 0.3, "J", 0.20),
        "reserve_m": (160.0, "H", 40.0, "J", 25.0),
    }, {
        "vmax_mps": "academy U17-U19, from memory 8.2-8.9 (SD 0.4)",
        "tau_s": "academy U17-U19, from memory 1.10-1.25",
        "critical_speed_mps": "from memory 3.5-4.1",
        "reserve_m": "from memory 120-200",
    }),
    _population("women", "0.95-0.99", False, True, {
        "vmax_mps": (7.9, "H", 0.32, "H", 0.15),
        "tau_s": (1.10, "H", 0.088, "H", 0.05),
        "brake_mps2": (4.0, "J", 0.5, "J", 0.3),
        "reaction_s": (0.28, "J", 0.02, "J", 0.03),
        "reaction_sd_s": (0.06, "J", 0.010, "J", 0.010),
        "pass_success": (0.975, "J", 0.015, "J", 0.012),
        "first_touch": (0.011, "J", 0.0045, "J", 0.0045),
        "pressing_speed_mps": (3.7, "J", 0.15, "J", 0.15),
        "recovery_s": (45.0, "H", 8.0, "J", 8.0),
        "composure": (0.53, "J", 0.1, "J", 0.1),
        "duel": (0.0, "J", 0.4, "J", 0.0),
        "critical_speed_mps": (3.65, "H", 0.3, "H", 0.15),
        "reserve_m": (160.0, "H", 40.0, "J", 25.0),
    }, {
        "vmax_mps": "a fit with free offset to the splits of Vescovi 2012, J Sci Med Sport 15:474-478 (n = 140 at a"
                    " professional try-out), gives 7.69 m/s and 1.10 s; regular starters are faster",
        "tau_s": "the same fit: 1.10",
        "critical_speed_mps": "from memory 3.4-3.9 (SD 0.3)",
        "reserve_m": "from memory 120-200",
    }),
    _population("U12", "0.65-0.88", True, False, {
        "vmax_mps": (6.5, "J", 0.45, "J", 0.30),
        "tau_s": (1.10, "J", 0.09, "J", 0.08),
        "brake_mps2": (3.5, "J", 0.5, "J", 0.4),
        "reaction_s": (0.34, "J", 0.04, "J", 0.04),
        "reaction_sd_s": (0.09, "J", 0.015, "J", 0.015),
        "pass_success": (0.76, "J", 0.08, "J", 0.05),
        "first_touch": (0.032, "J", 0.012, "J", 0.01),
        "pressing_speed_mps": (3.1, "J", 0.20, "J", 0.20),
        "recovery_s": (45.0, "J", 10.0, "J", 12.0),
        "composure": (0.30, "J", 0.10, "J", 0.10),
        "duel": (0.0, "J", 0.6, "J", 0.0),
        "critical_speed_mps": (3.2, "J", 0.3, "J", 0.25),
        "reserve_m": (120.0, "J", 35.0, "J", 30.0),
    }, {
        "vmax_mps": "a step below U13-U14, from memory 6.8-7.5 (SD 0.45)",
        "tau_s": "U13-U14, from memory 1.05-1.20",
        "recovery_s": "children are said to recover faster; kept at the adults' value, with more doubt",
    }),
    _population("mixed adults", "0.75-0.95", False, False, {
        "vmax_mps": (7.4, "J", 0.60, "J", 0.40),
        "tau_s": (1.20, "J", 0.11, "J", 0.08),
        "brake_mps2": (3.8, "J", 0.5, "J", 0.4),
        "reaction_s": (0.32, "J", 0.04, "J", 0.04),
        "reaction_sd_s": (0.08, "J", 0.015, "J", 0.015),
        "pass_success": (0.86, "J", 0.07, "J", 0.05),
        "first_touch": (0.02, "J", 0.008, "J", 0.008),
        "pressing_speed_mps": (3.3, "J", 0.25, "J", 0.20),
        "recovery_s": (45.0, "J", 12.0, "J", 12.0),
        "composure": (0.35, "J", 0.15, "J", 0.10),
        "duel": (0.0, "J", 0.6, "J", 0.0),
        "critical_speed_mps": (3.3, "J", 0.4, "J", 0.25),
        "reserve_m": (150.0, "J", 45.0, "J", 35.0),
    }, {}),
)  # fmt: skip

POPULATIONS: Mapping[str, Population] = MappingProxyType({population.name: population for population in _ALL})
"""The presets by name."""


CALLED: Mapping[str, str] = MappingProxyType(
    {
        "elite": "elite men", "professional": "elite men", "professionals": "elite men", "pro": "elite men",
        "amateur": "amateur men", "amateurs": "amateur men",
        "u17": "U17 boys", "youth": "U17 boys", "academy": "U17 boys",
        "u12": "U12", "children": "U12", "kids": "U12",
        "mixed": "mixed adults",
    }
)  # fmt: skip
"""What else the presets are called, in small letters and digits alone."""


def named(text: str) -> str | None:
    """The preset that is meant by what somebody wrote (``U-12``, ``elite``, ``Mixed adults``); None for what is none of them."""
    bare = "".join(sign for sign in text.casefold() if sign.isalnum())
    whole = {"".join(name.casefold().split()): name for name in POPULATIONS}
    return whole.get(bare) or CALLED.get(bare)


def no_population(text: str) -> str:
    """What is said of a name that none of the presets has: those most like it, or all six."""
    near = nearest(text, [*POPULATIONS, *CALLED])
    meant = list(dict.fromkeys(CALLED.get(name, name) for name in near))
    return f"did you mean {any_of(meant)}?" if meant else f"there are {any_of(list(POPULATIONS), 'and')}"


def population(name: str) -> Population:
    """The preset of that name, or a refusal that lists them."""
    if name not in POPULATIONS:
        raise InputError(f"population must be one of {', '.join(POPULATIONS)} (got {name!r})")
    return POPULATIONS[name]
