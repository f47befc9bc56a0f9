"""Words in pictures: the sentence over each, computed from its frame; names of axes with their clock; the corner.

Nothing here knows what any lever or tweak does: a sentence is made of the figures that are drawn.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from types import MappingProxyType
from typing import TYPE_CHECKING

from sim.experiments.compare import CHANGED
from sim.experiments.comparison import Compared
from sim.game.model import Game
from sim.words.changes import in_words
from sim.words.clocks import CLOCKS
from sim.words.compare_details import own_changes
from sim.words.figures import two
from sim.words.listing import listed
from sim.words.measure_names import wording
from sim.words.picture_labels import DOUBT_BESIDE
from sim.words.plurals import figured

if TYPE_CHECKING:
    import pandas as pd

UNITS = {
    "1/min": "a minute {clock}",
    "m/min": "metres a minute {clock}",
    "1/bout": "a bout, {clock}",
    "m": "metres {clock}",
    "s": "seconds {clock}",
    "passes": "({clock})",
    "km/h": "km/h",
    "%": "% ({clock})",
}
COUNTED = {
    "turnovers_per_min": "A loss is any time they give it away, ball out included; where there are goals, a shot counts too.",
    "balls_lost_per_min": "A loss is any time they give it away, ball out included; a shot is none.",
}
COUNTED["turnovers_per_clock_min"] = COUNTED["turnovers_per_min"]
NO_GAMES: Mapping[str, Game] = MappingProxyType({})
NOTHING_TO_DRAW = "No picture: what it would show did not happen in any of these bouts."


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
    return " in ".join(figured(count, word) for count, word in parts if count is not None)


def corner(origin: Origin) -> str:
    """The foot of every page: provenance, then the cautions, each on its own line."""
    changed = f" with {', '.join(origin.changes)}" if origin.changes else ""
    source = (
        f"Simulated: {origin.game}{changed}; players: {origin.population}; {origin.played}, seed {origin.seed}; "
        f"overload {origin.version}, engine {origin.engine}."
    )
    return "\n".join([source, *origin.cautions])


def condition_names(found: Compared, games: Mapping[str, Game]) -> dict[str, str]:
    """What the variants are called in a picture, by their names: a tweak without a name of its own by its changes, in words.

    `games`: the game of each variant by its name, as far as they are known.
    """
    first, others = found.comparisons[0].first, [one.second for one in found.comparisons]
    several = any(condition.game != first.game for condition in others)
    names = {first.name: first.game if several else first.name}
    for condition in others:
        own = condition.name == CHANGED
        names[condition.name] = (
            ", ".join(changes_words(own_changes(condition, first), games.get(condition.name))) or condition.name
            if own
            else condition.name
        )
    return names


def conditions_words(found: Compared, games: Mapping[str, Game]) -> str:
    """``tight-square as it is, and length of square 9``."""
    first, names = found.comparisons[0].first, condition_names(found, games)
    start = first.game if names[first.name] == first.game else f"{first.game} {first.name}"
    start += f" with {', '.join(first.changes)}" if first.changes else ""
    parts = []
    for one in found.comparisons:
        own = changes_words(own_changes(one.second, first), games.get(one.second.name))
        label, changed = names[one.second.name], ", ".join(own)
        parts.append(f"{label} ({changed})" if changed and changed != label else label)
    return f"{start}, and {listed(parts)}"


def picture_written(picture: str, table: str) -> str:
    """What the command says when it has drawn."""
    return f"Picture: {picture}; the numbers in it: {table}"


def axis_noun(measure: str, scope: str = "game") -> str:
    """``losses``, ``balls won by inside``."""
    said = wording(measure)
    text = said.pictured or said.noun
    return text if scope == "game" else f"{text}, {scope.partition(':')[2]}"


def unit_words(unit: str, clock: str) -> str:
    """``a minute with the ball rolling``; a unit that is not known stands as it is."""
    return UNITS.get(unit, f"{unit} {{clock}}").format(clock=CLOCKS[clock])


def axis_words(measure: str, scope: str, unit: str, clock: str) -> str:
    """``losses a minute with the ball rolling``, ``time the ball is rolling, % (on the watch)``."""
    joint = " " if unit in ("1/min", "1/bout", "passes") else ", "
    return f"{axis_noun(measure, scope)}{joint}{unit_words(unit, clock)}"


def measured(frame: pd.DataFrame) -> tuple[str, str, str, str]:
    """What a frame of one measure is about: measure, scope, unit, clock."""
    first = frame.iloc[0]
    return first["measure"], first["scope"], first["unit"], first["clock"]


def change_of(frame: pd.DataFrame) -> str:
    """The axis of changes of a measure, with what the two sides of nought mean."""
    measure, scope, unit, clock = measured(frame)
    return f"{fewer_or_more(unit)} {axis_words(measure, scope, unit, clock)} (bars: {DOUBT_BESIDE})"


def fewer_or_more(unit: str) -> str:
    """What the two sides of no change mean."""
    return "fewer or more" if unit in ("1/min", "1/bout", "passes") else "less or more"


def with_sign(value: float) -> str:
    """``+0.42``, ``-1.3``: two significant digits, with its sign."""
    return two(value) if value < 0 or value == 0 else f"+{two(value)}"


def from_to(low: float, high: float, say: Callable[[float], str] = two) -> str:
    """``3 to 5``, both as `say` has them."""
    return f"{say(low)} to {say(high)}"


def plain_value(value: object) -> str:
    """``10``, ``2.5``, or a word as it is."""
    return f"{value:g}" if isinstance(value, (int, float)) else str(value)


KEYS = {
    "side": "side of the area",
    "length": "length of the area",
    "width": "width of the area",
    "area": "size of the area",
    "touches": "touches allowed",
    "passes": "passes asked for",
    "players": "players",
    "defenders": "defenders",
    "floaters": "floaters",
    "bout": "length of a bout",
    "rest": "rest between bouts",
    "bouts": "number of bouts",
    "bouts.count": "number of bouts",
    "bouts.seconds": "length of a bout",
    "bouts.minutes": "length of a bout, minutes",
    "bouts.rest_seconds": "rest between bouts",
    "bouts.rest_minutes": "rest between bouts, minutes",
    "supply.balls": "balls at the side",
    "supply.retrieve_seconds": "time to fetch a ball",
    "start.side": "who starts with the ball",
    "start.area": "where they start",
}
LASTS = {
    "side": "side of {}",
    "length": "length of {}",
    "width": "width of {}",
    "area": "size of {}",
    "run_off": "free ground around {}",
    "out": "where the ball is out of {}",
    "gap": "gap beside {}",
    "touches": "touches for {}",
    "players": "players: {}",
    "seconds": "wait before the {} ball",
    "population": "who plays for {}",
    "pass_success": "pass success of {}",
    "pressing_speed": "pressing speed of {}",
    "recovery": "recovery of {}",
    "count": "number asked for by {}",
}
SHORT = {  # what a setting is called where its value stands with it: for one, for more
    "side": ("{} {unit}", "{} {unit}"),
    "length": ("{} {unit} long", "{} {unit} long"),
    "width": ("{} {unit} wide", "{} {unit} wide"),
    "area": ("{} {unit}", "{} {unit}"),
    "touches": ("{} touch", "{} touches"),
    "passes": ("{} pass", "{} passes"),
    "players": ("{} player", "{} players"),
    "defenders": ("{} defender", "{} defenders"),
    "floaters": ("{} floater", "{} floaters"),
    "bout": ("{} s bouts", "{} s bouts"),
    "rest": ("{} s rest", "{} s rest"),
    "bouts": ("{} bout", "{} bouts"),
}


def key_named(key: str) -> str:
    """``side of the area``, ``touches for outside``; what has no word is said from its own parts."""
    if key in KEYS:
        return KEYS[key]
    first, _, rest = key.partition(".")
    if rest and "." not in rest and (first in SHORT):  # side.west
        return LASTS.get(first, f"{first} of {{}}").format(rest)
    *middle, last = key.split(".")
    of = (middle[1:] or middle)[-1].replace("_", " ") if middle else ""
    return LASTS.get(last, f"{last} of {{}}" if of else last).format(of).replace("_", " ")


def key_words(key: str, unit: str) -> str:
    """``side of the area, m``."""
    return key_named(key) + (f", {unit}" if unit else "")


def setting(key: str, value: object, unit: str) -> str:
    """``8 m``, ``2 touches``, ``9 m long (west)``, ``wait before the start ball 4 s``."""
    first, _, whose = key.partition(".")
    if first in SHORT and isinstance(value, (int, float)) and "." not in whose:
        return SHORT[first][0 if value == 1 else 1].format(plain_value(value), unit=unit) + (
            f" ({whose})" if whose else ""
        )
    if key == "touches" and value == "free":
        return "free touches"
    return f"{key_named(key)} {plain_value(value)}{' ' if unit else ''}{unit}"


def changes_words(changes: Sequence[str], game: Game | None = None) -> list[str]:
    """What changes are called: those that `sim.words.changes` has a name for by it, the others by what they set."""
    found = []
    for said in in_words(changes, game):
        key, equals, value = said.partition(" = ")
        found.append(f"{key_named(key)} {value}" if equals else said)
    return found


def band_words(band: str, start: str, end: str) -> str:
    """``running: 14.4 to 19.8 km/h``, on two lines."""
    if start and end:
        number = start.split()[0] if start.split()[1:] == end.split()[1:] else start
        return f"{band}\n{number} to {end}"
    return f"{band}\nup to {end}" if end else f"{band}\nabove {start}"


def clock_face(seconds: float) -> str:
    """``1:30``."""
    return f"{int(seconds) // 60}:{int(seconds) % 60:02d}"
