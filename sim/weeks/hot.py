"""An evening in heat: what a local table leaves of the games that are planned.  It only ever takes away.

What a shorter bout gives is taken in proportion to its time.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace

from sim.planning.heat import Rule
from sim.units import SECONDS_PER_MINUTE
from sim.weeks.amounts import times
from sim.weeks.choosing import Offer, Taken
from sim.weeks.table import CHANGE_MIN


def in_heat(taken: Sequence[Taken], rule: Rule, minutes: float) -> tuple[Taken, ...]:
    """The games as the rule has them, in so many `minutes` with what is around them: fewer bouts, shorter ones, longer rests in a
    game and between two; a bout less of the longest as often as it takes until they fit, and then the last game less.

    Longer rests are never made up for by playing on.
    """
    found = [
        Taken(offer_in_heat(one.offer, rule), max(1, math.floor(one.bouts * rule.bouts_share + 1e-9))) for one in taken
    ]
    while found and sum(one.minutes for one in found) > minutes + 1e-9:
        longest = max(range(len(found)), key=lambda i: (found[i].bouts > 1, found[i].bouts * found[i].offer.bout_min))
        if found[longest].bouts > 1:
            found[longest] = replace(found[longest], bouts=found[longest].bouts - 1)
        else:
            found.pop()
    return tuple(found)


def offer_in_heat(offer: Offer, rule: Rule) -> Offer:
    """The game with bouts as short and rests as long as the rule has them."""
    work_s, rest_s = min(offer.work_s, rule.most_work_s), max(offer.rest_s, rule.least_rest_s)
    share = work_s / offer.work_s if offer.work_s else 1.0
    longer_min = (rest_s - offer.rest_s) / SECONDS_PER_MINUTE
    played_min = offer.bout_min - offer.rest_s / SECONDS_PER_MINUTE
    drinks_min = max(0.0, rule.least_drinks_s - rest_s) / SECONDS_PER_MINUTE
    gap_min = max(0.0, rule.least_rest_s / SECONDS_PER_MINUTE - CHANGE_MIN)
    return replace(
        offer,
        each=times(offer.each, share),
        spread=times(offer.spread, share),
        bout_min=share * played_min + offer.rest_s / SECONDS_PER_MINUTE + longer_min,
        around_min=offer.around_min + drinks_min + gap_min,
        work_s=work_s,
        rest_s=rest_s,
    )
