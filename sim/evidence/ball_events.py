"""What happened with the ball in one bout, as short lists: passes, receptions, and counts with their time and player.

A pass is *pressed* when an opponent was within 3 m of the passer at the release (the log says so), *completed* when a
mate controls it.  Its speed is its length over its time from foot to control, for completed passes; its class of length is the
length that was meant.  Its *wait* is the time since the passer had received it from a mate, if he had.  Time on the
ball runs from a player's first touch to his release, however he came by it.  A pass that is still on its way when the
bout ends is left out.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field

import numpy as np

from sim.evidence.trajectories import Path, rows_of, state_at
from sim.game.model import Game
from sim.pitch.log import BoutLog

COUNTS = ("touches", "passes", "completed", "losses", "tackles", "outs", "timed", "on_ball_s", "received",
          "received_mps", "spaced", "space_m", "supports", "support_s")  # fmt: skip
PASS = ("length_m", "pressed", "completed", "speed_mps", "wait_s", "keeper")
SUPPORTS = 2  # mates that must have arrived after a transfer
SUPPORT_MOST_S = 10.0


@dataclass
class BallEvents:
    """`counts`: (t, player or -1, place in `COUNTS`, value); `passes`: rows of `PASS`; `live`: (from, to) in play."""

    counts: list[tuple[float, int, int, float]] = field(default_factory=list)
    passes: list[list[float]] = field(default_factory=list)
    live: list[tuple[float, float]] = field(default_factory=list)

    def add(self, t: float, player: int, what: str, value: float = 1.0) -> None:
        self.counts.append((t, player, COUNTS.index(what), value))

    def pass_table(self) -> np.ndarray:
        return np.array(self.passes, dtype=float).reshape(-1, len(PASS))


def ball_events_of(game: Game, log: BoutLog) -> BallEvents:
    """Read a bout's events in order."""
    number = {player: i for i, player in enumerate(log.players)}
    keeping = {role.name for role in game.roles if role.style == "goal"}
    rows = rows_of(log)
    paths = [Path(one) for one in rows]
    sides, styles, roles = [""] * len(number), [""] * len(number), [""] * len(number)
    found = BallEvents()
    carrier, since, received = -1, 0.0, False
    flying: tuple[float, list[float], int] | None = None
    live = math.nan
    for t, _, kind, player, _, side, cause, detail, value, *_ in log.events:
        who = number.get(player, -1)
        if kind == "job":
            roles[who], sides[who], styles[who] = cause, side, detail
        elif kind in ("touch", "possession", "receive"):
            if who != carrier:
                carrier, since, received = who, t, False
            if kind == "touch":
                found.add(t, who, "touches")
            if kind == "receive":
                received = True
                if flying is not None:
                    left, row, passer = flying
                    row[2] = 1.0
                    row[3] = value / (t - left) if t > left else math.nan
                    found.add(left, passer, "completed")
                    flying = None
                found.add(t, who, "received")
                found.add(t, who, "received_mps", speed_at(paths[who], t))
                space = space_at(paths, who, sides, styles, t)
                if not math.isnan(space):
                    found.add(t, who, "spaced")
                    found.add(t, who, "space_m", space)
        elif kind == "release":
            wait = math.nan
            if who == carrier:
                found.add(t, who, "timed")
                found.add(t, who, "on_ball_s", t - since)
                wait = t - since if received else math.nan
            row = [value, float(cause == "pressed"), 0.0, math.nan, wait, float(roles[who] in keeping)]
            found.passes.append(row)
            found.add(t, who, "passes")
            flying = (t, row, who)
            carrier, received = -1, False
        elif kind == "transfer":
            found.add(t, who, "supports")
            found.add(t, who, "support_s", support_time(game, rows, who, sides, detail.split(">")[-1], t))
        elif kind == "loss":
            found.add(t, who, "losses")
            carrier, received, flying = -1, False, None
        elif kind == "tackle":
            found.add(t, who, "tackles")
        elif kind == "out":
            found.add(t, who, "outs")
        elif kind == "live":
            live = t
        elif kind == "dead":
            if not math.isnan(live):
                found.live.append((live, t))
                live = math.nan
            if cause != "end":
                carrier, received, flying = -1, False, None
        elif kind == "shot":
            carrier, received, flying = -1, False, None
    if flying is not None:
        left, row, passer = flying
        found.passes.remove(row)
        found.add(left, passer, "passes", -1.0)
    if not math.isnan(live):
        found.live.append((live, log.duration_s))
    return found


def speed_at(path: Path, t: float) -> float:
    return math.hypot(*path.at(t)[2:])


def space_at(paths: list[Path], who: int, sides: list[str], styles: list[str], t: float) -> float:
    """Metres from a player to the nearest opponent (neither floaters nor players who wait are opponents)."""
    if sides[who] == "holder":
        return math.nan
    x, y, *_ = paths[who].at(t)
    places = [
        paths[i].at(t)[:2] for i in range(len(paths)) if sides[i] not in (sides[who], "holder") and styles[i] != "wait"
    ]
    return min((math.hypot(px - x, py - y) for px, py in places), default=math.nan)


def support_time(game: Game, rows: list[np.ndarray], who: int, sides: list[str], area: str, t: float) -> float:
    """Seconds from a transfer until two mates are in the new area too, at most `SUPPORT_MOST_S`."""
    west, south, east, north = game.area(area).bounds
    times = t + np.arange(0.0, SUPPORT_MOST_S, 0.1)
    there = np.zeros(len(times), dtype=int)
    for i in range(len(rows)):
        if i != who and sides[i] in (sides[who], "holder"):
            x, y, *_ = state_at(rows[i], times)
            there += (x >= west - 1.0) & (x <= east + 1.0) & (y >= south - 1.0) & (y <= north + 1.0)
    enough = np.flatnonzero(there >= SUPPORTS)
    return float(times[enough[0]] - t) if len(enough) else SUPPORT_MOST_S
