"""What is played without any rule of the file saying so is said, where it applies and nowhere else."""

from __future__ import annotations

import pytest

from sim.game.loader import load_game
from sim.game.model import Game
from tests.support.rules_said import rules_said

KEEPERS = "  The side with the ball may pass back to its keepers when their goal is on the area in play."
FRONT = "  Goal left-goal looks to the right: a ball from behind it counts for nothing."
WHISTLE = "  A shot struck before the whistle counts: time runs on until it is in, saved or out."
ROOM = "  At every start and restart opponents keep 4 m off whoever gets the ball, where there is room."
NOT_YET = "  Until then it is still the other side's ball: if the new side put it out or hold it too long, nobody has lost it."
NO_SHOT = "  Until then the new side may not shoot; a ball the keeper saves is won at once."


def said(game: Game) -> list[str]:
    return rules_said(game).splitlines()


def test_keepers_are_supports_where_the_ball_is_kept():
    kept = load_game("even-goals")
    phase = kept.phases[0].model_copy(update={"aim": "keep"})
    assert KEEPERS in said(kept.model_copy(update={"phases": (phase,)}))
    assert KEEPERS not in said(kept) + said(load_game("even-keep-ball"))


def test_a_goal_inside_the_field_has_a_front():
    game = load_game("even-goals")
    assert FRONT not in said(game)
    moved = tuple(goal.model_copy(update={"x": 0.5 * goal.x}) for goal in game.goals)
    assert FRONT in said(game.model_copy(update={"goals": moved}))


@pytest.mark.parametrize(("name", "shots"), [("even-goals", True), ("break-away", True), ("tight-square", False)])
def test_the_whistle_waits_for_a_shot_where_there_are_any(name: str, shots: bool):
    assert (WHISTLE in said(load_game(name))) is shots
    assert ROOM in said(load_game(name))


def test_what_a_winner_may_do_before_his_win_counts():
    hold = ["win.confirm=hold", "win.seconds=2"]
    assert NOT_YET in said(load_game("tight-square", hold)) and NO_SHOT not in said(load_game("tight-square", hold))
    assert NOT_YET in said(load_game("even-goals", hold)) and NO_SHOT in said(load_game("even-goals", hold))
    assert not {NOT_YET, NO_SHOT} & set(said(load_game("even-goals")))


def test_the_lines_are_spoken_of_only_where_players_stand_on_them():
    assert any("over the line of the square" in line for line in said(load_game("tight-square")))
    for name in ("even-goals", "even-keep-ball", "home-grids", "break-away"):
        assert not any(
            "A ball over the line of" in line or "in which play goes on" in line for line in said(load_game(name))
        )


def test_what_becomes_of_a_ball_half_won_is_said_with_who_swaps():
    text = "\n".join(said(load_game("play-out")))
    assert (
        "gets it back under control before that, nobody has lost it and nobody swaps; the three passes then start from"
        in text
    )
    assert "the one who gave it away swaps" in text
    assert "from the moment the others have it, then defend as before" in text
    held = "\n".join(said(load_game("play-out", ['win={ confirm = "hold", seconds = 2 }'])))
    assert "gets it back" in held and "the three passes" not in held
    at_once = "\n".join(said(load_game("play-out", ['win={ confirm = "control" }'])))
    assert "gets it back" not in at_once and "after losing it, then defend as before" in at_once
