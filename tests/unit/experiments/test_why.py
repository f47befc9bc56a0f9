"""`why`: what is moved and where to, that luck cancels, and what is said of it."""

from __future__ import annotations

import json
from dataclasses import replace

import pytest
from typer.testing import CliRunner

from cli.app import app
from sim import load_game
from sim.assumptions import NONE, Assumptions
from sim.errors import InputError
from sim.experiments.cautions import LINE
from sim.experiments.replicate import replicate
from sim.experiments.why import TURNS, inputs_of, levers_of, turns_of, why, with_values
from sim.pitch.assumptions import ENGINE
from sim.populations import KINDS, population
from sim.words.why import why_in_words
from tests.support.screens import holds
from tests.unit.experiments.staged import interrupted_at_3
from tests.unit.measures.handmade import square_bout, square_game

WIN = {row.name: row for row in ENGINE}["tackle_win"]
MOVED = (max(WIN.value - WIN.spread, WIN.low), WIN.value + WIN.spread)  # within the range we would defend
GAME = square_game(count=2)


def answering(game, seed, replicate, assumptions=NONE):
    """The first loss comes later by luck, and the harder a tackle is won (and by nothing else)."""
    luck = ((seed + 7 * replicate) % 11) / 11
    moved = dict(assumptions.engine).get("tackle_win", WIN.value) - WIN.value
    for number in range(game.bouts.count):
        yield square_bout(replicate, number, late=1.5 + luck + 8 * moved)


def asked(workers=1, **more):
    return why(GAME, "in_play_share", bouts=2, workers=workers, session=answering, **more)


def test_constants_move_by_their_spread_and_means_by_how_little_is_known():
    game = load_game("tight-square", population="women")
    inputs = inputs_of(game)
    assert [one.place for one in inputs] == [
        *(("engine", row.name) for row in ENGINE),
        *(("population", "women", kind.name) for kind in KINDS),
    ]
    by_name = {one.place[-1]: one for one in inputs}
    assert (by_name["tackle_win"].low, by_name["tackle_win"].high) == MOVED
    trait = population("women").traits["vmax_mps"]
    assert by_name["vmax_mps"].spread == pytest.approx(trait.ignorance)
    for row in ENGINE:
        assert row.low <= by_name[row.name].low <= by_name[row.name].high <= row.high
    assert by_name["duel"].spread == 0.0  # nought by definition


def test_the_users_own_assumptions_are_the_middle_and_the_rest_of_them_stays():
    own = Assumptions(engine=(("tackle_win", 0.4),), populations=(("women", "tau_s", "ignorance", 0.0),))
    inputs = {one.place[-1]: one for one in inputs_of(load_game("tight-square", population="women"), own)}
    assert (inputs["tackle_win"].low + inputs["tackle_win"].high) / 2 == pytest.approx(0.4)
    assert inputs["tau_s"].spread == 0.0
    high = with_values(own, [inputs["tackle_win"], inputs["vmax_mps"]], [1, -1])
    assert high.constants["tackle_win"] == inputs["tackle_win"].high
    assert ("women", "vmax_mps", "mean", inputs["vmax_mps"].low) in high.populations
    assert ("women", "tau_s", "ignorance", 0.0) in high.populations


def test_levers_are_those_the_game_has():
    game = load_game("tight-square")
    levers = levers_of(game, lambda more: load_game("tight-square", more))
    assert [(one.place[1], one.low, one.high) for one in levers][:2] == [("side", 10, 12), ("touches", 1, 3)]
    larger = load_game("tight-square", turns_of(game, levers[0], 1))
    assert (larger.area(game.start_area).length, larger.area(game.start_area).width) == (12, 12)


def test_what_moves_it_is_found_and_luck_cancels():
    found = asked()
    first, *others = found.rows
    assert first.name == "tackle_win" and first.share == pytest.approx(1.0, abs=1e-9)
    assert max(abs(row.change) for row in others) < 1e-12
    # 8 s times the way, of 60 s, in play for so much longer.
    assert first.change == pytest.approx(8 * (MOVED[1] - MOVED[0]) / 60, rel=1e-6)
    (still,) = [row for row in found.rows if row.name.endswith(" duel")]
    assert (still.change, still.change_se, still.share, still.share_se) == (0.0, 0.0, 0.0, 0.0)


def test_the_same_bits_for_any_number_of_workers_and_strict_json():
    found = asked()
    assert asked(workers=2) == found
    read = json.loads(found.to_json(), parse_constant=lambda word: pytest.fail(f"{word} is not JSON"))
    assert read["cautions"][-1] == LINE and len(read["rows"]) == len(inputs_of(GAME))


def test_words_name_the_first_and_end_with_the_caution():
    screen = why_in_words(asked(), GAME)
    assert "What matters most to this number: how often a tackle is won.\n" in screen and "tackle_win" not in screen
    assert "Nearly all of that doubt is how we model play." in screen
    holds(screen)
    text = why_in_words(asked(), GAME, details=True)
    assert text.startswith(screen) and text.endswith(LINE)
    (row,) = [line for line in text.splitlines() if line.startswith("tackle_win ")]
    assert "100 +- 1" in row and row.endswith("how often a tackle is won")


def test_an_interruption_too_early_is_one():
    def interrupted(game, seed, replicate, assumptions=NONE):
        return interrupted_at_3(game, seed, replicate)

    with pytest.raises(KeyboardInterrupt):
        why(GAME, "in_play_share", bouts=2, workers=1, session=interrupted)


def test_an_interruption_late_enough_answers_from_the_pairs_that_are_finished():
    enough = 5 + sum(one.spread > 0 for one in inputs_of(GAME))

    def interrupted(game, seed, replicate, assumptions=NONE):
        if replicate == enough:
            raise KeyboardInterrupt
        return answering(game, seed, replicate, assumptions)

    found = why(GAME, "in_play_share", bouts=2, workers=1, session=interrupted)
    assert found.runs == 2 * enough
    assert found.rows[0].name == "tackle_win" and found.rows[0].share == pytest.approx(1.0, abs=1e-9)


@pytest.mark.parametrize(
    ("arguments", "start"),
    [
        (["--measure", "luck"], "--measure: must name a measure: there are losses, turnovers, wins, "),
        (
            ["--measure", "defending"],
            "--measure: must be one of: defending.squad, defending.outside or defending.inside",
        ),
        (["--measure", "losses.inside", "--scope", "role:inside"], "--scope: must be given once"),
        (["--measure", "goals_per_bout"], "--measure: must be something that can happen in this game"),
        (["--measure", "in_play_share", "--scope", "role:inside"], "--measure: must be one of: in_play_share (got"),
        (["--measure", "distance_per_min", "--scope", "inside"], "--scope: must be one of: game, "),
    ],
)
def test_what_cannot_be_asked_is_refused(arguments, start):
    result = CliRunner().invoke(app, ["why", "tight-square", *arguments], catch_exceptions=False)
    assert result.exit_code == 2 and result.stdout == ""
    (line,) = result.stderr.splitlines()
    assert line.startswith(start)


def test_no_bouts_are_refused():
    with pytest.raises(InputError, match="bouts must be at least 1"):
        why(GAME, "in_play_share", bouts=0, session=answering)


def leaning(game, seed, replicate, assumptions=NONE):
    """The first loss comes later the farther a tackle is won from our best guess, whichever way: a mean that lies apart."""
    luck = ((seed + 7 * replicate) % 11) / 11
    moved = dict(assumptions.engine).get("tackle_win", WIN.value) - WIN.value
    for number in range(game.bouts.count):
        yield square_bout(replicate, number, late=1.5 + luck + (8 * moved if moved > 0 else 0))


def test_the_number_is_that_of_the_game_as_it_is_and_the_mean_of_all_that_was_tried_stands_apart():
    found = why(GAME, "in_play_share", bouts=2, workers=1, session=leaning)
    played = estimate_of_the_same(found)
    assert found.mean == pytest.approx(played)
    assert found.tried > found.mean + 0.25 * found.doubt > 0
    text = " ".join(why_in_words(found, GAME).split())
    assert f"The ball rolls for about {100 * found.mean:.0f} % of the bout" in text
    assert f"more often up than down: {100 * found.tried:.0f} % over all that was tried" in text
    assert "over all that was tried" not in why_in_words(replace(found, tried=found.mean), GAME)


def estimate_of_the_same(found) -> float:
    """The share of the sessions that nothing was moved in, played by `replicate` as an estimate plays them."""
    counts = replicate(GAME, 2 * TURNS, found.seed, 1, session=leaning).sessions
    return sum(one.in_play_s for one in counts) / sum(one.duration_s for one in counts)
