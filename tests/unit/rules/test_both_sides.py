"""What is written once for both sides is played on both: taken out, the log is another."""

from __future__ import annotations

from sim.game.loader import load_game
from sim.pitch.engine import play_bout
from sim.players import draw_roster

GATES = {"west-gate": {"centre": [-5, 0], "width": 14, "other_side": True}}
GAME = {
    "bouts": {"count": 1, "seconds": 120},
    "areas": {"square": {"length": 20, "width": 14}},
    "roles": {"outside": {"style": "edge", "players": 5}, "inside": {"players": 1}},
    "rules": {"gate": {"on": "pass", "through": "any", "do": [{"score": 1}]}},
}


def played(gates: dict) -> tuple[set[str], float]:
    """The gates that passes of eight bouts went through, and the points for each pass received."""
    game = load_game(GAME | {"gates": gates})
    events = [event for seed in range(1, 9) for event in play_bout(game, draw_roster(game, seed, 0), seed).events]
    received = [event for event in events if event[2] == "receive"]
    through = {gate for event in received for gate in event[7].split()}
    return through, sum(event[8] for event in events if event[2] == "score") / len(received)


def test_the_gate_of_the_other_side_is_played_through_and_counts():
    both, points = played(GATES)
    alone, fewer = played({"west-gate": {"centre": [-5, 0], "width": 14}})
    assert both == {"west-gate", "east-gate"} and alone == {"west-gate"}
    assert points > fewer + 0.05 > 0.05
