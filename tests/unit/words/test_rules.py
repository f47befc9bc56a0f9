"""The rules in plain words: everything the engine plays by is said, and said right."""

from __future__ import annotations

from pathlib import Path

import pytest

from sim.game.loader import load_game
from sim.game.shipped import shipped_games
from sim.words.rules import rules_in_words

CASES = Path(__file__).resolve().parents[2] / "cases"
GAMES = [*shipped_games(), *sorted((CASES / "valid").glob("*.toml"))]


@pytest.mark.parametrize("source", GAMES, ids=lambda source: getattr(source, "stem", source))
def test_every_area_role_goal_and_team_is_named(source):
    game = load_game(source)
    text = rules_in_words(game)
    people = {player.team for player in game.players}
    for name in [*(a.name for a in game.areas), *(r.name for r in game.roles), *(g.name for g in game.goals), *people]:
        assert name in text
    assert game.title in text and game.purpose in text
    assert "None" not in text and "_" not in text


@pytest.mark.parametrize("source", GAMES, ids=lambda source: getattr(source, "stem", source))
def test_every_line_is_a_sentence(source):
    for line in rules_in_words(load_game(source)).splitlines():
        if line.startswith("  "):
            assert line.endswith(".") and line[2].upper() == line[2]


def test_it_ends_with_area_per_player():
    assert rules_in_words(load_game("even-goals")).endswith(
        "Area per player\n  126 m2 each in pitch (10 players; not counted: 2 keepers)."
    )


@pytest.mark.parametrize(
    "name, changes, line",
    [
        ("tight-square", [], "Area square: 11 x 11 m; 3 m free around it."),
        (
            "tight-square",
            [],
            "4 x outside (squad 1, 2, 3 and 4): on the lines of square, on the outside side, at most 2 touches.",
        ),
        ("tight-square", ["roles.outside.touches=1"], "on the outside side, at most 1 touch."),
        (
            "tight-square",
            [],
            "When the ball is lost: the one who lost it changes places with the one who has been in longest; "
            "the server plays a new ball to outside in square after 4 s.",
        ),
        ("tight-square", [], "No points are counted."),
        ("tight-square", [], "4 bouts of 2 min, 1 min rest between; between bouts roles carry on."),
        ("tight-square", ["bouts.minutes=1.55"], "4 bouts of 93 s, "),
        ("tight-square", ["supply.balls=1", "supply.retrieve_seconds=0"], "  1 ball ready at the area."),
        ("tight-square", ["restarts.start.seconds=0"], "the server plays a new ball to outside in square at once."),
        (
            "break-away",
            [],
            "  Nobody begins as runner; who becomes one plays anywhere in pitch, on the builders side, ",
        ),
        ("two-squares", [], "Area east: 14 x 14 m, 8 m to the east of west; 3 m free around it."),
        (
            "two-squares",
            ["phases.keep.rules.unlock.count=1"],
            "After 1 pass in a row: the ball may be played to another area.",
        ),
        ("two-squares", [], "  The ground between west and east is in play only while the ball is being played across: whoever "),
        ("two-squares", ["between_areas=out"], "  A ball over the line of its area is out, towards another area too. Only a "),
        ("two-squares", ["areas.east.gap=0"], "  The line between west and east is not out: whoever gets to the ball first has "),
        ("home-grids", [], "At home: amber in west and slate in east."),
        ("home-grids", [], "Every 6 passes in a row: the side with the ball gets 1 point."),
        ("home-grids", [], "When the ball is lost: play goes on, whoever wins it has it."),
        ("break-away", [], "Area middle: 20 x 20 m, marked out in the middle of pitch; 3 m free around it."),
        ("break-away", [], "Goal west-goal: at the west end, 5 m wide, 2 m high; builders score in it."),
        (
            "break-away",
            [],
            "On a save, when a shot misses or 8 s after this begins: all runner players become builder;",
        ),
        ("break-away", [], "Meanwhile hunter players stand waiting in middle."),
        ("tight-square", ["bouts.roles=start anew"], "; between bouts roles start anew as written."),
        ("tight-square", ["bouts.rotate=list"], "; between bouts roles move down the list of each team, keepers apart."),
        (
            "break-away",
            [],
            "between bouts roles carry on.\n  If the whistle goes in break: recoverer players go back to hunter; runner players go "
            "back to builder.",
        ),
        (
            "break-away",
            [],
            "  Passes are counted from when this begins.\n  A number of passes counts once, until the count begins again.\n"
            "  After 8 passes in a row: ",
        ),
        (
            "even-goals",
            [],
            "the ball goes to the side that did not touch it last from where it went out after 3 s, or as soon after that as "
            "somebody is there.",
        ),
        ("even-goals", ["restarts.out.seconds=0"], " from where it went out at once, or as soon as somebody is there."),
        (
            "break-away",
            [],
            "the passer and the receiver of the last pass become runner (only builder players of the side with the ball); "
            "2 hunter players of the other side (nearest the ball) become recoverer;",
        ),
        (
            "break-away",
            ["phases.keep.rules.loser-hunts.do.swap.with=winner"],
            "the one who lost it changes places with the one who won it (if nobody did, the one who has been in longest);",
        ),
        (CASES / "valid" / "pairs.toml", [], "  Pairs of squad: 9 with lefty, 2 with 1 and 4 with 5."),
        (
            CASES / "valid" / "pairs.toml",
            [],
            "the one who lost it and the partner change places with the one who won it and that one's partner (if nobody did, "
            "the pair who have been in longest);",
        ),
        (
            CASES / "valid" / "pairs.toml",
            [],
            "the passer of the last pass, or else its receiver, becomes rover (only outside players of the side with the ball);",
        ),
        (
            CASES / "valid" / "yards-and-goals.toml",
            [],
            "3 in-box players of the side with the ball (nearest the ball, never the one who has it) become gone;",
        ),
        ("even-goals", [], "On a goal: the side that scored gets 1 point; the keeper plays it out for"),
        (
            "even-keep-ball",
            [],
            "2 x floater (white 1 and 2): anywhere in field, always with the side that has the ball,",
        ),
    ],
)
def test_what_is_said(name, changes, line):
    assert line in rules_in_words(load_game(name, changes))


def test_passes_are_said_to_begin_with_a_phase_only_where_there_are_phases():
    assert "are counted from" not in rules_in_words(load_game("two-squares"))


def test_an_area_marked_out_in_another_has_no_ball_between_them():
    text = rules_in_words(load_game("break-away"))
    assert "between" not in text.partition("Always\n")[2].partition("\n\n")[0]


def test_a_ball_over_the_line_is_said_once():
    # A loss of any cause restarts the tight square, so the restart for a ball out is not what happens there.
    assert "Over the line" not in rules_in_words(load_game("tight-square"))
    limited = load_game("tight-square", ["phases.keep.rules.loser-goes-in.causes=['tackle']"])
    assert "Over the line: the server plays a new ball to outside" in rules_in_words(limited)


def test_what_tests_gave_is_said_a_line_each():
    text = rules_in_words(load_game(CASES / "valid" / "tested.toml"))
    block = text.partition("Known from tests\n")[2].partition("\n\n")[0].splitlines()
    assert block == [
        "  Player adults 1, 4 splits to 35 m: top speed 7.7 m/s (28 km/h), time constant 1.1 s, exact for the day; the clock is "
        "estimated to start 0.27 s after the first movement.",
        "  Player adults 1, intermittent run of 1400 m: critical speed 3.4 m/s (greatest oxygen uptake 48 mL/kg/min), give or "
        "take 10 %; the formula reads low for women, 18 % in one study of 18.",
        "  Player adults 2, shuttle test to 17.5 km/h: critical speed 3.3 m/s (greatest oxygen uptake 47 mL/kg/min), give or "
        "take 10 %.",
        "  Player new-one, shuttle test to 18 km/h: critical speed 3.3 m/s (greatest oxygen uptake 47 mL/kg/min), give or take "
        "10 %.",
        "  Player youth 1, 3 splits to 30 m: top speed 8.6 m/s (31 km/h), time constant 1.0 s, exact for the day; the clock is "
        "taken to start 0.3 s after the first movement.",
    ]
    assert "Known from tests" not in rules_in_words(load_game("tight-square"))


def test_what_a_role_is_asked_for_is_said():
    text = rules_in_words(load_game(CASES / "valid" / "asked.toml"))
    assert (
        "at most 2 touches, attack the ball (press 0.9), guard space (marking 0.2), hunt the ball for 4.5 s after a loss, "
        "0.7 times as wide as usual, 1.1 times as deep as usual, play quickly (tempo 0.8), keep to fixed positions, "
        "120 % of the usual effort."
    ) in text


def test_who_is_on_reduced_load_is_said():
    text = rules_in_words(load_game("tight-square", ["players.squad-3.restricted=true"]))
    assert "On reduced load\n  No change is proposed that may give more to do to squad 3.\n" in text
    assert "reduced load" not in rules_in_words(load_game("tight-square"))


def test_a_number_is_said_to_count_once_only_where_it_does():
    once = "counts once, until the count begins again."
    every = load_game("home-grids")
    assert once not in rules_in_words(every) + rules_in_words(load_game("tight-square"))
    (first, *rest) = every.phases
    rules = tuple(rule.model_copy(update={"each": False}) for rule in first.rules)
    changed = every.model_copy(update={"phases": (first.model_copy(update={"rules": rules}), *rest)})
    assert f"  A number of passes {once}\n" in rules_in_words(changed)
