"""The rules in plain words: everything the engine plays by is said, and said right."""

from __future__ import annotations

from pathlib import Path

import pytest

from sim.game.loader import load_game, resolve
from sim.game.names import only_team
from sim.game.shipped import shipped_games
from sim.words.ground_words import as_drawn
from tests.support.rules_said import rules_said
from tests.theory.games import merged

CASES = Path(__file__).resolve().parents[2] / "cases"
GAMES = [*shipped_games(), *sorted((CASES / "valid").glob("*.toml"))]


@pytest.mark.parametrize("source", GAMES, ids=lambda source: getattr(source, "stem", source))
def test_every_area_role_goal_and_team_is_named(source):
    game = load_game(source)
    text = rules_said(game)
    bibs = {player.team for player in game.players} - {
        only_team(game)
    }  # where there is one set of bibs, a number is enough
    for name in [*(a.name for a in game.areas), *(r.name for r in game.roles), *(g.name for g in game.goals), *bibs]:
        assert as_drawn(game)(name) in text
    assert game.title in text and as_drawn(game)(game.purpose) in text
    assert "None" not in text and "_" not in text


@pytest.mark.parametrize("source", GAMES, ids=lambda source: getattr(source, "stem", source))
def test_every_line_is_a_sentence(source):
    for line in rules_said(load_game(source)).splitlines():
        if line.startswith("  "):
            assert line.endswith(".") and line[2].upper() == line[2]


def test_it_ends_with_area_per_player():
    assert rules_said(load_game("even-goals")).endswith(
        "Area per player\n  126 m2 each on the pitch (10 players; not counted: two keepers)."
    )


@pytest.mark.parametrize(
    ("name", "changes", "line"),
    [
        ("tight-square", [], "Area square: 11 x 11 m; 3 m free around it, in which play goes on."),
        ("tight-square", ["areas.square.out=line"], "Area square: 11 x 11 m; 3 m free around it."),
        (
            "tight-square",
            ["areas.square.run_off=1.5"],
            "  A ball over the line of the square is out only when it leaves the 1.5 m around, or stops there with nobody on the "
            "line to have it: they step back to take it; those inside do not come out after it.",
        ),
        (
            "tight-square",
            ["areas.square.out=line"],
            "  A ball over the line of the square is out at once, also for those who stand on it.",
        ),
        (
            "two-squares",
            [],
            "  A ball over the line of the left area and the right area is out only when it leaves the 2 m around, ",
        ),
        ("two-squares", ["areas.east.out=line"], "  A ball over the line of the right area is out at once, "),
        ("two-squares", ["areas.east.out=line"], "  A ball over the line of the left area is out only when "),
        (
            "tight-square",
            [],
            "  4 outside (players 1 to 4): on the lines of the square, two touches.",
        ),
        ("tight-square", ["roles.outside.touches=1"], "on the lines of the square, one touch."),
        (
            "tight-square",
            [],
            "  Lose it: whoever lost it swaps with the one who has been in longest; after 4 s the server plays a new ball "
            "in to the outside players.",
        ),
        ("tight-square", [], "No points are counted."),
        (
            "tight-square",
            [],
            "  Four bouts of 2 min, 1 min rest between. Roles at the whistle are those of the next bout.",
        ),
        ("tight-square", ["bouts.minutes=1.55"], "Four bouts of 93 s, "),
        ("tight-square", ["supply.balls=1", "supply.retrieve_seconds=0"], "  One ball ready."),
        (
            "tight-square",
            ["restarts.start.seconds=0"],
            "; at once the server plays a new ball in to the outside players.",
        ),
        (
            "break-away",
            [],
            "  No runners at the start. Runners play anywhere on the pitch, with the builders, free touches.",
        ),
        (
            "two-squares",
            [],
            "Area right: 14 x 14 m, 8 m to the right of the left area; 2 m free around it, in which play goes on.",
        ),
        (
            "two-squares",
            ["phases.keep.rules.unlock.count=1"],
            "  After one pass in a row: they can play across to the other area.",
        ),
        (
            "two-squares",
            [],
            "  The ground between the left area and the right area, beyond the 2 m round each, is in play only",
        ),
        (
            "two-squares",
            ["between_areas=out"],
            "  A ball over the line of its area is out, towards another area too. Only a ",
        ),
        (
            "two-squares",
            ["areas.east.gap=0"],
            "  The line between the left area and the right area is not out: whoever ",
        ),
        ("home-grids", [], "  At home: amber in the left area and slate in the right area."),
        ("home-grids", [], "  Every six passes in a row: a point for the side with the ball; play goes on."),
        ("home-grids", [], "  Lose it with the ball still in: play goes on, whoever wins it has it."),
        ("break-away", [], "Area middle: 20 x 20 m, marked out in the middle of the pitch; 3 m free around it."),
        ("break-away", [], "Goal left-goal: at the left end, 5 m wide and 2 m high; the builders score in it."),
        (
            "break-away",
            [],
            "  On a save, on a miss or after 8 s of this stage: all runners become builders; all recoverers become hunters; "
            'play goes back to "keep";',
        ),
        ("break-away", [], "  Meanwhile the builders and the hunters wait in the middle."),
        ("tight-square", ["bouts.roles=start anew"], ". Each bout starts with the roles as written above."),
        (
            "tight-square",
            ["bouts.rotate=list"],
            ". Between bouts the roles move down the list. Inside players in bout 1: 5 and 6; bout 2: 1 and 2;",
        ),
        (
            "break-away",
            [],
            'of the next bout.\n  If the whistle goes in "break": recoverers become hunters again and runners become builders '
            "again.",
        ),
        (
            "break-away",
            [],
            "  Passes are counted afresh from here.\n  What passes in a row bring comes once, and again only when the "
            "count has started afresh.\n"
            "  After eight passes in a row: ",
        ),
        (
            "even-goals",
            [],
            "Over the line (a pass into a goal or an own goal, too): the ball goes to the side that did not touch it last where it "
            "went out, 3 m beside the post if it went out nearer to a goal, 3 s later, or when somebody gets there if that takes "
            "longer.",
        ),
        ("even-goals", ["restarts.out.seconds=0"], " if it went out nearer to a goal, as soon as somebody gets there."),
        (
            "break-away",
            [],
            "the builders of the side with the ball who played and received it become runners; "
            "of the hunters of the other side the two nearest the ball become recoverers;",
        ),
        (
            "break-away",
            ["phases.keep.rules.loser-hunts.do.swap.with=winner"],
            "whoever lost it swaps with whoever won it (if nobody did, with the one who has been in longest);",
        ),
        (CASES / "valid" / "pairs.toml", [], "  Pairs: 9 with lefty, 2 with 1 and 4 with 5."),
        (
            CASES / "valid" / "pairs.toml",
            [],
            "whoever lost it and the partner swap with whoever won it and that one's partner (if nobody did, with the pair "
            "who have been in longest);",
        ),
        (
            CASES / "valid" / "pairs.toml",
            [],
            "the outside player of the side with the ball who played it, or else who received it, becomes a rover "
            "(else nobody);",
        ),
        (
            CASES / "valid" / "yards-and-goals.toml",
            [],
            "of the in-box players of the side with the ball the three nearest the ball (never the one on the ball) become gone "
            "players;",
        ),
        ("even-goals", [], "  On a goal: a point for the side that scored; after 5 s the keeper plays it out for"),
        (
            "even-keep-ball",
            [],
            "  2 floaters (white 1 and 2): anywhere on the field, always with the side on the ball, two touches.",
        ),
    ],
)
def test_what_is_said(name, changes, line):
    assert line in rules_said(load_game(name, changes))


def test_passes_are_said_to_begin_with_a_phase_only_where_there_are_phases():
    assert "are counted from" not in rules_said(load_game("two-squares"))


def test_an_area_marked_out_in_another_has_no_ball_between_them():
    text = rules_said(load_game("break-away"))
    assert "between" not in text.partition("Always\n")[2].partition("\n\n")[0]


def test_a_ball_over_the_line_is_said_once():
    # A loss of any cause restarts the tight square, so the restart for a ball out is not what happens there.
    assert "Over the line" not in rules_said(load_game("tight-square"))
    limited = load_game("tight-square", ["phases.keep.rules.loser-goes-in.causes=['tackle']"])
    assert "Over the line: after 4 s the server plays a new ball in to the outside players" in rules_said(limited)


def test_what_tests_gave_is_said_a_line_each():
    text = rules_said(load_game(CASES / "valid" / "tested.toml"))
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
    assert "Known from tests" not in rules_said(load_game("tight-square"))


def test_what_a_role_is_asked_for_is_said():
    text = rules_said(load_game(CASES / "valid" / "asked.toml"))
    assert (
        "two touches, go and win it (press 0.9), guard space (marking 0.2), all hunt the ball for 4.5 s after losing it, then "
        "defend as before, "
        "stay narrower than usual (0.7 times), stay deeper than usual (1.1 times), play quickly (tempo 0.8), "
        "hold their positions, run harder than usual (120 %)."
    ) in text


def test_who_is_on_reduced_load_is_said():
    text = rules_said(load_game("tight-square", ["players.squad-3.restricted=true"]))
    assert "On reduced load\n  Nothing is proposed that could give more to do to player 3.\n" in text
    assert "reduced load" not in rules_said(load_game("tight-square"))


def test_a_number_is_said_to_count_once_only_where_it_does():
    once = "bring comes once, and again only when the count has started afresh."
    every = load_game("home-grids")
    assert once not in rules_said(every) + rules_said(load_game("tight-square"))
    (first, *rest) = every.phases
    rules = tuple(rule.model_copy(update={"each": False}) for rule in first.rules)
    changed = every.model_copy(update={"phases": (first.model_copy(update={"rules": rules}), *rest)})
    assert f"  What passes in a row {once}\n" in rules_said(changed)


def test_a_zone_whose_name_says_where_it_is_is_a_zone_and_an_area_an_area():
    """A zone may be called far, as an area may: each is said to be what it is."""
    said = {}
    for kind, ground in (
        ("zone", {"zones": {"far": {"at": "east third of pitch"}}}),
        ("area", {"areas": {"far": {"length": 12, "beside": "pitch", "on": "east"}}}),
    ):
        short = {
            "areas": {"pitch": {"length": 30, "width": 20}},
            "roles": {
                "player": {"players": {"amber": 4, "slate": 4}},
                "scout": {"side": "team", "place": "far", "players": {"amber": 1}},
            },
            "rules": {"in": {"on": ["pass", "carry"], "to": "far", "do": [{"score": 1}]}},
        }
        said[kind] = rules_said(resolve(merged(short, ground), "made"))
    for kind, text in said.items():
        for words in ("anywhere in the far {}", "a pass received in the far {}", "Carry the ball into the far {}"):
            assert words.format(kind).lower() in text.lower(), (kind, words)
    assert "far area" not in said["zone"] and "far zone" not in said["area"]


@pytest.mark.parametrize(
    ("seconds", "gap", "said"),
    [(0, 10, "at once"), (1, 10, "after 1 s"), (2, 10, ""), (0, 0, "")],
)
def test_a_new_ball_across_that_finds_nobody_there_says_so(seconds: float, gap: float, said: str):
    short = {
        "areas": {"one": {"length": 12}, "two": {"length": 12, "beside": "one", "on": "east", "gap": gap}},
        "roles": {"outside": {"style": "free", "players": 5}, "inside": {"players": 3}},
        "rules": {"lost": {"on": "loss", "do": [{"restart": "over"}]}},
        "restarts": {"over": {"to": "outside", "area": "across", "seconds": seconds}},
    }
    text = rules_said(resolve(short, "made"))
    assert ("finds nobody there, as it is 10 m across" in text) == bool(said)
    assert said in text
    short["roles"]["far"] = {"side": "outside", "place": "two", "players": 1}
    short["roles"]["near"] = {"side": "outside", "place": "one", "players": 1}
    assert "finds nobody there" not in rules_said(resolve(short, "made"))
