"""Words in pictures: the sentence over each, computed from its frame; names of axes with their clock; the corner.

Nothing here knows what any lever or tweak does: a sentence is made of the figures that are drawn.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from sim.words.figures import two

if TYPE_CHECKING:
    import pandas as pd

CLOCKS = {"in play": "of ball in play", "watch": "on the watch"}
WHEN = {"in play": "while the ball is in play", "watch": "on the watch"}
UNITS = {
    "1/min": "per minute {clock}",
    "m/min": "metres per minute {clock}",
    "1/bout": "a bout {clock}",
    "m": "metres {clock}",
    "s": "seconds {when}",
    "km/h": "km/h",
    "%": "% ({when})",
}
NOUNS = {
    "pass_completion": "passes completed",
    "pass_run_mean": "passes in a possession",
    "in_play_share": "ball in play",
    "defending_share": "time spent defending",
    "defending_share_most": "time spent defending by whoever defends most",
    "threshold_reached_per_min": "thresholds reached",
    "transfers_per_min": "balls across",
    "transfer_success": "balls across that arrive",
    "wins_per_min": "balls won",
    "distance_per_min": "distance",
    "time_defending_s": "time spent defending",
}
ENDINGS = ("_per_min", "_per_clock_min", "_per_bout", "_kmh", "_m", "_s")
NOTHING = "cannot be told from nothing"


@dataclass(frozen=True)
class Origin:
    """Where the numbers of a picture come from.  `played` in words ("200 bouts in 50 sessions"); the caution is the last line."""

    game: str
    changes: tuple[str, ...]
    population: str
    seed: int
    played: str
    version: str
    cautions: tuple[str, ...]


def played(bouts: int, sessions: int | None = None, runs: int | None = None) -> str:
    """``200 bouts in 50 sessions``."""
    parts = [(bouts, "bout"), (sessions, "session"), (runs, "run")]
    return " in ".join(f"{count} {word}{'' if count == 1 else 's'}" for count, word in parts if count is not None)


def corner(origin: Origin) -> str:
    """The foot of every page: provenance, then the cautions, each on its own line."""
    changed = f" with {', '.join(origin.changes)}" if origin.changes else ""
    source = (
        f"Simulated: {origin.game}{changed}; players: {origin.population}; {origin.played}, seed {origin.seed}; "
        f"overload {origin.version}."
    )
    return "\n".join([source, *origin.cautions])


def written(picture: str, table: str) -> str:
    """What the command says when it has drawn."""
    return f"Picture: {picture}; the numbers in it: {table}"


def noun(measure: str, scope: str = "game") -> str:
    """``turnovers``, ``distance of inside``."""
    text = NOUNS.get(measure)
    if text is None:
        text = measure
        for ending in ENDINGS:
            text = text.removesuffix(ending)
        text = text.replace("_", " ")
    return text if scope == "game" else f"{text} of {scope.partition(':')[2]}"


def unit_words(unit: str, clock: str) -> str:
    """``per minute of ball in play``; a unit that is not known stands as it is."""
    if unit in UNITS:
        return UNITS[unit].format(clock=CLOCKS[clock], when=WHEN[clock])
    return f"{unit} {WHEN[clock]}" if unit != "passes" else f"({WHEN[clock]})"


def axis_words(measure: str, scope: str, unit: str, clock: str) -> str:
    """``turnovers per minute of ball in play``, ``ball in play, % (on the watch)``."""
    joint = " " if unit in ("1/min", "1/bout", "passes") else ", "
    return f"{noun(measure, scope)}{joint}{unit_words(unit, clock)}"


def measured(frame: pd.DataFrame) -> tuple[str, str, str, str]:
    """What a frame of one measure is about: measure, scope, unit, clock."""
    first = frame.iloc[0]
    return first["measure"], first["scope"], first["unit"], first["clock"]


def change_of(frame: pd.DataFrame) -> str:
    return f"change of {axis_words(*measured(frame))} (bars: 95 % range)"


def signed(value: float) -> str:
    """``+0.42``, ``-1.3``: two significant digits, with its sign."""
    return two(value) if value < 0 or value == 0 else f"+{two(value)}"


def span(low: float, high: float, say=two) -> str:
    return f"{say(low)} to {say(high)}"


def listed(words: Sequence[str]) -> str:
    """``a``, ``a and b``, ``a, b and c``."""
    return " and ".join([", ".join(words[:-1]), words[-1]] if len(words) > 1 else words)


def levers_said(frame: pd.DataFrame) -> str:
    """Which row moves the measure most, and how many cannot be told from nothing."""
    measure, scope, unit, clock = measured(frame)
    what = noun(measure, scope)
    sure = frame[frame["told_apart"]]
    if sure.empty:
        return f"What changes {what} cannot be told: no change here can be told from nothing."
    top = sure.loc[sure["effect"].abs().idxmax()]
    text = (
        f'The largest change of {what} comes with "{top["lever"]}": {signed(top["effect"])} '
        f"({span(top['low'], top['high'], signed)}) {unit_words(unit, clock)}"
    )
    rest = len(frame) - len(sure)
    return f"{text}; {rest} of {len(frame)} {NOTHING}." if rest else f"{text}."
