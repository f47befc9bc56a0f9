"""Who plays, with which number and id."""

from __future__ import annotations

from pathlib import Path

from sim.game.loader import load_game, resolve, to_short

CASES = Path(__file__).resolve().parents[2] / "cases"


def test_numbers_run_on_over_the_roles_of_a_team():
    game = load_game("two-squares")
    roles = {player.number: player.role for player in game.players}
    assert roles == {n: "west" if n <= 5 else "east" if n <= 10 else "chaser" for n in range(1, 14)}
    assert all(player.id == f"squad-{player.number}" for player in game.players)


def test_numbers_run_on_in_every_team_by_itself():
    game = load_game("even-goals")
    assert game.team("amber").players == tuple(f"amber-{n}" for n in range(1, 7))
    assert game.team("slate").players == tuple(f"slate-{n}" for n in range(1, 7))
    assert {p.id: p.role for p in game.players if p.number == 6} == {"amber-6": "west-keeper", "slate-6": "east-keeper"}


def test_counted_players_take_the_numbers_that_nobody_wrote():
    game = load_game(CASES / "valid" / "written-ids.toml")
    assert {p.id: p.number for p in game.players} == {
        "left-foot": 1, "squad-2": 2, "squad-3": 3, "squad-4": 4, "squad-7": 7, "squad-9": 9,
    }  # fmt: skip
    assert {p.id for p in game.players if p.role == "inside"} == {"squad-2", "squad-4"}


def test_written_numbers_of_one_team_leave_the_other_alone():
    # The written 1 of slate's keeper is free for amber, whichever team stands last in the file.
    game = load_game(CASES / "invalid" / "goal-too-wide.toml", ["goals.west-goal.width=5"])
    assert {p.number for p in game.players if p.team == "amber"} == {1, 2, 3, 4, 5, 6}
    assert {p.number for p in game.players if p.team == "slate"} == {1, 2, 3, 4, 5, 6}


def test_the_order_of_a_written_list_does_not_matter():
    change = 'roles.outside.players=["left-foot", 3, 9, 7]'
    file = CASES / "valid" / "written-ids.toml"
    assert load_game(file, [change]) == load_game(file)


def test_a_written_number_goes_round():
    game = load_game(CASES / "valid" / "written-ids.toml", ["players.left-foot.number=22"])
    assert {p.id: p.number for p in game.players}["left-foot"] == 22
    assert {p.id for p in game.players if p.role == "inside"} == {"squad-1", "squad-2"}
    assert resolve(to_short(game), "again") == game


def test_own_values_and_the_team_s_stay_apart():
    game = load_game(CASES / "valid" / "written-ids.toml")
    left_foot = next(player for player in game.players if player.id == "left-foot")
    assert (left_foot.pass_success, left_foot.pressing_speed, left_foot.recovery) == (0.9, None, 60.0)
    assert game.team("squad").pass_success == 0.8
    assert next(player for player in game.players if player.id == "squad-3").pass_success is None
