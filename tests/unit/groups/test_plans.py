"""A game for other numbers: everybody has a place, as much room as before, and nobody's limit is broken."""

from __future__ import annotations

import tomllib
from dataclasses import replace
from math import inf
from types import SimpleNamespace

import pytest

from sim.errors import InputError
from sim.game.loader import load_game, resolve, to_short
from sim.groups.brief import brief
from sim.groups.choosing import told_apart
from sim.groups.fitting import fits
from sim.groups.ground import stretched
from sim.groups.likeness import WEIGHTS, Likeness, likeness_of, off, together
from sim.groups.making import room_of
from sim.groups.plans import MOST_GROUPS, Turnout, plans
from sim.groups.posts import shape_of
from sim.groups.regroup import Regrouped, SetUp
from sim.groups.splits import Split, splits
from sim.pitch.engine import play_bout
from sim.players import draw_roster
from sim.words.commands import Given
from sim.words.regroup_screen import figures, regrouped_on_a_screen, under_the_cap

TURNOUTS = (Turnout(14, 0, 2), Turnout(17, 2, 2))
GAMES = ("tight-square", "in-pairs", "even-keep-ball", "losers-off", "break-away")


@pytest.mark.parametrize("name", GAMES)
def test_everybody_has_a_place_and_as_much_room(name: str):
    game = load_game(name)
    keepers = shape_of(game).count("keeper")
    for turnout in TURNOUTS:
        for plan in plans(game, turnout):
            on_the_lines = sum(wanted.keepers for wanted, _ in plan.groups)
            assert plan.people == turnout.players + on_the_lines and len(plan.groups) <= MOST_GROUPS
            assert plan.keepers_apart == turnout.keepers - on_the_lines - keepers * len(plan.groups)
            careful = [player for _, own in plan.groups for player in own.players if player.restricted]
            assert len(careful) == turnout.restricted
            for wanted, own in plan.groups:
                assert len(own.players) == wanted.split.people + keepers
                assert room_of(own) == pytest.approx(room_of(game), rel=0.1)  # sizes are whole metres
                assert all(area.length == int(area.length) and area.width == int(area.width) for area in own.areas)


@pytest.mark.slow
@pytest.mark.parametrize("name", ["tight-square", "even-keep-ball", "home-grids"])
def test_whoever_is_on_reduced_load_keeps_to_his_role_and_meets_no_tackle(name: str):
    _, own = plans(load_game(name), Turnout(15, 1))[0].groups[0]
    (careful,) = [player.id for player in own.players if player.restricted]
    log = play_bout(own, draw_roster(own, 5, 0), 5, 0, 0)
    mine = [event for event in log.events if careful in (event[3], event[4])]
    assert {event[6] for event in mine if event[2] == "job"} == {
        own.players[[p.id for p in own.players].index(careful)].role
    }
    assert not [event for event in mine if event[2] in ("tackle", "swap")]
    assert any(event[2] in ("tackle", "swap", "home") for event in log.events)


def test_teams_that_change_whole_stay_of_one_size_and_pairs_whole():
    for plan in plans(load_game("three-colours"), Turnout(16)):
        for _, own in plan.groups:
            assert len({len(team.players) for team in own.teams if team.name in ("amber", "slate", "white")}) == 1
    for plan in plans(load_game("in-pairs"), Turnout(15)):
        for _, own in plan.groups:
            sides = [sum(player.role == role for player in own.players) for role in ("outside", "inside")]
            assert all(count % 2 == 0 for count in sides) and 2 * len(own.teams[0].pairs) == sum(sides)


def test_nobody_on_reduced_load_is_left_in_a_role_where_he_runs_like_the_others():
    for name in ("end-to-end", "four-gates", "even-goals"):
        for plan in plans(load_game(name), Turnout(16, 1, 2)):
            careful = [player.role for _, own in plan.groups for player in own.players if player.restricted]
            assert careful == ["support"]


def test_odd_numbers_make_a_floater_or_let_one_wait():
    found = plans(load_game("even-goals"), Turnout(11, 0, 2))
    assert {(plan.waiting, sum(wanted.split.floaters for wanted, _ in plan.groups)) for plan in found} >= {
        (0, 1),
        (1, 0),
    }


def test_splits_keep_the_share_that_defends():
    shape = shape_of(load_game("tight-square"))
    assert splits(shape, 9, 0)[0] == Split(6, 3) and splits(shape, 6, 0)[0] == Split(4, 2)
    assert [one.people for one in splits(shape, 8, 1)] == [8] * len(splits(shape, 8, 1))
    assert splits(shape, 2, 0) == []


@pytest.mark.parametrize(
    ("turnout", "said"),
    [
        (Turnout(400), "--players: tight-square holds 60 players at most, in 4 groups"),
        (Turnout(2), "--players: tight-square needs 4 players at least"),
        (Turnout(6, 5), "--restricted: nobody is left to defend: at most 3 of 6 on reduced load (got 5)"),
        (Turnout(6, 7), "--restricted: must be at most the 6 players who are there (got 7)"),
    ],
)
def test_what_cannot_be_is_refused_in_a_line(turnout, said):
    with pytest.raises(InputError) as refusal:
        plans(load_game("tight-square"), turnout)
    assert str(refusal.value).startswith(said) and "\n" not in str(refusal.value)


def test_as_many_on_reduced_load_as_the_refusal_allows_can_be_set_up():
    assert plans(load_game("tight-square"), Turnout(6, 3)) and plans(load_game("tight-square"), Turnout(4))


def test_a_game_with_goals_needs_its_keepers():
    with pytest.raises(InputError, match="--keepers: even-goals needs 2 in goal: put an outfield player there"):
        plans(load_game("even-goals"), Turnout(12, 0, 1))
    with pytest.raises(InputError, match="even-goals holds 25 players at most, in one group with 2 keepers"):
        plans(load_game("even-goals"), Turnout(30, 0, 2))
    assert len(plans(load_game("even-goals"), Turnout(30, 0, 4))[0].groups) == 2
    assert plans(load_game("even-goals"), Turnout(12, 0, 3))[0].keepers_apart == 1


def test_the_ground_is_stretched_in_whole_metres_and_what_touched_still_touches():
    game = load_game("four-goals")
    own = resolve(stretched(to_short(game), 1.3), "x", "x")
    (area,) = own.areas
    assert (area.length, area.width) == (47, 39)
    assert {abs(goal.x) for goal in own.goals} == {area.length / 2}
    assert {goal.width for goal in own.goals} == {goal.width for goal in game.goals}
    line = resolve(stretched(to_short(load_game("no-way-back")), 0.7), "x", "x")
    assert line.gates[0].width == line.areas[0].width
    squares = resolve(stretched(to_short(load_game("two-squares")), 1.5), "x", "x")
    west, east = squares.areas
    assert (west.length, east.bounds[0] - west.bounds[2]) == (21, 12)


def test_zones_are_stretched_with_their_area():
    for name, factor in (("locked-thirds", 1.3), ("zones", 0.7)):
        before = load_game(f"tests/cases/language/{name}.toml")
        after = resolve(stretched(to_short(before), factor), "x", "x")
        (pitch,), (larger,) = before.areas, after.areas
        along, across = larger.length / pitch.length, larger.width / pitch.width
        assert along == pytest.approx(factor, rel=0.03) and len(after.zones) == len(before.zones)
        for was, now in zip(before.zones, after.zones, strict=True):
            wanted = (was.x * along, was.y * across, was.length * along, was.width * across)
            assert (now.x, now.y, now.length, now.width) == pytest.approx(wanted), (name, was.name)


def test_a_game_with_zones_is_set_up_for_others():
    game = load_game("tests/cases/language/end-zones.toml")
    (_, own), *_ = plans(game, Turnout(16))[0].groups
    (pitch,) = own.areas
    assert pitch.length > 45 and [zone.length / pitch.length for zone in own.zones] == pytest.approx([6 / 40, 6 / 40])
    assert [abs(zone.x) + zone.length / 2 for zone in own.zones] == pytest.approx([pitch.length / 2] * 2)


@pytest.mark.parametrize(("name", "players"), [("three-squares", 9), ("three-squares", 8), ("one-more", 8)])
def test_squares_stay_squares_and_areas_alike_stay_alike(name: str, players: int):
    planned = load_game(name)
    squares = [area.name for area in planned.areas if area.length == area.width]
    for plan in plans(planned, Turnout(players)):
        for _, own in plan.groups:
            sizes = {(area.length, area.width) for area in own.areas if area.name in squares}
            assert len(sizes) == 1 and all(length == width == round(length) for length, width in sizes)


@pytest.mark.parametrize("name", ["tight-square", "in-pairs", "break-away", "four-gates", "three-lives", "on-the-line"])
def test_a_game_is_written_short_and_comes_back_the_same(name: str):
    game = load_game(name)
    text = brief(game)
    assert resolve(tomllib.loads(text), name, name) == game
    assert len(text.splitlines()) <= 30


def test_a_size_comes_back_to_the_last_digit():
    game = load_game("tight-square", ["areas.square.length=11.1234567890123"])
    assert resolve(tomllib.loads(brief(game)), game.name, game.name) == game


def test_how_far_a_set_up_is_from_what_was_planned():
    planned = Likeness(20, 0.3, 3.0, 0.1, {"mine": 0.7, "others": 0.3})
    assert off(planned, planned).total == 0
    other = off(planned, Likeness(30, 0.3, 3.0, 0.1, {"mine": 0.6, "others": 0.3, "waits": 0.1}))
    assert (other.area, other.defending, other.losses) == (pytest.approx(0.5), 0, 0)
    assert other.roles == pytest.approx(0.1)
    assert other.total == pytest.approx((WEIGHTS["area"] * 0.5 + WEIGHTS["roles"] * 0.1) / 100)
    assert sum(WEIGHTS.values()) == 100


def test_where_our_doubt_is_not_known_nothing_is_called_closer():
    game, row = (
        load_game("tight-square"),
        SimpleNamespace(mean=2.0, low=None, high=None, session_low=None, session_high=None),
    )  # one session has no range
    one = likeness_of(game, SimpleNamespace(row=lambda *_: row))
    assert one.doubt == inf and (one.losses, one.defending) == (2.0, 2.0)
    turnout = Turnout(9)
    first, second = (SetUp(plan, one, off(one, one)) for plan in told_apart(plans(game, turnout))[:2])
    second = replace(second, off=replace(second.off, area=1.0))
    found = Regrouped(game, turnout, one, (first, second), 1, 1)
    text = " ".join(regrouped_on_a_screen(found, [], None, Given("regroup", "tight-square", played=game)).split())
    assert found.close and "Too close to call" in text and "Only one session of each was played" in text
    sure = replace(one, doubt=0.1)
    surely = (replace(first, likeness=sure), replace(second, likeness=sure))
    assert not replace(found, planned=sure, set_ups=surely).close
    many = replace(found, planned=sure, set_ups=surely, sessions=10)
    assert "sessions of each" not in regrouped_on_a_screen(
        many, [], None, Given("regroup", "tight-square", played=game)
    )


def test_those_on_reduced_load_do_not_make_the_others_defend_less():
    """Four of six never defend: the other two do all of it, and that is what each of them meets."""
    game = load_game("tight-square", [f"players.squad-{n}.restricted=true" for n in (1, 2, 3, 4)])

    def row(measure: str, scope: str = "game") -> SimpleNamespace:
        inside = measure == "defending_share" and scope in ("player:squad-5", "player:squad-6")
        return SimpleNamespace(mean=float(inside), low=0.0, high=0.0, session_low=0.0, session_high=0.0)

    assert likeness_of(game, SimpleNamespace(row=row)).defending == 1.0


def test_which_games_hold_so_many():
    games = [
        load_game(name) for name in ("tight-square", "hunt-in-turn", "even-keep-ball", "even-goals", "two-squares")
    ]
    found = {fit.game.name: (fit.how, fit.groups, fit.waiting) for fit in fits(games, 14)}
    assert found["hunt-in-turn"] == ("side by side", 2, 0)
    assert found["tight-square"] == ("waiting", 2, 2) and found["two-squares"] == ("waiting", 1, 1)
    assert found["even-goals"][0] == found["even-keep-ball"][0] == "set up anew"
    assert [fit.how for fit in fits(games[:1], 6)] == ["as it is"]
    assert [fit.how for fit in fits(games[:1], 2)] == ["not at all"]


def test_those_on_reduced_load_are_told_their_minutes_under_their_cap():
    game = load_game("tight-square")  # four bouts of 2 min
    assert under_the_cap(game, Turnout(17, 1), 40.4) == ("8 min in four bouts, about 320 m (a mean; evenings differ)")
    capped = under_the_cap(game, Turnout(17, 1, most_bouts=3), 40.4)
    assert capped == (
        "6 min in three bouts, about 240 m (a mean; evenings differ); his group is one fewer in the other bout"
    )
    assert under_the_cap(game, Turnout(17, 1, most_bouts=1), 40.4).endswith("in the other three bouts")
    assert under_the_cap(game, Turnout(17, 1, most_bouts=9), 40.4) == under_the_cap(game, Turnout(17, 1), 40.4)
    with pytest.raises(InputError, match="--most-bouts: must go with --restricted"):
        plans(game, Turnout(17, most_bouts=3))


def test_a_set_up_needs_somebody_with_the_watch_and_a_server_a_group():
    game = load_game("tight-square")
    assert [plan.staff - len(plan.groups) for plan in plans(game, Turnout(17))] == [1] * len(plans(game, Turnout(17)))


def test_what_one_evening_brings_stands_beside_the_losses_of_every_set_up():
    one = Likeness(20, 0.3, 3.0, 0.1, {"mine": 1.0}, (2.0, 4.0))
    two = replace(one, usually=(1.0, 6.0))
    plan = next(one for one in plans(load_game("tight-square"), Turnout(9)) if len(one.groups) == 2)
    first, second = (wanted for wanted, _ in plan.groups)  # of five and of four
    assert together([(first, one), (second, two)], 0).usually == pytest.approx((14 / 9, 44 / 9))
    assert together([(first, one), (second, replace(one, usually=None))], 0).usually is None
    assert figures(one)[2] == "3.0 (2.0-4.0)" and figures(replace(one, usually=None))[2] == "3.0"
