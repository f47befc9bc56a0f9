"""What is written once for both sides is played on both: taken out, the log is another."""

from __future__ import annotations

from sim.game.loader import load_game
from sim.pitch.engine import play_bout
from sim.players import draw_roster

GATES = {"west-gate": {"centre": [-5, 0], "width": 14, "other_side": True}}
GAME = {
    "bouts": {"count": 1, "seconds": 30},
    "areas": {"square": {"length": 20, "width": 14}},
    "roles": {"outside": {"style": "edge", "players": 5}, "inside": {"players": 1}},
    "rules": {"gate": {"on": "pass", "through": "any", "do": [{"score": 1}]}},
}


def played(gates: dict) -> tuple[set[str], float]:
    """The gates that passes went through, and the points for it."""
    game = load_game(GAME | {"gates": gates})
    events = play_bout(game, draw_roster(game, 1, 0), 1).events
    through = {gate for event in events if event[2] == "receive" for gate in event[7].split()}
    return through, sum(event[8] for event in events if event[2] == "score")


def test_the_gate_of_the_other_side_is_played_through_and_counts():
    both, points = played(GATES)
    alone, fewer = played({"west-gate": {"centre": [-5, 0], "width": 14}})
    assert both == {"west-gate", "east-gate"} and alone == {"west-gate"}
    assert points > fewer > 0
