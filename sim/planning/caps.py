"""What somebody must not do, held against a plan: refused, with the name of whoever set it."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

from sim.game.model import Game, Player
from sim.squads.squad import Person

TOO_MUCH = 1e-9


def kept_from(person: Person, game: Game, player: Player) -> bool:
    """Whether a place of a game keeps somebody from all that he must not do."""
    role = game.role(player.role)
    others = {one.name for one in game.roles if one.name != role.name and one.style not in ("goal", "wait")}
    stays = role.side == "holder" or others <= set(player.never)
    never_defends = role.side == "holder" or (role.style == "edge" and stays)
    right = {
        "no defending": never_defends,
        "no tackles": not player.tackles,
        "perimeter only": role.style == "edge" and stays,
    }
    return all(right[limit] for limit in person.limits)


def has_left(person: Person, spent: Mapping[int, tuple[int, float]], bouts: int, work_s: float) -> bool:
    """Whether so many bouts more are within what somebody may have; `spent`: (bouts, minutes) by shirt so far."""
    count, minutes = spent.get(person.shirt, (0, 0.0))
    right = person.most_bouts is None or count + bouts <= person.most_bouts
    return right and (person.most_minutes is None or minutes + bouts * work_s / 60.0 <= person.most_minutes + TOO_MUCH)


def no_place(part: str, person: Person) -> str:
    """That a block has no place for somebody."""
    limits = " and ".join(person.limits) or "reduced load"
    return (
        f"blocks.{part} must keep {person.called} to {limits}, set by {person.set_by} (got no such place):"
        f" out = [{person.shirt}] there"
    )


def caps_broken(
    people: Sequence[Person], bouts: Mapping[str, Mapping[int, int]], work_s: Mapping[str, float]
) -> list[str]:
    """A line for everybody whose bouts or minutes over all blocks are more than he may have; both by block, bouts by shirt."""
    problems = []
    for person in people:
        mine = {name: own.get(person.shirt, 0) for name, own in bouts.items()}
        total = sum(mine.values())
        minutes = sum(count * work_s[name] for name, count in mine.items()) / 60.0
        for most, got, what in ((person.most_bouts, total, "bouts"), (person.most_minutes, minutes, "minutes of play")):
            if most is not None and got > most + TOO_MUCH:
                busiest = max(mine, key=lambda name: mine[name] * work_s[name])
                each = 1.0 if what == "bouts" else work_s[busiest] / 60.0
                left = mine[busiest] - math.ceil((got - most) / each - TOO_MUCH)
                turns = mine[busiest] < max(bouts[busiest].values())  # he has not all the bouts that there are
                fewer = f"blocks.{busiest}.bouts = {left} keeps to it, or " if left > 0 and not turns else ""
                problems.append(
                    f"{person.called} must have at most {most:g} {what}, set by {person.set_by} (got {got:g}):"
                    f" {fewer}blocks.{busiest}.out = [{person.shirt}] takes away most"
                )
    return problems
