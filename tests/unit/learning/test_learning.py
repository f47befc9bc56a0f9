"""What a club's tallies teach, on clubs and designs made by a known law."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import numpy as np
import pytest

from sim.assumptions import NONE, Assumptions
from sim.errors import InputError
from sim.learning.club import counts_from
from sim.learning.emulator import emulated
from sim.learning.held_out import HeldOut, folds
from sim.learning.learn import Outcome, early
from sim.learning.likelihood import Counts, log_chance
from sim.learning.tallies import games_of, usable
from sim.learning.values import PASSING, PRESSING, RESTARTS, WILLINGNESS, at_scores, learnable
from sim.own_counts.forecast import setup_of
from sim.own_counts.logbook import Evening, Kept
from sim.own_counts.tally import Row
from sim.populations import POPULATIONS
from sim.words.learn_screen import learned_in_words, said
from tests.unit.learning.club_by_hand import BOUT_S, LAW, counts, design, forecast, nights, plan, square, taught

AMATEURS = POPULATIONS["amateur men"]


@pytest.fixture(autouse=True)
def fewer_moves(monkeypatch: pytest.MonkeyPatch):
    """Rougher draws are enough here."""
    monkeypatch.setattr("sim.learning.posterior.MOVES", 2)


@cache
def apart():
    """What a club teaches that passes badly and restarts soon."""
    return taught(nights({PASSING: -2.0, RESTARTS: -1.0}, count=8))


def change(answer, name):
    return next(one for one in answer.changes if one.name == name)


# The emulator and the likelihood


def test_an_emulator_finds_the_law_that_made_the_counts():
    found = emulated(design(), plan().scores, "losses", "watch")
    at = np.zeros((3, 4))
    at[1, 0] = at[2, 2] = 1.0
    rate, error = found.log_rate(at)
    assert np.exp(rate[0]) * 60 == pytest.approx(LAW["losses"][0], rel=0.1)
    assert rate[1] - rate[0] == pytest.approx(LAW["losses"][1][PASSING], abs=0.06)
    assert rate[2] - rate[0] == pytest.approx(LAW["losses"][1][RESTARTS], abs=0.08)
    assert (error < 0.1).all() and 0.7 < found.luck < 1.3 and 0.7 < found.off < 1.3


def test_a_count_whose_held_out_clubs_are_not_predicted_is_not_used():
    wild = design(wild=1.0)  # the clubs that are held out bring nearly three times as much
    assert emulated(wild, plan().scores, "losses", "watch").off > 1.5
    assert counts_from(plan(), wild, [("losses", "watch")]).keys == []
    assert taught(nights({}), played=wild).outcome is Outcome.NOTHING


def test_counts_are_negative_binomial_and_poisson_at_the_edge():
    from scipy.stats import nbinom, poisson

    assert log_chance(7, np.array([5.0]), np.array([5.0]))[0] == pytest.approx(poisson.logpmf(7, 5), abs=1e-4)
    size, mean = 4.0, 5.0
    wanted = nbinom.logpmf(7, size, size / (size + mean))
    assert log_chance(7, np.array([mean]), np.array([mean + mean**2 / size]))[0] == pytest.approx(wanted)


# The answer


def test_a_club_apart_is_learned_and_only_what_is_the_clubs():
    answer = apart()
    assert answer.outcome is Outcome.LEARNED and answer.held_out.own > answer.held_out.population
    assert (
        change(answer, PASSING).score < -0.5 and change(answer, PASSING).after < 0.95 < change(answer, PASSING).before
    )
    assert change(answer, RESTARTS).after < 0
    places = {one.place for one in answer.values}
    assert {("club", "restarts_later_s"), ("population", "amateur men", "pass_success", "mean")} <= places
    assert all(place[0] == "club" or place[1] in POPULATIONS for place in places)  # nobody's own ability
    assert (answer.own_data.sessions, answer.own_data.bouts, answer.own_data.minutes) == (8, 32, 64.0)
    screen = learned_in_words(answer)
    assert "They pass worse than we assumed" in screen and "of 100 simple passes come off" in screen
    assert "32 bouts" in screen and max(map(len, screen.splitlines())) <= 80


def test_a_usual_club_is_left_nearly_alone():
    assert all(abs(one.score) < 1.0 for one in taught(nights({})).changes)


def test_what_the_counts_say_nothing_on_is_said_and_not_written():
    answer = apart()
    silent = change(answer, WILLINGNESS)  # no count of this law knows of it
    assert not silent.is_told and silent.narrower > 0.8
    assert not any("willingness" in one.place for one in answer.values)
    assert "say nothing on how hard they press or how willing" in " ".join(learned_in_words(answer).split())


def test_two_values_that_do_the_same_cannot_be_told_apart():
    same = {"losses": (2.5, {PASSING: 0.4, PRESSING: 0.4})}
    answer = taught(nights({PASSING: 1.5, PRESSING: 1.5}, law=same, measures=("losses",)), same)
    assert answer.inseparable == ((PASSING, PRESSING),)
    assert "cannot tell the two apart" in " ".join(learned_in_words(answer).split())
    assert apart().inseparable == ()


def test_what_is_only_known_together_is_told_as_such_though_each_is_hardly_better_known():
    """Two values that do the same, little counted: each may be nearly anything, their sum may not."""
    same = {"losses": (2.5, {PASSING: 0.6, PRESSING: 0.6})}
    answer = taught(nights({PASSING: 0.3, PRESSING: 0.3}, law=same, measures=("losses",)), same)
    found = [replace(change(answer, name), narrower=0.95) for name in (PASSING, PRESSING)]
    assert answer.inseparable == ((PASSING, PRESSING),) and all(one.is_told for one in found)


def test_a_value_that_moves_while_its_doubt_stays_is_not_told():
    moved = replace(change(apart(), WILLINGNESS), score=1.0, narrower=0.95)
    assert not moved.is_told and replace(moved, narrower=0.7).is_told


@pytest.mark.parametrize(("own", "outcome"), [(-2.0, Outcome.NO_BETTER), (-1.0, Outcome.LEARNED)])
def test_what_forecasts_worse_than_the_population_is_not_offered(own, outcome, monkeypatch: pytest.MonkeyPatch):
    monkeypatch.setattr("sim.learning.learn.checked", lambda *_: HeldOut(6, own, -1.0))
    answer = taught(nights({PASSING: -2.0, RESTARTS: -1.0}))
    assert answer.outcome is outcome and bool(answer.values) == (outcome is Outcome.LEARNED)
    assert ("Nothing learned yet" in learned_in_words(answer)) == (outcome is Outcome.NO_BETTER)


def test_a_difference_smaller_than_its_doubt_is_only_perhaps_one():
    clear = change(apart(), PASSING)
    assert said(clear).startswith("They pass worse than we assumed: ")
    assert said(replace(clear, before=clear.after - 0.011)).startswith("Perhaps they pass better than we assumed: ")
    assert "as we assumed" in said(replace(clear, before=clear.after))


def test_weak_passing_that_hides_is_said_so():
    deaf = {"losses": (2.5, {PASSING: -0.02, RESTARTS: -0.2})}
    screen = " ".join(learned_in_words(taught(nights({RESTARTS: -1.2}, law=deaf, measures=("losses",)), deaf)).split())
    assert "Weak passing hides in the range" in screen and "by luck and by who plays" in screen


# What is learned from


def evening(day: str, rows: list[Row], forecast: str | None = "k") -> Evening:
    return Evening(
        1,
        day,
        "Square",
        "tight-square",
        setup_of(square()),
        tuple(Kept(i, row) for i, row in enumerate(rows)),
        forecast,
    )


def test_changed_bouts_withdrawn_rows_and_sessions_without_a_game_are_never_used():
    rows = [
        Row("2026-11-01", 2.0, "watch", {"losses": 5}, bout + 1, "one touch" if bout == 1 else "") for bout in range(4)
    ]
    one = evening("2026-11-01", rows)
    taken_back = replace(one, rows=(*one.rows[:3], replace(one.rows[3], withdrawn=True)))
    (tally,), changed = usable([taken_back, evening("2026-11-02", rows, None)])
    assert ([row.bout for row in tally.rows], changed) == ([1, 3], 2)


def test_a_game_that_cannot_be_read_any_more_is_refused():
    old = replace(forecast(), made={"version": "0.1", "game": {"name": "square"}})
    with pytest.raises(
        InputError, match=r"Square of 2026-11-01 must have a forecast that .* \(got one of version 0.1\)"
    ):
        games_of([evening("2026-11-01", [])], {"k": old})
    assert games_of([evening("2026-11-01", [])], {"k": forecast()})[setup_of(square())].title == square().title


@pytest.mark.parametrize(
    ("rows", "outcome"),
    [
        ([(4.0, None)], Outcome.TOO_FEW),
        ([(2.0, 1), (2.0, 2)], Outcome.TOO_FEW),
        ([(8.0, None)], Outcome.ONE_ROW),
        ([(2.0, 1), (2.0, 2), (2.0, 3)], None),
    ],
)
def test_three_bouts_at_least_and_something_to_hold_back(rows, outcome):
    made = tuple(Row("2026-11-01", minutes, "watch", {"losses": 5}, bout) for minutes, bout in rows)
    tally = replace(nights({}, count=1)[0], rows=made)
    found = early([tally], 0, {tally.setup: square()})
    assert (found and found.outcome) is outcome
    if found is not None:
        assert "Nothing learned yet" in learned_in_words(found)


def test_everything_is_held_back_once():
    tallies = nights({}, count=8)
    parts = folds(tallies)
    assert len(parts) == 6 and sorted(one.day for _, held in parts for one in held) == [one.day for one in tallies]
    assert all(not {one.day for one in rest} & {one.day for one in held} for rest, held in parts)
    rows = folds(tallies[:1])
    assert [held[0].rows[0].bout for _, held in rows] == [1, 2, 3, 4] and all(
        len(rest[0].rows) == 3 for rest, _ in rows
    )


# The values


def test_a_club_of_some_scores_is_the_population_moved_by_our_ignorance():
    found = at_scores([square()], NONE, {PASSING: 0.0, RESTARTS: 2.0})
    numbers = {(trait, number): value for _, trait, number, value in found.populations}
    trait = AMATEURS.traits["pass_success"]
    assert numbers["pass_success", "mean"] == pytest.approx(trait.mean, abs=0.004)  # the median of a skewed prior
    assert numbers["composure", "ignorance"] == 0.0
    assert dict(found.club) == {"restarts_later_s": 5.0}
    weak = {t: v for _, t, n, v in at_scores([square()], NONE, {PASSING: -2.0}).populations if n == "spread"}
    assert weak["pass_success"] > 1.5 * trait.spread  # the spread goes with what is missing to 1


def test_what_the_file_says_of_every_team_is_not_learned():
    told = square().model_copy(
        update={"teams": tuple(team.model_copy(update={"pass_success": 0.9}) for team in square().teams)}
    )
    assert PASSING not in [one.name for one in learnable([told], NONE)]
    sure = Assumptions(populations=(("amateur men", "pressing_speed_mps", "ignorance", 0.0),))
    assert PRESSING not in [one.name for one in learnable([square()], sure)]
    restarts = next(one for one in learnable([square()], NONE) if one.name == RESTARTS)
    assert restarts.low == pytest.approx(-1.4)  # 4 s in the file, half a second at least


def test_the_law_by_hand_is_what_it_says():
    dice = np.random.default_rng(1)
    found = np.mean([sum(counts({}, 4, dice)["losses"]) for _ in range(400)])
    assert found == pytest.approx(2.5 * 4 * BOUT_S / 60, rel=0.03)


def test_counts_on_another_clock_are_of_other_bouts():
    """The same losses on the watch and on the rolling clock hang together in the design, where they are the same events."""
    same = emulated(design(), plan().scores, "losses", "watch")
    counts = Counts({("losses", "watch"): same, ("losses", "rolling"): same})
    assert counts.correlations.tolist() == np.eye(2).tolist()
    assert Counts({("losses", "watch"): same, ("wins", "watch"): same}).correlations[0, 1] > 0.9
