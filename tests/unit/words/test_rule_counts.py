"""How often every rule fires, counted from the log, and how it is said."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace

import pytest

import sim
from sim.game.loader import load_game
from sim.measures.session_counts import counts_of_bout, session_of
from sim.measures.summary import summarise
from sim.pitch.engine import play_bout
from sim.players import draw_roster
from sim.words.estimate_details import answer_in_words
from sim.words.rule_counts import never_fired, points, rules_fired, tried
from sim.words.screen import WIDTH
from tests.unit.measures.handmade import square_bout, square_game

SHORT = ["bouts.count=1", "bouts.minutes=0.5"]
TWO = load_game("two-squares", ["bouts.count=1", "bouts.minutes=1"])


def with_rules(replicate: int, *fired: str):
    """A bout written by hand in which these rules fired."""
    log = square_bout(replicate)
    t, kinds = log.events[-2][0], list(log.events)
    rows = [
        (t, 0, "rule", "", "", "outside", name, "keep", float("nan"), 0.0, 0.0, "keep", "square", 0) for name in fired
    ]
    return replace(log, events=tuple(kinds[:-1] + rows + kinds[-1:]))


def test_times_a_bout_are_counted_rule_by_rule():
    game = square_game(count=1)
    logs = [with_rules(0, "a point", "a point", "loser goes in"), with_rules(1, "a point")]
    rows = [
        row
        for row in summarise(game, [session_of([counts_of_bout(game, log)]) for log in logs])
        if row.measure == "rule_fired_per_bout"
    ]
    assert [(row.scope, row.unit, row.definition, row.mean) for row in rows] == [
        (
            "game",
            "1/bout",
            "rule: loser goes in in keep; times it answered in a bout; a bout as long as it was played",
            0.5,
        ),
        ("game", "1/bout", "rule: a point in keep; times it answered in a bout; a bout as long as it was played", 1.5),
    ]


@pytest.fixture(scope="module")
def answer():
    return sim.estimate(TWO, bouts=2, workers=1)


def test_the_rows_are_those_of_the_log(answer):
    seen = Counter(
        (event[7], event[6])
        for replicate in (0, 1)
        for event in play_bout(TWO, draw_roster(TWO, 1, replicate), 1, replicate).events
        if event[2] == "rule"
    )
    expected = {
        (phase.name, rule.name): seen[phase.name, rule.name] / 2 for phase in TWO.phases for rule in phase.rules
    }
    rows = answer.rows("rule_fired_per_bout")
    assert dict(zip(expected, (row.mean for row in rows), strict=True)) == expected
    assert all(seen.values()) and len(seen) == 3


def test_points_of_each_side_stand_in_the_answer(answer):
    scored = answer.row("points_per_bout").mean
    assert answer.row("points_per_bout", "role:west").mean == scored > 0
    assert answer.row("points_per_bout", "role:chaser").mean == 0
    assert points(answer, TWO).startswith("Points a bout, on the watch: outside ") and ", chasers 0" in points(
        answer, TWO
    )
    assert points(answer, TWO) in answer_in_words(answer, TWO, details=True)
    assert rules_fired(answer, TWO) in answer_in_words(answer, TWO, details=True)
    assert "unlock " in rules_fired(answer, TWO)


def test_a_rule_that_never_fired_is_named_in_the_answer():
    game = load_game("even-keep-ball", [*SHORT, "phases.keep.rules.point.count=60"])
    answer = sim.estimate(game, bouts=2, workers=1)
    assert never_fired(answer, game) == "Never came up in 2 bouts: point."
    assert "Never came up in 2 bouts: point." in answer_in_words(answer, game)
    assert points(answer, game) == "Points a bout, on the watch: amber 0 (0-0), slate 0 (0-0)."
    assert "Every rule came up" not in tried(answer, game)


def test_no_points_are_told_where_none_are_counted():
    game = load_game("tight-square", SHORT)
    answer = sim.estimate(game, bouts=1, workers=1)
    assert points(answer, game) == ""
    assert "Points a bout" not in answer_in_words(answer, game)


def test_what_was_tried_fits_a_screen():
    """A rule that never comes up, by a long name of the user's own."""
    game = load_game("even-keep-ball", [*SHORT, "phases.keep.rules.point.count=60"])
    name = "a point for sixty passes in a row without anybody of the other side so much as touching it"
    phases = tuple(
        phase.model_copy(update={"rules": tuple(rule.model_copy(update={"name": name}) for rule in phase.rules)})
        for phase in game.phases
    )
    lines = tried(sim.estimate(game, bouts=2, workers=1), game.model_copy(update={"phases": phases})).splitlines()
    assert max(map(len, lines)) <= WIDTH and name in " ".join(" ".join(lines).split())
