"""So many people in one game: how many on either side, how many floaters, how many on the lines for whoever has the ball."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from sim.groups.posts import Shape

Four = tuple[int, int, int, int]
"""mine, others, floaters, and supports beyond those that were asked for."""
FEWEST = 2
"""On the side that begins with the ball, and on both where they are as many."""


@dataclass(frozen=True)
class Split:
    """Players by what they do: `supports` stand on the lines and play with whoever has the ball, and never defend."""

    mine: int
    others: int
    floaters: int = 0
    supports: int = 0
    bench: int = 0

    @property
    def people(self) -> int:
        """Everybody but keepers in goal."""
        return self.mine + self.others + self.floaters + self.supports + self.bench

    @property
    def defending(self) -> float:
        """The share of them who are without the ball at a time, as the numbers have it."""
        return (self.others if self.mine > self.others else (self.mine + self.others) / 2) / self.people


def splits(shape: Shape, people: int, supports: int) -> list[Split]:
    """Ways to have so many play, `supports` of them on the lines for both sides, the most like the game first; [] where none is."""
    bench = min(shape.count("bench"), people // FEWEST)
    playing = people - bench - supports
    if shape.in_teams:
        found = _in_teams(shape, playing)
    elif shape.even:
        found = _even(shape, playing)
    else:
        found = _overload(shape, playing)
    whole = [Split(mine, others, floaters, supports + over, bench) for mine, others, floaters, over in found]
    return sorted(whole, key=lambda one: _unlike(shape, one))


def _unlike(shape: Shape, split: Split) -> float:
    """How far the shares of defenders and of floaters are from the game's."""
    own = Split(shape.count("mine"), shape.count("others"), shape.count("floater"), 0, shape.count("bench"))
    floating = (split.floaters + split.supports) / split.people - own.floaters / own.people
    return abs(split.defending - own.defending) + abs(floating)


def _overload(shape: Shape, playing: int) -> Iterator[Four]:
    mine, others = shape.count("mine"), shape.count("others")
    for floaters in {shape.count("floater"), shape.count("floater") + (playing % 2 if shape.in_pairs else 0)}:
        left = playing - floaters
        wanted = left * others / (mine + others)
        for against in sorted({max(1, int(wanted)), int(wanted) + 1}):
            if shape.in_pairs and (against % 2 or (left - against) % 2):
                continue
            if left - against > against and left - against >= FEWEST:
                yield left - against, against, floaters, 0


def _even(shape: Shape, playing: int) -> Iterator[Four]:
    floaters = shape.count("floater")
    for count in range(max(0, floaters - 2), floaters + 3):
        each, over = divmod(playing - count, 2)
        if over == 0 and each >= FEWEST and count <= max(each, floaters):
            yield each, each, count, 0


def _in_teams(shape: Shape, playing: int) -> Iterator[Four]:
    """Teams of one size; whoever is left over plays for both sides, on the lines where a team of the game does so."""
    by_part = {post.team: post.part for post in shape.posts if post.part in ("mine", "others", "floater")}
    each, over = divmod(playing, len(by_part))
    if each >= FEWEST:
        parts = list(by_part.values())
        walls = each * parts.count("floater")
        yield each * parts.count("mine"), each * parts.count("others"), walls or over, over if walls else 0
