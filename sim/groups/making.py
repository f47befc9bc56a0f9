"""The same game for other numbers: who begins where, who is on reduced load and where he stands, and how large the ground is."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Any

from sim.errors import InputError
from sim.game.loader import resolve, to_short
from sim.game.model import Game, Style
from sim.game.space import rooms
from sim.groups.ground import stretched
from sim.groups.posts import Part, Post, Shape, shape_of
from sim.groups.splits import Split

SUPPORT, FLOATER = "support", "floater"
SUPPORT_TOUCHES = 2
"""Of a role for whoever has the ball that the game does not have itself (house default)."""
SPARE_BIBS = ("white", "orange", "pink")


@dataclass(frozen=True)
class Wanted:
    """A group: `split` of its players, `restricted` of them on reduced load, `keepers` of the supports.

    `seat`: where those on reduced load are: in the post of this role, which they never leave, or "support".
    """

    split: Split
    restricted: int = 0
    keepers: int = 0
    seat: str = "support"

    @property
    def defending(self) -> float:
        """The share of the time each of them defends who may, as the numbers have it."""
        return min(1.0, self.split.defending * self.split.people / (self.split.people - self.restricted))


def made(game: Game, wanted: Wanted) -> Game | None:
    """The game for this group, with as much room each as the game gives; None where its rules do not allow it."""
    shape = shape_of(game)
    try:
        same_ground = resolve(_peopled(game, shape, wanted), game.name, game.name)
        factor = (room_of(game) / room_of(same_ground)) ** 0.5
        return resolve(stretched(to_short(same_ground), factor), game.name, game.name)
    except InputError:
        return None


def room_of(game: Game) -> float:
    """Square metres a player, where both sides meet; of all areas together where they meet in none."""
    found = rooms(game)
    if found:
        return sum(one.per_player_m2 for one in found) / len(found)
    return sum(area.length * area.width for area in game.areas) / len(game.players)


def seats(shape: Shape) -> list[str]:
    """Roles in which somebody on reduced load runs least, the best first: on the lines of the side that begins with the ball, as a
    support of both sides, or at home on that side while others are sent."""
    mine = [post for post in shape.posts if post.part == "mine"]
    lines = [post.role for post in mine if post.style == "edge"]
    sent = {post.role for post in shape.posts if post.part in ("mine", "others")} - {mine[0].role}
    return list(dict.fromkeys([*lines[:1], SUPPORT, *([mine[0].role] if sent else [])]))


def _peopled(game: Game, shape: Shape, wanted: Wanted) -> dict[str, Any]:
    """Plain data of the game with other players on the ground of the game."""
    data = to_short(game)
    data.pop("players", None)  # what is known of single players is known of those who were planned for
    posts = [*_counted(shape, wanted.split), *_added(data, game, shape, wanted.split)]
    numbered = _numbered(posts)
    for role in data["roles"].values():
        role.pop("players", None)
    for post, numbers in numbered:
        data["roles"][post.role].setdefault("players", {})[post.team] = numbers
    data["teams"] = {
        name: _paired(team, [numbers for post, numbers in numbered if post.team == name])
        for name, team in data["teams"].items()
        if any(post.team == name for post in posts)
    }
    limits = _limits(game, numbered, wanted)
    return {**data, **({"players": limits} if limits else {})}


def _counted(shape: Shape, split: Split) -> list[Post]:
    """The posts of the game with other numbers: those of a part shared out as the game shares them; keepers as they are."""
    totals: dict[Part, int] = {
        "mine": split.mine,
        "others": split.others,
        "floater": split.floaters,
        "bench": split.bench,
    }
    found = []
    for part, total in totals.items():
        posts = [post for post in shape.posts if post.part == part]
        shares = _shared(total, [post.count for post in posts])
        found += [replace(post, count=count) for post, count in zip(posts, shares, strict=True) if count]
    return [*found, *(post for post in shape.posts if post.part == "keeper")]


def _shared(total: int, like: Sequence[int]) -> list[int]:
    """So many shared out as `like` is, the largest remainders first."""
    if not like:
        return []
    exact = [total * one / sum(like) for one in like]
    found = [int(one) for one in exact]
    order = sorted(range(len(like)), key=lambda i: found[i] - exact[i])
    for i in order[: total - sum(found)]:
        found[i] += 1
    return found


def _added(data: dict[str, Any], game: Game, shape: Shape, split: Split) -> list[Post]:
    """Roles for whoever has the ball that the game does not have: floaters inside, supports on the lines."""
    posts = []
    missing = split.floaters if not shape.count("floater") else 0
    added: tuple[tuple[str, Style, int], ...] = ((FLOATER, "free", missing), (SUPPORT, "edge", split.supports))
    for name, style, count in added:
        if count:
            data["roles"][name] = {
                "side": "holder",
                "style": style,
                "place": game.start_area,
                "touches": SUPPORT_TOUCHES,
            }
            posts.append(Post(name, _bibs(data, shape), "floater", style, count))
    return posts


def _bibs(data: dict[str, Any], shape: Shape) -> str:
    """The bibs of players who join both sides: those of the only team, else bibs nobody wears."""
    if len(data["teams"]) == 1 and not shape.in_teams:
        return next(iter(data["teams"]))
    name = next(one for one in SPARE_BIBS if not any(post.team == one for post in shape.posts))
    data["teams"].setdefault(name, {"population": next(iter(data["teams"].values()))["population"]})
    return name


def _numbered(posts: Sequence[Post]) -> list[tuple[Post, list[int]]]:
    """Every post with the shirt numbers of its players, from 1 in every team."""
    last: dict[str, int] = {}
    found = []
    for post in posts:
        first = last.get(post.team, 0) + 1
        last[post.team] = first + post.count - 1
        found.append((post, list(range(first, first + post.count))))
    return found


def _paired(team: dict[str, Any], listed: Sequence[Sequence[int]]) -> dict[str, Any]:
    """A team with its partners anew, neighbours of one post."""
    if "pairs" not in team:
        return team
    pairs = [[one, other] for numbers in listed for one, other in zip(numbers[::2], numbers[1::2], strict=False)]
    return team | {"pairs": pairs}


def _limits(game: Game, numbered: Sequence[tuple[Post, list[int]]], wanted: Wanted) -> dict[str, Any]:
    """The players on reduced load: on the lines, never in another role, and nobody tackles them."""
    if not wanted.restricted:
        return {}
    seat, numbers = next((post, numbers) for post, numbers in numbered if post.role == wanted.seat)
    never = [one.name for one in game.roles if one.name != seat.role and one.style != "goal"]
    never = never if seat.role != SUPPORT else []
    limit = {"restricted": True, "tackles": False} | ({"never": never} if never else {})
    return {f"{seat.team}-{number}": limit for number in numbers[: wanted.restricted]}
