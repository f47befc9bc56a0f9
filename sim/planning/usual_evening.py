"""The evening as it would be without the heat, so that what the heat takes away can stand beside it; nothing is played for it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from sim.errors import InputError
from sim.planning.block_loads import known_loads
from sim.planning.forecast import Forecast, forecast
from sim.planning.kept_loads import Shelf
from sim.planning.session import planned, replanned
from sim.planning.session_file import Evening
from sim.squads.squad import Person


@dataclass(frozen=True, eq=False)
class UsualEvening:
    """What it gives; `found` is None where its blocks have not all been played yet."""

    found: Forecast | None


def usual_evening(
    evening: Evening, people: Sequence[Person], anew: bool, shelf: Shelf, seed: int = 1
) -> UsualEvening | None:
    """The same people on the same evening without heat, from blocks that lie on the shelf alone; `anew`: replanned for who is
    there.

    None where it would not hold without the heat: then there is nothing to stand beside.
    """
    try:
        plan = replanned(evening, people, None)[0] if anew else planned(evening, people)
    except InputError:
        return None
    known = known_loads(plan.games, shelf, seed)
    return UsualEvening(None if known is None else forecast(plan, dict(zip(plan.games, known, strict=True))))
