"""When the carrier is tackled for next."""

from __future__ import annotations

from sim.pitch import entries
from sim.pitch.state import Bout


def await_tackle(bout: Bout, t: float) -> None:
    """Find the next attempt at a tackle from time t on, before the carrier's next look; what was awaited before is void."""
    holder = bout.holder()
    bout.spells.tackle.renew()
    if holder >= 0:
        expect_attempt(bout, *entries.next_tackle(*bout.arrays, holder, t, bout.carrier.look_at))


def expect_attempt(bout: Bout, who: int, when: float) -> None:
    """Wait for the attempt of player `who` (-1: nobody's) at time `when`."""
    if who >= 0:
        bout.expect(when, "tackle", bout.spells.tackle, who)
