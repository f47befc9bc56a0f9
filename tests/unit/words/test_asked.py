"""What people ask on the grass: each sentence stands where it can come up, says what play does, and goes with the word of the file
that it comes from."""

from __future__ import annotations

import pytest

from sim.game.loader import load_game
from sim.pitch.engine import play_bout
from sim.players import draw_roster
from sim.words.asked import (
    AT_THE_TOP,
    FIRST_TOUCH,
    IN_A_ZONE,
    LAST_GATE,
    NO_DEFENDING,
    NOT_AWAITED,
    OUT_OF_REACH,
    POINTS_STAY,
    TACKLED_FROM_INSIDE,
    WAITING_IN_IT,
    on_the_lines,
)
from sim.words.rules import rules_in_words
from sim.words.sheet import sheet_of
from tests.support.paths import player_at
from tests.theory.games import events_of, of_kind

TINY_S = 1e-6
A_STEP_M = 0.3  # by so much a run that ends at the line may carry over it


def sheet(name: str, *changes: str) -> str:
    return "\n".join(line for one in sheet_of(load_game(name, list(changes)), "0").sections for line in one.lines)


@pytest.mark.parametrize(("said", "name", "other"), [
    (LAST_GATE, "four-gates", ("four-gates", "rules.gate.other_gate=false")),
    (WAITING_IN_IT, "end-zones", ("keeper-to-keeper",)),
    (IN_A_ZONE, "end-zones", ("four-gates",)),
    (FIRST_TOUCH, "tight-square", ("tight-square", "roles.outside.touches=free")),
    (AT_THE_TOP, "three-lives", ("tight-square",)),
    (NOT_AWAITED, "three-colours", ("four-gates",)),
    (NO_DEFENDING, "tight-square", ("four-gates",)),
    (POINTS_STAY, "losers-off", ("break-away",)),
])  # fmt: skip
def test_a_sentence_stands_where_it_can_come_up_and_nowhere_else(said: str, name: str, other: tuple[str, ...]):
    assert said in sheet(name)
    assert said not in sheet(*other)


def test_what_whoever_stands_on_a_line_may_do_goes_by_the_line_and_the_role():
    (usual,) = on_the_lines(load_game("tight-square"))
    assert "from the 3 m behind it" in usual and TACKLED_FROM_INSIDE in usual and OUT_OF_REACH in usual
    (hard,) = on_the_lines(load_game("tight-square", ["areas.square.out=line"]))
    assert "behind" not in hard and TACKLED_FROM_INSIDE in hard and OUT_OF_REACH not in hard
    (spared,) = on_the_lines(load_game("tight-square", ["roles.outside.tackled=never"]))
    assert "tackle" not in spared and OUT_OF_REACH not in spared
    assert on_the_lines(load_game("four-gates")) == []


def test_they_are_on_the_line_step_in_and_out_and_are_tackled_there():
    game = load_game("on-the-line")
    (area,) = game.areas
    west, south, east, north = area.bounds
    inside, tacklers, ids = [], [], [player.id for player in game.players]
    for seed in range(1, 7):
        role = {player.id: player.role for player in game.players}
        log = play_bout(game, draw_roster(game, seed, 0), seed)
        for each in events_of(log):
            if each["kind"] == "swap":
                role[each["player"]], role[each["other"]] = role[each["other"]], role[each["player"]]
            if each["kind"] == "receive" and role[each["player"]] == "outside":
                inside.append(min(each["x"] - west, east - each["x"], each["y"] - south, north - each["y"]))
            if each["kind"] == "tackle" and role[each["other"]] == "outside":
                x, y = player_at(log, ids.index(each["player"]), each["t"])
                tacklers.append(min(x - west, east - x, y - south, north - y))
    on_it = [depth for depth in inside if abs(depth) < 1.0]
    assert len(on_it) > 0.8 * len(inside) and min(inside) < 0.0 and max(inside) > 1.0
    assert tacklers and min(tacklers) > -A_STEP_M


def test_play_goes_on_after_a_point_in_play_unless_a_new_ball_comes():
    assert "a point for the side with the ball; play goes on." in sheet("four-gates")
    assert "play goes on" not in sheet("end-zones").partition("a point for the side with the ball")[2].partition(".")[0]


def test_a_side_with_no_goal_to_attack_is_said_to_keep_it():
    assert "goes for goal, but amber only keep it." in sheet("keep-or-score")
    assert "only keep it" not in sheet("even-goals")


def test_who_comes_out_has_kept_it_as_long_as_the_others_may_win_it_back():
    assert "they win it and keep it for 5 s to come out." in sheet("win-it-back")
    assert "they win it and keep it for 7 s to come out." in sheet("win-it-back", "rules.lost.do.window.window=7")
    assert "they win it to come out." in sheet("two-squares")


def test_there_is_room_for_a_stroke_a_step_and_offside_and_keepers_are_told():
    (row,) = [line for line in sheet("three-lives").splitlines() if line.startswith("Steps down")]
    assert [int(part.split()[0]) for part in row.partition(": ")[2].split(", ")] == list(range(1, 9))
    assert "There is no offside." in sheet("even-goals") and "Keepers are tackled like anybody." in sheet("even-goals")
    assert "offside" not in sheet("four-gates")


def test_balls_beyond_the_last_of_a_bout_are_not_fetched():
    assert "Eight balls ready." in sheet("eight-balls")
    assert "Eight balls ready; after that" in sheet("eight-balls", "bouts.balls=9")


def test_a_third_that_only_its_own_players_enter_is_said_to_be_one():
    game = rules_in_words(load_game("locked-thirds"))
    assert " ".join(game.split()).count("only for those placed in it") == 2


def test_a_new_ball_in_play_within_a_window_is_stopped_again_for_what_follows():
    said = "A new ball already in play is stopped again for what follows."
    assert said in sheet("win-it-back")
    game = load_game("win-it-back", ["restarts.out.seconds=1", "restarts.start.seconds=4", "bouts.minutes=8"])
    bouts = (events_of(play_bout(game, draw_roster(game, seed, 0), seed)) for seed in range(1, 121))
    assert any(stopped_again(events) for events in bouts)  # it is rare: 3 in 40 bouts


def stopped_again(events: list[dict]) -> bool:
    """Whether a ball that came in within a window was in play as its time was up, and was dead from then on."""
    for window in of_kind(events, "window"):
        closes = window["t"] + 5.0
        came = [each["t"] for each in of_kind(events, "live") if window["t"] < each["t"] < closes]
        late = [
            each for each in of_kind(events, "rule") if each["cause"] == "late" and abs(each["t"] - closes) < TINY_S
        ]
        dead = [
            each for each in of_kind(events, "dead") if each["cause"] == "rule" and abs(each["t"] - closes) < TINY_S
        ]
        if came and late and dead:
            return True
    return False


def test_a_sheet_says_in_words_what_a_role_is_asked_and_leaves_the_share_to_check():
    assert "go and win it." in sheet("hunt-in-turn") and "press 0.8" not in sheet("hunt-in-turn")
    assert "go and win it (press 0.8)" in " ".join(rules_in_words(load_game("hunt-in-turn")).split())


def test_whoever_may_not_be_everything_is_to_be_found_on_the_lines():
    assert "Player 1, who begins on the lines of the square, has one touch" in sheet("on-the-line")
    assert "Player 8 is never an outside player" in sheet("on-the-line", "players.squad-8.never=['outside']")


def test_that_nobody_dribbles_from_area_to_area_is_said_where_there_is_ground_between():
    said = "Dribbled over the line of its area it is out."
    assert said in sheet("home-grids")
    assert said not in sheet("home-grids", "areas.east.gap=0")
