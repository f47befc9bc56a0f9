"""The first line of a screen: the game by its title, and how it is set up."""

from __future__ import annotations

from sim.game.family import sides_at_start
from sim.game.model import Game
from sim.words.changes import area_size, spelt
from sim.words.listing import listed
from sim.words.plurals import counted


def question_line(game: Game, question: str, unit: str = "m") -> str:
    """``Lose it and go in: 4 v 2, 11 x 11 m, two touches; 100 bouts of 2 min``; `question` is what stands after the set-up."""
    return f"{game.title}: {set_up(game, unit)}; {question}"


def set_up(game: Game, unit: str = "m") -> str:
    """``4 v 2, 11 x 11 m, two touches``: numbers at the start, ground, and the touch limit where there is one."""
    return ", ".join(part for part in (numbers(game), sizes_of_ground(game, unit), limit(game)) if part)


def numbers(game: Game) -> str:
    """Side against side, whoever has the ball first; floaters and keepers are told apart."""
    counts = {side: count for side, count in sides_at_start(game).items() if count}
    order = sorted(counts, key=lambda side: side != game.start_side)
    text = " v ".join(str(counts[side]) for side in order)
    roles = [game.role(player.role) for player in game.players]
    floaters = sum(role.side == "holder" for role in roles)
    if floaters:
        text += f" + {floaters}"
    return text + (" + keepers" if any(role.style == "goal" for role in roles) else "")


def sizes_of_ground(game: Game, unit: str) -> str:
    """Each size once, where play begins first: ``two 14 x 14 m``, ``20 x 20 m in 56 x 36 m``."""
    sizes: dict[str, int] = {}
    for area in sorted(game.areas, key=lambda area: area.name != game.start_area):
        size = area_size(area, unit)
        sizes[size] = sizes.get(size, 0) + 1
    if len(sizes) > 2:
        return f"{len(game.areas)} areas"
    said = [size if count == 1 else f"{spelt(count)} {size}" for size, count in sizes.items()]
    return " in ".join(said) if len(said) == 2 and inside(game) else listed(said)


def inside(game: Game) -> bool:
    """Whether all areas lie in one of them, and it is not where play begins."""
    largest = max(game.areas, key=lambda area: area.length * area.width)
    west, south, east, north = largest.bounds
    within = [
        west <= area.bounds[0] and south <= area.bounds[1] and area.bounds[2] <= east and area.bounds[3] <= north
        for area in game.areas
    ]
    return all(within) and largest.name != game.start_area


def limit(game: Game) -> str:
    """``two touches``; ``two to three touches`` where roles differ, nothing where all are free."""
    there = {player.role for player in game.players}
    limits = sorted({role.touches for role in game.roles if role.name in there and role.touches is not None})
    if not limits:
        return ""
    said = spelt(limits[0]) if len(limits) == 1 else f"{spelt(limits[0])} to {spelt(limits[-1])}"
    return f"{said} {counted('touch', limits[-1])}"


def time_of(seconds: float) -> str:
    """How long a bout is: ``2 min``, ``90 s``."""
    return f"{seconds / 60:.3g} min" if seconds % 30 == 0 and seconds >= 60 else f"{seconds:g} s"


def spelt_time(seconds: float) -> str:
    """The same in a sentence: ``two minutes``, ``a minute``, ``90 seconds``."""
    if seconds == 60:
        return "a minute"
    whole = seconds % 60 == 0
    return f"{spelt(seconds / 60)} minutes" if whole else f"{seconds:g} seconds"
