"""Which games stand on published figures, and how far others are from the nearest: read off the evidence tables."""

from __future__ import annotations

import pytest

from sim.evidence.published import domains, nearest, studies
from sim.experiments.cautions import NO_FIGURES, cautions_for, cautions_of_runs, study_said
from sim.game.loader import load_game
from sim.measures.basis import basis_of, setting_of
from sim.measures.summary import Measure
from sim.measures.thresholds import limits_of
from sim.words.screen import wrapped

METRES = "distance_per_min"


def pitch(length, width, population="U17 boys", game="even-goals"):
    return load_game(game, [f"areas.pitch.length={length}", f"areas.pitch.width={width}"], population)


def row(basis, measure=METRES):
    return Measure(measure, "role:player", "m/min", "watch", "made up", 1.0, 1.0, 1.0, 1.0, 1.0, 50, basis)


def said(game, *rows):
    return [
        line
        for line in cautions_for(game, rows, limits_of(game), 50, 50)
        if line == NO_FIGURES or line.startswith("Nearest")
    ]


def basis(game):
    return basis_of(METRES, setting_of(game), (), domains())


def test_a_study_holds_its_figure_ours_and_the_verdict_of_the_kept_table():
    found = {one.part: one for one in studies()}
    first = found["M01"]
    assert (first.setting.family, first.setting.players, first.published, first.measure) == (
        "even with goals",
        10,
        87.0,
        METRES,
    )
    assert first.setting.area_per_player_m2 == pytest.approx(32 * 23 / 10)
    assert not any(one.startswith(("M20", "M21", "M35")) for one in found), (
        "a source without a pitch is no game of any kind"
    )
    assert found["M27"].measure == "mean_heart_rate_estimate" and not found["M27"].inside, (
        "what has no verdict is not inside"
    )


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
    """Youth, five a side and keepers: 175 and 275 m2 a player are reproduced, 75 are not (see the kept table)."""
    assert [basis(pitch(*size)) for size in ((50, 35), (62, 44), (32, 23))] == [
        "published",
        "published",
        "extrapolated",
    ]
    assert basis(pitch(50, 35, "amateur men")) == "extrapolated"
    assert basis(pitch(50, 35, "U12")) == "extrapolated"


@pytest.mark.parametrize("name", ["tight-square", "two-squares", "break-away", "home-grids"])
def test_where_nothing_is_published_it_says_so(name):
    game = load_game(name)
    assert nearest(game) is None and basis(game) == "extrapolated"
    assert said(game, row("extrapolated")) == [NO_FIGURES]


def test_an_even_game_with_goals_is_told_how_far_it_is_from_the_nearest():
    (line,) = said(pitch(40, 30, "amateur men"), row("extrapolated"))
    assert line == (
        "Nearest study: 5v5 + keepers, 50 x 35 m, U17 boys, 114 metres a minute (our players: 113). "
        "Yours: 120 m2 each, not 175; amateur men: count your own."
    )


def test_the_same_game_is_told_so_and_what_stands_on_it():
    (line,) = said(pitch(50, 35), row("published"), row("extrapolated", "touches_per_min"))
    assert line.endswith(" Yours: the same size and players. Our metres a minute rest on such games.")


def test_the_nearest_is_of_the_same_people_if_there_are_any_then_of_the_nearest_size():
    assert nearest(pitch(31, 23)).part == "M01"
    assert nearest(pitch(50, 35, "elite men")).part == "M14"
    assert nearest(load_game("even-keep-ball")).about.population == "20 amateurs"


def test_a_sweep_counts_its_runs_with_and_without_studies():
    games = [pitch(50, 35), pitch(32, 23), load_game("tight-square")]
    lines = cautions_of_runs([(game, {METRES}) for game in games])
    assert "Nobody has published counts for 1 of these 3 games: count your own." in lines
    assert [line.split(", U17")[0] for line in lines if line.startswith("Nearest")] == [
        "Nearest study: 5v5 + keepers, 50 x 35 m", "Nearest study: 5v5 + keepers, 32 x 23 m",
    ]  # fmt: skip
    assert "In 1 of these 3 games our metres a minute rest on published ones." in lines


def test_every_study_is_said_in_two_lines_at_most_and_in_a_coach_s_words():
    told = [study_said(one) for one in studies()]
    assert len(told) > 10 and all(len(line) <= 160 for line in told)
    assert not [
        line for line in told if any(word in line for word in ("memory", "encouragement", " / ", "goalkeepers"))
    ]
    assert "Nearest study: 6v6, about 24 x 32 m, amateur men, 84 % of top heart rate (our players: 80)." in told
    assert "Nearest study: 4v4, 40 x 30 m, U17 boys, 85 % of top heart rate." in told


@pytest.mark.parametrize("name", ["even-goals", "even-keep-ball"])
def test_the_nearest_study_of_a_shipped_game_takes_two_lines(name):
    (line,) = said(load_game(name), row("extrapolated"))
    assert len(wrapped(line)) == 2
