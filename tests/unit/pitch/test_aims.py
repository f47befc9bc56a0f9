"""What a side aims at: pairs of games that differ in that alone, and the logs that show it."""

from __future__ import annotations

from collections import Counter

from sim.game.loader import load_game
from sim.game.model import Game
from sim.pitch.arrays import KEEP, SCORE
from sim.pitch.engine import play_bout
from sim.pitch.seeking import BEYOND_GATE_M, beyond, gates_sought, sought
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
END = {"on": "pass", "to": "east-end", "do": POINT}
SEEDS = range(24)


def game(aims: dict, more: dict | None = None, **rules: dict) -> Game:
    return load_game((more or {}) | {
        "bouts": {"count": 1, "seconds": 150},
        "areas": {"field": {"length": 34, "width": 28}},
        "gates": GATES,
        "zones": {"east-end": {"at": "east end of field", "depth": 6}},
        "roles": {"player": {"players": {"amber": 5, "slate": 5}}},
        "phases": {"play": {"aims": aims}},
        "rules": rules or {"gate": THROUGH, "six": SIX},
    })  # fmt: skip


def answered(one: Game, rule: str) -> Counter[str]:
    """How often a rule answers to each side in some bouts, and how often each side shoots."""
    found: Counter[str] = Counter()
    for seed in SEEDS:
        for event in play_bout(one, draw_roster(one, seed, 0), seed).events:
            if event[2] == "rule" and event[6] == rule:
                found[event[5]] += 1
            if event[2] == "shot":
                found[f"shots of {event[3].split('-')[0]}"] += 1
    return found


def clearly_more(many: int, few: int) -> bool:
    """Whether one count is above another by more than three standard errors of their difference."""
    return many - few > 3 * (many + few) ** 0.5


def test_who_plays_for_the_gates_plays_through_more_of_them():
    kept, amber = (answered(game(aims), "gate") for aims in ({}, {"amber": "gates"}))
    assert clearly_more(amber["amber"], kept["amber"])
    assert not clearly_more(amber["slate"], kept["slate"]), "the other side has the same aim as before"


def test_who_plays_for_passes_leaves_the_end_zone_alone():
    kept, amber = (answered(game(aims, gate=THROUGH, end=END, six=SIX), "end") for aims in ({}, {"amber": "passes"}))
    assert clearly_more(kept["amber"], amber["amber"])


def test_who_takes_it_to_a_zone_does_not_go_for_goal():
    goals = {
        "goals": {"west-goal": {"at": "west end of field", "width": 5, "attacked_by": "amber", "other_side": True}}
    }
    to_goal, amber = (answered(game(aims, goals, gate=THROUGH, end=END), "end") for aims in ({}, {"amber": "zones"}))
    assert amber["amber"] > to_goal["amber"]
    assert to_goal["shots of amber"] > 0 == amber["shots of amber"] and amber["shots of slate"] > 0


def test_what_is_sought():
    rules = {"gate": THROUGH, "six": SIX, "end": END}
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


def test_where_the_ball_is_taken():
    """(what is aimed at, how far east) by the aim of the side that starts, in the middle of the field."""
    rules, found = {"gate": THROUGH, "six": SIX, "end": END}, {}
    for aim in ("gates", "passes", "zones"):
        one = scene(game({"amber": aim}, **rules), begun=True)
        one.aim()
        found[aim] = (int(one.play["aim"]), round(abs(float(one.play["goal_x"])), 3))
    assert found["passes"][0] == KEEP and found["gates"][0] == found["zones"][0] == SCORE
    assert found["zones"][1] > 17 - 6 and found["gates"][1] in (0.0, 9.0 - BEYOND_GATE_M, 9.0 + BEYOND_GATE_M)


def test_the_last_gate_is_not_sought_again_and_the_place_is_behind_it():
    bout = scene(game({"amber": "gates"}), begun=True).bout
    assert {gate.name for gate in gates_sought(bout, "amber")} == set(GATES)
    bout.standing.last_gate["amber"] = "west"
    assert {gate.name for gate in gates_sought(bout, "amber")} == set(GATES) - {"west"}
    west, north = (next(one for one in bout.game.gates if one.name == name) for name in ("west", "north"))
    assert [beyond(west, x, 2.0, 3.0, (1.0, 1.0)) for x in (-15.0, 0.0)] == [(-6.0, 0.0), (-12.0, 0.0)]
    assert [beyond(north, 1.0, y, 3.0, (1.0, 1.0)) for y in (0.0, 12.0)] == [(0.0, 11.0), (0.0, 5.0)]
    on_its_line = [beyond(west, west.x, 2.0, 3.0, (way, 1.0)) for way in (1.0, -1.0)]
    assert on_its_line == [(west.x - 3.0, west.y), (west.x + 3.0, west.y)]  # and in the mirror on the mirrored side


def test_the_words_say_what_each_side_plays_for():
    said = rules_in_words(game({"amber": "gates", "slate": "passes"}))
    assert "Amber play through the gates." in said and "Slate string passes together." in said
    assert "The side with the ball keeps it." not in said
    one = " ".join(rules_in_words(game({"amber": "gates"})).split())
    assert "The side with the ball keeps it, but amber play through the gates." in one
