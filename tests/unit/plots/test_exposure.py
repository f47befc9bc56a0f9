"""Exposure and metres: drawn as in the answer, nobody named in a sentence, minors never ranked."""

from __future__ import annotations

import numpy as np
import pytest
from matplotlib.container import BarContainer

from sim.experiments.sessions import Batch, play_sessions, session_counts
from sim.measures.summary import summarise
from sim.plots import exposure, speed_zones
from sim.plots.bout_frames import of_exposure, of_speed_zones
from sim.plots.pages import PICTURES, of_result
from sim.results import Result
from tests.unit.experiments.staged import staged
from tests.unit.measures.handmade import square_game
from tests.unit.plots.drawn import an_axis, bars_of, title_of

GAME = square_game(count=3)


def asked(game=GAME, sessions: int = 12) -> tuple[Result, list]:
    """An estimate of sessions made by hand."""
    from sim.experiments.estimate import result_of
    from sim.experiments.provenance import provenance_of
    from sim.experiments.replicate import Played
    from sim.measures.thresholds import limits_of

    tallies = play_sessions(Batch(game, range(sessions), session_counts, staged), 1)
    assert summarise(game, tallies)
    return result_of(game, Played(tuple(tallies), sessions), 1, (), None, provenance_of(limits_of(game))), tallies


RESULT, TALLIES = asked()


def of_minors():
    teams = tuple(team.model_copy(update={"population": "U12"}) for team in GAME.teams)
    return GAME.model_copy(update={"teams": teams})


def long(game=GAME):
    """Long enough for fast running to be shown."""
    return game.model_copy(update={"areas": tuple(a.model_copy(update={"length": 30.0}) for a in game.areas)})


def test_players_stand_with_their_shares_and_the_even_share():
    frame = of_exposure(RESULT, GAME)
    players = frame[frame["kind"] == "player"]
    assert len(players) == sum(
        bool(row.mean) for row in RESULT.rows("defending_share") if row.scope.startswith("player:")
    )
    assert players["fair"].iloc[0] == pytest.approx(players["mean"].mean())
    assert frame.iloc[-2]["mean"] == pytest.approx(100 * RESULT.row("defending_share_most").mean)
    axis = an_axis()
    assert exposure.draw(frame, axis) is axis
    rows = dict(zip([label.get_text() for label in axis.get_yticklabels()], axis.get_yticks(), strict=True))
    assert list(rows) == list(frame["who"])
    dots, strokes = (
        [line for line in axis.lines if line.get_marker() == mark and len(line.get_xdata())] for mark in ("o", "|")
    )
    for (line,), part in ((dots, players), (strokes, frame[frame["kind"] != "player"])):
        assert list(line.get_xdata()) == pytest.approx(list(part["mean"]))
        assert list(line.get_ydata()) == [rows[who] for who in part["who"]]
    assert not bars_of(axis), "one kind of range in a picture"
    (line,) = [one for one in axis.lines if one.get_label().startswith("even share")]
    assert set(line.get_xdata()) == {frame["fair"].iloc[0]}
    bars = [bar for one in axis.containers if isinstance(one, BarContainer) for bar in one]
    ends = [(bar.get_x(), bar.get_x() + bar.get_width()) for bar in bars]
    assert np.array(ends) == pytest.approx(frame[["session_low", "session_high"]].to_numpy())


def test_adults_stand_by_what_they_do_and_minors_by_number():
    adults = of_exposure(RESULT, GAME)
    adults = adults[adults["kind"] == "player"]
    assert list(adults["mean"]) == sorted(adults["mean"], reverse=True)
    minors = of_exposure(RESULT, of_minors())
    minors = minors[minors["kind"] == "player"]
    assert list(minors["mean"]) != sorted(minors["mean"], reverse=True), "else this would not tell"
    assert list(minors["who"]) == sorted(minors["who"])


def test_the_sentence_names_nobody():
    frame = of_exposure(RESULT, GAME)
    most = frame[frame["kind"] == "most"].iloc[0]
    assert title_of(exposure.draw(frame, an_axis())) == (
        f"In one session somebody defends for about {most['mean']:.0f} % of the time with the ball rolling (usually "
        f"{most['session_low']:.0f} to {most['session_high']:.0f}); an even share is {most['fair']:.0f} %."
    )


def test_a_season_and_one_session_cannot_be_taken_for_one_another():
    """Different marks, each named where it stands and not only in the legend."""
    axis = exposure.draw(of_exposure(RESULT, GAME), an_axis())
    heads = {text.get_text(): text.get_position()[1] for text in axis.texts}
    assert list(heads) == [
        "Each player: the dot is the season, the bar is one session",
        "One session, whoever it is that day",
    ]
    (dots,), (strokes,) = (
        [line for line in axis.lines if line.get_marker() == mark and len(line.get_xdata())] for mark in ("o", "|")
    )
    first, second = heads.values()
    assert first < min(dots.get_ydata()) and max(dots.get_ydata()) < second < min(strokes.get_ydata())
    assert dots.get_color() != strokes.get_color()
    own, ends = [one for one in axis.containers if isinstance(one, BarContainer)]
    assert {bar.get_hatch() for bar in own} == {None} and {bar.get_hatch() for bar in ends} == {"////"}
    assert any("usually (eight sessions in ten)" in str(label) for label in axis.get_legend_handles_labels()[1])


def test_players_of_one_team_go_by_number_and_of_two_by_their_bibs():
    from sim.game.loader import load_game
    from sim.game.names import spoken_of

    assert spoken_of(load_game("tight-square"))["squad-3"] == "player 3"
    assert spoken_of(load_game("even-goals"))["amber-3"] == "amber 3"
    assert set(spoken_of(GAME).values()) == {f"p{i}" for i in range(1, 7)}, "a name in the file is his name"


def test_one_session_has_no_ranges_and_is_drawn_all_the_same():
    result, _ = asked(sessions=1)
    frame = of_exposure(result, GAME)
    assert frame["low"].isna().all()
    assert "(" not in title_of(exposure.draw(frame, an_axis()))
    speed_zones.draw(of_speed_zones(result, GAME), an_axis())


def test_metres_are_those_of_the_answer_by_role_and_band():
    result, _ = asked(long())
    frame = of_speed_zones(result, long())
    assert frame["order"].nunique() == 5 and set(frame["role"]) == {"outside", "inside"}
    for role, own in frame.groupby("role"):
        assert own["mean"].sum() == pytest.approx(result.row("distance_per_min", f"role:{role}").mean)
        assert own["total"].iloc[0] == pytest.approx(own["mean"].sum())
        assert own["held"].iloc[0] == result.row("time_in_role_s", f"role:{role}").mean
    axis = an_axis()
    assert speed_zones.draw(frame, axis) is axis
    for one in [one for one in axis.containers if isinstance(one, BarContainer)]:
        own = frame[frame["role"] == one.get_label()]
        assert [bar.get_width() for bar in one] == pytest.approx(list(own["mean"]))
        (lines,) = one.errorbar.lines[2]
        ends = np.array([np.sort(part[:, 0]) for part in lines.get_segments()])
        assert ends == pytest.approx(own[["session_low", "session_high"]].to_numpy())


def test_roles_differ_by_hatch_and_not_by_colour_alone():
    axis = speed_zones.draw(of_speed_zones(RESULT, GAME), an_axis())
    hatches = [one[0].get_hatch() for one in axis.containers if isinstance(one, BarContainer)]
    assert len(set(hatches)) == len(hatches) == 2


def test_fast_running_is_left_out_where_the_area_is_too_short_for_it():
    frame = of_speed_zones(RESULT, GAME)
    assert set(frame["band"]) == {"walking", "jogging", "running"}
    assert "19.8 km/h" in title_of(speed_zones.draw(frame, an_axis()))


def test_the_sentence_of_the_metres():
    frame = of_speed_zones(RESULT, GAME)
    frame["total"] = frame["role"].map({"inside": 123.4, "outside": 61.2})
    frame["held"] = frame["role"].map({"inside": 31.0, "outside": 48.0})
    frame.loc[(frame["role"] == "inside") & (frame["band"] == "running"), "mean"] = 17.3
    assert title_of(speed_zones.draw(frame, an_axis())) == (
        "As inside they cover 120 m a minute on the watch, for about 30 s of a bout; as outside 61 m a minute. Of the 120, 17 m "
        "are at 14.4 to 19.8 km/h."
    )


def test_pictures_of_an_estimate_go_by_their_names():
    shown = {name: of_result(RESULT, GAME, TALLIES, name).picture.__name__.split(".")[-1] for name in PICTURES}
    assert shown == {"defending": "exposure", "metres": "speed_zones", "passes": "runs"}


def test_no_picture_shows_heart_rate_or_effort():
    for name in PICTURES:
        page = of_result(RESULT, GAME, TALLIES, name)
        text = page.frame.to_csv().lower()
        assert "heart" not in text and "effort" not in text
