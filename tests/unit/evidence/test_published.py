"""Which games stand on published figures, and how far others are from the nearest: read off the evidence tables."""

from __future__ import annotations

import pytest

from sim.evidence.published import domains, nearest, studies
from sim.experiments.cautions import NO_FIGURES, cautions_for, cautions_of_runs
from sim.game.loader import load_game
from sim.measures.basis import basis_of, setting_of
from sim.measures.summary import Measure
from sim.measures.thresholds import limits_of

METRES = "distance_per_min"


def pitch(length, width, population="U17 boys", game="even-goals"):
    return load_game(game, [f"areas.pitch.length={length}", f"areas.pitch.width={width}"], population)


def row(basis, measure=METRES):
    return Measure(measure, "role:player", "m/min", "watch", "made up", 1.0, 1.0, 1.0, 1.0, 1.0, 50, basis)


def said(game, *rows):
    return [line for line in cautions_for(game, rows, limits_of(game), 50, 50) if "ublished" in line]


def basis(game):
    return basis_of(METRES, setting_of(game), (), domains())


def test_a_study_holds_its_figure_ours_and_the_verdict_of_the_kept_table():
    found = {one.part: one for one in studies()}
    first = found["M01"]
    assert (first.setting.family, first.setting.players, first.published, first.measure) == ("even with goals", 10, 87.0, METRES)
    assert first.setting.area_per_player_m2 == pytest.approx(32 * 23 / 10)
    assert not any(one.startswith(("M20", "M21", "M35")) for one in found), "a source without a pitch is no game of any kind"
    assert found["M27"].measure == "mean_heart_rate_estimate" and not found["M27"].inside, "what has no verdict is not inside"


def test_domains_are_spanned_by_what_we_come_out_inside_of():
    inside = {one.part for one in studies() if one.inside}
    for domain in domains():
        own = [one for one in studies() if one.part in inside and one.setting.family == domain.family
               and one.setting.populations == domain.populations and one.setting.helpers == domain.helpers]  # fmt: skip
        areas = [one.setting.area_per_player_m2 for one in own]
        assert domain.area_per_player_m2 == pytest.approx((0.9 * min(areas), 1.1 * max(areas)))
        assert domain.players == (min(one.setting.players for one in own), max(one.setting.players for one in own))
        assert domain.measures == {METRES}


def test_a_game_like_those_of_the_studies_stands_on_them_and_another_does_not():
    """Youth, five a side and keepers: 175 and 275 m2 a player are reproduced, 75 is not (see the kept table)."""
    assert [basis(pitch(*size)) for size in ((50, 35), (62, 44), (32, 23))] == ["published", "published", "extrapolated"]
    assert basis(pitch(50, 35, "amateur men")) == "extrapolated"
    assert basis(pitch(50, 35, "U12")) == "extrapolated"


@pytest.mark.parametrize("name", ["tight-square", "two-squares", "break-away", "home-grids"])
def test_where_nothing_is_published_it_says_so(name):
    game = load_game(name)
    assert nearest(game) is None and basis(game) == "extrapolated"
    assert said(game, row("extrapolated")) == [NO_FIGURES]


def test_an_even_game_with_goals_is_told_how_far_it_is_from_the_nearest():
    (line,) = said(pitch(40, 30, "amateur men"), row("extrapolated"))
    assert line.startswith("Nearest published game: 5v5 + goalkeepers on 50x35 m, U17 boys, 114 metres a minute (in the model ")
    assert line.endswith(
        "Yours: 120 m2 a player instead of 175, amateur men instead of U17 boys. Too far from it to stand on: count your own."
    )


def test_the_same_game_is_told_so_and_what_stands_on_it():
    (line,) = said(pitch(50, 35), row("published"), row("extrapolated", "touches_per_min"))
    assert line.endswith("Yours is of that size, with such players. Figures of such games stand behind: metres a minute.")


def test_the_nearest_is_of_the_same_people_if_there_are_any_then_of_the_nearest_size():
    assert nearest(pitch(31, 23)).part == "M01"
    assert nearest(pitch(50, 35, "elite men")).part == "M14"
    assert nearest(load_game("even-keep-ball")).about.population == "20 amateurs"


def test_a_sweep_counts_its_runs_with_and_without_studies():
    games = [pitch(50, 35), pitch(32, 23), load_game("tight-square")]
    lines = cautions_of_runs([(game, {METRES}) for game in games])
    assert f"For 1 of 3 runs: {NO_FIGURES}" in lines
    assert [line.split(",")[0] for line in lines if line.startswith("Nearest")] == [
        "Nearest published game: 5v5 + goalkeepers on 50x35 m", "Nearest published game: 5v5 + goalkeepers on 32x23 m",
    ]  # fmt: skip
    assert "For 1 of 3 runs such figures stand behind: metres a minute." in lines
