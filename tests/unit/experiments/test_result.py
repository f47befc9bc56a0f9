"""Results, cautions and the answer in words, from sessions made by hand."""

from __future__ import annotations

import json
import re
from dataclasses import FrozenInstanceError, replace

import pytest

from sim.errors import InputError
from sim.experiments.cautions import LINE, cautions_for, longest_line, often
from sim.experiments.estimate import estimate, population_of
from sim.experiments.provenance import provenance_of
from sim.game.names import names_of
from sim.game.terms import Load
from sim.measures.thresholds import Thresholds
from sim.results import Named, Result
from sim.words.estimate_details import answer_in_words
from sim.words.figures import metres, percent, ranged, seconds, two
from sim.words.screen import wrapped
from tests.unit.experiments.staged import rows_of
from tests.unit.measures.handmade import goals_game, square_game

GAME = square_game()


def result_of(game, sessions=3, **changes):
    measures, bands = rows_of(game, sessions)
    cautions = cautions_for(game, measures, bands, sessions, sessions)
    result = Result(
        2, game.name, 0, 2 * sessions, "elite men", tuple(Named(*one) for one in names_of(game).items()), "0.1.0", ("a=1",),
        cautions, measures, provenance_of(bands),
    )  # fmt: skip
    return replace(result, **changes)


@pytest.fixture(scope="module")
def result():
    return result_of(GAME)


def test_json_gives_the_same_result_back(result):
    assert Result.from_json(result.to_json()) == result


def test_layout(result):
    """The layout others read: keys of the answer and of a row, in order."""
    answer = json.loads(result.to_json(), parse_constant=pytest.fail)
    assert list(answer)[:10] == [
        "format", "game", "seed", "bouts", "population", "players", "version", "changes", "cautions", "measures",
    ]  # fmt: skip
    assert list(answer)[10:] == ["provenance"]
    assert list(answer["measures"][0]) == [
        "measure", "scope", "unit", "clock", "definition", "mean", "low", "high", "session_low", "session_high", "n",
        "basis",
    ]  # fmt: skip
    assert answer == result.to_dict()
    assert None in [row["mean"] for row in answer["measures"]]


def test_nan_never_leaves(result):
    broken = replace(result, measures=(replace(result.measures[0], mean=float("nan")),))
    with pytest.raises(ValueError, match="not JSON compliant"):
        broken.to_json()


@pytest.mark.parametrize(
    ("old", "new", "message"),
    [
        ('"seed": 0', '"seed": NaN', r"result: seed must be right: .* \(got nan\)"),
        ('"seed": 0', '"seed": "0"', r"result: seed must be right: .* \(got '0'\)"),
        ('"seed": 0', '"seed": 0, "extra": 2', r"result: extra must not be there \(got 2\)"),
        ('"seed": 0,', "", "result: seed must be given"),
        ('"format": 2', '"format": 1', r"result: format must be 2 \(got 1\)"),
        ('"n": 3', '"n": 3, "note": ""', r"result: measures.0.note must not be there \(got ''\)"),
        ('"extrapolated"', '"guessed"', r"result: measures.0.basis must be right: .* \(got 'guessed'\)"),
        ("{", "[", "result: text must be JSON"),
    ],
)
def test_anything_else_is_refused(result, old, new, message):
    text = result.to_json()
    assert old in text
    with pytest.raises(InputError, match=message):
        Result.from_json(text.replace(old, new, 1))


def test_a_result_is_frozen(result):
    with pytest.raises(FrozenInstanceError):
        result.seed = 2


def test_one_row_or_a_refusal(result):
    assert result.row("in_play_share").scope == "game"
    with pytest.raises(KeyError, match=r"loss_share_by_cause for game must be one row \(got 7\)"):
        result.row("loss_share_by_cause")


def test_estimate_refuses_what_it_cannot_play():
    with pytest.raises(InputError) as caught:
        estimate(GAME, bouts=0, seed=-1, workers=0)
    assert caught.value.problems == (
        "bouts must be at least 1 (got 0)",
        "seed must be at least 0 (got -1)",
        "workers must be at least 1 (got 0)",
    )


def test_population_of_one_or_of_each_team():
    assert population_of(GAME) == "elite men"
    teams = list(goals_game().teams)
    teams[0] = teams[0].model_copy(update={"population": "U12"})
    mixed = goals_game().model_copy(update={"teams": tuple(teams)})
    assert population_of(mixed) == "amber: U12; slate: women; white: women"


def cautions(game=GAME, sessions=50, wanted=50, **row):
    measures, bands = rows_of(game)
    if row:
        measures = tuple(replace(one, **row) if one.measure == "threshold_chance" else one for one in measures)
    return cautions_for(game, measures, bands, sessions, wanted)


def test_cautions_of_an_ordinary_answer():
    assert cautions() == (
        "Nobody has published counts for this kind of game: count your own.",
        "Fast running: do not rely on it here, the longest line is 14 m.",
        LINE,
    )


def resized(length, width):
    area = GAME.areas[0].model_copy(update={"length": length, "width": width})
    return GAME.model_copy(update={"areas": (area,)})


def test_fast_running_is_doubted_where_there_is_no_room_for_it():
    assert longest_line(resized(12.0, 16.0)) == 20
    assert not any("do not rely" in line for line in cautions(resized(12.0, 16.0)))
    assert any("do not rely" in line for line in cautions(resized(12.0, 15.9)))
    assert longest_line(goals_game()) == pytest.approx((30**2 + 20**2) ** 0.5)


def test_a_threshold_hardly_ever_reached_is_a_warning():
    assert not any("Hardly" in line for line in cautions(mean=0.01))
    assert "Hardly ever reached: 3 passes by outside (once in 250 possessions). Ask for fewer." in (
        cautions(mean=0.004)
    )
    assert often(0.0, "possession") == "never in any possession played"


def test_other_cautions():
    assert "Stopped early: 12 of 50 sessions were finished." in cautions(sessions=12)
    assert "Only 1 session played: take the ranges as rough." in cautions(sessions=1, wanted=1)
    youngsters = GAME.model_copy(
        update={"teams": tuple(team.model_copy(update={"population": "U12"}) for team in GAME.teams)}
    )
    assert "Nobody has measured a game of U12 players." in cautions(youngsters)
    misfit = "The speeds we count, in km/h, do not suit all of these players alike."
    assert all(len(wrapped(line)) <= 2 for line in cautions(youngsters, sessions=9, wanted=50, mean=0.004))
    mixed = GAME.model_copy(
        update={"teams": tuple(team.model_copy(update={"population": "mixed adults"}) for team in GAME.teams)}
    )
    assert misfit not in cautions() and misfit not in cautions(youngsters) and misfit not in cautions(mixed)
    assert misfit in cautions(mixed.model_copy(update={"load": Load(sprint_kmh=22.0)}))


def test_figures_as_people_say_them():
    assert [two(x) for x in (3.14159, 9.96, 117.2, 0.0432, 0.5, 1.0, 0, 12.5)] == [
        "3.1", "10", "120", "0.043", "0.5", "1.0", "0", "12",
    ]  # fmt: skip
    assert [metres(x) for x in (467.3, 12.4, 3.6)] == ["470", "12", "4"]
    assert [seconds(x) for x in (43.1, 38.0, 9.4, 9.6, 2.6)] == ["45", "40", "9", "10", "3"]
    assert percent(0.325) == "32 %"
    assert ranged(3.14, 2.4, 3.9) == "3.1 (2.4-3.9)"
    assert ranged(0.5, 0.4, 0.6, percent) == "50 (40-60) %"
    assert ranged(None, None, None) == "not known" and ranged(2.0, None, None) == "2.0"


def test_the_answer_opens_with_this_game_and_names_the_clock(result):
    lines = answer_in_words(result, GAME).splitlines()
    assert lines[0] == "A square: 4 v 2, 10 x 10 m, two touches; 6 bouts of 1 min"
    assert "They lose it about twice a bout, a minute on the watch (usually 2)." in lines
    assert any(line.startswith("That is 2.7 times a minute with the ball rolling") for line in lines)


def test_the_details_have_a_table_of_roles_with_clocks(result):
    lines = answer_in_words(result, GAME, details=True).splitlines()
    head = next(i for i, line in enumerate(lines) if "in the role, s a bout, watch" in line)
    assert [part.split(", ")[-1] for part in re.split(r"\s{2,}", lines[head].strip())] == [
        "watch", "ball rolling", "watch", "watch", "ball rolling", "ball rolling",
    ]  # fmt: skip
    assert [line.split("  ")[0] for line in lines[head + 1 : head + 3]] == ["outside", "inside"]
    assert len({len(line) for line in lines[head : head + 3]}) == 1
    assert "do not rely" in lines[head + 1]
    roomy = answer_in_words(result_of(resized(30.0, 20.0)), resized(30.0, 20.0), details=True)
    assert "do not rely  " not in roomy


def test_the_details_name_the_players_at_each_end(result):
    text = answer_in_words(result, GAME, details=True)
    assert "Over many sessions p1 defends most, 79" in text
    assert "and p5 least, 2" in text
    assert "in 100 % of sessions somebody does more than 60 %." in text


def test_the_answer_ends_with_its_cautions(result):
    text = answer_in_words(result, GAME)
    assert "A loss is any ball given away, out included." in text
    assert "count your own" in text and "Try next" in text
    assert text.splitlines()[-1] == LINE


@pytest.mark.parametrize(
    ("family", "words"),
    [("transfer", "get it across"), ("break-away", "break away"), ("even with goals", "one shot in 6 bouts")],
)
def test_the_headline_is_what_the_game_is_played_for(result, family, words):
    game = GAME.model_copy(update={"family": family})
    assert words in next(line for line in answer_in_words(result, game).splitlines()[1:] if line)


def test_the_answer_of_one_session_and_of_no_turnover_can_be_said():
    assert "They lose it" in answer_in_words(result_of(GAME, 1), GAME)
    assert "not known" not in answer_in_words(result_of(GAME, 1), GAME)


def test_thresholds_of_speed_travel_with_the_result(result):
    assert Result.from_json(result.to_json()).provenance.thresholds == Thresholds()
    assert set(result.provenance.libraries) >= {"numpy", "numba", "simpy"}
    assert result.provenance.parameters
