"""The bibs of a game as they are drawn: one table of colours by their names, and who wears which shape and shade.

A colour is never told by itself alone: whoever wears another bib also has another shape, and the colours that coaches use most
lie far apart in grey.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass

from sim.game.equipment import bibs_of
from sim.game.family import side_of
from sim.game.model import Game
from sim.plots.badges import FLOATER, LOOKS, OWN, Look
from sim.plots.look import INK
from sim.words.diagram_words import FLOATERS, sides_of

WORD = re.compile(r"[a-z]+")
BIBS: Mapping[str, tuple[str, str]] = {
    "amber": ("#f2b134", INK),
    "black": ("#1d1d1b", "white"),
    "blue": ("#1f4e9c", "white"),
    "brown": ("#6b4423", "white"),
    "claret": ("#7a1f3d", "white"),
    "gold": ("#d9a520", INK),
    "green": ("#2f7d3b", "white"),
    "grey": ("#9a9a9a", INK),
    "lime": ("#b7dd3c", INK),
    "maroon": ("#6d1f2f", "white"),
    "navy": ("#17375e", "white"),
    "orange": ("#ef8022", INK),
    "pink": ("#f2a3c0", INK),
    "purple": ("#5e3a87", "white"),
    "red": ("#b3261e", "white"),
    "silver": ("#c9c9c9", INK),
    "sky": ("#8cc6ec", INK),
    "slate": ("#4f6076", "white"),
    "white": ("#ffffff", INK),
    "yellow": ("#f7e04b", INK),
}
"""By the word for it in the name of a team: what it is drawn in, and what stands on it."""


def colour_of(team: str) -> tuple[str, str] | None:
    """(fill, ink) of the bibs of a team whose name says its colour; None where it does not."""
    return next((BIBS[one] for one in WORD.findall(team.casefold()) if one in BIBS), None)


@dataclass(frozen=True)
class Wardrobe:
    """Who wears what in a game.  `bibs`: the teams in bibs of their own, in the order of the picture; none where all are of one
    team, and sides are told apart.  `sides`: in the order of the picture; `leads`: of each side a team that wears its bibs."""

    bibs: tuple[str, ...]
    sides: tuple[str, ...]
    leads: Mapping[str, str]

    def look(self, side: str, team: str) -> Look:
        """How somebody of a team looks while he plays for a side."""
        if side == FLOATERS:
            fill, ink = (colour_of(team) if self.bibs else None) or (FLOATER.fill, FLOATER.ink)
            return FLOATER._replace(fill=fill, ink=ink)
        worn = team if team in self.bibs else self.leads.get(side, "")
        if worn not in self.bibs:
            return LOOKS[self.sides.index(side) % len(LOOKS)] if side in self.sides else LOOKS[0]
        shape = LOOKS[self.bibs.index(worn) % len(LOOKS)]
        fill, ink = colour_of(worn) or (shape.fill, shape.ink)
        return shape._replace(fill=fill, ink=ink)

    def keeper(self, side: str, team: str) -> Look:
        """How a goalkeeper looks: in a colour of his own, with the bib of his side about it."""
        return self.look(side, team)._replace(inner=OWN, ink=INK)


def wardrobe(game: Game) -> Wardrobe:
    """Who wears what in a game."""
    sides = sides_of(game)
    worn = {one.team for one in bibs_of(game) if one.team is not None}
    found: dict[str, None] = {}
    leads: dict[str, str] = {}
    for side in sides:
        for player in sorted(game.players, key=lambda one: (one.team, one.number)):
            if side_of(game, player) == side != FLOATERS and player.team in worn:
                found.setdefault(player.team)
                leads.setdefault(side, player.team)
    return Wardrobe(tuple(found), tuple(sides), leads)
