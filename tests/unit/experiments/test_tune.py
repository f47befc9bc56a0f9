"""Tuning: a known optimum is found, a target out of reach is refused plainly, and workers do not matter."""

from __future__ import annotations

import json

import numpy as np
import pytest
from typer.testing import CliRunner

from cli.app import app
from cli.tune import turned
from sim.errors import GameError
from sim.experiments.replicate import replicate
from sim.experiments.tune import FRESH, MOST, bisect, crossings, point_of, tune
from sim.experiments.tuned import Point
from sim.game.loader import load_game
from sim.words.tuned import tuned_in_words
from tests.unit.measures.handmade import square_bout, square_game

GAME = square_game(count=3)
SHARE = ("in_play_share", "game")


def long(length: int):
    return GAME.model_copy(update={"areas": tuple(a.model_copy(update={"length": float(length)}) for a in GAME.areas)})


GAMES = {length: long(length) for length in range(10, 16)}


def staged_sizes(game, seed, replicate):
    """Each metre beyond 10 delays the first loss by a second; luck from 0 to 3 s is shared by all sizes."""
    for number in range(game.bouts.count):
        luck = ((seed + 7 * replicate + 3 * number) % 11) * 0.3
        yield square_bout(replicate, number, late=game.areas[0].length - 10 + luck)


def tuned(target: float, **more):
    more = {"bouts": 30, "workers": 1, "session": staged_sizes} | more
    return tune(GAME, GAMES, "side", (*SHARE, target), **more)


def truth(length: int) -> float:
    """In play 43 s of 60 without a delay, and a second more for each metre and for 1.5 s of luck on average."""
    return (43 + length - 10 + 1.5) / 60


def test_the_known_size_is_found():
    for length in (11, 13, 14):
        found = tuned(truth(length))
        assert (found.answer, found.reached) == (length, True)
        assert found.fresh.mean == pytest.approx(truth(length), abs=0.004)
        assert found.effects[0].first != found.effects[0].second


def test_the_curve_has_every_candidate_with_its_side():
    found = tuned(truth(12) + 0.5 / 60)
    assert [point.value for point in found.curve] == list(GAMES)
    assert [point.side for point in found.curve] == ["below"] * 3 + ["above"] * 3
    assert found.answer in (12, 13) and found.reached and found.as_good == ()
    assert "No whole value hits it" in tuned_in_words(found)


@pytest.mark.parametrize(("target", "nearest"), [(0.5, 10), (0.99, 15)])
def test_out_of_reach_is_a_plain_no_with_the_nearest(target, nearest):
    found = tuned(target)
    assert (found.reached, found.answer) == (False, nearest)
    assert f"no, side between 10 and 15 does not get there. The nearest is {nearest};" in tuned_in_words(found)


def test_any_number_of_workers_gives_the_same_bits():
    assert tuned(truth(13), workers=1) == tuned(truth(13), workers=2)


def test_json_is_strict():
    def refuse(word):
        raise AssertionError(word)

    data = json.loads(tuned(truth(13)).to_json(), parse_constant=refuse)
    assert (data["answer"], data["target"]) == (13, truth(13))


def poisson(rates: dict[int, float], target: float, rng):
    """Counting a Poisson process of known rate per minute for two minutes a bout."""

    def play(number: int, bouts: int) -> Point:
        counts = rng.poisson(2 * rates[number], bouts) / 2
        half = 1.96 * counts.std(ddof=1) / bouts**0.5
        mean = counts.mean()
        side = "below" if mean + half < target else "above" if mean - half > target else "at"
        return Point(number, mean, mean - half, mean + half, bouts, side)

    return play


def test_bisection_recovers_the_optimum_of_a_closed_form():
    """Losses of constant success, rate 30/size a minute: 10 gives 3.0 (closed form); 12 gives 2.5, 8 gives 3.75."""
    rates, rng, found = {size: 30 / size for size in range(6, 16)}, np.random.default_rng(5), []
    for _ in range(40):
        play = poisson(rates, 3.0, rng)
        curve = bisect({size: play(size, 100) for size in rates}, 100, play)
        best = [point for point in curve if point.side == "at" and point.bouts == MOST * 100]
        found.append(min(best or curve, key=lambda point: abs(point.mean - 3)).value)
    assert all(9 <= size <= 11 for size in found)
    assert found.count(10) >= 28


def test_undecided_candidates_get_more_bouts_and_decided_ones_do_not():
    asked = []

    def play(number, bouts):
        asked.append((number, bouts))
        return Point(number, 3.0, 2.9, 3.1, bouts, "at")

    def decided(number, side):
        return Point(number, 0.0, 0.0, 0.0, 10, side)

    points = {1: decided(1, "below"), 2: decided(2, "at"), 3: decided(3, "above")}
    assert [point.bouts for point in bisect(points, 10, play)] == [10, 40, 10]
    assert asked == [(2, 20), (2, 40)]


def test_a_curve_that_turns_back_is_noticed():
    sides = ["below", "above", "at", "above", "below"]
    assert crossings([Point(i, 0.0, 0.0, 0.0, 1, side) for i, side in enumerate(sides)]) == 2


def test_a_side_keeps_the_shape_and_alike_areas_go_together():
    game = load_game("two-squares")
    names = [area.name for area in game.areas]
    alike = turned(game, "side", 12)
    assert len(alike) == 2 * len(names)
    assert turned(game, f"{names[0]}.side", 12) == [f"areas.{names[0]}.length=12", f"areas.{names[0]}.width=12"]
    assert turned(game, "roles.x.touches", 2) == ["roles.x.touches=2"]
    with pytest.raises(GameError, match="--knob: must name an area"):
        turned(game, "nowhere.side", 12)
    oblong = load_game("tight-square", ["areas.square.length=12", "areas.square.width=8"])
    assert turned(oblong, "side", 9) == ["areas.square.length=9", "areas.square.width=6"]


@pytest.mark.parametrize(
    ("more", "message"),
    [
        ({"bouts": 3}, "bouts must be at least 4, for two sessions of 3 (got 3)"),
        ({"seed": -1}, "seed must be at least 0 (got -1)"),
    ],
)
def test_what_cannot_be_tuned_is_refused(more, message):
    with pytest.raises(GameError) as refusal:
        tuned(0.8, **more)
    assert refusal.value.problems == (message,)


def test_a_measure_that_a_candidate_lacks_is_refused():
    with pytest.raises(GameError, match="target must be a measure of every candidate"):
        tune(GAME, GAMES, "side", ("goals_per_bout", "game", 1.0), bouts=30, session=staged_sizes)
    with pytest.raises(GameError, match="candidates must be at least 2"):
        tune(GAME, {10: GAME}, "side", (*SHARE, 1.0), bouts=30, session=staged_sizes)


@pytest.fixture
def nothing_is_played(monkeypatch):
    def simulate(*_args, **_kwargs):
        raise AssertionError("a bout was played before the input was refused")

    monkeypatch.setattr("sim.experiments.tune.replicate", simulate)


@pytest.mark.parametrize(
    ("arguments", "start"),
    [
        (["--from", "9", "--to", "9", "--target", "turnovers_per_min=3"], "--to must be above --from"),
        (["--from", "9", "--to", "11", "--target", "luck=3"], "--target: must name one of: turnovers_per_min, "),
        (["--from", "9", "--to", "11", "--target", "turnovers_per_min=x"], "--target: must read MEASURE=VALUE"),
        (["--from", "0", "--to", "3", "--target", "turnovers_per_min=3"], "tight-square: areas.square.length must"),
        (["--from", "9", "--to", "11", "--target", "points_per_min=3", "--bouts", "8"], "--target: must name one of"),
    ],
)
def test_refusals(arguments, start, nothing_is_played):
    result = CliRunner().invoke(app, ["tune", "tight-square", "--knob", "side", *arguments], catch_exceptions=False)
    assert (result.exit_code, result.stdout) == (2, "")
    assert result.stderr.startswith(start)


def test_bisection_goes_to_the_side_where_the_target_is():
    """Sides of 1 ... 7; the middle is below, so only what lies above it is looked at again."""
    sides = ["below", "below", "at", "below", "at", "above", "above"]
    asked = []

    def play(number, bouts):
        asked.append(number)
        return Point(number, 0.0, 0.0, 0.0, bouts, "above")

    bisect({i: Point(i, 0.0, 0.0, 0.0, 10, side) for i, side in enumerate(sides, 1)}, 10, play)
    assert asked == [5]


def test_a_side_is_decided_by_the_interval_not_by_the_mean():
    tallies = replicate(GAMES[12], 30, 1, 1, session=staged_sizes).sessions
    point = point_of(12, GAMES[12], tallies, SHARE, 0.0)
    sides = [
        point_of(12, GAMES[12], tallies, SHARE, target).side
        for target in (point.low - 1e-6, point.low + 1e-6, point.high - 1e-6, point.high + 1e-6)
    ]
    assert sides == ["above", "at", "at", "below"]


def test_the_answer_is_played_again_on_fresh_sessions():
    found = tuned(truth(13))
    tallies = replicate(GAMES[13], MOST * 30, 1 + FRESH, 1, session=staged_sizes).sessions
    assert found.fresh == point_of(13, GAMES[13], tallies, SHARE, truth(13))
