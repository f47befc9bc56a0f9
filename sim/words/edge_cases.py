"""What holds where coaches could argue and the file says nothing: a sentence for every case that can come up in this game.

What a game declares otherwise stands among its rules (`sim.words.playing`, `sim.words.limits`), and not here.
"""

from __future__ import annotations

from collections.abc import Iterator

from sim.game.model import Game
from sim.game.verbs import Step, Swap
from sim.words.playing import shots_allowed

HEADING = "Where it could be argued"

SAME_MOMENT = (
    "Of what comes at the same moment the ball is first, then what rules have by the watch, then a new ball, then the whistle: "
    "so a point at the very whistle counts."
)
FIRST_THERE = "Of two who go for it the first to touch it has won it, alone."
PASSES = (
    "The server's ball is no pass. The first pass after it is, and so are a pass straight back, a lofted one and one that comes "
    "off an opponent."
)
LAST_TOUCH = "A lost pass is charged to the last of the side to touch it: the passer, or whoever failed to control it."
FLOATER_STAYS = "A floater who loses it stays where he is: it is a loss of the side he played for."
NOBODY_COMES = "Where nobody can come for somebody, nobody goes: whoever defends already and loses it again stays in."
COUNT_GOES_ON = "If the side that had it has it back before that, its count of passes in a row goes on."
NO_OFFSIDE = "There is no offside."
TACKLED = "Keepers are tackled like anybody."
HANDS = "Keepers hold what they save."
NO_FOULS = "Fouls and handball are not played: the coach calls them, and they are in no figure."
OVER = "When time is up it is over, also in the middle of an attack."
DRAW = "Level at the end is a draw."
WATCH = "The watch runs on while the ball is dead."


def edge_cases_in_words(game: Game) -> list[str]:
    """What holds by default in the cases that can come up in this game and that it does not declare otherwise."""
    return [*_of_the_ball(game), *_of_losses(game), *_of_keepers(game), *_of_the_end(game)]


def _of_the_ball(game: Game) -> Iterator[str]:
    yield SAME_MOMENT
    if game.win.confirm in ("touch", "control"):
        yield from () if game.win.together != "first" else (FIRST_THERE,)
    elif game.win.contested == "goes on":
        yield COUNT_GOES_ON
    counted = any(rule.on in ("passes", "pass") for phase in game.phases for rule in phase.rules)
    if counted or any(counter.of == "passes" for counter in game.counters):
        yield PASSES
    yield from no_offside(game)
    if not game.foul_share:
        yield NO_FOULS


def no_offside(game: Game) -> list[str]:
    """Where there are goals: that nobody is offside, if nobody is."""
    return [NO_OFFSIDE] if game.goals and not any(zone.offside for zone in game.zones) else []


def keepers_tackled(game: Game) -> list[str]:
    """That keepers are tackled like anybody, where any are."""
    return [TACKLED] if any(role.style == "goal" and role.tackled == "always" for role in game.roles) else []


def who_lost_it(game: Game) -> list[str]:
    """Who has lost it, where something follows for him and the game has it as usual."""
    return [LAST_TOUCH] if _by_loser(game) and game.loss.charged == "last touch" else []


def _by_loser(game: Game) -> bool:
    """Whether something follows for whoever has lost the ball."""
    rules = [rule for phase in game.phases for rule in phase.rules if rule.on != "foul"]
    actions = [action for rule in rules for action in rule.do]
    return any(isinstance(one, Step) or (isinstance(one, Swap) and one.who.startswith("loser")) for one in actions)


def _of_losses(game: Game) -> Iterator[str]:
    swaps = [action for phase in game.phases for rule in phase.rules for action in rule.do if isinstance(action, Swap)]
    yield from who_lost_it(game)
    if _by_loser(game) and game.loss.floater == "nobody" and any(role.side == "holder" for role in game.roles):
        yield FLOATER_STAYS
    if swaps:
        yield NOBODY_COMES


def _of_keepers(game: Game) -> Iterator[str]:
    keepers = [role for role in game.roles if role.style == "goal"]
    yield from keepers_tackled(game)
    if shots_allowed(game) and any(role.hands for role in keepers):
        yield HANDS


def _of_the_end(game: Game) -> Iterator[str]:
    if not game.bouts.finish_seconds:
        yield OVER
    scores = any(action.verb == "score" for phase in game.phases for rule in phase.rules for action in rule.do)
    if scores and not game.bouts.level_seconds:
        yield DRAW
    if game.bouts.clock == "running":
        yield WATCH
