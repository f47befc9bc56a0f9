"""Words in pictures: the sentence over each, computed from its frame; names of axes with their clock; the corner.

Nothing here knows what any lever or tweak does: a sentence is made of the figures that are drawn.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from sim.experiments.compare import CHANGED
from sim.experiments.comparison import Compared
from sim.words.comparison import own_changes
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
    "pass_run_median": "passes in a possession, the middle one",
    "pass_run_share_reaching": "possessions that reach the passes asked",
    "shot_ends_per_min": "possessions that end with a shot",
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
NOTHING_TO_DRAW = "No picture: what it would show did not happen in any of these bouts."
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
    engine: str
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
        f"overload {origin.version}, engine {origin.engine}."
    )
    return "\n".join([source, *origin.cautions])


def arm_names(found: Compared) -> dict[str, str]:
    """What the variants are called in a picture, by their names: a tweak without a name of its own by its changes."""
    first, others = found.comparisons[0].first, [one.second for one in found.comparisons]
    games = any(arm.game != first.game for arm in others)
    names = {first.name: first.game if games else first.name}
    for arm in others:
        names[arm.name] = ", ".join(own_changes(arm, first)) or arm.name if arm.name == CHANGED else arm.name
    return names


def arms_words(found: Compared) -> str:
    """``tight-square as it is, and areas.square.length=9``."""
    first, names = found.comparisons[0].first, arm_names(found)
    start = first.game if names[first.name] == first.game else f"{first.game} {first.name}"
    start += f" with {', '.join(first.changes)}" if first.changes else ""
    parts = []
    for one in found.comparisons:
        label, changed = names[one.second.name], ", ".join(own_changes(one.second, first))
        parts.append(f"{label} ({changed})" if changed and changed != label else label)
    return f"{start}, and {listed(parts)}"


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
    return f"change of {axis_words(*measured(frame))} (bars: 95 % range, each on its own)"


def signed(value: float) -> str:
    """``+0.42``, ``-1.3``: two significant digits, with its sign."""
    return two(value) if value < 0 or value == 0 else f"+{two(value)}"


def span(low: float, high: float, say=two) -> str:
    return f"{say(low)} to {say(high)}"


def listed(words: Sequence[str]) -> str:
    """``a``, ``a and b``, ``a, b and c``."""
    return " and ".join([", ".join(words[:-1]), words[-1]] if len(words) > 1 else words)


def plain(value: object) -> str:
    """``10``, ``2.5``, or a word as it is."""
    return f"{value:g}" if isinstance(value, (int, float)) else str(value)


KEYS = {
    "side": "side of the area",
    "area": "size of the area",
    "touches": "touches allowed",
    "passes": "passes asked for",
    "defenders": "defenders",
    "bout": "length of a bout",
    "rest": "rest between bouts",
}


def key_words(key: str, unit: str) -> str:
    """``side of the area, m``; a key that has no word stands as it is written."""
    return KEYS.get(key, key) + (f", {unit}" if unit else "")


def setting(key: str, value: object, unit: str) -> str:
    """``side = 10 m``."""
    return f"{key} = {plain(value)}{' ' if unit else ''}{unit}"


def band_words(band: str, start: str, end: str) -> str:
    """``running: 14.4 to 19.8 km/h``, on two lines."""
    if start and end:
        number = start.split()[0] if start.split()[1:] == end.split()[1:] else start
        return f"{band}\n{number} to {end}"
    return f"{band}\nup to {end}" if end else f"{band}\nabove {start}"


def clock_face(seconds: float) -> str:
    """``1:30``."""
    return f"{int(seconds) // 60}:{int(seconds) % 60:02d}"
