"""Words of the ground in place of those of the map: left and right, far and near, as the game is drawn.

Game files say west, east, south and north; nobody on the grass knows where those lie.  Whatever a coach reads beside the picture
says left, right, near and far, which stand at the edges of the picture.
"""

from __future__ import annotations

import re
from collections.abc import Callable

from sim.game.model import Game

DRAWN = {"west": "left", "east": "right", "south": "near", "north": "far"}
"""By the word of the game file: the word at that edge of the picture; the near side is where the coach stands with it."""

ON_SIDE = {
    "west": "to the left of",
    "east": "to the right of",
    "south": "on the near side of",
    "north": "on the far side of",
}
TOWARDS = {
    "west": "to the left",
    "east": "to the right",
    "south": "towards the near side",
    "north": "towards the far side",
}
PICTURE = "Left and right, near and far are those of the picture; in the file they are west and east, south and north."
PAIRS = (("west", "east"), ("south", "north"))
Tell = Callable[[str], str]


def as_drawn(game: Game) -> Tell:
    """What turns a sentence about a game into words of the ground.  What people and bibs are called stays as it is, and so does a
    pair where the file uses words of the ground beside those of the map: two things would have one name."""
    own = _parts(" ".join([*(team.name for team in game.teams), *(player.id for player in game.players)]))
    named = [one.name for one in game.areas] + [one.name for one in game.zones]
    named += [one.name for one in game.goals] + [one.name for one in game.gates]
    named += [one.name for one in game.phases] + [name for role in game.roles for name in (role.name, role.side)]
    places = _parts(" ".join(named))
    told = {
        one: DRAWN[one]
        for pair in PAIRS
        if not any(end in own for end in pair)
        and not (set(pair) & set(places) and {DRAWN[end] for end in pair} & set(places))  # two things, one name
        for one in pair
    }
    if not told:
        return str
    pattern = re.compile(
        rf"(?<![A-Za-z])(a)n (?={'|'.join(told)})|(?<![A-Za-z])({'|'.join(told)})(?![A-Za-z])", re.IGNORECASE
    )

    def tell(text: str) -> str:  # "an east-keeper" is "a right-keeper"
        return pattern.sub(lambda found: f"{found[1]} " if found[1] else _like(found[2], told[found[2].lower()]), text)

    return tell


def _parts(text: str) -> list[str]:
    """``west-end`` as its words, in small letters."""
    return re.findall("[a-z]+", text.lower())


def _like(written: str, word: str) -> str:
    """A word with a capital where the one it stands for has one."""
    return word.capitalize() if written[0].isupper() else word
