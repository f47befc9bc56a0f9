"""What kind of game the rules make: derived, never taken on trust.

Asked in this order, the first that holds:

a goal is attacked      in every phase: "even with goals" or "overload with goals"; in some: "break-away"
a phase aims at home    "role swap"
a ball may be played to another area   "transfer"
nothing but the ball    "even keep-ball" or "overload keep-ball"

Even: both sides have as many players at the start.  Floaters, keepers and those who wait are not counted.
"""

from __future__ import annotations

from sim.game.model import Game, Phase, Player
from sim.game.opened import EITHER
from sim.game.verbs import Open

APART = ("goal", "wait")  # styles of those who are on the ground without being one more


def sides_at_start(game: Game) -> dict[str, int]:
    """How many players each side has to play with when a bout begins, by name of the side; whoever has none is in it with 0."""
    everybody = [side_of(game, player) for player in game.players]
    playing = [side_of(game, player) for player in in_play_at_start(game)]
    return {side: playing.count(side) for side in dict.fromkeys(everybody) if side != "holder"}


def side_of(game: Game, player: Player) -> str:
    """Whose ball he plays for when a bout begins: the name of a side, or "holder" (a floater)."""
    side = game.role(player.role).side
    return player.team if side == "team" else side


def in_play_at_start(game: Game) -> list[Player]:
    """Those in play with the others when a bout begins, by what the phase of the start gives their role to do; floaters too."""
    jobs = {job.role: job.style for job in game.phase(game.start_phase).jobs}
    return [player for player in game.players if jobs.get(player.role, game.role(player.role).style) not in APART]


def may(phase: Phase, what: str, side: str | None = None) -> bool:
    """Whether `what` ("transfer", "shoot") is allowed in a phase at some time, to a side or (None) to anybody."""
    done = [action for rule in phase.rules for action in rule.do if isinstance(action, Open)]
    if side is None:
        return what in phase.opened or any(action.what == what for action in done)
    mine = (None, *EITHER, side)
    return phase.may_from_the_start(what, side) or any(one.what == what and one.to in mine for one in done)


def family_of(game: Game) -> str:
    """The kind of game, in the words above."""
    even = len(set(sides_at_start(game).values())) == 1
    attacking = ["goal" in phase.all_aims and may(phase, "shoot") for phase in game.phases]
    if all(attacking):
        return "even with goals" if even else "overload with goals"
    if any(attacking):
        return "break-away"
    if any("home" in phase.all_aims for phase in game.phases):
        return "role swap"
    if any(may(phase, "transfer") for phase in game.phases):
        return "transfer"
    return "even keep-ball" if even else "overload keep-ball"
