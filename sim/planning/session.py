"""A session as a plan: who plays where in each block, on which ground, by which clock, with what.

A plan is made without playing, and refused where it cannot hold.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from sim.errors import InputError
from sim.game.equipment import Bibs, bibs_of, server_needed
from sim.game.model import Game, Player
from sim.planning.band import NOT_OF_MINORS
from sim.planning.block import Block, block_s, game_of, longest_s
from sim.planning.caps import caps_broken
from sim.planning.heat import Heat, in_heat, until_it_fits
from sim.planning.layout import Grids, laid_out, new_cones
from sim.planning.leaving import Leaving, first_off, without
from sim.planning.line_up import Around, LineUp, Spot, floats, lined_up, without_ball
from sim.planning.session_file import Evening, Part
from sim.squads.ages import minor, mixed_ages, of_minors, population_of, refuse_other_ages
from sim.squads.squad import Person

ANY_COLOUR = "any colour"
"""Of bibs for a side whose players change."""


@dataclass(frozen=True)
class Kit:
    """What has to be there: cones in all, those each block needs anew, balls at once, bibs by colour, and people who run it."""

    cones: int
    new_cones: tuple[int, ...]
    balls: int
    bibs: Mapping[str, int]
    staff: int


@dataclass(frozen=True)
class Planned:
    """An evening with people in it.  `blocks`: as they are played (in heat), with who plays where and on which grids; `people`: who
    is there; `long_s`: how long it takes; `leaves`: who is off in the middle of it."""

    evening: Evening
    people: tuple[Person, ...]
    blocks: tuple[Block, ...]
    line_ups: tuple[LineUp, ...]
    grids: tuple[Grids, ...]
    kit: Kit
    long_s: float
    heat: Heat | None
    leaves: tuple[Leaving, ...] = ()

    @property
    def games(self) -> tuple[Game, ...]:
        """Every game that is played, each once."""
        return tuple(dict.fromkeys(game for one in self.line_ups for game in one.games))

    @property
    def minors(self) -> bool:
        """Whether minors take part: by the population of a game, or by that of anybody who is there."""
        return any(minor(person) for person in self.people) or any(of_minors(game) for game in self.games)

    @property
    def starts_s(self) -> tuple[float, ...]:
        """When each block begins, s from the start."""
        found, at = [], 0.0
        for block, line_up in zip(self.blocks, self.line_ups, strict=True):
            found.append(at)
            at += block_s(block, line_up.games[0])
        return tuple(found)


def planned(
    evening: Evening,
    people: Sequence[Person],
    heat: Heat | None = None,
    anew: bool = False,
    before: Planned | None = None,
) -> Planned:
    """The evening for these people; `anew`: blocks may be set up for other numbers; `before`: the plan that it takes the place of,
    changed as little as can be.  Whoever has had his bouts or minutes is off, and the others go on without him where the game
    allows.  Raises `InputError` with all that cannot hold."""
    refuse_other_ages(evening.population, people, evening.source, evening.squad.source)
    plan = whole = _put_together(evening, people, _blocks(evening, people, heat), heat, anew, before)
    while (leaving := first_off(people, plan.line_ups)) is not None:
        parts, blocks = without(plan.evening.parts, plan.blocks, plan.line_ups, leaving)
        try:
            fewer = _put_together(replace(plan.evening, parts=parts), people, blocks, heat, anew, before)
        except InputError as error:
            raise InputError(_forced(whole, leaving, error), evening.source) from None
        plan = replace(fewer, leaves=(*plan.leaves, leaving))
    if problems := cannot_hold(plan):
        raise InputError(problems, evening.source)
    return plan


def _forced(plan: Planned, leaving: Leaving, error: InputError) -> list[str]:
    """All that cannot hold, and why the others cannot go on without him who would be off."""
    where = f"after {leaving.bouts} of {leaving.part}" if leaving.bouts else f"from {leaving.part} on"
    why = f"; without him {where} it does not hold: {'; '.join(error.problems)}"
    called = f"{leaving.person.called} must "
    return [f"{one}{why if one.startswith(called) else ''}" for one in cannot_hold(plan)]


def _put_together(
    evening: Evening,
    people: Sequence[Person],
    blocks: tuple[Block, ...],
    heat: Heat | None,
    anew: bool,
    before: Planned | None,
) -> Planned:
    """The evening in these blocks, whatever it takes and whoever has too much of it."""
    problems: list[str] = []
    line_ups: list[LineUp] = []
    grids: list[Grids] = []
    games: dict[str, Game] = {}
    begun: Counter[int] = Counter()
    floated: Counter[int] = Counter()
    kept: dict[int, tuple[int, float]] = {}
    old = {} if before is None else {one.part.name: one.cells for one in before.line_ups}
    for part, block in zip(evening.parts, blocks, strict=True):
        try:
            game = games[f"blocks.{part.name}"] = game_of(block, _population(evening, part, people))
            going_on = line_ups[-1] if part.goes_on and line_ups else None
            cells = old.get(part.name, {}) if going_on is None else going_on.cells
            around = Around(begun, floated, cells, kept)
            if going_on is not None:  # whoever floats goes on floating
                around = Around(begun, {}, cells, kept, going_on.games)
            found = lined_up(part, game, people, anew, around)
            grids.append(laid_out(part, found.games, evening.ground))
        except InputError as error:
            problems += [
                f"{error.source}: {one}" if error.source not in ("", "groups") else one for one in error.problems
            ]
            continue
        line_ups.append(found)
        kept = _spent(kept, found)
        begun.update(spot.person.shirt for spot in found.spots if without_ball(*_in_game(found, spot)))
        floated.update(spot.person.shirt for spot in found.spots if floats(*_in_game(found, spot)))
    if problems := [*problems, *mixed_ages(games)]:
        raise InputError(problems, evening.source)
    long_s = sum(block_s(block, one.games[0]) for block, one in zip(blocks, line_ups, strict=True))
    return Planned(evening, tuple(people), blocks, tuple(line_ups), tuple(grids), _kit(line_ups, grids), long_s, heat)


def _blocks(evening: Evening, people: Sequence[Person], heat: Heat | None) -> tuple[Block, ...]:
    """The blocks as they are played in this heat."""
    blocks = tuple(part.block for part in evening.parts)
    if heat is None or heat.rule is None:
        return blocks
    games = [game_of(part.block, _population(evening, part, people)) for part in evening.parts]
    hot = tuple(
        in_heat(block, game, heat.rule, last=i == len(blocks))
        for i, (block, game) in enumerate(zip(blocks, games, strict=True), 1)
    )
    return until_it_fits(hot, games, 60.0 * evening.minutes)


def _population(evening: Evening, part: Part, people: Sequence[Person]) -> str | None:
    """The population of all teams of a block; None: as the game says."""
    return population_of(evening.population, [person for person in people if person.shirt not in part.out])


def _in_game(line_up: LineUp, spot: Spot) -> tuple[Game, Player]:
    """The game of a spot, and its player there."""
    game = line_up.games[spot.game]
    return game, game.players[spot.place]


def _kit(line_ups: Sequence[LineUp], grids: Sequence[Grids]) -> Kit:
    """What all blocks together need: cones stay where they are, balls and bibs are used again."""
    bibs: Counter[str] = Counter()
    for one in line_ups:
        own: Counter[str] = Counter()
        for game in one.games:
            own.update({_colour(bib): bib.count for bib in bibs_of(game)})
        bibs |= own
    cones = new_cones(grids)
    return Kit(
        sum(cones),
        cones,
        max(sum(game.supply.balls for game in one.games) for one in line_ups),
        dict(bibs),
        1 + max(sum(server_needed(game) for game in one.games) for one in line_ups),
    )


def _colour(bibs: Bibs) -> str:
    """The colour of a team's bibs; any for a side whose players change."""
    return bibs.team or ANY_COLOUR


def cannot_hold(plan: Planned) -> list[str]:
    """A line for whatever the evening does not have: minutes, people, balls; and for every cap broken."""
    evening, kit = plan.evening, plan.kit
    problems = []
    if plan.long_s > 60.0 * evening.minutes + 1e-6:
        name, saved = _longest_bout(plan)
        problems.append(
            f"minutes must be enough for the blocks, {plan.long_s / 60:.1f} (got {evening.minutes:g}): a bout fewer of"
            f" blocks.{name} saves {saved / 60:.1f}"
        )
    if evening.balls is not None and kit.balls > evening.balls:
        problems.append(f"balls must be {kit.balls} at least for all grids at once (got {evening.balls})")
    if evening.staff is not None and kit.staff > evening.staff:
        problems.append(f"staff must be {kit.staff} at least: the watch, and a server a grid (got {evening.staff})")
    young = [name for name in NOT_OF_MINORS if name in evening.band.ends and plan.minors]
    problems += [f"band.{name} must be left out where minors play: it rests on adults" for name in young]
    named = dict(zip((part.name for part in evening.parts), plan.line_ups, strict=True))
    bouts = {name: one.bouts for name, one in named.items()}
    work = {name: longest_s(one.games[0].bouts) for name, one in named.items()}
    return [*problems, *caps_broken(plan.people, bouts, work)]


def _spent(before: Mapping[int, tuple[int, float]], line_up: LineUp) -> dict[int, tuple[int, float]]:
    """(bouts, minutes of play) of everybody so far, this block included."""
    found = dict(before)
    for shirt, count in line_up.bouts.items():
        bouts, minutes = found.get(shirt, (0, 0.0))
        found[shirt] = bouts + count, minutes + count * longest_s(line_up.games[0].bouts) / 60.0
    return found


def _longest_bout(plan: Planned) -> tuple[str, float]:
    """The block whose bouts take longest, rest included, and how long that is."""
    saved = {
        part.name: one.games[0].bouts.seconds + one.games[0].bouts.rest_seconds
        for part, one in zip(plan.evening.parts, plan.line_ups, strict=True)
    }
    name = max(saved, key=lambda one: saved[one])
    return name, saved[name]


def people_there(evening: Evening, players: int | None = None, without: Sequence[int] = ()) -> tuple[Person, ...]:
    """Who takes part: those of the squad who are there on the day, but for the shirts of `without`; where so many `players` turned
    up, the first of the squad's list, and all keepers, who are not counted."""
    there = evening.squad.there(evening.day)
    known = {person.shirt for person in there}
    if strange := [shirt for shirt in without if shirt not in known]:
        raise InputError(f"must be shirts of those who are there (got {', '.join(map(str, strange))})", "--without")
    left = tuple(person for person in there if person.shirt not in without)
    field = [person for person in left if not person.keeps]
    if players is None:
        return left
    if players > len(field):
        raise InputError(
            f"must be at most the {len(field)} of the squad who are there and no keepers (got {players})", "--players"
        )
    return tuple(person for person in left if person.keeps or person in field[:players])


def replanned(evening: Evening, people: Sequence[Person], heat: Heat | None) -> tuple[Planned, Planned | None]:
    """The evening set up anew for these people, and the plan for everybody expected, from which as few as can be move; None where
    that would not have held."""
    try:
        before = planned(evening, people_there(evening), heat, anew=True)
    except InputError:
        before = None
    return planned(evening, people, heat, anew=True, before=before), before


def moved(before: Planned, after: Planned) -> list[tuple[str, list[tuple[Person, str, str]]]]:
    """By block, as it begins: who plays in another cell than before, with the cell he leaves and the one he joins."""
    planned_for = {one.part.name: one.cells for one in before.line_ups}
    return [
        (one.part.name, changed(after.people, planned_for[one.part.name], one.cells))
        for one in after.line_ups
        if one.part.name in planned_for and not one.part.goes_on
    ]


def changed(people: Sequence[Person], old: Mapping[int, str], new: Mapping[int, str]) -> list[tuple[Person, str, str]]:
    """Who is in another cell, with the old one and the new."""
    return [
        (person, old[person.shirt], new[person.shirt])
        for person in people
        if person.shirt in old and person.shirt in new
        if old[person.shirt] != new[person.shirt]
    ]
