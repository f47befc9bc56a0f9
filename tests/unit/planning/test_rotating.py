"""A shipped game in turn: how it is set up, in how many bouts of what length, and what is refused."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from sim.errors import InputError
from sim.game.loader import load_game
from sim.groups.posts import shape_of
from sim.planning.block_loads import PLACE, BlockLoads, places_of, posts_of
from sim.planning.luck_in_turn import WithoutBall, game_of_luck, without_ball
from sim.planning.rotating import RESTING, Rotation, Wish, names_of, rotation
from sim.rules.rotation import starting_roles
from sim.words.commands import Given
from sim.words.rotate_screen import off_by_one, rotation_on_a_screen

SQUARE = load_game("tight-square")  # 4 v 2; bouts of 2 min, 1 min between
SEVEN = tuple("ABCDEFG")


def asked(game=SQUARE, names=SEVEN, **wish) -> Rotation:
    return rotation(game, Wish(names, **wish))


def test_seven_in_fifteen_minutes_are_equal_in_seven_shorter_bouts():
    found = asked(minutes=15)
    bouts = found.game.bouts
    assert (bouts.count, bouts.seconds, found.equal) == (7, 75.0, True)
    assert 7 * (bouts.seconds + 5.0) + 6 * 60.0 > 15 * 60 >= found.long_s == 7 * 75.0 + 6 * 60.0
    assert found.jobs == (("inside", 2), ("outside", 4), (RESTING, 1))
    assert found.members(0, 2) == ["G"] and found.starts_s()[:2] == [0.0, 135.0]


def test_five_bouts_are_not_equal_and_seven_would_be():
    found = asked(minutes=15, bouts=5)
    assert (found.game.bouts.seconds, found.equal, found.to_equal) == (120.0, False, 7)
    assert sorted(own[0] for own in found.exposure) == [1, 1, 1, 1, 2, 2, 2]
    better = found.equal_bouts()
    assert better is not None and (better.count, better.seconds) == (7, 75.0)


def test_too_little_time_for_equality_gives_what_there_is_time_for():
    found = asked(minutes=6)
    assert (found.game.bouts.count, found.equal, found.equal_bouts()) == (2, False, None)
    assert asked(minutes=12).game.bouts.count == 4  # seven would be of 50 s, less than half of 2 min


def test_with_plenty_of_time_bouts_stay_as_long_as_the_game_says():
    found = asked(minutes=45)
    assert (found.game.bouts.count, found.game.bouts.seconds) == (14, 120.0)
    assert asked().game.bouts.count == 7  # no minutes said


def test_nobody_rests_where_all_are_to_be_in_it():
    found = asked(resting=0)
    assert found.anew and len(found.game.players) == 7
    assert found.jobs == (("inside", 2), ("outside", 5)) and found.equal


def test_as_many_against_as_many_are_one_job_in_two_bibs():
    found = asked(load_game("even-keep-ball"), tuple(str(i) for i in range(12)))
    assert found.jobs == (("player", 8), ("floater", 2), (RESTING, 2))
    assert found.cells[0] == (("slate", 4), ("amber", 4))  # whoever begins without the ball first
    assert found.to_equal == 6


def test_places_of_one_side_are_one_job():
    found = asked(load_game("two-squares"), tuple(str(i) for i in range(13)))
    assert [count for _, count in found.jobs] == [3, 10] and len(found.cells[1]) == 2


def test_keepers_stay_in_goal():
    found = asked(load_game("break-away"), tuple(str(i) for i in range(9)))
    assert sum(count for _, count in found.jobs) == 9


def test_a_game_with_a_list_of_its_own_keeps_it():
    game = load_game("hunt-in-turn")
    found = asked(game)
    names = [name for name, _ in found.jobs]
    assert [[names[job] for job in row] for row in found.found] == [starting_roles(game, bout) for bout in range(7)]


def by_list(name: str, people: int) -> Rotation:
    game = load_game(name)
    return asked(
        game.model_copy(update={"bouts": game.bouts.model_copy(update={"rotate": "list"})}), names_of(people, None)
    )


@pytest.mark.parametrize(("name", "people"), [("two-squares", 13), ("break-away", 9)])
def test_a_list_of_its_own_may_have_places_that_are_one_job_and_keepers_beside_it(name: str, people: int):
    found = by_list(name, people)
    for row in found.found:
        assert [row.count(job) for job in range(len(found.jobs))] == [count for _, count in found.jobs]
    field = [i for i, one in enumerate(found.game.players) if found.game.role(one.role).style != "goal"]
    alike = [{cell for cell, _ in cells} | {job} for (job, _), cells in zip(found.jobs, found.cells, strict=True)]
    roles = [starting_roles(found.game, bout) for bout in range(found.game.bouts.count)]
    assert len(field) == people and all(
        roles[bout][i] in alike[job] for bout, row in enumerate(found.found) for i, job in zip(field, row, strict=True)
    )


def uneven(name: str, *counts: int) -> Rotation:
    """Two do a job, and others something else; of seven, each does it so often."""
    rows = tuple(tuple(0 if bout < own else 1 for own in counts) for bout in range(5))
    return replace(asked(bouts=5), jobs=((name, 2), ("outside", 5)), found=rows)


@pytest.mark.parametrize(
    ("name", "counts", "said"),
    [
        ("inside", (2, 1, 1, 1, 1, 1, 0), "one begins inside twice, five once, one never"),
        ("inside", (2, 2, 2, 1, 1, 1, 1), "three begin inside twice, four once"),
        ("forest", (2, 1, 1, 1, 1, 1, 1), "one begins as forest twice, six once"),
        (RESTING, (2, 1, 1, 1, 1, 1, 1), "one rests twice, six once"),
    ],
)
def test_who_is_off_by_how_much_is_told_of_however_many(name, counts, said):
    assert off_by_one(uneven(name, *counts)) == said


def test_a_role_called_resting_is_refused():
    game = load_game("tight-square")
    roles = tuple(one.model_copy(update={"name": RESTING}) if one.name == "inside" else one for one in game.roles)
    players = tuple(one.model_copy(update={"role": RESTING}) if one.role == "inside" else one for one in game.players)
    with pytest.raises(InputError) as refused:
        asked(game.model_copy(update={"roles": roles, "players": players}))
    assert str(refused.value).startswith("GAME: must have no role or team called resting")


def test_what_luck_does_is_played_in_as_many_bouts_as_somebody_plays():
    game = game_of_luck(asked(minutes=15))
    assert game is not None
    assert (game.bouts.count, game.bouts.seconds, game.bouts.rotate, game.bouts.roles) == (6, 75.0, "list", "list")
    assert game_of_luck(asked(load_game("home-grids"), tuple("ABCDEFGHIJKL"))) is None  # both have the ball in turn
    assert game_of_luck(asked(load_game("hunt-in-turn"))) is None  # everybody stays where he begins


def test_minutes_without_the_ball_are_read_over_all_players_and_evenings():
    loads = np.zeros((2, 6, len(PLACE)))
    loads[:, :, PLACE["session_time_defending_s"]] = 60.0 * np.arange(12).reshape(2, 6)
    own = BlockLoads(SQUARE, places_of(SQUARE), posts_of(SQUARE), loads, *np.ones((3, 2)))
    mean, usually = without_ball(asked(minutes=15), own)
    assert (mean, usually) == (pytest.approx(5.5), pytest.approx((1.1, 9.9)))


def test_where_turns_are_unequal_they_are_not_printed_as_luck():
    """Seven, one of whom rests, in five bouts: 30 turns, 4.29 each; five are played."""
    found = asked(minutes=15, bouts=5)
    game = game_of_luck(found)
    assert game is not None and game.bouts.count == 5
    loads = np.zeros((2, 6, len(PLACE)))
    loads[:, :, PLACE["session_time_defending_s"]] = 60.0 * np.arange(12).reshape(2, 6)
    mean, usually = without_ball(
        found, BlockLoads(SQUARE, places_of(SQUARE), posts_of(SQUARE), loads, *np.ones((3, 2)))
    )
    assert (mean, usually) == (pytest.approx(5.5 * 30 / 7 / 5), None)
    for luck, said in (
        (
            WithoutBall(4.7, None),
            "about 4.7 min each without the ball, counted while it rolls (a mean: turns are not equal).",
        ),
        (WithoutBall(5.5, (1.1, 9.9)), "(usually 1.1 to 9.9). "),
    ):
        text = " ".join(rotation_on_a_screen(found, luck, None, None, Given("rotate", "x", played=SQUARE)).split())
        assert said in text and ("Usually: eight players in ten." in text) == (luck.usually is not None)


@pytest.mark.parametrize(
    ("game", "wish", "said"),
    [
        ("in-pairs", Wish(tuple("ABCDEFGH")), "in in-pairs pairs change as a whole"),
        ("three-colours", Wish(tuple("ABCDEFGHIJKL")), "teams change as a whole"),
        ("on-the-line", Wish(tuple("ABCDEFGHI")), "everybody may do everything"),
        ("tight-square", Wish(SEVEN, minutes=1), "--minutes: must be 2 at least, for one bout (got 1)"),
        ("tight-square", Wish(SEVEN, minutes=5, bouts=7), "--minutes: must be 7 at least for 7 bouts (got 5)"),
        ("tight-square", Wish(SEVEN, minutes=1, bouts=2), "--minutes: must be 2 at least for 2 bouts (got 1)"),
        ("tight-square", Wish(SEVEN, resting=7), "--resting: must be fewer than the 7 who are there (got 7)"),
        ("tight-square", Wish(tuple(map(str, range(20)))), "`overload regroup tight-square --players 20` makes groups"),
    ],
)
def test_what_cannot_be_is_refused_with_what_would_do(game, wish, said):
    with pytest.raises(InputError) as refused:
        rotation(load_game(game), wish)
    assert said in str(refused.value)


def test_minutes_that_would_do_are_whole_and_do():
    with pytest.raises(InputError, match="must be 2 at least, for one bout"):
        asked(SQUARE.model_copy(update={"bouts": SQUARE.bouts.model_copy(update={"seconds": 90.0})}), minutes=1)
    found = asked(minutes=7, bouts=7)
    assert (found.game.bouts.seconds, found.long_s) == (5.0, 395.0)


def test_names_are_as_typed_or_numbers():
    assert names_of(None, " Ann, Bea ,Cy") == ("Ann", "Bea", "Cy") and names_of(3, None) == ("1", "2", "3")
    for people, typed, said in (
        (None, None, "--players: must be given"),
        (None, "Ann,Bea,Ann", "must name everybody once (got Ann twice)"),
        (4, "Ann,Bea", "must be as many as --names has, 2"),
        (None, "Ann", "must name two people at least"),
        (None, f"Ann,{'x' * 41}", "must be names of 40 printable characters at most"),
    ):
        with pytest.raises(InputError) as refused:
            names_of(people, typed)
        assert said in str(refused.value)


@pytest.mark.parametrize("name", ["six-on-four", "waves", "play-out", "eights"])
def test_a_role_that_both_sides_have_is_told_by_the_bib(name: str):
    game = load_game(name)
    people = sum(post.count for post in shape_of(game).posts if post.part != "keeper") + 1
    found = asked(game, tuple(str(i) for i in range(people)))
    heads = [cell for cells in found.cells for cell, _ in cells]
    assert len(set(heads)) == len(heads) and sum(count for _, count in found.jobs) == people
    if name == "six-on-four":
        assert found.jobs == (("slate", 4), ("amber", 6), (RESTING, 1))
        given = Given("rotate", name, played=game)
        text = " ".join(rotation_on_a_screen(found, None, None, None, given).split())
        assert "Everybody begins in slate four times, in amber six times and rests once." in text
