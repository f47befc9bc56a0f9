"""What a side aims at: pairs of games that differ in that alone, and the logs that show it."""

from __future__ import annotations

from collections import Counter

from sim.game.loader import load_game
from sim.game.model import Game
from sim.pitch.engine import play_bout
from sim.pitch.seeking import beyond, gates_sought, sought
from sim.players import draw_roster
from sim.words.rules import rules_in_words
from tests.support.scene import scene

GATES = {
    "west": {"centre": [-9, 0], "width": 3},
    "east": {"centre": [9, 0], "width": 3},
    "north": {"centre": [0, 8], "width": 3, "way": "south-north"},
    "south": {"centre": [0, -8], "width": 3, "way": "south-north"},
}
POINT = [{"score": 1}]
THROUGH = {"on": "pass", "through": "any", "other_gate": True, "do": POINT}
SIX = {"on": "passes", "count": 6, "each": True, "do": POINT}
SEEDS = range(6)


def game(aims: dict, **rules: dict) -> Game:
    return load_game({
        "bouts": {"count": 1, "seconds": 150},
        "areas": {"field": {"length": 34, "width": 28}},
        "gates": GATES,
        "zones": {"east-end": {"at": "east end of field", "depth": 6}},
        "roles": {"player": {"players": {"amber": 5, "slate": 5}}},
        "phases": {"play": {"aims": aims}},
        "rules": rules or {"gate": THROUGH, "six": SIX},
    })  # fmt: skip


def through_gates(aims: dict) -> Counter[str]:
    """Passes through a gate, by side, in a few bouts."""
    found: Counter[str] = Counter()
    one = game(aims)
    for seed in SEEDS:
        for event in play_bout(one, draw_roster(one, seed, 0), seed).events:
            if event[2] == "receive" and event[7]:
                found[event[5]] += 1
    return found


def test_who_plays_for_the_gates_plays_through_more_of_them():
    kept, amber = through_gates({}), through_gates({"amber": "gates"})
    assert amber["amber"] > 1.4 * kept["amber"] > 0
    assert amber["slate"] < 1.4 * kept["slate"], "the other side has the same aim as before"


def test_who_plays_for_passes_leaves_the_gates_alone():
    kept, slate = through_gates({}), through_gates({"slate": "passes"})
    assert slate["slate"] < 0.7 * kept["slate"]


def test_what_is_sought():
    rules = {"gate": THROUGH, "six": SIX, "end": {"on": "pass", "to": "east-end", "do": POINT}}
    asked = {}
    for aim in ("keep", "gates", "passes", "zones"):
        bout = scene(game({"amber": aim}, **rules), begun=True).bout
        asked[aim] = [one.through or one.to_area for one in sought(bout.game, bout)]
    assert asked == {
        "keep": ["any", "east-end"],
        "gates": ["any", "east-end"],
        "passes": [],
        "zones": ["any", "east-end"],
    }


def test_the_last_gate_is_not_sought_again_and_the_place_is_behind_it():
    bout = scene(game({"amber": "gates"}), begun=True).bout
    assert {gate.name for gate in gates_sought(bout, "amber")} == set(GATES)
    bout.standing.last_gate["amber"] = "west"
    assert {gate.name for gate in gates_sought(bout, "amber")} == set(GATES) - {"west"}
    west, north = (next(one for one in bout.game.gates if one.name == name) for name in ("west", "north"))
    assert [beyond(west, x, 2.0, 3.0) for x in (-15.0, 0.0)] == [(-6.0, 0.0), (-12.0, 0.0)]
    assert [beyond(north, 1.0, y, 3.0) for y in (0.0, 12.0)] == [(0.0, 11.0), (0.0, 5.0)]


def test_the_words_say_what_each_side_plays_for():
    said = rules_in_words(game({"amber": "gates", "slate": "passes"}))
    assert "Amber play through the gates." in said and "Slate string passes together." in said
    assert "The side with the ball keeps it." not in said
    assert "The side with the ball keeps it." in rules_in_words(game({"amber": "gates"}))
