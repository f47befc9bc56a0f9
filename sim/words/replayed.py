"""The words of a replay: its controls, the count towards what the rules ask for, and the list of what happens."""

from __future__ import annotations

from collections.abc import Iterator

from sim.experiments.typical import Typical
from sim.game.model import Game
from sim.game.names import spoken_of
from sim.pitch.log import BoutLog
from sim.words.commentary import Event, happened

PAGE = {
    "play": "Play",
    "pause": "Pause",
    "back": "Back 5 seconds",
    "on": "On 5 seconds",
    "loss": "Next loss",
    "speed": "Speed",
    "time": "Time",
    "of": "of",
    "metres": "Metres so far",
    "happened": "What happened",
    "ball": "Who has the ball",
    "dead": "out of play",
    "loose": "nobody's ball",
    "coming": "on its way in",
    "keys": "Keys: space plays and stops, left and right arrow go back and on a second (with shift 5), N the next loss, "
    "B the loss before, plus and minus change the speed, Home goes to the start.",
    "how": "A replay of one simulated bout, drawn from its log: every place is the one the engine had.",
    "holder": "floaters",
    "losses": "losses so far",
    "marks": "losses",
    "who": "player",
    "controls": "Play and move in time",
}
SPEEDS = ("0.25", "0.5", "1", "2", "4", "8")


def asked_words(game: Game, phase: str, side: str, passes: int) -> str:
    """``5 of 8 passes``, or ``5 passes`` where the rules of the phase ask this side for none."""
    asked = sorted(
        int(rule.count)
        for one in game.phases
        if one.name == phase
        for rule in one.rules
        if rule.on == "passes" and rule.by in (None, side)
    )
    noun = "pass" if passes == 1 and not asked else "passes"
    if not asked:
        return f"{passes} {noun} in a row"
    goal = next((count for count in asked if count >= passes), asked[-1])
    return f"{passes} of {goal} passes"


def told(game: Game, log: BoutLog) -> Iterator[tuple[float, str]]:
    """(seconds, what happened), as in the list of one bout."""
    return happened([Event(*row) for row in log.events], spoken_of(game))


def heading(game: Game, log: BoutLog, name: str = "") -> str:
    """``Lose it and go in: bout 1 of session 1, seed 1``; `name` of a variant in front of it."""
    which = f"bout {log.bout + 1} of session {log.replicate + 1}, seed {log.seed}"
    return f"{f'{name}. ' if name else ''}{game.title}: {which}"


def picked(found: Typical) -> str:
    """Which bout was picked, out of how many."""
    return (
        f"A typical bout: of {found.bouts} the one nearest the middle in losses, passes and running "
        f"(bout {found.bout + 1} of session {found.session + 1})."
    )


def written(place: str) -> str:
    return f"The replay is in {place}: open it in a browser."
