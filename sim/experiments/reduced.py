"""Players on reduced load: what a change of the game may give them more of, so that it is never proposed to them."""

from __future__ import annotations

from collections.abc import Iterable

import numpy as np

from sim.errors import any_of
from sim.experiments.adjusted import Refusal
from sim.experiments.key_measures import KeyMeasure, key_measures
from sim.experiments.paired import paired_difference
from sim.experiments.sums import Sums
from sim.game.names import called, spoken_of
from sim.measures.internal_load import has_minors
from sim.measures.minors import untold
from sim.measures.sessions import Sessions

LOADS = ("total_distance_m", "high_speed_distance_m", "accelerations_per_min")
"""What a player on reduced load must not be given more of; accelerations are taken per bout, like the others."""

REFUSED = "No proposal for"


def refusals_of(first: Sums, second: Sums) -> tuple[Refusal, ...]:
    """What a lever may give more of to players on reduced load."""
    found, minors = [], has_minors(first.game)
    there = {player.id for player in second.game.players}
    for player in first.game.players:
        if not player.restricted:
            continue
        who = player.id, called(player)
        for measure in LOADS:
            a = of_player(first, player.id, measure)
            name = a.measure if measure != "accelerations_per_min" else "accelerations"
            unit = "m" if a.unit == "m" else "1"
            if player.id not in there:
                found.append(Refusal(*who, name, unit, None, None, None))
                continue
            b = of_player(second, player.id, measure)
            difference = paired_difference((a.top, a.bottom), (b.top, b.bottom))
            if difference is None:
                found.append(Refusal(*who, name, unit, None, None, None))
                continue
            low, high = difference.interval()
            if high > 0 and minors and untold(measure):
                found.append(Refusal(*who, name, unit, None, None, None))
            elif high > 0:
                found.append(Refusal(*who, name, unit, difference.difference, low, high))
    return tuple(found)


def is_refused(cautions: Iterable[str]) -> bool:
    """Whether an answer says of its change that it is no proposal."""
    return any(line.startswith(REFUSED) for line in cautions)


def of_player(condition: Sums, player: str, measure: str) -> KeyMeasure:
    """A measure of one player; the sums are per bout, also where the measure is per minute."""
    scope = f"player:{player}"
    one = key_measures(condition.game, Sessions(condition.sessions), [(measure, scope)])[measure, scope]
    if one.unit != "1/min":
        return one
    bouts = np.array([float(counts.bouts) for counts in condition.sessions])
    return KeyMeasure(one.measure, scope, "1/bout", one.clock, one.definition, one.top / 60, bouts)


def no_proposal(first: Sums, second: Sums) -> list[str]:
    """The line that says for whom a change is no proposal, whatever it was asked for; nothing where it gives nobody more."""
    spoken = spoken_of(first.game)
    names = dict.fromkeys(spoken[refusal.player] for refusal in refusals_of(first, second))
    if not names:
        return []
    return [f"{REFUSED} {any_of(list(names), 'and')}, on reduced load: it could mean more to do."]
