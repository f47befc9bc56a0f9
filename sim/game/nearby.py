"""Shipped games by their numbers: ``4v2`` is the game that four keep from two, ``4v4+2`` has two floaters besides.

Counted are the players at the start of the side that begins with the ball, then those of the other side; goalkeepers and those who
wait outside are not counted, and floaters stand apart.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from pathlib import Path

from sim.errors import NEAR, InputError, any_of
from sim.game.model import Game

_NUMBERS = re.compile(r"(\d{1,2}) ?v ?(\d{1,2})(?: ?\+ ?(\d{1,2}))?", re.IGNORECASE)

Numbers = tuple[int, int, int]


def numbers_of(game: Game) -> Numbers:
    """(side that begins, the others, floaters)."""
    counted = {role.name: role for role in game.roles if role.style in ("edge", "free")}
    found = [0, 0, 0]
    for player in game.players:
        role = counted.get(player.role)
        if role is not None:
            side = player.team if role.side == "team" else role.side
            found[2 if side == "holder" else 0 if side == game.start_side else 1] += 1
    return found[0], found[1], found[2]


def numbers_in(text: str) -> Numbers | None:
    """The numbers that somebody typed in the place of a game; None for anything else."""
    found = _NUMBERS.fullmatch(text.strip())
    if found is None:
        return None
    mine, others, floaters = found.groups(default="0")
    return int(mine), int(others), int(floaters)


def own_file(text: str) -> Path | None:
    """The user's own file that is called by these numbers, with or without its ending: it goes before a shipped game."""
    return next((file for file in (Path(text), Path(f"{text}.toml")) if file.is_file()), None)


def in_words(numbers: Numbers) -> str:
    """``4v2`` or ``4v4+2``."""
    mine, others, floaters = numbers
    return f"{mine}v{others}" + (f"+{floaters}" if floaters else "")


def of_numbers(wanted: Numbers, games: Mapping[str, Game]) -> str:
    """The name of the one game with these numbers; refused with the nearest where there is none, or more than one."""
    numbers = {name: numbers_of(game) for name, game in games.items()}
    same = [name for name, own in numbers.items() if own == wanted]
    if len(same) == 1:
        return same[0]
    if same:
        raise InputError(
            f"must be one game: {any_of(same)} are all {in_words(wanted)} (got {in_words(wanted)})", "GAME"
        )

    def far(name: str) -> tuple[int, str]:
        return sum(abs(a - b) for a, b in zip(numbers[name], wanted, strict=True)), name

    near = [f"{name} ({in_words(numbers[name])})" for name in sorted(numbers, key=far)[:NEAR]]
    raise InputError(f"no shipped game is {in_words(wanted)}: the nearest are {any_of(near, 'and')}", "GAME")
