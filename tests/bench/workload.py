"""What the benchmark plays: the shipped games, the same seed and sessions every time, in two sizes."""

from __future__ import annotations

import math
from dataclasses import dataclass

from sim.game.loader import load_game
from sim.game.model import Game

GAMES = ("tight-square", "home-grids", "two-squares", "break-away", "even-goals", "even-keep-ball")
TIGHT = "tight-square"
SEED = 1


@dataclass(frozen=True)
class Size:
    """How much is played.  `changes` go to every game."""

    repeats: int  # of every timing, the median counts
    sessions: int  # a game and repeat
    paired: int  # bouts of each game in the comparisons
    few: int  # bouts of the smaller of the two runs whose memory is compared
    starts: int  # of programs
    ticked: int  # bouts of the loop
    slow: int  # repeats of one bout of it in plain Python
    minutes: tuple[float, ...]  # lengths of bout
    sides: tuple[int, ...]  # players a side
    cold: bool  # whether everything is compiled anew once
    burn: int  # what each process of the control counts to
    plans: int  # from known blocks, after one from nothing
    week: bool  # whether they are of the shipped week, and not of two small games
    changes: tuple[str, ...] = ()


FULL = Size(5, 2, 400, 400, 15, 6, 3, (1.0, 2.0, 4.0, 8.0), (2, 4, 6, 8), True, 6_000_000, 5, True)
TINY = Size(1, 1, 8, 4, 1, 1, 1, (0.1, 0.2), (2, 3), False, 60_000, 1, False, ("bouts.minutes=0.1", "bouts.count=2"))


def shipped(name: str, size: Size, *more: str) -> Game:
    """A shipped game; `more` takes the place of the size's own changes of the same key."""
    keys = {one.partition("=")[0] for one in more}
    return load_game(name, [*(one for one in size.changes if one.partition("=")[0] not in keys), *more])


def eights(size: Size) -> Game:
    """Eight against eight: the shipped even game with goals, seven and a keeper a side, on as much ground for each."""
    own = (
        "roles.outfield.players.amber=7",
        "roles.outfield.players.slate=7",
        "areas.pitch.length=48",
        "areas.pitch.width=35",
    )
    return shipped("even-goals", size, *own)


def evens(size: Size, side: int) -> Game:
    """The shipped even keep-ball with so many a side (and its two floaters), on as much ground for each."""
    scale = math.sqrt((2 * side + 2) / 10)
    own = (f"roles.player.players.amber={side}", f"roles.player.players.slate={side}")
    ground = (f"areas.field.length={30 * scale:.2f}", f"areas.field.width={24 * scale:.2f}")
    return shipped("even-keep-ball", size, *own, *ground)
