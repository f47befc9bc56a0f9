"""The time strip of a bout: who defends when, what is lost and unlocked, at the seconds of the log."""

from __future__ import annotations

import pytest
from matplotlib.colors import to_hex
from matplotlib.container import BarContainer

from sim.game.loader import load_game
from sim.measures.event_reducer import reduce_events
from sim.pitch.engine import play_bout
from sim.players import draw_roster
from sim.plots import strip
from sim.plots.bibs import BIBS
from sim.plots.bout_frames import of_bout
from sim.plots.pages import of_bout as page_of
from sim.words.picture_labels import MOMENTS
from sim.words.strip import MARKS
from tests.unit.measures.handmade import square_bout, square_game
from tests.unit.plots.drawn import LINE, an_axis, title_of, words_of

GAME = square_game()
LOG = square_bout(0, 0)


def test_stretches_and_moments_are_those_of_the_log():
    frame = of_bout(GAME, LOG)
    spells = reduce_events(GAME, LOG).exposure.spells
    own = frame[frame["what"] == "defends"]
    assert sorted(zip(own["start_s"], own["end_s"], strict=True)) == sorted((one.start_s, one.end_s) for one in spells)
    lost = frame[frame["what"] == "loss"]
    assert list(lost["start_s"]) == [event[0] for event in LOG.events if event[2] == "loss"]
    assert set(frame.loc[frame["what"].isin(["defends", "does not defend"]), "row"]) == {f"p{i}" for i in range(1, 7)}


def test_bars_and_marks_stand_at_their_seconds_in_their_rows():
    frame = of_bout(GAME, LOG)
    axis = an_axis()
    assert strip.draw(frame, axis) is axis
    names = dict(zip(axis.get_yticks(), [label.get_text() for label in axis.get_yticklabels()], strict=True))
    for one in [one for one in axis.containers if isinstance(one, BarContainer)]:
        own = frame[frame["what"] == one.get_label()]
        drawn = [(bar.get_x(), bar.get_x() + bar.get_width()) for bar in one]
        assert [end for pair in drawn for end in pair] == pytest.approx(
            [end for pair in zip(own["start_s"], own["end_s"], strict=True) for end in pair]
        )
        if one.get_label() != "ball out":
            rows = [names[min(names, key=lambda y: abs(y - bar.get_y() - bar.get_height() / 2))] for bar in one]
            assert [row.removesuffix(" on the ball") for row in rows] == list(own["row"])
    (lost,) = [line for line in axis.lines if line.get_label() == "loss"]
    assert list(lost.get_xdata()) == list(frame.loc[frame["what"] == "loss", "start_s"])


def test_every_sort_of_moment_has_a_shape_of_its_own():
    assert len(set(strip.SIGNS.values())) == len(strip.SIGNS)
    assert set(strip.SIGNS) == set(MOMENTS) == {*MARKS, "by shot"}, "what the strip in the terminal marks"


def test_the_sentence_counts_what_is_drawn():
    frame = of_bout(GAME, LOG)
    dead = frame[frame["what"] == "ball out"]
    in_play = LOG.duration_s - (dead["end_s"] - dead["start_s"]).sum()
    own = frame[frame["what"] == "defends"]
    lost = (frame["what"] == "loss").sum()
    said = {1: "once", 2: "twice"}.get(lost, f"{lost} times")
    assert title_of(strip.draw(frame, an_axis())) == (
        f"One bout of {LOG.duration_s:.0f} s on the watch: they lose it {said}, and the ball rolls for {in_play:.0f} s. "
        f"{own['row'].nunique()} players defend, the longest spell is {(own['end_s'] - own['start_s']).max():.0f} s."
    )


def test_points_for_a_goal_are_told_by_the_goal():
    from dataclasses import replace

    at = LOG.events[-1]
    goal = (50.0, 900, "goal", "p1", "", "outside", "", "", *at[8:])
    score = (50.0, 901, "score", "p1", "", "outside", "", "", *at[8:])
    other = (51.0, 902, "score", "p1", "", "inside", "", "", *at[8:])
    before = of_bout(GAME, LOG)["what"].value_counts()
    events = sorted([*LOG.events, goal, score, other])
    after = of_bout(GAME, replace(LOG, events=tuple(events)))["what"].value_counts()
    assert after["goal"] == 1 and after["point"] == before.get("point", 0) + 1


def test_the_page_says_which_bout_and_ends_with_the_caution():
    words = words_of(page_of(GAME, LOG, ["bouts.count=2"]))
    assert "square with bouts.count=2" in words and "session 1, bout 1, seed" in words and words.endswith(LINE)


def test_a_shot_is_no_loss():
    from dataclasses import replace

    at = next(event for event in LOG.events if event[2] == "loss")
    shot = (*at[:6], "shot", *at[7:])
    before = of_bout(GAME, LOG)["what"].value_counts()
    after = of_bout(GAME, replace(LOG, events=tuple(shot if one is at else one for one in LOG.events)))[
        "what"
    ].value_counts()
    assert (after.get("loss", 0), after["a shot ends it"]) == (before["loss"] - 1, 1)


def test_marks_are_seen_at_arms_length():
    axis = strip.draw(of_bout(GAME, LOG), an_axis())
    assert all(line.get_markersize() >= 11 for line in axis.lines if line.get_label() in MOMENTS.values())


def test_whoever_has_the_ball_is_a_bar_in_the_colour_of_his_bibs():
    game = load_game("even-keep-ball", ["bouts.minutes=0.5"])
    frame = of_bout(game, play_bout(game, draw_roster(game, 1, 0), 1, 0, 0))
    axis = strip.draw(frame, an_axis())
    rows = list(frame[frame["what"] == strip.BALL]["row"])
    fills = [to_hex(bar.get_facecolor()) for bar in axis.containers[0]]
    assert fills == [BIBS[row][0] for row in rows] and len(set(fills)) > 1
