"""The words of a replay: its controls, the count towards what the rules ask for, and the list of what happens."""

from __future__ import annotations

import unicodedata
from collections.abc import Iterator, Sequence

from sim.experiments.typical import Typical
from sim.game.model import Game
from sim.game.names import spoken_of
from sim.measures.event_reducer import LoggedEvent
from sim.pitch.log import BoutLog
from sim.words.commentary import happened
from sim.words.figures import present
from sim.words.ground_words import as_drawn
from sim.words.listing import listed
from sim.words.plurals import figured
from sim.words.strip import Spell

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
    "B the loss before, plus and minus change the speed, Home goes to the start; in the list, up and down go from event to event.",
    "pitch": "The pitch from above; what happens is told in the list",
    "has it": "has it",
    "on its way": "a pass or shot on its way",
    "still": "This device asks for less movement: one picture a second.",
    "no script": "To play it, allow scripts for this page; what happened is in the list.",
    "how": "A replay of one simulated bout, drawn from its log: every place is the one the engine had.",
    "holder": "floaters",
    "loss so far": "loss so far",
    "losses so far": "losses so far",
    "marks": "losses",
    "who": "player",
    "metre": "metres",
    "controls": "Play and move in time",
    "run-off": "Play goes on up to the dotted line",
}
SPEEDS = ("0.25", "0.5", "1", "2", "4", "8")


def asked_words(game: Game, phase: str, side: str, passes: int) -> str:
    """``5 of 8 passes``, or ``5 passes in a row`` where the rules of the phase ask this side for none, or for no more."""
    asked = [
        next_count(int(present(rule.count)), rule.each, passes)
        for one in game.phases
        if one.name == phase
        for rule in one.rules
        if rule.on == "passes" and rule.by in (None, side)
    ]
    ahead = [count for count in asked if count >= passes]
    if ahead:
        return f"{passes} of {min(ahead)} passes"
    return f"{figured(passes, 'pass')} in a row"


def next_count(count: int, each: bool, passes: int) -> int:
    """The number of passes that a rule waits for: its count, or the next multiple where it asks for each."""
    return count * max(1, -(-passes // count)) if each else count


def events_told(game: Game, log: BoutLog) -> Iterator[tuple[float, str]]:
    """(seconds, what happened), as in the list of one bout."""
    names = {player: alone(name) for player, name in spoken_of(game).items()}
    tell = as_drawn(game)
    return ((t, tell(text)) for t, text in happened([LoggedEvent(*row) for row in log.events], names))


def alone(name: str) -> str:
    """A name written from right to left, kept from turning round the figures beside it (Unicode's isolates)."""
    return f"\u2068{name}\u2069" if any(unicodedata.bidirectional(one) in ("R", "AL") for one in name) else name


def ball_in_words(spells: Sequence[Spell], sides: Sequence[str], losses: int) -> str:
    """The strip for those who cannot see it: ``Who has the ball: outside 74 s, inside 3 s, out of play 24 s; 6 losses``."""
    seconds = dict.fromkeys(sides, 0.0)
    for one in spells:
        whose = one.side if one.state == "held" else PAGE[one.state]
        seconds[whose] = seconds.get(whose, 0.0) + one.end_s - one.start_s
    parts = [f"{whose} {total:.0f} s" for whose, total in seconds.items()]
    return f"{PAGE['ball']}: {listed(parts)}; {figured(losses, 'loss')}"


def bout_heading(game: Game, log: BoutLog, name: str = "") -> str:
    """``Lose it and go in: bout 1 of session 1, seed 1``; `name` of a variant in front of it."""
    which = f"bout {log.bout + 1} of session {log.replicate + 1}, seed {log.seed}"
    return f"{f'{name}. ' if name else ''}{game.title}: {which}"


def picked(found: Typical) -> str:
    """Which bout was picked, out of how many."""
    return (
        f"A typical bout: of {found.bouts} the one nearest the middle in losses, passes and running "
        f"(bout {found.bout + 1} of session {found.session + 1})."
    )


def replay_written(place: str) -> str:
    """What the command says when it has written a replay."""
    return f"The replay is in {place}: open it in a browser."
