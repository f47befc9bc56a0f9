"""Games, players and assumptions for oracles: everything but the chance of a pass takes its course by the clock.

Under `STEADY` a player has the ball for exactly `HOLD_S` and passes to anybody, whatever he thinks of it; a pass is under way
for as long as the `outcome` says.  So a cycle (hold and pass) has a known, constant length.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace

from sim.game.loader import resolve
from sim.game.model import Game
from sim.measures.session_counts import SessionCounts, counts_of_bout, session_of
from sim.pitch.chance import CERTAIN, opponents
from sim.pitch.engine import play_bout
from sim.pitch.log import FIELDS, BoutLog
from sim.pitch.state import NEVER
from sim.players import Profile, typical_roster
from tests.support.scene import meant_for

HOLD_S = 0.54
STEADY = dict(CERTAIN) | {
    "control_time": HOLD_S,
    "control_time_sd": 0.0,  # every hold lasts the same
    "control_pressed": 0.0,
    "control_level": 0.0,
    "heavy_touch": 0.0,
    "turn_worth": -1e9,  # nobody turns away
    "far_seen": 1e9,  # another area is always in view
    "first_time_share": 0.0,  # nobody plays first time
    "release_worth": 0.0,  # any pass is worth making at the first look
    "choice_noise": 1e3,  # receivers are picked by lot (the more doubtful ones somewhat more often)
    "replan": 30.0,  # changes of mind move players and decide nothing here
}
LOST = {"on": "loss", "do": [{"restart": "start"}]}
SWAPPED = {"on": "loss", "do": [{"swap": "loser", "with": "longest in"}, {"restart": "start"}]}


def keep_ball(
    outside: int = 4,
    inside: int = 2,
    seconds: float = 480.0,
    delay: float = 0.0,
    rules: dict | None = None,
    count: int = 1,
    **more: object,
) -> Game:
    """`outside` players on the lines of a square against `inside` in it; `more` goes into the tables of the file."""
    short = {
        "format": 1,
        "name": "oracle",
        "title": "Oracle",
        "purpose": "To be worked out on paper.",
        "hold_limit_seconds": 60.0,
        "bouts": {"count": count, "seconds": seconds, "rest_seconds": 0.0},
        "start": {"side": "outside"},
        "areas": {"square": {"length": 12.0, "width": 12.0}},
        "teams": {"squad": {}},
        "roles": {
            "outside": {"side": "outside", "style": "edge", "place": "square", "players": outside},
            "inside": {"side": "inside", "style": "free", "place": "square", "players": inside},
        },
        "phases": {"keep": {"rules": rules or {"lost": LOST}}},
        "restarts": {name: {"to": "outside", "seconds": delay} for name in ("start", "out")},
        "supply": {"balls": 100},
    }
    return resolve(merged(short, more), "oracle")


def even(players: int = 3, seconds: float = 60.0, rules: dict | None = None, **more: object) -> Game:
    """Amber against slate anywhere in one square; a ball over the line goes to the side that did not touch it last."""
    short = {
        "format": 1,
        "name": "even",
        "title": "Even",
        "purpose": "To be worked out on paper.",
        "hold_limit_seconds": 60.0,
        "bouts": {"count": 1, "seconds": seconds, "rest_seconds": 0.0},
        "start": {"side": "amber"},
        "areas": {"square": {"length": 24.0, "width": 24.0}},
        "teams": {"amber": {}, "slate": {}},
        "roles": {
            "field": {
                "side": "team",
                "style": "free",
                "place": "square",
                "players": {"amber": players, "slate": players},
            }
        },
        "phases": {"keep": {"rules": rules or {}}},
        "restarts": {"out": {"to": "other", "seconds": 4.0}},
        "supply": {"balls": 100},
    }
    return resolve(merged(short, more), "even")


def merged(one: dict, other: dict) -> dict:
    """Tables put together key by key; what is no table is replaced."""
    both = dict(one)
    for key, value in other.items():
        known = both.get(key)
        both[key] = merged(known, value) if isinstance(value, dict) and isinstance(known, dict) else value
    return both


def faultless(game: Game) -> dict[str, Profile]:
    """Typical players who never fail an easy first touch."""
    return {name: replace(who, first_touch=0.0) for name, who in typical_roster(game).items()}


def bouts(game: Game, outcome: Callable, count: int, seed: int = 1, **assumptions: float) -> Iterator[BoutLog]:
    """`count` single bouts, each a replicate of its own, by the same players."""
    roster = faultless(game)
    for replicate in range(count):
        yield play_bout(game, roster, seed, replicate, 0, outcome, STEADY | assumptions)


def one_bout(game: Game, outcome: Callable, seed: int = 1, **assumptions: float) -> list[dict]:
    """The events of one bout by their fields."""
    return events_of(next(bouts(game, outcome, 1, seed, **assumptions)))


def session(game: Game, outcome: Callable, seed: int = 1, replicate: int = 0) -> SessionCounts:
    """The numbers of one session of the bouts that the game declares."""
    roster = faultless(game)
    logs = [play_bout(game, roster, seed, replicate, bout, outcome, STEADY) for bout in range(game.bouts.count)]
    return session_of([counts_of_bout(game, log) for log in logs])


def events_of(log: BoutLog) -> list[dict]:
    return [dict(zip(FIELDS, event, strict=True)) for event in log.events]


def of_kind(events: list[dict], *kinds: str) -> list[dict]:
    return [event for event in events if event["kind"] in kinds]


def scripted(*script: str, seconds: float = 0.3, then: str = "on") -> Callable:
    """An outcome that is told what happens: a ball goes "on" (to whom it is meant), is "won" by an opponent, or "out"."""
    left = iter(script)

    def outcome(bout, t: float) -> tuple[int, float, float]:
        word = next(left, then)
        if word == "out":
            return -1, NEVER, t + seconds
        if word == "won":
            return opponents(bout)[0], t + seconds, NEVER
        return meant_for(bout), t + seconds, NEVER

    return outcome


def three_errors(what: str, got: float, expected: float, error: float) -> list[str]:
    """A complaint if `got` is further from `expected` than three standard errors."""
    return (
        [] if abs(got - expected) <= 3.0 * error else [f"{what}: {got:.4g}, expected {expected:.4g} +- {3 * error:.2g}"]
    )
