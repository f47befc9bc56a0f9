"""Tuning: a known optimum is found, a target out of reach is refused plainly, and workers do not matter."""

from __future__ import annotations

import json
import re
from dataclasses import replace
from functools import cache

import numpy as np
import pytest
from typer.testing import CliRunner

from cli.app import app
from sim.errors import InputError
from sim.experiments.comparison import Evening
from sim.experiments.key_measures import KeyMeasure
from sim.experiments.knobs import candidates, knob_of, turned
from sim.experiments.replicate import replicate
from sim.experiments.tune import FEWEST, FRESH, STOPPED, as_good, crossings, point, tune, within, wrong
from sim.experiments.tuned import Point
from sim.game.loader import load_game
from sim.words.commands import Given
from sim.words.tune_details import details_of_tuned
from sim.words.tune_screen import comes_near, tuned_on_a_screen
from tests.support.screens import holds
from tests.unit.measures.handmade import square_bout, square_game

GAME = square_game(count=3)
NONE = Evening(None, None, None, None, None)
SHARE = ("in_play_share", "game")


def long(length: int):
    return GAME.model_copy(update={"areas": tuple(a.model_copy(update={"length": float(length)}) for a in GAME.areas)})


def long_label(values: tuple[int, ...]) -> str:
    return f"{values[0]} x 10 m"


def words(found, given: Given | None = None) -> str:
    """The small screen, as it should be."""
    labels = {one.values: long_label(one.values) for one in found.curve}
    text = tuned_on_a_screen(found, GAME, long(found.answer[0]), labels, given)
    holds(text)
    return text


def running(found, given: Given | None = None) -> str:
    """The same, lines that belong together in one."""
    return " ".join(words(found, given).split())


GAMES = {(length,): long(length) for length in range(10, 16)}


def staged_sizes(game, seed, replicate):
    """Each metre beyond 10 delays the first loss by a second; luck from 0 to 3 s is shared by all sizes."""
    for number in range(game.bouts.count):
        luck = ((seed + 7 * replicate + 3 * number) % 11) * 0.3
        yield square_bout(replicate, number, late=game.areas[0].length - 10 + luck)


def interrupted_after_a_while(game, seed, replicate):
    if replicate >= 8:
        raise KeyboardInterrupt
    return noisy_sizes(game, seed, replicate)


def interrupted_when_fresh(game, seed, replicate):
    if seed > FRESH:
        raise KeyboardInterrupt
    return staged_sizes(game, seed, replicate)


@cache
def tuned(target: float | str, **more):
    more = {"bouts": 15, "workers": 1, "session": staged_sizes} | more
    return tune(GAME, GAMES, ["side"], (*SHARE, target), **more)


def truth(length: int) -> float:
    """In play 43 s of 60 without a delay, and a second more for each metre and for 1.5 s of luck on average."""
    return (43 + length - 10 + 1.5) / 60


def test_the_known_size_is_found():
    for length in (11, 13, 14):
        found = tuned(truth(length))
        assert (found.answer, found.reached, found.sure) == ((length,), True, True)
        assert found.fresh.mean == pytest.approx(truth(length), abs=0.004)
        assert found.effects[0].first != found.effects[0].second


def test_the_curve_has_every_candidate_with_its_side_and_is_a_table():
    found = tuned(truth(12) + 0.5 / 60)
    assert [one.values for one in found.curve] == list(GAMES)
    assert found.answer in ((12,), (13,)) and found.reached
    table = found.table()
    assert list(table.columns) == ["side", "mean", "low", "high", "bouts", "point", "answer"]
    assert table["side"].tolist() == list(range(10, 16)) and table["answer"].sum() == 1


@pytest.mark.parametrize(("target", "nearest"), [(0.5, 10), (0.99, 15)])
def test_out_of_reach_is_a_plain_no_with_the_nearest(target, nearest):
    found = tuned(target)
    assert (found.reached, found.answer) == (False, (nearest,))
    text = running(found)
    share = f"{100 * target:g} % of the time on the watch with the ball rolling"
    assert f"No: nothing from 10 x 10 m to 15 x 10 m gets to {share}." in text
    assert f"The nearest: {nearest} x 10 m, about {100 * found.fresh.mean:.0f}, give or take " in text
    assert "Try next: turn something else, or go further with the size." in text


@pytest.mark.parametrize(("word", "answer"), [("most", 15), ("least", 10)])
def test_most_and_least(word, answer):
    found = tuned(word)
    assert found.answer == (answer,) and found.sure
    about = f"about {100 * found.fresh.mean:.0f} % of the time on the watch with the ball rolling, give or take "
    assert f"{answer} x 10 m gives the {word}, {about}" in running(found)
    assert "No other size is clearly better." in running(found)


def test_two_knobs_are_a_grid():
    games = {(length, other): long(length) for length in (10, 13) for other in (1, 2)}
    found = tune(
        GAME, games, ["side", "touches"], (*SHARE, truth(13)), bouts=15, workers=1, session=staged_sizes,
        turned={(13, 1): ["areas.square.length=13"]},
    )  # fmt: skip
    assert found.answer == (13, 1) and found.as_good == ((13, 2),)
    text = tuned_on_a_screen(found, GAME, long(13), given=Given("tune", "square", ("areas.square.length=10",), seed=7))
    holds(text)
    assert "Side 13 and touches 1 gives about " in text and "Perhaps as good: side 13 and touches 2." in text
    assert "\n  overload estimate square --set areas.square.length=13 --seed 7\n" in text
    assert "Try next, to see it whole: areas.square.length=13.\n" in tuned_on_a_screen(found, GAME, long(13))


@pytest.mark.parametrize("target", [truth(13), "most"])
def test_any_number_of_workers_gives_the_same_bits(target):
    assert tuned(target, workers=1) == tuned(target, workers=2)


def test_the_budget_is_kept_and_said():
    tight = FEWEST * 3 * len(GAMES)
    found = tuned(truth(12) + 0.5 / 60, budget=tight + 9)
    assert sum(one.bouts for one in found.curve) <= tight + 9
    with pytest.raises(InputError, match=f"budget must be at least {tight}, 5 sessions of each value"):
        tuned(truth(12), budget=tight - 1)


def test_json_is_strict():
    def refuse(word):
        raise AssertionError(word)

    data = json.loads(tuned(truth(13)).to_json(), parse_constant=refuse)
    assert (data["answer"], data["target"], data["unit"]) == ([13], truth(13), "share")


def test_an_interruption_says_so():
    found = tuned(truth(12) + 0.5 / 60, session=interrupted_when_fresh)
    assert found.fresh is None and found.effects == ()
    assert "the answer was not played again" in running(found)
    stopped = tuned(truth(12) + 0.5 / 60, session=interrupted_after_a_while, budget=3000)
    assert stopped.cautions[0] == STOPPED and stopped.fresh is None and not stopped.sure
    assert stopped.answer in GAMES and "Stopped after " in words(stopped)
    with pytest.raises(KeyboardInterrupt):
        tuned(truth(12), session=interrupted_when_started)


def test_a_stopped_search_concludes_nothing_and_keeps_all_cautions():
    whole = tuned(0.99, session=noisy_sizes)
    assert not whole.reached and "No: nothing from" in words(whole)
    given = Given("tune", "square", question=(("--knob", ("side=10..15",)), ("--target", "in_play_share=0.8")))
    between = truth(12) + 0.5 / 60
    for target in (between, "most"):
        stopped = tuned(target, session=interrupted_after_a_while, budget=3000)
        short_of_it = replace(stopped, reached=False)
        for found in (stopped, short_of_it):
            text = words(found, given)
            played = sum(one.bouts for one in found.curve)
            assert f"\nStopped after {played} bouts: too soon to say which size it is.\n" in text
            assert f"\nNearest so far: {found.answer[0]} x 10 m gives about " in text
            assert "nothing from" not in text and "turn something else" not in text and "Perhaps as good" not in text
            again = "overload tune square --knob side=10..15 --target in_play_share=0.8"
            assert f"Try next, to let it come to its end:\n  {again}\n" in text
    fresh = tuned(between, session=interrupted_when_fresh)
    assert "Try next, to let it come to its end." in words(fresh)
    for found in (stopped, fresh):
        assert found.cautions[0].startswith("Stopped early: ")
        assert any(line.startswith("Fast running: do not rely on it here") for line in found.cautions)
        assert any("published" in line for line in found.cautions)
        assert sum(line.startswith("An estimate, not advice") for line in found.cautions) == 1


def test_the_game_as_it_is_is_only_the_value_that_the_game_has():
    """2 is the game; 3 is another one that plays the same."""
    games = {(2,): GAME, (3,): GAME.model_copy(update={"title": "Another square"})}
    for best in games:
        candidates_of = {one: games[one] if one == best else long(15) for one in games}
        found = tune(GAME, candidates_of, ["touches"], (*SHARE, "least"), bouts=15, workers=1, session=staged_sizes)
        text, whole = words(found), details_of_tuned(found)
        assert found.answer == best and found.as_it_is == (best == (2,))
        short = "\n  The answer is the game as it is.\n" in text
        assert short == ("That is the game as it is: nothing" in whole) == (best == (2,))
        same = "It plays the same as the game as it is"
        assert (f"\n  {same}.\n" in text) == (f"{same}: nothing" in whole) == (best == (3,))


def test_what_is_refused_to_a_player_is_not_tried_next():
    found = replace(tuned(truth(13)), changes=("areas.square.length=13",))
    line = "No proposal for Bo, on reduced load: it could mean more to do."
    refused = replace(found, cautions=(line, *found.cautions))
    missed = replace(refused, reached=False)
    given = Given("tune", "square")
    assert "Try next, to see it whole:" in words(found, given)
    for one in (refused, missed):
        assert "Try next" not in words(one, given) and line in words(one, given)


def interrupted_when_started(game, seed, replicate):
    raise KeyboardInterrupt


def test_what_is_far_off_gets_the_fewest_sessions():
    found = tune(GAME, GAMES, ["side"], (*SHARE, truth(11)), bouts=15, session=noisy_sizes, workers=1, budget=450)
    bouts = {one.values[0]: one.bouts for one in found.curve}
    assert bouts[15] == FEWEST * 3 and max(bouts[14], bouts[13]) < bouts[11]


def noisy_sizes(game, seed, replicate):
    """As before with luck of its own, 0 to 10 s, for every size."""
    for number in range(game.bouts.count):
        luck = np.random.default_rng((seed, replicate, number, int(game.areas[0].length))).uniform(0, 10)
        yield square_bout(replicate, number, late=game.areas[0].length - 10 + luck)


def test_the_chance_of_being_wrong_by_hand():
    """Means 2.9 (best) and 3.3, target 3, zone 0.1: other side, errors 0.1 + 0.1; z = (0.3 - 0.1 + 0.1) / 0.2 = 1.5."""
    chance = wrong(np.array([2.9, 3.3]), np.array([0.5, 0.5]), [25, 25], 3.0, 0, 0.1)
    assert chance == pytest.approx(0.0668, abs=1e-4)  # any table of the normal distribution
    same = wrong(np.array([3.1, 3.3]), np.array([0.5, 0.5]), [25, 25], 3.0, 0, 0.1)
    assert same == pytest.approx(0.0169, abs=1e-4)  # z = 0.3 / (0.1 sqrt 2) = 2.1213


def test_sessions_go_where_they_are_wanted_as_far_as_they_go():
    assert within([5, 5, 5], [5.0, 8.4, 6.6], [1, 1, 1], 5, 100) == [5, 8, 7]
    assert within([5, 5, 5], [5.0, 8.4, 6.6], [2, 3, 2], 5, 6) == [5, 7, 5]
    assert within([5, 5, 5], [5.0, 6.4, 8.6], [2, 3, 2], 5, 5) == [5, 5, 7]


def spread_sizes(game, seed, replicate):
    """As `staged_sizes`, with luck from -3 to 3 s that comes to nothing over seven sessions, and is another for every size."""
    for number in range(game.bouts.count):
        luck = (replicate * (int(game.areas[0].length) - 9) + number) % 7 - 3
        yield square_bout(replicate, number, late=4 + (game.areas[0].length - 10) + luck)


@pytest.mark.parametrize("target", [(49.0 + step / 4) / 60 for step in range(8)])
def test_the_list_of_the_as_good_and_the_curve_say_the_same(target):
    found = tune(GAME, GAMES, ["side"], (*SHARE, target), bouts=21, budget=126, workers=1, session=spread_sizes)
    labels = {values: long_label(values) for values in GAMES}
    as_good_ = {values[0] for values in found.as_good}
    told = set()
    for head, near in (("Perhaps as good", True), ("Too few bouts to rule out", False)):
        (listed,) = re.findall(rf"{head}: (.*?)\.(?: |$)(?!\d)", running(found)) or [""]
        own = {length for length in as_good_ if comes_near(found, (length,)) == near}
        named = {int(length) for length in re.findall(r"(\d+) x 10 m", listed)}
        assert named <= own and (named == own or f"and {len(own) - len(named)} more" in listed)
        told |= named
    rows = {one.values[0]: one.side for one in found.curve}
    assert as_good_ == {length for length, side in rows.items() if side == "at" and (length,) != found.answer}
    for line in details_of_tuned(found, labels).splitlines():
        if (row := re.match(r" *(\d+)  \1 x 10 m ", line)) and int(row[1]) in as_good_:
            assert line.endswith("as good as on target")


def made_up(found, **changes):
    """A result nobody played: every value surely below, at or above the target."""
    sides = changes.pop("sides", None)
    curve = tuple(
        replace(one, side=side) for one, side in zip(found.curve, sides or [p.side for p in found.curve], strict=True)
    )
    return replace(found, curve=curve, **changes)


def test_a_target_between_two_values_a_doubtful_answer_and_a_curve_that_turns_are_said():
    found = tuned(truth(12))
    between = made_up(found, sides=["below", "below", "below", "above", "above", "above"], as_good=())
    assert "What you asked for lies between two of them; this is the nearer size." in running(between)
    assert "lies between" not in running(found)
    off = replace(found, fresh=replace(found.fresh, side="above"))
    assert "Careful: played again it came out above what you asked for." in running(off)
    assert "it goes up and down; look at the whole curve" in running(replace(found, crossings=2))
    unsure = made_up(found, sure=False, as_good=())
    assert "Another size may be closer: all bouts of the budget were played." in running(unsure)
    assert "all bouts of the budget were played." in details_of_tuned(unsure)
    target = found.target
    alike = tuple(replace(one, mean=target) for one in found.curve)
    many = replace(found, as_good=((10,), (11,), (13,), (14,), (15,)), curve=alike)
    assert "Perhaps as good: 10 x 10 m, 11 x 10 m, 13 x 10 m and 2 more." in running(many)


def test_a_value_of_which_little_is_known_is_not_called_as_good():
    """Its doubt holds the target, and its figure beside it does not: that is too few bouts, not as good."""
    found = tuned(truth(12))
    answer = next(one for one in found.curve if one.values == found.answer)
    off = 2 * (abs(found.fresh.mean - found.target) + found.nearer)
    wide = {"low": found.target - off, "high": found.target + 3 * off, "side": "at"}
    curve = tuple(
        replace(one, mean=found.target + off, **wide)
        if one.values == (10,)
        else replace(one, mean=found.target, side="at")
        if one.values == (11,)
        else one
        for one in found.curve
    )
    said = running(replace(found, curve=curve, as_good=((10,), (11,))))
    assert answer.values == (12,)
    assert "Perhaps as good: 11 x 10 m. Too few bouts to rule out: 10 x 10 m (" in said


def test_the_curve_stands_on_one_line_and_the_whole_of_it_in_the_details():
    found = tuned(truth(12))
    shown = " | ".join(
        f"{length} x 10 m: {100 * one.mean:.0f}" for (length,), one in zip(GAMES, found.curve, strict=True)
    )
    assert shown in running(found)
    wide = [replace(one, values=(n,)) for n, one in enumerate(found.curve * 3)]
    text = running(replace(found, curve=tuple(wide), answer=(17,)))
    assert text.count(" | ") == 7 and " x 10 m: " in text and "17 x 10 m" in text
    whole = details_of_tuned(found, {values: long_label(values) for values in GAMES})
    for one in found.curve:
        figures = f"{100 * one.mean:.0f} ({100 * one.low:.0f} to {100 * one.high:.0f})"
        assert any(line.split()[:1] == [str(one.values[0])] and figures in line for line in whole.splitlines())
    assert "asked: 78" in whole or "asked: 77" in whole or "asked: 76" in whole
    narrow = details_of_tuned(found, width=80).splitlines()
    assert max(len(line) for line in narrow) <= 80


def test_what_moves_is_listed_once_with_its_clock():
    found = tuned(truth(13))
    rows = [replace(row, verdict="cannot tell") for row in found.effects]
    whole = details_of_tuned(replace(found, effects=tuple(rows)))
    (line,) = [line for line in whole.splitlines() if line.startswith("Could still be luck: ")]
    names = line.removeprefix("Could still be luck: ").split("), ")
    assert (
        len(set(names)) == len(names) > 5
        and "losses/min (ball rolling" in names
        and "losses/min on the watch (watch" in names
    )


def test_what_lies_beside_the_target_is_not_called_as_good():
    """Target 3; 8 gives 2.9 to 3.1, 9 surely less, though it cannot be told to be further off than 8."""
    curve = [
        Point((8,), 2.95, 2.75, 3.15, 1, "at", NONE),
        Point((9,), 2.76, 2.56, 2.96, 1, "below", NONE),
        Point((7,), 3.1, 2.9, 3.3, 1, "at", NONE),
    ]
    assert as_good(curve, (8,)) == ((7,),)


def test_a_curve_that_turns_back_is_noticed():
    sides = ["below", "above", "at", "above", "below"]
    assert crossings([Point((i,), 0.0, 0.0, 0.0, 1, side, NONE) for i, side in enumerate(sides)]) == 2


def test_a_side_is_decided_by_the_interval_not_by_the_mean():
    tallies = replicate(GAMES[(12,)], 30, 1, 1, session=staged_sizes).sessions
    top = np.array([one.in_play_s for one in tallies])
    bottom = np.array([one.duration_s for one in tallies])
    row = KeyMeasure(*SHARE, "share", "watch", "", top, bottom)
    found = point((12,), row, tallies, 0.0)
    targets = (found.low - 1e-6, found.low + 1e-6, found.high - 1e-6, found.high + 1e-6)
    assert [point((12,), row, tallies, one).side for one in targets] == ["above", "at", "at", "below"]


def test_the_answer_is_played_again_on_fresh_sessions():
    found = tuned(truth(13), fresh=30)
    tallies = replicate(GAMES[(13,)], 30, 1 + FRESH, 1, session=staged_sizes).sessions
    assert found.fresh.mean == sum(one.in_play_s for one in tallies) / sum(one.duration_s for one in tallies)


@pytest.mark.parametrize(
    ("more", "message"),
    [
        ({"bouts": 0}, "bouts must be at least 1 (got 0)"),
        ({"seed": -1}, "seed must be at least 0 (got -1)"),
        ({"fresh": 0}, "fresh must be at least 1 (got 0)"),
    ],
)
def test_what_cannot_be_tuned_is_refused(more, message):
    with pytest.raises(InputError) as refusal:
        tuned(0.8, **more)
    assert refusal.value.problems == (message,)


def test_a_measure_that_a_candidate_lacks_is_refused():
    with pytest.raises(InputError, match="target must be a measure of every candidate"):
        tune(GAME, GAMES, ["side"], ("goals_per_bout", "game", 1.0), session=staged_sizes)
    with pytest.raises(InputError, match="candidates must be at least 2"):
        tune(GAME, {(10,): GAME}, ["side"], (*SHARE, 1.0), session=staged_sizes)


def test_a_side_keeps_the_shape_and_alike_areas_go_together():
    game = load_game("two-squares")
    names = [area.name for area in game.areas]
    assert len(turned(game, "side", 12)) == 2 * len(names)
    assert turned(game, f"{names[0]}.side", 12) == [f"areas.{names[0]}.length=12", f"areas.{names[0]}.width=12"]
    assert turned(game, f"side.{names[0]}", 12) == turned(game, f"{names[0]}.side", 12)
    assert turned(game, "roles.x.touches", 2) == ["roles.x.touches=2"]
    with pytest.raises(InputError, match="--knob: side.nowhere must say which area: side.west or side.east"):
        turned(game, "side.nowhere", 12)
    oblong = load_game("tight-square", ["areas.square.length=12", "areas.square.width=8"])
    assert turned(oblong, "side", 9) == ["areas.square.length=9", "areas.square.width=6"]
    assert turned(oblong, "area", 54) == ["areas.square.length=9", "areas.square.width=6"]


@pytest.mark.parametrize(
    ("game", "knob", "changed"),
    [
        ("tight-square", "touches=1..3", lambda game, n: game.role("outside").touches == n),
        ("tight-square", "defenders=1..3", lambda game, n: sum(p.role == "inside" for p in game.players) == n),
        ("break-away", "defenders=2..3", lambda game, n: sum(p.role == "hunter" for p in game.players) == n),
        ("two-squares", "passes=3..6", lambda game, n: {r.count for p in game.phases for r in p.rules if r.on == "passes"} == {n}),
        ("tight-square", "bout=60..180:30", lambda game, n: game.bouts.seconds == n),
        ("tight-square", "rest=30..90:30", lambda game, n: game.bouts.rest_seconds == n),
        ("tight-square", "area=80..140:20", lambda game, n: abs(game.areas[0].length ** 2 - n) < 12),
        ("tight-square", "roles.inside.players=2..3", lambda game, n: len(game.players) == 4 + n),
    ],
)  # fmt: skip
def test_the_short_words_turn_what_they_name(game, knob, changed):
    found = candidates(load_game(game), [knob_of(knob)], lambda own: load_game(game, own))
    assert len(found) > 1
    assert all(changed(one, values[0]) for values, (one, _) in found.items())


def test_what_comes_to_the_same_game_is_kept_once():
    found = candidates(load_game("tight-square"), [knob_of("area=80..83")], lambda own: load_game("tight-square", own))
    assert list(found) == [(80,)]
    both = candidates(
        load_game("tight-square"),
        [knob_of("side=9..10"), knob_of("touches=1..2")],
        lambda own: load_game("tight-square", own),
    )
    assert list(both) == [(9, 1), (9, 2), (10, 1), (10, 2)]


@pytest.fixture
def nothing_is_played(monkeypatch):
    def simulate(*_args, **_kwargs):
        raise AssertionError("a bout was played before the input was refused")

    monkeypatch.setattr("sim.experiments.tune.play_missing", simulate)


@pytest.mark.parametrize(
    ("arguments", "start"),
    [
        (["--knob", "side=9", "--target", "turnovers_per_min=3"], "--knob: must have from 2 to 40 values in all (got 1)"),
        (["--knob", "side", "--target", "turnovers_per_min=3"], "--knob: must read KEY=FROM..TO"),
        (["--knob", "side=9.5..11:0.5", "--target", "turnovers_per_min=3"], "--knob: side must have whole numbers"),
        (["--knob", "side=9..13..2", "--target", "turnovers_per_min=3"], "--knob: side=9..13..2 is now written side=9..13:2"),
        (["--knob", "side=9..9", "--target", "turnovers_per_min=3"], "--knob: side must go upwards, such as 8..14"),
        (["--knob", "side=12..9", "--target", "turnovers_per_min=3"], "--knob: side must go upwards, such as 8..14"),
        (["--knob", "side=1..90", "--target", "turnovers_per_min=3"], "--knob: side must have 40 values at most (got 90)"),
        (["--knob", "side=9..11", "--target", "luck=3"], "--target: must name a measure: there are losses, "),
        (["--knob", "side=9..11", "--target", "turnovers_per_min=x"], "--target: must read MEASURE=VALUE, such as"),
        (["--knob", "side=9..11", "--target", "turnovers_per_min=nan"], "--target: must read MEASURE=VALUE"),
        (["--knob", "side=0..3", "--target", "turnovers_per_min=3"], "tight-square: areas.square.length must"),
        (["--knob", "side=9..11", "--target", "points_per_min=3"], "--target: must be something that can happen in"),
        (["--knob", "passes=3..4", "--target", "turnovers_per_min=3"], "--knob: passes cannot be changed: this game has no rule"),
        (["--knob", "side=9..11", "--knob", "side=9..11", "--target", "turnovers_per_min=3"], "--knob: must be two different"),
        (["--knob", "side=9..11", "--budget", "10", "--target", "turnovers_per_min=3"], "budget must be at least 60"),
    ],
)  # fmt: skip
def test_refusals(arguments, start, nothing_is_played):
    result = CliRunner().invoke(app, ["tune", "tight-square", *arguments], catch_exceptions=False)
    assert (result.exit_code, result.stdout) == (2, "")
    assert result.stderr.startswith(start)


def test_words_of_doubt():
    found = tuned(truth(13))
    doubtful = replace(found, sure=False, crossings=3, fresh=replace(found.fresh, side="below"))
    assert "Not sure that no other is better by more than" in details_of_tuned(doubtful)
    text = running(doubtful)
    assert "Careful: it goes up and down" in text and "played again it came out below what you asked for" in text


LOSING = tune(GAME, GAMES, ["side"], ("turnovers_per_min", "game", 2.6), bouts=15, workers=1, session=staged_sizes)


def test_one_evening_of_the_answer_is_the_middle_of_its_sessions_on_both_clocks():
    """Against quantiles of the very sessions that the answer was played on again; two losses in each bout of a minute."""
    answer = long(LOSING.answer[0])
    played = replicate(answer, 100, 1 + FRESH, 1, session=staged_sizes).sessions
    rates = [60 * one.totals["turnovers"] / one.in_play_s for one in played]
    evening = LOSING.fresh.evening
    assert (evening.low, evening.high) == pytest.approx(tuple(np.quantile(rates, [0.1, 0.9])))
    assert (evening.watch, evening.watch_low, evening.watch_high) == pytest.approx((2.0, 2.0, 2.0))
    assert evening.high - evening.low > LOSING.fresh.high - LOSING.fresh.low, "an evening differs more than our doubt"


def test_one_evening_and_our_doubt_stand_in_two_sentences():
    text = " ".join(tuned_on_a_screen(LOSING, GAME, long(LOSING.answer[0])).split())
    sentences = re.split(r"\.\s", text)
    assert not [one for one in sentences if "sually" in one and "give or take" in one]
    evening = LOSING.fresh.evening
    ends = " to ".join(dict.fromkeys((f"{evening.low:.1f}", f"{evening.high:.1f}")))
    assert f"Usually {ends} (8 evenings in 10); a minute on the watch 2.0." in text
    beside = [one for one in LOSING.curve if abs(one.values[0] - LOSING.answer[0]) == 1]
    assert text.count("Next to it, usually: ") == 1 and len(beside) > 0
