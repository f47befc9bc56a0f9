"""Keys of a game file that have no everyday name to type, said as a coach says them: ``one ball at hand``, ``elite men``.

Each is a noun that stands behind "with"; a key that is not among them, or a value that is not of its kind, has no such words.
"""

from __future__ import annotations

import re

from sim.game.model import Game
from sim.words.listing import WORDS
from sim.words.plurals import counted

BALLS, FETCHING, HOLDING = "supply.balls", "supply.retrieve_seconds", "hold_limit_seconds"
RESTART = re.compile(r"restarts\.([^.]+)\.seconds")
POPULATION = re.compile(r"teams\.([^.]+)\.population")
FIRST_AND_OUT = {"out": "once it is out", "start": "at the start"}
"""The two restarts that every game has; the others go by the name in the file."""


def in_plain_words(key: str, value: str, game: Game | None = None) -> str:
    """What setting this key to this value is called; nothing where there are no words for it.

    `game`: the game with the change made; without it a team is always named.
    """
    if match := POPULATION.fullmatch(key):
        alone = game is not None and len(game.teams) == 1
        people = value.strip("\"'")
        return people if alone else f"{people} in {match[1]}"
    if not is_figure(value):
        return ""
    if key == BALLS and value.isdecimal():
        count = int(value)
        spelt = WORDS[count - 1] if 1 <= count <= len(WORDS) else value
        return f"{spelt} {counted('ball', count)} at hand"
    if key == FETCHING:
        return f"{value} s to fetch a ball once none is at hand"
    if key == HOLDING:
        return f"{value} s on the ball at most"
    if match := RESTART.fullmatch(key):
        when = FIRST_AND_OUT.get(match[1], f"by {match[1]}")
        return f"the ball back in after {value} s {when}"
    return ""


def is_figure(text: str) -> bool:
    """Whether it is a plain number: digits, with a point perhaps."""
    return re.fullmatch(r"\d+(\.\d+)?", text) is not None
