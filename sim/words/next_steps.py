"""What to try after an estimate: a question that the answer leaves open, as a command that answers it.

One game tells nothing of another, so no change is recommended here: what stands out of this answer is handed to
`adjust`, which plays every change that the game can have and says which of them help.
"""

from __future__ import annotations

from sim.experiments.everyday import LOSSES, called
from sim.experiments.key_measures import keys_of
from sim.experiments.stopping_rule import USUAL, key_measure_of
from sim.game.model import Game
from sim.game.verbs import Assign, Swap, Trade
from sim.measures.catalogue import actions_of
from sim.results import Result
from sim.words.commands import Given, try_next

OFTEN = 0.25
"""How often somebody may defend for more than 60 % of a session before it is worth a word (house default)."""

DEAD = 0.7
"""With the ball in play for less of the bout than this, dead time is worth a word (house default)."""


CHANGES_OF_ROLE = (Swap, Trade, Assign)
"""The consequences that give players other roles."""


def after_estimate(result: Result, game: Game, given: Given | None) -> list[str]:
    """What stands out first, and the card for it."""
    chance, share = result.row("chance_someone_defends_over_60").mean, result.row("in_play_share").mean
    if chance is not None and chance > OFTEN and roles_change_hands(game):
        why, aim = "to see what shares the defending out more evenly", "defending=less"
    elif share is not None and share < DEAD:
        why, aim = "to see what keeps the ball rolling for longer", "rolling=more"
    else:
        why, aim = "to see what you can change, and what each change does", f"{main_measure(game)}=more"
    return try_next(why, given and given.about("adjust", ("--aim", aim)), [f"adjust to {aim}"])


def roles_change_hands(game: Game) -> bool:
    """Whether a rule, or the list between bouts, gives players other roles: where nothing does, nothing shares the defending."""
    return game.bouts.rotate == "list" or any(isinstance(action, CHANGES_OF_ROLE) for action in actions_of(game))


def main_measure(game: Game) -> str:
    """What this kind of game is about, as far as it can happen in this one, by its everyday name; losses of the ball in most."""
    wanted = key_measure_of(game)
    return LOSSES if wanted == USUAL or (wanted, "game") not in keys_of(game) else called((wanted, "game"), game)
