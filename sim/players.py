"""Players as numbers: the profile the engine plays with, and how the players of a session are drawn.

The presets stand in `sim.populations`.  Two draws make a player, both pure functions of (seed, session, name), so
neither the order of the players nor who else takes part matters:

1. our *ignorance*: the population's mean, one draw per population and session;
2. the *spread*: the player about that mean, one draw per player and session.

A value outside its legal range is drawn again with the next counter (never pushed to the edge); top speed, time
constant and pressing speed are drawn together, so that nobody presses faster than they can run.

A third draw is for the session alone: how willing the group, and each of its players, is to run that day (`drive`).

What the file says takes the place of a draw.  A value of a team is the mean of the team's players: no ignorance, and
the spread of the preset (in proportion, see `sim.populations.Kind`).  A value of a player is exact.  So is a sprint test
for the day; a player with one presses at the share of their own sprint at which the team would.  An endurance test is an
estimate, drawn about its value (`sim.fitness`).
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from sim import streams
from sim.assumptions import NONE, Assumptions, preset
from sim.errors import InputError
from sim.fitness import Found, from_tests
from sim.game.model import Game, Player, Team
from sim.populations import KEY_ABILITIES, KINDS, SPEED_CORRELATION, Population, Trait

PRESSING_DISTANCE_M = 8.0
"""Length of the run from standing over which pressing speed is defined."""

_STRIDE = 64  # counters per attempt: room for more traits than there are
_ATTEMPTS = 10_000
_PLACE = {kind.name: place for place, kind in enumerate(KINDS)}
_GROUP = "group:everybody"  # apart from every player's: ids hold no colon
_TOGETHER = ("vmax_mps", "tau_s", "pressing_speed_mps")


@dataclass(frozen=True)
class Profile:
    """One player's abilities, SI units.

    vmax_mps, tau_s           mono-exponential sprint
    brake_mps2                hardest braking
    reaction_s, reaction_sd_s whole-body reaction to a kick: lognormal mean and SD per event
    pass_success              share of unpressed passes that go through a gate 1.5 m wide, 10 m off (0.50-0.999)
    first_touch               chance of a miscontrol when nobody presses and the ball comes to feet (0-0.2)
    pressing_speed_mps        mean speed over 8 m from standing when pressing
    recovery_s                standing half-time of the hard-running reserve (20-180)
    composure                 0-1, how well the best option is chosen under pressure
    duel                      skill in tackles and shielding, logit units, 0 is the population mean
    critical_speed_mps, reserve_m   critical speed and D'
    drive                     willingness to run in this session, 1 for most groups on a usual day
    """

    vmax_mps: float
    tau_s: float
    brake_mps2: float
    reaction_s: float
    reaction_sd_s: float
    pass_success: float
    first_touch: float
    pressing_speed_mps: float
    recovery_s: float
    composure: float
    duel: float
    critical_speed_mps: float
    reserve_m: float
    drive: float = 1.0


def sprint_limit(vmax_mps: float, tau_s: float) -> float:
    """Highest possible mean speed (m/s) over 8 m from standing: 8 m over the time the full sprint takes.

    Solves vmax (t - tau (1 - exp(-t/tau))) = 8 m by Newton's method from the right, where it descends to the root.
    """
    time = PRESSING_DISTANCE_M / vmax_mps + tau_s
    while True:
        gone = -math.expm1(-time / tau_s)
        step = (vmax_mps * (time - tau_s * gone) - PRESSING_DISTANCE_M) / (vmax_mps * gone)
        time -= step
        if step <= 1e-13 * time:
            return PRESSING_DISTANCE_M / time


def roster_problems(game: Game, assumptions: Assumptions = NONE) -> list[str]:
    """Pressing speeds in the file that the population's typical player cannot run, one message each."""
    found = []
    limits = {team.name: typical_limit(preset(team.population, assumptions)) for team in game.teams}
    places = [("teams", team.name, limits[team.name], team.population, team.pressing_speed) for team in game.teams]
    for player in game.players:
        limit, whose = limits[player.team], game.team(player.team).population
        if player.sprint is not None:
            limit, whose = _own_limit(_found(player, assumptions)), "their own splits"
        places.append(("players", player.id, limit, whose, player.pressing_speed))
    for table, name, limit, whose, value in places:
        if value is not None and value > limit:
            found.append(
                f"{table}.{name}.pressing_speed must be at most {math.floor(100 * limit) / 100}, the sprint limit of {whose} in"
                f" m/s (got {value})"
            )
    return found


def typical_roster(game: Game, assumptions: Assumptions = NONE) -> dict[str, Profile]:
    """Everybody at the mean of the population, or where the file says: no ignorance, no spread, a usual day."""
    _refuse_problems(game, assumptions)
    roster = {}
    for player in game.players:
        whose = _population_of(game, player, assumptions)
        means = {name: trait.mean for name, trait in whose.traits.items()}
        centres, _, exact = _about(whose, means | _team_values(game, player), player, assumptions)
        roster[player.id] = Profile(**(centres | exact), drive=whose.days["willingness"].value)
    return roster


def draw_roster(
    game: Game, seed: int, replicate: int, assumptions: Assumptions = NONE, day: int | None = None
) -> dict[str, Profile]:
    """The players of one session by id: the same for all its bouts, and for every game that names them alike.

    `day`: the session whose day it is, for the same players on several days (None: their own, `replicate`).
    """
    _refuse_problems(game, assumptions)
    stream = streams.stream_index("profile")
    means = {
        name: _draw_means(preset(name, assumptions), streams.key_of(seed, replicate, 0, stream, _population_hash(name)))
        for name in {team.population for team in game.teams}
    }
    roster = {}
    for player in game.players:
        whose = _population_of(game, player, assumptions)
        key = streams.key_of(seed, replicate, 0, stream, streams.hash_id(player.id))
        centres, spreads, exact = _about(whose, means[whose.name] | _team_values(game, player), player, assumptions)
        drive = _draw_drive(whose, player.id, seed, replicate if day is None else day)
        roster[player.id] = _draw_player(whose, key, centres, spreads, exact | {"drive": drive})
    return roster


def _draw_drive(whose: Population, player: str, seed: int, day: int) -> float:
    """How willing a player is to run that day: the group's day times his own."""
    stream = streams.stream_index("day")
    drive = whose.days["willingness"].value
    for name, word in (("day_effort", _GROUP), ("day_effort_player", player)):
        key = streams.key_of(seed, day, 0, stream, streams.hash_id(word))
        drive *= _lognormal_at(1.0, whose.days[name].value, streams.normal(key, 0))
    return drive


def _draw_means(whose: Population, key: int) -> dict[str, float]:
    """The population's means, as far as we know them: one draw of our ignorance."""
    return {name: _draw(trait, key, trait.mean, trait.ignorance) for name, trait in whose.traits.items()}


def _about(
    whose: Population, centres: Mapping[str, float], player: Player, assumptions: Assumptions
) -> tuple[dict, dict, dict]:
    """What one player is drawn about: (centres, spreads, exact values), each by trait."""
    found = _found(player, assumptions)
    centres = {**centres}
    spreads = {name: spread_about(trait, centres[name]) for name, trait in whose.traits.items()}
    if player.sprint is not None:
        share = _own_limit(found) / typical_limit(whose)
        centres["pressing_speed_mps"] *= share
        spreads["pressing_speed_mps"] *= share
    for name, (value, spread) in found.estimates.items():
        centres[name], spreads[name] = value, spread
    return centres, spreads, {**found.exact, **_written(player)}


def _draw_player(
    whose: Population,
    key: int,
    centres: Mapping[str, float],
    spreads: Mapping[str, float],
    exact: Mapping[str, float],
) -> Profile:
    """One player about the given centres; exact values stand as they are and shift no other draw."""
    values = dict(exact)
    for name, trait in whose.traits.items():
        if name not in exact and name not in _TOGETHER:
            values[name] = _draw(trait, key, centres[name], spreads[name])
    for attempt in range(_ATTEMPTS):
        z = {name: streams.normal(key, attempt * _STRIDE + _PLACE[name]) for name in _TOGETHER}
        z["tau_s"] = SPEED_CORRELATION * z["vmax_mps"] + math.sqrt(1.0 - SPEED_CORRELATION**2) * z["tau_s"]
        for name in _TOGETHER:
            trait = whose.traits[name]
            values[name] = exact.get(name, value_at(trait, centres[name], spreads[name], z[name]))
        legal = all(_is_legal(whose.traits[name], values[name]) for name in _TOGETHER)
        if legal and values["pressing_speed_mps"] <= sprint_limit(values["vmax_mps"], values["tau_s"]):
            return Profile(**values)
    raise RuntimeError(f"no legal player of {whose.name} in {_ATTEMPTS} draws about {dict(centres)}, {dict(exact)}")


def _draw(trait: Trait, key: int, centre: float, spread: float) -> float:
    """One trait by itself, drawn again until it is legal."""
    for attempt in range(_ATTEMPTS):
        value = value_at(trait, centre, spread, streams.normal(key, attempt * _STRIDE + _PLACE[trait.kind.name]))
        if _is_legal(trait, value):
            return value
    raise RuntimeError(f"no legal {trait.kind.name} in {_ATTEMPTS} draws about {centre} with spread {spread}")


def value_at(trait: Trait, centre: float, spread: float, z: float) -> float:
    """The value z standard scores up a distribution of the trait's shape with this mean and standard deviation."""
    if trait.kind.shape == "normal":
        return centre + spread * z
    if trait.kind.shape == "lognormal":
        return _lognormal_at(centre, spread, z)
    return 1.0 - _lognormal_at(1.0 - centre, spread, -z)


def spread_about(trait: Trait, centre: float) -> float:
    """Spread between players when their mean is `centre` rather than the preset's."""
    if trait.kind.shape == "normal":
        return trait.spread
    if trait.kind.shape == "lognormal":
        return trait.spread * centre / trait.mean
    return trait.spread * (1.0 - centre) / (1.0 - trait.mean)


def _lognormal_at(mean: float, sd: float, z: float) -> float:
    mu, sigma = streams.lognormal_parameters(mean, sd)
    return math.exp(mu + sigma * z)


def _is_legal(trait: Trait, value: float) -> bool:
    return trait.kind.low <= value <= trait.kind.high


def typical_limit(whose: Population) -> float:
    """The sprint limit of the typical player."""
    return sprint_limit(whose.traits["vmax_mps"].mean, whose.traits["tau_s"].mean)


def _population_hash(name: str) -> np.uint64:
    """Apart from every player's: ids hold no colon."""
    return streams.hash_id(f"population:{name}")


def _population_of(game: Game, player: Player, assumptions: Assumptions) -> Population:
    return preset(game.team(player.team).population, assumptions)


def _team_values(game: Game, player: Player) -> dict[str, float]:
    return _written(game.team(player.team))


def _found(player: Player, assumptions: Assumptions) -> Found:
    """What the player's fitness tests say."""
    return from_tests(player, assumptions.table["critical_share_of_aerobic"])


def _own_limit(found: Found) -> float:
    return sprint_limit(found.exact["vmax_mps"], found.exact["tau_s"])


def _written(source: Team | Player) -> dict[str, float]:
    """Key abilities that the file gives for a team or a player, by trait."""
    found = {trait: getattr(source, key) for key, trait in KEY_ABILITIES.items()}
    return {trait: float(value) for trait, value in found.items() if value is not None}


def _refuse_problems(game: Game, assumptions: Assumptions) -> None:
    found = roster_problems(game, assumptions)
    if found:
        raise InputError(found, game.name)
