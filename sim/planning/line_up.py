"""Who plays where in a block: the games it falls into for who is there, and everybody's place in them.

A *cell* is the players of one team in one game: groups are balanced over cells.  Whoever is kept from something gets a place that
keeps him from it, before anybody else has one; where there is none, the block is refused.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from itertools import permutations
from typing import Any

from sim.errors import InputError
from sim.game.loader import resolve, to_short
from sim.game.model import Game, Player
from sim.geometry import ROUNDING_M
from sim.groups.choosing import nearest
from sim.groups.fitting import FEW_WAITING
from sim.groups.ground import stretched
from sim.groups.making import SUPPORT
from sim.groups.plans import MOST_GROUPS, Turnout, plans
from sim.groups.posts import shape_of
from sim.planning.block import longest_s
from sim.planning.block_loads import Place, places_of
from sim.planning.caps import has_left, kept_from, no_place
from sim.planning.session_file import Part
from sim.squads.balancing import STAY, STAY_PUT, Wishes, balanced
from sim.squads.squad import Person

VALUES = ("pass_success", "pressing_speed", "recovery", "intermittent_run")
"""What a squad file may know of somebody and a game file may say of a player."""
FIRST_OUT = "first out"
"""The cell of those who wait in the first bout."""


@dataclass(frozen=True)
class Spot:
    """Somebody's place: the number of his game among those of the block, and of his place among its players."""

    person: Person
    game: int
    place: int


@dataclass(frozen=True)
class LineUp:
    """A block with people in it.

    `asked`: the game as it is written; `games`, side by side, as they are played; `spots` in order of shirt; `waiting`: who is out
    in the first bout (all take turns); `apart`: keepers with their own coach; `bouts`: how many each plays, by shirt; `cells`: the
    name of everybody's cell, by shirt; `anew`: the block is not its game as it is; `seats`: shirts of those who have a place of
    their own, and never wait.
    """

    part: Part
    asked: Game
    games: tuple[Game, ...]
    spots: tuple[Spot, ...]
    waiting: tuple[Person, ...]
    apart: tuple[Person, ...]
    bouts: Mapping[int, int]
    cells: Mapping[int, str]
    anew: bool
    seats: frozenset[int] = frozenset()

    def bouts_of(self, count: int) -> dict[int, int]:
        """How many bouts each plays, by shirt, where the block has so many."""
        free = [spot.person for spot in self.spots if spot.person.shirt not in self.seats]
        return dict.fromkeys(self.seats, count) | _turns(count, self.waiting, free)

    def place(self, spot: Spot) -> Place:
        """The place of a spot, by its names."""
        return places_of(self.games[spot.game])[spot.place]


@dataclass(frozen=True)
class Around:
    """What else a line-up goes by, by shirt: how often he has begun without the ball and been a floater so far, his cell
    `before`, and the (bouts, minutes) that he has `spent` in the blocks so far; the `games` that stand there already, where the
    block goes on with them."""

    begun: Mapping[int, int] = field(default_factory=dict)
    floated: Mapping[int, int] = field(default_factory=dict)
    before: Mapping[int, str] = field(default_factory=dict)
    spent: Mapping[int, tuple[int, float]] = field(default_factory=dict)
    games: tuple[Game, ...] = ()


def lined_up(part: Part, game: Game, people: Sequence[Person], anew: bool, around: Around) -> LineUp:
    """The block for these people, who are there; `anew`: it may be set up for other numbers than its game's.

    Raises `InputError` where it does not hold them, or somebody would have to do what he must not.
    """
    here = [person for person in people if person.shirt not in part.out]
    keepers = [person for person in here if person.keeps and may_keep(person, game, around.spent)]
    keepers.sort(key=lambda person: person.capped)
    unable = [person for person in here if person.keeps and person not in keepers]
    outfield = [person for person in here if not person.keeps]
    try:
        games, waiting, keepers_in, changed = _set_up(
            part, game, outfield, keepers, anew or part.regroup, len(around.games)
        )
        if around.games:
            games = as_they_stood([on_ground_of(own, around.games[0]) for own in games], outfield, around.before)
    except InputError as error:
        kept = [
            f"{one.called} may not be in goal{'' if one.restricted else ' that long'}, set by {one.set_by}"
            for one in unable
        ]
        raise InputError(["; ".join([problem, *kept]) for problem in error.problems]) from None
    playing = sorted([*outfield, *keepers[:keepers_in]], key=lambda person: person.shirt)
    cells = _cells(games) | ({FIRST_OUT: ()} if waiting else {})
    seats = _seats(part, games, playing)
    sizes = [len(places) or waiting for places in cells.values()]
    groups = balanced(playing, sizes, _wishes(part, games, cells, seats, around))
    spots: list[Spot] = []
    for places, group in zip(cells.values(), groups, strict=True):
        spots += _in_places(group, places, games, seats, around.begun)
    found = LineUp(
        part,
        game,
        _with_people(games, spots),
        tuple(sorted(spots, key=lambda spot: spot.person.shirt)),
        groups[-1] if waiting else (),
        tuple(sorted([*keepers[keepers_in:], *unable], key=lambda person: person.shirt)),
        {},
        {person.shirt: name for name, group in zip(cells, groups, strict=True) for person in group},
        changed,
        frozenset(seats),
    )
    return replace(found, bouts=found.bouts_of(game.bouts.count))


def may_keep(person: Person, game: Game, spent: Mapping[int, tuple[int, float]]) -> bool:
    """Whether a keeper may be in goal, or join in, for a whole block: nobody on reduced load or kept from something, and nobody who
    would have more than his bouts or minutes."""
    return not person.restricted and has_left(person, spent, game.bouts.count, longest_s(game.bouts))


def _set_up(
    part: Part, game: Game, outfield: Sequence[Person], keepers: Sequence[Person], anew: bool, groups: int
) -> tuple[tuple[Game, ...], int, int, bool]:
    """(games side by side, how many wait, how many keepers play, whether it is not the game as it is); in so many `groups` where
    that can be (0: in any number)."""
    restricted = sum(person.restricted for person in outfield)
    as_it_is = _as_it_is(game, len(outfield), len(keepers), restricted)
    if as_it_is is not None:
        return (*as_it_is, False)
    where, people = f"blocks.{part.name}", shape_of(game).people
    if not anew:
        seats = f" and places for {restricted} on reduced load" if restricted else ""
        what = f"must have {people} players a group{seats} for {game.name} as it is (got {len(outfield)})"
        raise InputError(f"{where} {what}: regroup = true has it set up anew")
    try:
        found = nearest(game, plans(game, Turnout(len(outfield), restricted, len(keepers))))
    except InputError as error:
        raise InputError([f"{where}: {problem}" for problem in error.problems]) from None
    plan = next((one for one in found if len(one.groups) == groups), found[0])
    return tuple(own for _, own in plan.groups), plan.waiting, len(keepers) - plan.keepers_apart, True


def as_they_stood(games: Sequence[Game], people: Sequence[Person], before: Mapping[int, str]) -> tuple[Game, ...]:
    """The games in the order that leaves most people in the group where they were `before` (their cell, by shirt)."""
    group = {person: before.get(person.shirt, "").rpartition(" ")[2] for person in people}
    stood = Counter(group.values())
    bound = Counter(own for person, own in group.items() if person.restricted)

    def off(order: Sequence[Game]) -> int:
        return sum(
            abs(len(game.players) - stood[str(i)]) + abs(sum(one.restricted for one in game.players) - bound[str(i)])
            for i, game in enumerate(order, 1)
        )

    return min(permutations(games), key=off)


def on_ground_of(game: Game, other: Game) -> Game:
    """The game on the ground where another stands already, if the first areas of both can be of one length; else as it is."""
    length = other.areas[0].length
    found = resized(game, length - game.areas[0].length)
    return found if abs(found.areas[0].length - length) < ROUNDING_M else game


def resized(game: Game, metres: float) -> Game:
    """The game on a ground whose first area is so many metres longer, and the rest of it with it."""
    length = game.areas[0].length
    return resolve(stretched(to_short(game), (length + metres) / length), game.name, game.name)


def _as_it_is(game: Game, outfield: int, keepers: int, restricted: int) -> tuple[tuple[Game, ...], int, int] | None:
    """The game so many times side by side, with few waiting; keepers join in where it has no goals and that makes it whole."""
    shape = shape_of(game)
    in_goal = shape.count("keeper")
    seats = sum(player.restricted for player in game.players)
    for count, playing in ((outfield, in_goal), *([] if in_goal else [(outfield + keepers, keepers)])):
        groups, waiting = divmod(count, shape.people)
        few = waiting == 0 or (waiting <= FEW_WAITING and playing == in_goal)
        if (
            few
            and 1 <= groups <= (1 if in_goal else MOST_GROUPS)
            and restricted <= seats * groups
            and playing <= keepers
        ):
            return (game,) * groups, waiting, playing
    return None


def _cells(games: Sequence[Game]) -> dict[str, tuple[tuple[int, int], ...]]:
    """(game, place) of every place by the name of its cell: the bib, the number of the group, or both."""
    found: dict[str, list[tuple[int, int]]] = {}
    for number, game in enumerate(games):
        teams = {player.team for player in game.players}
        for i, player in enumerate(game.players):
            parts = [*([player.team] if len(teams) > 1 else []), *([str(number + 1)] if len(games) > 1 else [])]
            found.setdefault(" ".join(parts) or "all", []).append((number, i))
    return {name: tuple(places) for name, places in found.items()}


def _seats(part: Part, games: Sequence[Game], people: Sequence[Person]) -> dict[int, tuple[int, int]]:
    """(game, place) by shirt of those who cannot have any: keepers, in goal or on the lines, and whoever is kept from something."""
    every = [(g, i, player) for g, game in enumerate(games) for i, player in enumerate(game.players)]
    goals = [(g, i) for g, i, player in every if games[g].role(player.role).style == "goal"]
    goals += [(g, i) for g, i, player in every if player.role == SUPPORT and not player.restricted]
    keepers = [person for person in people if person.keeps]
    found = {person.shirt: place for person, place in zip(keepers, goals, strict=False)}
    free = [(g, i, player) for g, i, player in every if player.restricted and (g, i) not in goals]
    problems = []
    for person in (one for one in people if one.restricted and one.shirt not in found):
        right = next((one for one in free if kept_from(person, games[one[0]], one[2])), None)
        if right is None:
            problems.append(no_place(part.name, person))
        else:
            free.remove(right)
            found[person.shirt] = right[:2]
    if problems:
        raise InputError(problems)
    return found


def _wishes(
    part: Part,
    games: Sequence[Game],
    cells: Mapping[str, Sequence[tuple[int, int]]],
    seats: Mapping[int, tuple[int, int]],
    around: Around,
) -> Wishes:
    """The wishes of the file over the cells, seats first; nobody floats twice where that can be spared him."""
    names = list(cells)
    of_place = {place: names.index(name) for name, places in cells.items() for place in places}
    chosen = {shirt: of_place[place] for shirt, place in seats.items()}
    for shirt, wanted in part.chosen:
        if wanted not in names:
            raise InputError(
                f"blocks.{part.name}.chosen must name one of {', '.join(names)} (got {wanted} for {shirt})"
            )
        if chosen.setdefault(shirt, names.index(wanted)) != names.index(wanted):
            raise InputError(f"blocks.{part.name}.chosen must leave {shirt} where his limits have him (got {wanted})")
    before = {shirt: names.index(name) for shirt, name in around.before.items() if name in names}
    floating = tuple(
        i
        for i, places in enumerate(cells.values())
        if places and all(floats(games[g], games[g].players[k]) for g, k in places)
    )
    spared = {shirt: floating for shirt, count in around.floated.items() if count and floating}
    return Wishes(part.together, part.apart, chosen, before, spared, STAY_PUT if around.games else STAY)


def _in_places(
    group: Sequence[Person],
    places: Sequence[tuple[int, int]],
    games: Sequence[Game],
    seats: Mapping[int, tuple[int, int]],
    begun: Mapping[int, int],
) -> list[Spot]:
    """The people of a cell in its places: seats first, then whoever has begun without the ball least begins without it."""
    if not places:
        return []
    found = [Spot(person, *seats[person.shirt]) for person in group if person.shirt in seats]
    free = [place for place in places if place not in [(spot.game, spot.place) for spot in found]]
    free.sort(key=lambda place: not without_ball(games[place[0]], games[place[0]].players[place[1]]))
    rest = [person for person in group if person.shirt not in seats]
    rest.sort(key=lambda person: (begun.get(person.shirt, 0), person.shirt))
    return [*found, *(Spot(person, *place) for person, place in zip(rest, free, strict=True))]


def without_ball(game: Game, player: Player) -> bool:
    """Whether a player begins on a side that has not got the ball."""
    side = game.role(player.role).side
    return (player.team if side == "team" else side) not in ("holder", game.start_side)


def floats(game: Game, player: Player) -> bool:
    """Whether a player is with whoever has the ball."""
    return game.role(player.role).side == "holder"


def _turns(count: int, out: Sequence[Person], playing: Sequence[Person]) -> dict[int, int]:
    """How many bouts each plays: those who are out take turns, first those who begin outside."""
    order = [person.shirt for person in (*out, *playing)]
    found = dict.fromkeys(order, count)
    for turn in range(count * len(out)):
        found[order[turn % len(order)]] -= 1
    return found


def _with_people(games: Sequence[Game], spots: Sequence[Spot]) -> tuple[Game, ...]:
    """The games with what is known of those who play in them."""
    found = []
    for number, game in enumerate(games):
        known: dict[str, dict[str, Any]] = {}
        for spot in (one for one in spots if one.game == number):
            values = {key: value for key in VALUES if (value := getattr(spot.person, key)) is not None}
            if values:
                known[game.players[spot.place].id] = values
        if not known:
            found.append(game)
            continue
        data = to_short(game)
        table = dict(data.get("players", {}))
        data["players"] = table | {player: table.get(player, {}) | values for player, values in known.items()}
        found.append(resolve(data, game.name, game.name))
    return tuple(found)
