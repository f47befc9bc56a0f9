"""The look back player by player: a table a game, as in the file; nobody is ranked, what is missing is said to be missing."""

from __future__ import annotations

from collections.abc import Sequence

from sim.experiments.last_line import LINE
from sim.own_counts.by_player import LoadSeen, PlayerSeen, apart
from sim.words.figures import span, whole
from sim.words.losses import USUALLY
from sim.words.own_counts import day
from sim.words.screen import lines_of
from sim.words.tables import table

NOTHING = "Nobody to look back on yet: write down who played on the sheet, or hand in a file with `overload import FILE --keep`."
NAMES = {
    "metres": "metres", "fast_metres": "fast m", "sprint_metres": "sprint m", "accelerations": "accelerations",
    "decelerations": "decelerations",
}  # fmt: skip
MISSING = "missing"
NOT_ON_SHEET = "0: not on the sheet"
NO_RANKING = "Players as in the file; this is no ranking."
MINORS = "Minors play: names stay out of every export unless you ask for them."
RESTS = "A file's drill may hold the rests between bouts; the forecast has none."


def by_player_in_words(found: Sequence[PlayerSeen], minors: bool, width: int | None = None) -> str:
    """What `overload review --by-player` prints."""
    if not found:
        return "\n".join(lines_of([NOTHING]))
    games = dict.fromkeys((one.day, one.game) for one in found)
    parts = [of_game([one for one in found if (one.day, one.game) == place], width) for place in games]
    notes = [NO_RANKING, *([MINORS] if minors else []), *([RESTS, USUALLY] if judged(found) else []), LINE]
    return "\n\n".join([headline(found), *parts, "\n".join(lines_of(notes))])


def judged(found: Sequence[PlayerSeen]) -> list[bool]:
    """Of every load that can be held against a forecast, whether it lies inside."""
    return [one.inside for player in found for one in player.loads if one.inside is not None]


def headline(found: Sequence[PlayerSeen]) -> str:
    """How many loads lay where a session usually brings them."""
    inside = judged(found)
    if not inside:
        return "By player: nothing was both measured and forecast."
    return f"By player: {sum(inside)} of {len(inside)} loads are what one session usually brings."


def of_game(players: Sequence[PlayerSeen], width: int | None) -> str:
    """The table of one game: measured, and in brackets what a session usually brings somebody in that role."""
    first = players[0]
    names = [
        name for name in NAMES if any(one.value is not None for row in players for one in row.loads if one.name == name)
    ]
    bouts = any(one.bout is not None for one in players)
    head = ("player", *(["bout"] if bouts else []), "played", "minutes", *(NAMES[name] for name in names))
    rows = [
        (
            one.player,
            *(["all" if one.bout is None else str(one.bout)] if bouts else []),
            played(one),
            minutes(one),
            *(load(next((seen for seen in one.loads if seen.name == name), None)) for name in names),
        )
        for one in players
    ]
    measured = len({one.player for one in players if one.minutes is not None})
    title = f"{first.game}, {day(first.day)}: {measured} of {len({one.player for one in players})} players measured"
    return f"{title}\n{table(head, rows, width, left=tuple(range(len(head))))}"


def played(one: PlayerSeen) -> str:
    """``4: 3 outside, 1 inside``; somebody who was measured and stands on no sheet has played none as far as they go."""
    if one.bouts is None:
        return MISSING
    if one.bouts == 0:
        return NOT_ON_SHEET
    said = [f"{count} {role}" for role, count in one.roles.items() if role]
    return f"{one.bouts}{': ' if said else ''}{', '.join(said)}"


def minutes(one: PlayerSeen) -> str:
    """``8.5``; ``8.5, sheet 4`` where the file has so many more or fewer that it is held against nothing."""
    if one.minutes is None:
        return MISSING
    other = one.counted is not None and apart(one.minutes, one.counted)
    return f"{one.minutes:.3g}{f', sheet {one.counted:.3g}' if other else ''}"


def load(seen: LoadSeen | None) -> str:
    """``512 (400 to 620)``."""
    if seen is None or seen.value is None:
        return MISSING
    expected = seen.expected
    return whole(seen.value) + ("" if expected is None else f" ({span(expected.low, expected.high, whole)})")
