"""Everyday names of measures: ``losses``, ``defending.inside``, ``metres``, whatever the command, and what is said of a wrong one.

The names of the JSON are as good, with "_per_min" and "_per_bout" left out where people leave them out.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from types import MappingProxyType

from sim.errors import InputError, any_of, nearest
from sim.experiments.key_measures import LOST, MOST, OF_ROLES, has_scope
from sim.experiments.shares import is_share, share_of
from sim.game.messages import show
from sim.game.model import Game
from sim.measures.catalogue import can_happen, measures
from sim.measures.thresholds import ADULT_MEN

Key = tuple[str, str]
Target = tuple[str, str, float | str]

LOSSES, DEFENDING = "losses", "defending"
NAMES: Mapping[str, str] = MappingProxyType(
    {
        LOSSES: "turnovers_per_min",  # where there are goals shots are no losses: `measures_of`
        "turnovers": "turnovers_per_min",
        "wins": "wins_per_min",
        "passes": "passes_per_min",
        "run": "pass_run_median",
        DEFENDING: MOST,  # the one who defends most; of a role its share
        "metres": OF_ROLES,
        "fast": "high_speed_distance_per_min",
        "transfers": "transfers_per_min",
        "breaks": "break_aways_per_bout",
        "goals": "goals_per_bout",
        "points": "points_per_min",
        "rolling": "in_play_share",
    }
)
"""What each is called where machines read it."""

MEANT = MappingProxyType(
    {
        "running": "metres",
        "distance": "metres",
        "sprints": "fast",
        "sprinting": "fast",
        "tackles": "wins",
        "interceptions": "wins",
        "giveaways": LOSSES,
        "pressing": DEFENDING,
        "dead": "rolling",
    }
)
"""What somebody may call it who has not seen the names: then these are offered."""
MOST_MEANT = 3  # as many as of names that look alike

WHY_NOT = MappingProxyType(
    {
        "areas": "there is one area only",
        "break": "nobody goes from keeping the ball to a goal",
        "goals": "there are no goals",
        "points": "no rule gives points",
        "passes": "no rule counts passes",
        "thresholds": "no rule counts passes or wins",
    }
)
ENDINGS = ("", "_per_min", "_per_bout")


def measures_of(name: str, scope: str, game: Game) -> list[str]:
    """What a name may stand for in this game, the likeliest first."""
    if name == LOSSES and game.goals:
        return [LOST]
    if name == DEFENDING:
        return [MOST if scope == "game" else "defending_share"]
    return [*([NAMES[name]] if name in NAMES else []), *(f"{name}{ending}" for ending in ENDINGS)]


def called(key: Key, game: Game) -> str:
    """The everyday name of a measure, with its role or team; the machine's name where it has no other."""
    measure, scope = key
    return typed(next((name for name in NAMES if measures_of(name, scope, game)[0] == measure), measure), scope)


def typed(name: str, scope: str) -> str:
    """A measure as it is typed, with its role or team after a dot."""
    return name if scope == "game" else f"{name}.{scope.partition(':')[2]}"


def every_key(game: Game) -> list[Key]:
    """(measure, scope) of every measure that can happen in a game, of the game, its teams and roles."""
    scopes = ["game", *(f"team:{team.name}" for team in game.teams), *(f"role:{role.name}" for role in game.roles)]
    return [
        (ratio.measure, scope)
        for ratio in measures(ADULT_MEN)
        if can_happen(ratio.needs, game)
        for scope in scopes
        if has_scope(ratio, scope, game)
    ]


def measure_named(text: str, game: Game, known: Iterable[Key], option: str) -> Key:
    """(measure, scope) of NAME or NAME.ROLE as typed, one of `known`: what this command can be asked for in this game."""
    known = list(known)
    name, dot, whose = text.strip().partition(".")
    scopes = [f"role:{whose}", f"team:{whose}"] if dot else ["game"]
    for scope in scopes:
        for measure in measures_of(name, scope, game):
            if (measure, scope) in known:
                return measure, scope
    raise InputError(f"{_rule(name, scopes, game, known)} (got {show(text.strip())})", option)


def _rule(name: str, scopes: Sequence[str], game: Game, known: Sequence[Key]) -> str:
    """What is wrong with a measure that is none of those known."""
    wanted = measures_of(name, scopes[0], game)
    needs = {ratio.measure: ratio.needs for ratio in measures(ADULT_MEN)} | {LOST: "goals"}
    never = [needs[measure] for measure in wanted if measure in needs and not can_happen(needs[measure], game)]
    told = dict.fromkeys(scope for measure, scope in known if measure in measures_of(name, scope, game))
    there = sorted(told, key=lambda scope: scope != "game")
    if never and not there:
        return f"must be something that can happen in this game: {WHY_NOT[never[0]]}"
    if there:
        return f"must be one of: {any_of([typed(name, scope) for scope in there])}"
    names = dict.fromkeys(called(key, game) for key in known)
    machine = dict.fromkeys(typed(*key) for key in known)
    near = nearest(typed(name, scopes[0]), [*names, *machine])
    if name.lower() in MEANT:
        near = [one for one in names if one.partition(".")[0] == MEANT[name.lower()]][:MOST_MEANT] or near
    if near:
        return f"must name a measure: did you mean {any_of(near)}?"
    plain = [one for one in NAMES if (measures_of(one, "game", game)[0], "game") in known]
    return f"must name a measure: there are {any_of(plain, 'and')}"


def target_of(
    text: str,
    game: Game,
    known: Iterable[Key],
    option: str = "--target",
    words: tuple[str, str] = ("most", "least"),
) -> Target:
    """MEASURE=VALUE or MEASURE.ROLE=VALUE as typed; VALUE may be one of the words.

    A share is typed in per cent and given back as a share.
    """
    name, _, number = text.partition("=")
    measure, scope = measure_named(name, game, known, option)
    word = number.strip()
    if word in words:
        return measure, scope, word
    if is_share(measure) and word:
        return measure, scope, share_of(word, f"{option} {name.strip()}", ends=True)
    try:
        value = float(word)
    except ValueError:
        value = float("nan")
    if not 0 <= value < float("inf"):
        such = any_of([f"{name.strip() or LOSSES}={one}" for one in ("3", *words)])
        raise InputError(f"must read MEASURE=VALUE, such as {such} (got {text!r})", option)
    return measure, scope, value
