"""Passes told apart: what is known of one, and whether it is what a rule or a counter asks for."""

from __future__ import annotations

from typing import NamedTuple

from sim.game.counters import ANY_GATE, Conditions


class Deed(NamedTuple):
    """What a player has done with the ball, as far as rules may ask about it.

    by, to      the roles of who did it and of who received it or was fouled ("": nobody)
    start, end  the areas in which it was played from (of a foul: where it was), and received or carried into
    gates       the gates it went through, in order;  last_gate: that of the last pass of the side before it ("": none)
    """

    by: str = ""
    to: str = ""
    start: frozenset[str] = frozenset()
    end: frozenset[str] = frozenset()
    gates: tuple[str, ...] = ()
    last_gate: str = ""
    first_time: bool = False
    back: bool = False


def is_asked(asked: Conditions, deed: Deed) -> bool:
    """Whether what was done is what is asked for."""
    return (
        asked.by_role in (None, deed.by)
        and asked.to_role in (None, deed.to)
        and (asked.from_area is None or asked.from_area in deed.start)
        and (asked.to_area is None or asked.to_area in deed.end)
        and (asked.through is None or went_through(asked, deed))
        and (deed.first_time or not asked.first_time)
        and not (deed.back and asked.not_back)
    )


def went_through(asked: Conditions, deed: Deed) -> bool:
    """Whether it went through the gate that is asked for, or through any, and not the same as the last one where that is barred."""
    barred = deed.last_gate if asked.other_gate else ""
    return any(gate != barred and asked.through in (ANY_GATE, gate) for gate in deed.gates)
