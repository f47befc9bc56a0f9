"""What is counted by hand, said so that two people with a pencil count the same."""

from __future__ import annotations

from sim.game.counters import ANY_GATE
from sim.game.family import may
from sim.game.having import sides_having
from sim.game.model import Game
from sim.own_counts.columns import counts_of
from sim.words.figures import present
from sim.words.listing import listed, some, time
from sim.words.losses import LOSS, NO_SHOT

CLOCK = "Minutes are on the watch, which runs on while the ball is out. If you stop it at every dead ball, write rolling there."
BOTH = "Both sides together."
BESIDE = "Changed: what was different from this sheet. Players: how many played."


def column_name(column: str) -> str:
    """A column as it is printed: its name, with spaces."""
    return column.replace("_", " ")


def definitions(game: Game) -> list[tuple[str, str]]:
    """What is counted in this game, each with what counts as one."""
    said = {
        "losses": loss_defined,
        "wins": win_defined,
        "outs": out_defined,
        "longest_run": longest_run_defined,
        "reached": reached_defined,
        "goals": goal_defined,
    }
    return [(name, said[name](game)) for name in counts_of(game)]


def loss_defined(game: Game) -> str:
    """What counts as a loss; where anybody may shoot, that a shot is none; where both sides can lose it, that both count."""
    both = f" {BOTH}" if len(sides_having(game)) > 1 else ""
    return f"{NO_SHOT if any(may(phase, 'shoot') for phase in game.phases) else LOSS}{both}"


def win_defined(game: Game) -> str:
    """What counts as a win, by how the game has it confirmed."""
    amount = game.win.amount
    gate = "any gate" if game.win.gate == ANY_GATE else f"gate {game.win.gate}"
    how = {
        "touch": "touches a ball of the other's, even if it runs on",
        "gate": f"gets the ball off the other and has completed a pass through {gate}",
        "control": "gets the ball off the other and has it under control",
        "hold": f"gets the ball off the other and has held it for {time(amount)}",
        "passes": f"gets the ball off the other and has made {some(amount, 'pass')}",
    }
    return f"A win is each time a side {how[game.win.confirm]}; a ball that goes out is none."


def out_defined(_: Game) -> str:
    """What counts as a ball out."""
    return "An out is each ball over the line, whoever touched it last."


def longest_run_defined(_: Game) -> str:
    """What the longest run is."""
    return "The most passes in a row by one side in the bout; a loss starts the count again."


def reached_defined(game: Game) -> str:
    """What counts as getting to a number that a rule asks for."""
    counts = [
        f"{some(present(rule.count), 'pass')} in a row{' (and again every time)' if rule.each else ''}"
        if rule.on == "passes"
        else f"{some(present(rule.count), 'ball')} won{' (and again every time)' if rule.each else ''}"
        for phase in game.phases
        for rule in phase.rules
        if rule.on in ("passes", "wins")
    ]
    return f"Each time a side gets to {listed(list(dict.fromkeys(counts)), 'or')}."


def goal_defined(_: Game) -> str:
    """What counts as a goal."""
    return "A goal is a shot with the whole ball over the line between the posts, whoever scores."
