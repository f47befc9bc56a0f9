"""The words do not contradict themselves: what no rule says is said for whom it is true, and only for them."""

from __future__ import annotations

import pytest

from sim.game.loader import load_game
from sim.words.without_a_rule import NO_GOAL_YET
from tests.support.games import GAMES as SIX
from tests.support.rules_said import rules_said

LOST = "phases.keep.rules.loser-goes-in"
ANYBODY = ("Lose it:", "Lose it with", "Lose it by", "Lose it other")  # whoever it is
SERVED = "after 4 s the server plays a new ball in to the outside players"


def lines(name: str, *changes: str) -> list[str]:
    return [line.strip() for line in rules_said(load_game(name, list(changes))).splitlines()]


def test_play_goes_on_for_those_whom_no_rule_of_the_loss_stops():
    said = lines("tight-square", f"{LOST}.by=outside", f"{LOST}.causes=['tackle', 'out']")
    head = "If the outside players lose it by a tackle or playing it out: whoever lost it swaps with the one who"
    assert any(line.startswith(head) for line in said)
    assert "If the inside players lose it with the ball still in: play goes on, whoever wins it has it." in said
    assert not [line for line in said if line.startswith(ANYBODY)]


def test_nothing_is_said_of_what_a_side_does_with_a_ball_it_never_has():
    said = lines("tight-square", f"{LOST}.by=outside")
    assert not [line for line in said if line.startswith(("If the inside players lose it", "Lose it with"))]
    assert not [line for line in said if "without having had it" in line]
    assert "Nobody holds the ball longer than 6 s or takes a touch too many: then it is lost." in said


def test_play_goes_on_after_the_losses_that_no_rule_stops():
    said = lines("tight-square", f"{LOST}.causes=['tackle', 'out']")
    assert "Lose it by a pass cut out or a heavy touch: play goes on, whoever wins it has it." in said


def test_a_rule_of_the_loss_that_does_not_stop_play_says_so():
    said = lines("tight-square", f"{LOST}.do=[{{ swap = 'loser', with = 'winner' }}]")
    swapped = "Lose it: whoever lost it swaps with whoever won it"
    assert any(line.startswith(swapped) for line in said)
    assert "Lose it with the ball still in: play goes on after that, whoever wins it has it." in said


def test_a_rule_of_the_win_that_stops_play_is_not_denied():
    said = lines(
        "even-keep-ball", "phases.keep.rules={ stop = { on = 'win', by = 'amber', do = [{ restart = 'start' }] } }"
    )
    assert "If amber lose it with the ball still in: play goes on, whoever wins it has it." in said
    assert not [line for line in said if line.startswith(("If slate lose it", *ANYBODY))]


def test_a_ball_over_the_line_is_said_for_whom_no_rule_gives_another():
    assert f"If the inside players put it over the line: {SERVED}; that doesn't count as a loss." in lines(
        "tight-square"
    )
    said = lines("tight-square", f"{LOST}.causes=['tackle', 'out']", f"{LOST}.by=outside")
    assert f"If the inside players put it over the line: {SERVED}." in said
    assert (
        f"If the outside players put it over the line without having had it: {SERVED}; that doesn't count as a loss."
        in said
    )
    assert "Over the line:" in " ".join(lines("even-keep-ball"))


def test_what_follows_a_shot_is_said_where_no_rule_does():
    said = lines("even-goals", "phases.play.rules={}")
    assert "On a goal: after 4 s the server plays a new ball in to amber." in said
    assert "On a save: the keeper has it, and play goes on." in said
    assert any(line.startswith("On a miss: the ball goes to the side that did not touch it last") for line in said)
    assert not [line for line in lines("even-keep-ball") if "shot" in line or "goal" in line]


def test_a_shot_turned_aside_is_told_where_there_are_shots_and_a_touch_does_not_win_it():
    turned = "A shot an opponent turns aside, also a keeper"
    assert any(line.startswith(turned) for line in lines("even-goals"))
    for name, changes in (("even-goals", ["win.confirm=touch"]), ("even-keep-ball", [])):
        assert not [line for line in lines(name, *changes) if line.startswith(turned)]


def test_a_side_that_cannot_score_is_told_beside_the_points():
    (points,) = [line for line in lines("two-squares") if line.startswith("A point")]
    assert points.endswith("The chasers cannot score: they win it to come out.")
    assert not [line for name in ("waves", "tight-square") for line in lines(name) if "cannot score" in line]


def test_a_bout_begins_as_it_is_played():
    assert "The server plays the first ball of every bout in to the outside players." in lines("tight-square")


def test_a_role_called_player_is_not_called_twice():
    change = "phases.keep.rules.point.do=[{ assign = 'player', of = 'holder', from = 'player', count = %d }]"
    assert any(
        "of the players of the side with the ball the two nearest" in line
        for line in lines("even-keep-ball", change % 2)
    )
    one = (
        "of the players of the side with the ball the one nearest the ball (never the one on the ball) becomes a player"
    )
    assert any(one in line for line in lines("even-keep-ball", change % 1))


def test_the_side_that_gets_it_is_not_the_side_that_lost_it():
    change = "phases.keep.rules={ after = { on = 'loss', do = [{ reset = 'wins' }, { score = 1, to = '%s' }] } }"
    for word, said in (
        ("holder", "the side that gets it"),
        ("winner", "the other side"),
        ("loser", "the side that lost it"),
    ):
        assert any(f"; a point for {said}." in line for line in lines("even-keep-ball", change % word))


def test_a_save_gives_the_point_to_the_side_that_shot():
    change = "phases.play.rules={ saved = { on = 'save', do = [{ score = 1, to = 'holder' }] } }"
    assert any("On a save: a point for the side that shot." in line for line in lines("even-goals", change))


@pytest.mark.parametrize("name", SIX)
def test_nothing_is_said_twice_under_one_heading_and_no_heading_is_empty(name):
    for block in rules_said(load_game(name)).split("\n\n"):
        heading, *said = block.splitlines()
        assert said and len(said) == len(set(said)), heading


def test_the_same_points_are_said_once():
    game = load_game("break-away")
    twice = game.model_copy(update={"phases": (*game.phases, game.phases[1].model_copy(update={"name": "again"}))})
    block = rules_said(twice).partition("Points\n")[2].partition("\n\n")[0]
    assert block.count("oint for the builders (on a goal)") == 1


def test_a_shot_that_a_rule_of_the_loss_answers_is_said_to_be_a_loss():
    rules = "phases.play.rules={ lost = { on = 'loss', %sdo = [{ restart = 'start' }] }%s }"
    goal = ", goal = { on = 'goal', do = [{ score = 1 }, { restart = 'start' }] }"
    both = "what follows a loss follows, too."
    assert f"After a saved shot or a missed shot {both}" in lines("even-goals", rules % ("", goal))
    assert f"After a goal, a saved shot or a missed shot by amber {both}" in lines(
        "even-goals", rules % ("by = 'amber', ", "")
    )
    for said in (rules % ("causes = ['tackle'], ", goal), "phases.play.rules={}"):
        assert not [line for line in lines("even-goals", said) if "what follows a loss follows, too" in line]


def test_a_game_without_keepers_says_nothing_of_keepers_and_saves():
    said = "\n".join(lines("four-goals"))
    assert "keeper" not in said and "saved" not in said and "On a save" not in said
    assert "keeper" in "\n".join(lines("even-goals"))


def test_a_ball_in_the_goal_before_shots_count_is_said_to_be_out():
    assert any(NO_GOAL_YET in line for line in lines("four-goals"))
    assert not any(NO_GOAL_YET in line for line in lines("four-goals", "phases.play.open=['shoot']"))


def test_a_ball_put_out_by_the_side_that_has_it_is_lost_where_a_rule_says_what_follows():
    lost = "If the outside players put it over the line, they have lost it."
    assert lost in lines("play-out")
    assert lost not in lines("hunt-in-turn")


def test_what_a_rule_gives_to_all_it_gives_to_both_sides():
    assert any("all players of both sides become home players" in line for line in lines("home-grids"))


def test_passes_away_from_home_are_said_to_count_where_passes_count():
    count = "Passes in a row count away from home, too."
    assert any(count in line for line in lines("home-grids"))
    assert not any(count in line for line in lines("even-goals"))
