"""What must be said with an answer so that nobody is misled."""

from __future__ import annotations

import math
from collections.abc import Sequence

from sim.bands import SHARE, preset
from sim.game.model import Game
from sim.measures.summary import Measure
from sim.measures.thresholds import Thresholds
from sim.populations import population

LINE = "An estimate, not advice; medical staff decide on individuals; local heat and youth rules come first."
STOPPED = "Stopped early"
SHORT_LINE_M = 20.0
RARE = 0.01
FEW_SESSIONS = 10


def longest_line(game: Game) -> float:
    """Longest straight line between two corners of the areas, metres."""
    corners = [(x, y) for area in game.areas for x in area.bounds[::2] for y in area.bounds[1::2]]
    return max(math.dist(a, b) for a in corners for b in corners)


def cautions_for(
    game: Game, measures: Sequence[Measure], thresholds: Thresholds, sessions: int, wanted: int
) -> tuple[str, ...]:
    """All cautions of an answer; the general line comes last."""
    found = []
    if sessions < wanted:
        found.append(f"{STOPPED}: {sessions} of {wanted} sessions were finished.")
    if sessions < FEW_SESSIONS:
        noun = "session was" if sessions == 1 else "sessions were"
        found.append(f"Only {sessions} {noun} played: ranges are rough below {FEW_SESSIONS}.")
    if all(row.basis == "extrapolated" for row in measures):
        found.append("No published figures for this kind of game stand behind these numbers: count your own.")
    line = longest_line(game)
    if line < SHORT_LINE_M:
        found.append(
            f"Do not rely on figures above {thresholds.said('high_speed')}: the longest straight line in the "
            f"areas is {line:.0f} m."
        )
    presets = sorted({team.population for team in game.teams})
    if not thresholds.own and preset(presets).unit == SHARE:
        found.append("The speeds that are counted, in km/h, do not fit all of these players alike.")
    found += [f"No game of {name} players has been measured." for name in presets if not population(name).measured]
    for row in measures:
        if row.measure == "threshold_chance" and row.mean is not None and row.mean < RARE:
            what = row.definition.removeprefix("threshold: ").split(";")[0]
            per = row.unit.removeprefix("1/")
            found.append(f"Hardly ever reached: {what}, {often(row.mean, per)}. Ask for less, or make it easier.")
    return (*found, LINE)


def often(mean: float, per: str) -> str:
    """In words, for a mean below `RARE`."""
    return f"never in any {per} played" if mean == 0 else f"about once in {float(f'{1 / mean:.2g}'):.0f} {per}s"
