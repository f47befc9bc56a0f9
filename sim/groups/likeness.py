"""How far a set-up is from what was planned: in room, defending, losses and roles."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from math import inf
from typing import TYPE_CHECKING

from sim.game.model import Game
from sim.groups.making import Wanted, room_of
from sim.groups.posts import shape_of

if TYPE_CHECKING:
    from sim.results import Result

WEIGHTS: Mapping[str, int] = {"area": 30, "defending": 30, "losses": 25, "roles": 15}
"""What counts how much, of a hundred (house default)."""


@dataclass(frozen=True)
class Likeness:
    """What a player meets in a game or in all groups of a set-up.

    area       square metres for each
    defending  share of the time with the ball rolling that he defends, mean over the players who keep no goal and are not on
               reduced load: those never do, so the others do it for them
    losses     a minute with the ball rolling
    doubt      half the 95 % range of `losses`, without end (`inf`) where one session is too few to have one
    roles      share of all who are there in each kind of role
    usually    between what `losses` lie in eight sessions in ten, of groups side by side the mean of their ends; None where one
               session is too few to say
    """

    area: float
    defending: float
    losses: float
    doubt: float
    roles: Mapping[str, float]
    usually: tuple[float, float] | None = None


@dataclass(frozen=True)
class Off:
    """How far a set-up is from the game that was planned, each as a share from 0 (the same) to 1."""

    area: float
    defending: float
    losses: float
    roles: float

    @property
    def total(self) -> float:
        """All four by their weights, 0 to 1."""
        return sum(weight * getattr(self, name) for name, weight in WEIGHTS.items()) / sum(WEIGHTS.values())


def likeness_of(game: Game, result: Result, keepers: int = 0) -> Likeness:
    """Of one game as it was played; `keepers` of its supports are keepers, who are no players of the field."""
    lost = result.row("balls_lost_per_min")
    doubt = inf if lost.low is None or lost.high is None else (lost.high - lost.low) / 2
    usually = None if lost.session_low is None or lost.session_high is None else (lost.session_low, lost.session_high)
    return Likeness(room_of(game), _defending(game, result), lost.mean or 0.0, doubt, roles_of(game, keepers), usually)


def _defending(game: Game, result: Result) -> float:
    """Mean over the players of the field who may defend."""
    field = [one.id for one in game.players if game.role(one.role).style != "goal" and not one.restricted]
    shares = [result.row("defending_share", f"player:{one}").mean or 0.0 for one in field]
    return sum(shares) / len(shares)


def roles_of(game: Game, keepers: int = 0) -> dict[str, float]:
    """The share of those who play in each kind of role, keepers in goal and keepers among the supports not counted."""
    shape = shape_of(game)
    counted: dict[str, float] = {}
    for post in shape.posts:
        if post.part != "keeper":
            kind = _kind(post.part, post.style, shape.even)
            counted[kind] = counted.get(kind, 0) + post.count
    counted["floater on the lines"] = counted.get("floater on the lines", 0) - keepers
    total = sum(counted.values())
    return {kind: count / total for kind, count in counted.items() if count > 0}


def _kind(part: str, style: str, even: bool) -> str:
    if part == "floater":
        return "floater on the lines" if style == "edge" else "floater"
    if part == "bench":
        return "waits"
    side = "either side" if even else part
    return f"{side}, on the lines" if style == "edge" else side


def together(groups: Sequence[tuple[Wanted, Likeness]], waiting: int) -> Likeness:
    """Of a whole set-up: the mean over everybody in its groups; who waits outside has the role of waiting."""
    people = [wanted.split.people - wanted.keepers for wanted, _ in groups]
    total = sum(people)

    def mean(name: str) -> float:
        return sum(count * getattr(own, name) for count, (_, own) in zip(people, groups, strict=True)) / total

    roles = {"waits": waiting / (total + waiting)} if waiting else {}
    for count, (_, own) in zip(people, groups, strict=True):
        for kind, share in own.roles.items():
            roles[kind] = roles.get(kind, 0.0) + share * count / (total + waiting)
    ends = [(count, own.usually) for count, (_, own) in zip(people, groups, strict=True) if own.usually is not None]
    low, high = (sum(count * one[end] for count, one in ends) / total for end in (0, 1))
    usually = (low, high) if len(ends) == len(groups) else None
    return Likeness(mean("area"), mean("defending"), mean("losses"), mean("doubt"), roles, usually)


def off(planned: Likeness, other: Likeness) -> Off:
    """How far the other is from what was planned."""
    kinds = planned.roles.keys() | other.roles.keys()
    moved = sum(abs(planned.roles.get(kind, 0.0) - other.roles.get(kind, 0.0)) for kind in kinds) / 2
    return Off(
        _apart(planned.area, other.area),
        _apart(planned.defending, other.defending),
        _apart(planned.losses, other.losses),
        moved,
    )


def _apart(one: float, other: float) -> float:
    """The difference as a share of the first, at most 1."""
    return min(1.0, abs(other / one - 1)) if one else float(other != one)
