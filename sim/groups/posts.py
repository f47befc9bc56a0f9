"""What a game is made of: its posts, each so many players of one team in one role, and which part they play."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from sim.game.family import sides_at_start
from sim.game.model import Game, Style
from sim.game.verbs import Swap, Trade

Part = Literal["mine", "others", "floater", "bench", "keeper"]
"""mine: the side that begins with the ball; others: the other side; bench: waits in the game itself."""


@dataclass(frozen=True)
class Post:
    """`count` players of `team` who begin in `role`."""

    role: str
    team: str
    part: Part
    style: Style
    count: int


@dataclass(frozen=True)
class Shape:
    """The posts of a game, and what holds them together.

    even      both sides have as many
    in_pairs  partners change together, so both sides have an even number, unless whoever has none goes alone
    in_teams  teams change as a whole, so they are of one size; a team may be on the lines as floaters
    """

    posts: tuple[Post, ...]
    even: bool
    in_pairs: bool
    in_teams: bool

    def count(self, *parts: Part) -> int:
        """How many play these parts."""
        return sum(post.count for post in self.posts if post.part in parts)

    @property
    def people(self) -> int:
        """Everybody but the keepers."""
        return self.count("mine", "others", "floater", "bench")

    @property
    def teams(self) -> list[str]:
        """The teams of the players who are no keepers, in the order of the posts."""
        return list(dict.fromkeys(post.team for post in self.posts if post.part != "keeper"))


def shape_of(game: Game) -> Shape:
    """The shape of a game as it begins."""
    jobs = {job.role: job.style for job in game.phase(game.start_phase).jobs}
    counts: dict[tuple[str, str], int] = {}
    for player in game.players:
        counts[player.role, player.team] = counts.get((player.role, player.team), 0) + 1
    posts = []
    for (name, team), count in sorted(counts.items(), key=lambda one: _place(game, *one[0])):
        role = game.role(name)
        style = jobs.get(name, role.style)
        posts.append(Post(name, team, _part(game, name, team, style), style, count))
    swaps = [
        action
        for phase in game.phases
        for rule in phase.rules
        for action in rule.do
        if isinstance(action, (Swap, Trade))
    ]
    sides = [count for count in sides_at_start(game).values()]
    return Shape(
        tuple(posts),
        len(set(sides)) == 1,
        any(isinstance(one, Swap) and "partner" in one.who and not one.alone for one in swaps),
        any(isinstance(one, Trade) or "team" in one.who for one in swaps),
    )


def _place(game: Game, role: str, team: str) -> tuple[int, int]:
    return [one.name for one in game.roles].index(role), [one.name for one in game.teams].index(team)


def _part(game: Game, name: str, team: str, style: Style) -> Part:
    role = game.role(name)
    if style == "goal":
        return "keeper"
    if style == "wait":
        return "bench"
    if role.side == "holder":
        return "floater"
    side = team if role.side == "team" else role.side
    return "mine" if side == game.start_side else "others"
