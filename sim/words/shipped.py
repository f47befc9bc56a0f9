"""The shipped games side by side: numbers, sizes and what each is for."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence

from sim.game.family import sides_at_start
from sim.game.model import Game
from sim.words.listing import number, number_word
from sim.words.tables import table

HEADS = ("game", "numbers", "size", "what it is for")


def numbers_of(game: Game) -> str:
    """``4 v 2``, the side that starts first; ``4 v 4 + 2`` with two floaters; keepers and those who wait are not counted."""
    sides = sides_at_start(game)
    ordered = [sides.pop(game.start_side), *sides.values()]
    floaters = sum(game.role(player.role).side == "holder" for player in game.players)
    return f"{' v '.join(str(count) for count in ordered)}{f' + {floaters}' if floaters else ''}"


def sizes_of(game: Game) -> str:
    """``11 x 11 m``, ``two 14 x 14 m``, ``56 x 36, 20 x 20 m``."""
    counted = Counter(f"{number(area.length)} x {number(area.width)}" for area in game.areas)
    return f"{', '.join(size if count == 1 else f'{number_word(count)} {size}' for size, count in counted.items())} m"


def games_in_words(games: Sequence[Game], width: int | None) -> str:
    """A game a line; folded where `width` columns are too few for it."""
    rows = [(game.name, numbers_of(game), sizes_of(game), game.purpose) for game in games]
    return table(HEADS, rows, width, left=range(len(HEADS)))


def by_its_numbers(typed: str, name: str, title: str) -> str:
    """Which shipped game it is."""
    return f"{typed} is {name}: {title}."
