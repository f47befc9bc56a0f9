"""A game in turn for so many people in so many minutes: how it is set up, in how many bouts, and who does what in each."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property
from math import ceil

from sim.errors import InputError, any_of
from sim.game.bounds import LONGEST_NAME, MOST_PLAYERS
from sim.game.messages import show
from sim.game.model import Game
from sim.game.terms import Bouts
from sim.groups.choosing import nearest
from sim.groups.fitting import FEW_WAITING
from sim.groups.plans import TIMES_AS_MANY, Turnout, plans
from sim.groups.posts import Post, shape_of
from sim.planning.block import longest_s
from sim.planning.turns import Turns, bouts_to_equal, exposure, turns
from sim.rules.rotation import starting_roles

RESTING = "resting"
STEP_S = 5.0
"""Bouts are shortened by so much: what a coach reads off his watch."""
SHORTEST = 0.5
"""For the sake of equality a bout is at least so long a share of the game's (house default)."""
MOST_BOUTS = 60


@dataclass(frozen=True)
class Wish:
    """Who takes part, by `names`; how long it may take (`minutes`), how many `bouts` and how many rest at a time, where that is
    said."""

    names: tuple[str, ...]
    minutes: float | None = None
    bouts: int | None = None
    resting: int | None = None


@dataclass(frozen=True)
class Rotation:
    """The answer: `game` as it is set up, its bouts as they are played; `written`, the bouts of the game that was asked for.

    `jobs`: what somebody does in a bout, by name, with how many do it; `found`: who does what.  `cells`: of each job the bibs it is
    done in, or the places at which it is, with how many there are; one where all are alike.
    """

    wish: Wish
    game: Game
    written: Bouts
    jobs: tuple[tuple[str, int], ...]
    found: Turns
    cells: tuple[tuple[tuple[str, int], ...], ...]
    anew: bool

    @property
    def to_equal(self) -> int:
        """After so many bouts everybody has had everything equally often for the first time."""
        return bouts_to_equal([count for _, count in self.jobs])

    @property
    def equal(self) -> bool:
        """Whether everybody has had everything equally often at the end."""
        return len(set(self.exposure)) == 1

    @cached_property
    def exposure(self) -> list[tuple[int, ...]]:
        """How often each player has each job."""
        return exposure(self.found, len(self.jobs))

    @property
    def long_s(self) -> float:
        """From the first whistle to the last, s."""
        return whole_s(self.game.bouts)

    def starts_s(self) -> list[float]:
        """When each bout begins, s from the first whistle."""
        bouts = self.game.bouts
        return [number * (longest_s(bouts) + bouts.rest_seconds) for number in range(bouts.count)]

    def members(self, bout: int, job: int) -> list[str]:
        """The names of those who have a job in a bout (from 0), in the order in which they were given."""
        return [name for name, own in zip(self.wish.names, self.found[bout], strict=True) if own == job]

    def equal_bouts(self) -> Bouts | None:
        """The bouts that would make it equal within the minutes; None where none do."""
        return None if self.wish.minutes is None else evened(self.written, self.wish.minutes, self.to_equal)


def rotation(game: Game, wish: Wish) -> Rotation:
    """Who does what, or an `InputError` with what would do."""
    refuse(game)
    playing, resting = _split(game, wish)
    own = _set_up(game, playing)
    jobs, number = _jobs(own)
    if resting:
        jobs[RESTING] = [(RESTING, resting)]
    counts = [sum(count for _, count in cells) for cells in jobs.values()]
    bouts = _bouts(game.bouts, wish, bouts_to_equal(counts))
    own = own.model_copy(update={"bouts": bouts})
    listed = game.bouts.rotate == "list" and not resting and len(shape_of(own).teams) == 1
    found = by_the_list(own, number) if listed else turns(counts, bouts.count)
    cells = tuple(tuple(one) for one in jobs.values())
    return Rotation(
        wish, own, game.bouts, tuple(zip(jobs, counts, strict=True)), found, cells, playing != shape_of(game).people
    )


def _jobs(game: Game) -> tuple[dict[str, list[tuple[str, int]]], dict[str, int]]:
    """By the name of each job its cells; whoever begins without the ball first, because that is what there is to share out.  And
    by role the number of its job, where nobody wears another bib.

    Roles of one side that are played alike, each in a place of its own, are one job, and so are both sides where they are as many.
    """
    shape = shape_of(game)
    alike: dict[tuple[str, str], list[Post]] = {}
    for post in sorted((post for post in shape.posts if post.part != "keeper"), key=_order):
        side = "side" if shape.even and post.part in ("mine", "others") else post.part
        alike.setdefault((side, post.style), []).append(post)
    found, number = {}, {}
    for job, posts in enumerate(alike.values()):
        roles = list(dict.fromkeys(post.role for post in posts))
        bibs = list(dict.fromkeys(post.team for post in posts))
        names = [
            " ".join(name for name, many in ((post.team, bibs), (post.role, roles)) if len(many) > 1) for post in posts
        ]
        shared = any(set(roles) & {post.role for post in other} for other in alike.values() if other is not posts)
        named = bibs if shared else roles  # a role that both sides have is told by the bib
        number.update(dict.fromkeys(roles, job))
        found[any_of(named)] = [
            (name or (post.team if shared else post.role), post.count) for name, post in zip(names, posts, strict=True)
        ]
    return found, number


def _order(post: Post) -> int:
    """Whoever begins without the ball stands first: that is the job to share out."""
    return ("others", "mine", "floater", "bench").index(post.part)


def refuse(game: Game) -> None:
    """Say why a list of single players is not what a game needs."""
    shape = shape_of(game)
    kept = [player for player in game.players if player.restricted or player.never]
    if shape.in_pairs or shape.in_teams:
        together = "pairs" if shape.in_pairs else "teams"
        raise InputError(
            f"must be a game in which people change one by one: in {game.name} {together} change as a whole, so let the {together} "
            f"begin in turn (got {game.name})",
            "GAME",
        )
    if RESTING in {*(role.name for role in game.roles), *(team.name for team in game.teams)}:
        raise InputError(
            f"must have no role or team called {RESTING}, as whoever has no place is in the list: call it otherwise "
            f"(got {game.name})",
            "GAME",
        )
    if kept:
        raise InputError(
            f"must be a game in which everybody may do everything: {game.name} has somebody on reduced load or kept from a place: "
            f"`overload session` plans for him (got {game.name})",
            "GAME",
        )


def _split(game: Game, wish: Wish) -> tuple[int, int]:
    """(how many play at a time, how many rest)."""
    people, size = len(wish.names), shape_of(game).people
    if wish.resting is None:
        over = people - size
        resting = over if 0 <= over <= FEW_WAITING else 0
    else:
        resting = wish.resting
        if resting >= people:
            raise InputError(f"must be fewer than the {people} who are there (got {resting})", "--resting")
    return people - resting, resting


def _set_up(game: Game, playing: int) -> Game:
    """The game for so many in one group, everybody in it."""
    if playing == shape_of(game).people:
        return game
    most = int(TIMES_AS_MANY * shape_of(game).people)
    turnout = Turnout(playing, 0, shape_of(game).count("keeper"))
    if playing <= most:
        whole = [one for one in plans(game, turnout) if len(one.groups) == 1 and not one.waiting]
        if whole:
            return nearest(game, whole)[0].groups[0][1]
    what = f"must be as many as {game.name} can be set up for in one group"
    also = f"`overload regroup {game.name} --players {playing}` makes groups, and each has its own list"
    raise InputError(f"{what}: {also}, or let one more rest (got {playing})", "--players")


def whole_s(bouts: Bouts) -> float:
    """From the first whistle to the last, s, each bout as long as it may last by the watch."""
    return bouts.count * longest_s(bouts) + (bouts.count - 1) * bouts.rest_seconds


def _bouts(written: Bouts, wish: Wish, to_equal: int) -> Bouts:
    """The bouts: as many as were asked for, else as many as make it equal, else as many as there is time for."""
    if wish.bouts is not None or wish.minutes is None:
        count = wish.bouts or to_equal
        found = with_count(written, count) if wish.minutes is None else shortened(written, wish.minutes, count, STEP_S)
        if found is None:
            least = ceil(
                whole_s(with_count(written.model_copy(update={"seconds": min(STEP_S, written.seconds)}), count)) / 60
            )
            raise InputError(f"must be {least} at least for {count} bouts (got {wish.minutes:g})", "--minutes")
        return found
    equal = evened(written, wish.minutes, to_equal)
    if equal is not None:
        return equal
    fitting = [count for count in range(1, MOST_BOUTS + 1) if whole_s(with_count(written, count)) <= 60 * wish.minutes]
    if not fitting:
        least = ceil(whole_s(with_count(written, 1)) / 60)
        raise InputError(f"must be {least} at least, for one bout (got {wish.minutes:g})", "--minutes")
    return with_count(written, fitting[-1])


def evened(written: Bouts, minutes: float, to_equal: int) -> Bouts | None:
    """So many bouts that all is equal, each as near as can be to the game's in length; None where they would be too short."""
    counts = range(to_equal, MOST_BOUTS + 1, to_equal)
    found = [
        one for count in counts if (one := shortened(written, minutes, count, SHORTEST * written.seconds)) is not None
    ]
    return max(found, key=lambda one: (one.seconds, one.count), default=None)


def shortened(written: Bouts, minutes: float, count: int, shortest_s: float) -> Bouts | None:
    """So many bouts within the minutes, as long as the game's, or as much shorter as it takes; None where that is too short."""
    whole = with_count(written, count)
    while whole_s(whole) > 60 * minutes:
        seconds = STEP_S * (-(-whole.seconds // STEP_S) - 1)
        if seconds < shortest_s:
            return None
        whole = whole.model_copy(update={"seconds": seconds})
    return whole


def with_count(written: Bouts, count: int) -> Bouts:
    """So many of them."""
    return written.model_copy(update={"count": count})


def by_the_list(game: Game, number: Mapping[str, int]) -> Turns:
    """The list that the game itself goes by, so that its sheet says the same; `number`: by role that of its job, which keepers do
    not have."""
    return tuple(
        tuple(number[role] for role in starting_roles(game, bout) if role in number) for bout in range(game.bouts.count)
    )


def names_of(people: int | None, typed: str | None) -> tuple[str, ...]:
    """Who takes part: by name, as typed with commas between, or by number."""
    if typed is None:
        if people is None:
            raise InputError("must be given, or --names Ann,Bea,Cy: how many take part", "--players")
        return tuple(str(number) for number in range(1, people + 1))
    names = [" ".join(part.split()) for part in typed.split(",") if part.strip()]
    if wrong := [name for name in names if len(name) > LONGEST_NAME or not name.isprintable()]:
        raise InputError(
            f"must be names of {LONGEST_NAME} printable characters at most (got {show(wrong[0])})", "--names"
        )
    if not 2 <= len(names) <= MOST_PLAYERS:
        what = "must name two people at least" if len(names) < 2 else f"must name {MOST_PLAYERS} people at most"
        raise InputError(f"{what} (got {len(names)})", "--names")
    twice = sorted({name for name in names if names.count(name) > 1})
    if twice:
        raise InputError(f"must name everybody once (got {any_of(twice, 'and')} twice)", "--names")
    if people is not None and people != len(names):
        raise InputError(f"must be as many as --names has, {len(names)}, or be left out (got {people})", "--players")
    return tuple(names)
