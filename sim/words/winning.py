"""When the ball is won, in plain words."""

from __future__ import annotations

from sim.game.counters import ANY_GATE
from sim.game.having import stops_when_won
from sim.game.model import Game
from sim.words.listing import some, time


def won(game: Game) -> str:
    """When the ball is won, and whether play stops then."""
    stopped = "; then play stops" if stops_when_won(game) else ""
    return f"The ball is won when {_won_when(game)}{stopped}."


def _won_when(game: Game) -> str:
    amount = game.win.amount
    match game.win.confirm:
        case "touch":
            return "an opponent touches it, even if it runs on"
        case "control":
            return "an opponent has it under control"
        case "hold":
            return f"an opponent has held it for {time(amount)}"
        case "passes":
            return f"the opponents have made {some(amount, 'pass')}"
        case "gate":
            gate = "any gate" if game.win.gate == ANY_GATE else f"gate {game.win.gate}"
            return f"the opponents have completed a pass through {gate}"
