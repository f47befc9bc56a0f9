"""Caps and permissions of single players, and zones closed to a side: small games at random, and what of it a session has broken.

Nothing of `sim.rules` is asked: who plays and who waits, every touch and every tackle are read from the logs alone.
"""

from __future__ import annotations

import random
from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from typing import NamedTuple

from sim.errors import InputError
from sim.experiments.sessions import session_bouts
from sim.game.loader import resolve
from sim.game.model import Game, Player
from sim.pitch.log import BoutLog
from tests.theory.games import events_of

SECONDS, BOUTS = 12.0, 2
OVER_M = 0.6  # a foot over the line, as in the tests of zones
SLACK_S = 1e-6
Told = Sequence[list[dict]]  # the events of each bout of a session
OF_PLAYERS = ("touches", "tackles", "never", "most_minutes", "most_bouts")
"""Limits of single players."""
WORDS = (*OF_PLAYERS, "closed_to")
"""What may be limited."""


class Drawn(NamedTuple):
    """A game with its limits, and the same without any."""

    limited: Game
    free: Game


def drawn(seed: int) -> Drawn:
    """One accepted game; the same seed draws the same."""
    dice = random.Random(seed)
    while True:
        short = dice.choice([_squad, _even])(dice)
        try:
            return Drawn(resolve(short, "capped"), resolve(_without(short), "free"))
        except InputError:
            continue  # a limit the game would break is refused; that it is said so is tested elsewhere


def _without(short: dict) -> dict:
    """The short form with no limit in it."""
    zones = {name: {key: of for key, of in zone.items() if key != "closed_to"} for name, zone in short["zones"].items()}
    return short | {"players": {}, "zones": zones}


def _short(dice: random.Random, **more: object) -> dict:
    bouts = {"count": BOUTS, "seconds": SECONDS, "rest_seconds": 0.0}
    areas = {"square": {"length": dice.choice([11.0, 14.0, 18.0])}}
    restarts = {name: {"seconds": 1.0} for name in ("start", "out")}
    return {"bouts": bouts, "areas": areas, "restarts": restarts, "zones": {}} | more


def _squad(dice: random.Random) -> dict:
    """Some keep it from fewer, some wait; who loses it goes in."""
    many = {"outside": dice.choice([4, 5]), "inside": dice.choice([2, 3]), "bench": dice.choice([1, 2])}
    side = dice.choice(["outside", "inside"])
    swap = {"swap": "loser", "with": dice.choice(["longest in", "next on the list", "winner"])}
    return _short(
        dice,
        roles={
            "outside": {"style": dice.choice(["edge", "free"]), "players": many["outside"]},
            "inside": {"players": many["inside"]},
            "bench": {"side": side, "style": "wait", "players": many["bench"]},
        },
        rules={"lost": {"on": "loss", "by": "outside", "do": [swap, {"restart": "start"}]}},
        players={f"squad-{n}": _limits(dice) for n in dice.sample(range(1, sum(many.values()) + 1), 3)},
    )


def _limits(dice: random.Random) -> dict:
    """One or two limits of a player."""
    minutes = {"most_minutes": dice.choice([0.05, 0.1, 0.15, 0.25]), "restricted": dice.choice([True, False])}
    said = [{"touches": dice.choice([1, 2])}, {"tackles": False}, {"never": [dice.choice(["inside", "outside"])]}]
    return {key: of for one in dice.sample([*said, minutes, {"most_bouts": 1}], 2) for key, of in one.items()}


def _even(dice: random.Random) -> dict:
    """As many against as many, with a part of the ground closed to one side."""
    each = dice.choice([3, 4])
    at = dice.choice(["west half", "east third", "north lane"])
    who = dice.choice(["amber", "slate"])
    few = [{"touches": 1}, {"touches": 2}, {"tackles": False}]
    return _short(
        dice,
        areas={"square": {"length": 24.0, "width": 20.0}},
        roles={"field": {"players": {"amber": each, "slate": each}}},
        zones={"closed": {"at": f"{at} of square", "closed_to": [who]}},
        players={f"{team}-{dice.randint(1, each)}": dice.choice(few) for team in ("amber", "slate")},
    )


def played(game: Game, seed: int) -> tuple[BoutLog, ...]:
    """One session."""
    return tuple(session_bouts(game, seed, 0))


def broken(game: Game, logs: Sequence[BoutLog]) -> Counter[str]:
    """How often each kind of limit of a game is broken in the bouts of a session; nothing where all are kept."""
    told = [events_of(log) for log in logs]
    found: Counter[str] = Counter()
    for player in game.players:
        found["touches"] += player.touches is not None and _most_touches(player.id, told) > player.touches
        found["never"] += bool(set(player.never) & _roles(player.id, told))
        found["tackles"] += not player.tackles and _tackled(player.id, told)
        found["most_bouts"] += player.most_bouts is not None and _bouts(player.id, told) > player.most_bouts
        found["most_minutes"] += player.most_seconds is not None and _plays_on(player, told)
    for zone in game.zones:
        found["closed_to"] += any(_plays_in(game, events, zone.name, zone.closed_to) for events in told)
    return +found


def _most_touches(player: str, told: Told) -> int:
    """The most touches in a row of a player before the ball has left him."""
    most = 0
    for events in told:
        run, last = 0, ""
        for each in events:
            left = each["kind"] in ("release", "shot", "deflect", "dead")
            off_him = each["kind"] == "tackle" and each["cause"] != "beaten"
            if left or off_him or (each["kind"] == "touch" and each["player"] != last):
                run = 0
            if each["kind"] == "touch":
                last = each["player"]
                run += 1
                most = max(most, run if last == player else 0)
    return most


def _roles(player: str, told: Told) -> set[str]:
    return {each["cause"] for events in told for each in events if (each["kind"], each["player"]) == ("job", player)}


def _tackled(player: str, told: Told) -> bool:
    tackles = (each for events in told for each in events if each["kind"] == "tackle")
    return any(player in (each["player"], each["other"]) for each in tackles)


def _spans(player: str, events: list[dict]) -> Iterator[tuple[float, float]]:
    """From when to when a player does not wait."""
    since = None
    for each in events:
        if (each["kind"], each["player"]) == ("job", player):
            if since is not None:
                yield since, each["t"]
            since = None if each["detail"] == "wait" else each["t"]
    if since is not None:
        yield since, events[-1]["t"]


def _bouts(player: str, told: Told) -> int:
    """In how many bouts somebody plays."""
    return sum(any(end - start > SLACK_S for start, end in _spans(player, events)) for events in told)


def _plays_on(player: Player, told: Told) -> bool:
    """Whether somebody who has had his seconds is on when a ball comes into play; at reduced load, whether he is at all."""
    had = 0.0
    for events in told:
        lives = [each["t"] for each in events if each["kind"] == "live"]
        for start, end in _spans(player.id, events):
            out = start + player.most_seconds - had + SLACK_S  # then he has had it
            late = end if player.restricted else max((t for t in lives if start <= t < end), default=start)
            if late > out:
                return True
            had += end - start
    return False


def _plays_in(game: Game, events: list[dict], zone: str, closed_to: Sequence[str]) -> bool:
    """Whether one of a side plays the ball, or tackles for it, where it may not go; a turn at speed may carry him over the line."""
    west, south, east, north = game.place(zone).bounds
    return any(
        west + OVER_M < each["x"] < east - OVER_M and south + OVER_M < each["y"] < north - OVER_M
        for each in events
        if each["kind"] in ("touch", "release", "tackle") and each["player"].split("-")[0] in closed_to
    )


def search(bouts: int, seed: int, tell: Callable[[int, Counter[str]], None]) -> Counter[str]:
    """Play so many bouts of games at random: how often each kind of limit was broken.  `tell`: after each session, bouts so far."""
    found: Counter[str] = Counter()
    for number in range(-(-bouts // BOUTS)):
        game = drawn(1_000_000 * seed + number).limited
        found += broken(game, played(game, number))
        tell((number + 1) * BOUTS, found)
    return found
