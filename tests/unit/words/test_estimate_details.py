"""The answer in words: what was played, by the minute in a role, runs as they are counted, losses told from shots."""

from __future__ import annotations

import re
from dataclasses import replace

import numpy as np
import pytest

from sim.experiments.cautions import cautions_for
from sim.experiments.provenance import provenance_of
from sim.game.names import names_of
from sim.measures.session_counts import counts_of_bout, session_of
from sim.measures.summary import summarise
from sim.measures.tables import tables
from sim.plots.bout_frames import of_runs
from sim.results import Named, Result
from sim.words.estimate_details import answer_in_words
from sim.words.passing import passing, short
from tests.unit.measures.handmade import Bout, goals_game, square_bout, square_game

GAME = square_game()


def result_of(game, counts):
    rows, bands = summarise(game, counts), counts[0].thresholds
    cautions = cautions_for(game, rows, bands, len(counts), len(counts))
    named = tuple(Named(*one) for one in names_of(game).items())
    count = len(counts)
    return Result(2, game.name, 0, count, "elite men", named, "0.1.0", (), cautions, rows, provenance_of(bands))


def sessions(game, *bouts):
    """One session a list of bouts."""
    return [
        session_of([replace(counts_of_bout(game, log), replicate=i) for log in logs]) for i, logs in enumerate(bouts)
    ]


def busy(game, seconds, number=0):
    """Everybody runs at 3 m/s; roles change hands every ten seconds: p1 and p2 inside, p3 and p4, and so on."""
    bout = Bout(game, 0, number)
    bout(0, "live", side="outside", other="p6")
    pairs = [("p1", "p2"), ("p3", "p4"), ("p5", "p6")]
    for start in range(0, int(seconds), 10):
        now = pairs[start // 10 % 3]
        for player in bout.ids:
            role = "inside" if player in now else "outside"
            bout.job(start, player, role)
            bout.runs(player, role, start, min(start + 10, seconds), (3.0, 0.0))
    return bout.log(seconds)


def details(result, game) -> str:
    return answer_in_words(result, game, details=True)


def test_a_bout_that_ends_early_is_spoken_of_as_long_as_it_was():
    early = details(result_of(GAME, sessions(GAME, [busy(GAME, 20.0), busy(GAME, 40.0, 1)])), GAME)
    assert "Each player on average, in a bout, played for 30 s of 60 on average;" in early
    assert "bout of 60 s" not in early
    whole = details(result_of(GAME, sessions(GAME, [square_bout()])), GAME)
    assert "Each player on average, in a bout of 60 s;" in whole


def test_nobody_is_said_to_run_further_in_a_role_than_he_can_in_its_seconds():
    """At 3 m/s, 10 or 20 s of a minute inside: 180 m a minute for all, in no role as many metres as a whole bout has."""
    text = details(result_of(GAME, sessions(GAME, [busy(GAME, 60.0)])), GAME)
    head = next(line for line in text.splitlines() if "metres a minute, watch" in line)
    assert "in the role, s a bout, watch" in head and "above 19.8 km/h, metres a minute, watch" in head
    assert "metres a bout" not in head
    role = next(line for line in text.splitlines() if line.startswith("inside  "))
    assert re.split(r"\s{2,}", role)[1:4] == ["20", "100 %", "180"]
    player = next(line for line in text.splitlines() if line.startswith("p1  "))
    assert re.split(r"\s{2,}", player)[1:3] == ["180", "180"], "a bout and a session of one bout"


def test_the_player_rows_have_the_bout_and_the_session():
    text = details(result_of(GAME, sessions(GAME, [busy(GAME, 60.0), busy(GAME, 60.0, 1)])), GAME)
    assert "Each player in all his roles, in one bout and in the session (2 bouts)." in text
    row = next(line for line in text.splitlines() if line.startswith("p1 "))
    assert re.split(r"\s{2,}", row)[1:3] == ["180", "360"]


def with_runs(game, *runs):
    """A bout whose runs have so many passes each: all but the last end with a loss."""
    bout, t = Bout(game), 0.0
    bout(t, "live", side="outside", other="p1")
    for place, passes in enumerate(runs):
        bout(t + 0.1, "possession", "p1", side="outside")
        for i in range(passes):
            t += 1
            giver, taker = ("p1", "p2") if i % 2 == 0 else ("p2", "p1")
            bout(t, "release", giver, taker, side="outside", detail="pass")
            bout(t + 0.5, "receive", taker, giver, side="outside")
        t += 1
        if place < len(runs) - 1:
            bout(t, "loss", "p1", "p5", side="outside", cause="tackle")
    return bout.log(t + 1)


RUNS = ((0, 1, 2, 3, 9), (4, 4, 1, 12), (0, 0, 2, 2, 2, 7))


def test_screen_table_and_picture_count_the_same_runs():
    """Medians of the sessions 2, 4 and 2; 8 of 15 runs have 2 passes or fewer; 6 of 15 get to 3."""
    logs = [replace(with_runs(GAME, *runs), replicate=i) for i, runs in enumerate(RUNS)]
    counts = [counts_of_bout(GAME, log) for log in logs]
    result = result_of(GAME, counts)
    table = tables(GAME, logs)["pass_run"]
    by_session = table.groupby("replicate")["passes"].median()
    assert by_session.tolist() == [2, 4, 2]
    assert result.row("pass_run_median").mean == pytest.approx(by_session.mean())
    share = result.row("pass_run_share_reaching")
    assert share.mean == pytest.approx((table["passes"] >= 3).mean()) == pytest.approx(6 / 15)
    frame = of_runs(counts, GAME)
    drawn = frame[(frame["side"] == "outside") & (frame["passes"] == 3)]
    assert drawn["share"].tolist() == pytest.approx([100 * share.mean]) and drawn["asked"].tolist() == [3]
    assert result.row("pass_run_p80").mean == np.quantile(table["passes"], 0.8, method="inverted_cdf")


def test_the_middle_run_leads_and_the_corrected_mean_is_a_detail():
    counts = [counts_of_bout(GAME, replace(with_runs(GAME, *runs), replicate=i)) for i, runs in enumerate(RUNS)]
    result = result_of(GAME, counts)
    first, second = passing(result, GAME)
    assert first == "Outside string about 3 passes together (usually 2 to 4); one time in five more than 4."
    assert second.startswith("They get to the 3 that the game asks for with 40 % (usually ")
    assert short(result, GAME) == "Outside string about 3 passes (usually 2 to 4) and get to 3 about 4 times in 10."
    text = details(result, GAME)
    assert "they would make 4.1 (usually " in text and "If neither the whistle nor a rule cut a run short" in text
    assert text.index(first) < text.index("If neither the whistle")
    assert "If neither the whistle" not in answer_in_words(result, GAME)


def test_a_game_that_asks_for_no_passes_has_the_middle_run_alone():
    game = goals_game()
    bout = Bout(game)
    bout(0, "live", side="amber", other="a1")
    bout(1, "possession", "a1", side="amber")
    bout(2, "release", "a1", "a2", side="amber", detail="pass")
    bout(3, "receive", "a2", "a1", side="amber")
    result = result_of(game, [counts_of_bout(game, bout.log())])
    assert passing(result, game) == ["They string about 1 pass together; one time in five more than 1."]
    assert short(result, game) == "They string about 1 pass together."


def test_no_pass_at_all_is_said_so():
    result = result_of(GAME, [counts_of_bout(GAME, with_runs(GAME, 0, 0, 4))])
    assert passing(result, GAME)[0] == "Outside mostly complete no pass at all; one time in five more than 4."
    assert short(result, GAME).startswith("Outside mostly complete no pass at all and get to 3 about ")
    assert (
        passing(result_of(GAME, [counts_of_bout(GAME, with_runs(GAME, 0, 0))]), GAME)[0]
        == "Outside mostly complete no pass at all."
    )


def shooting(game):
    """60 s in play: one ball lost, three possessions that end with a shot."""
    bout = Bout(game)
    bout(0, "live", side="amber", other="a1")
    for t, cause in ((10, "tackle"), (20, "shot"), (30, "shot"), (40, "shot")):
        bout(t - 5, "possession", "a1", side="amber")
        if cause == "shot":
            bout(t, "shot", "a1", side="amber")
        bout(t, "loss", "a1", side="amber", cause=cause)
    return result_of(game, [counts_of_bout(game, bout.log())])


def test_a_game_with_goals_leads_with_them_and_tells_losses_from_shots():
    """One loss and three shots in the one minute of the one bout."""
    game = goals_game()
    result = shooting(game)
    assert result.row("turnovers_per_min").mean == 4.0
    text = answer_in_words(result, game)
    assert "Not one goal in 1 bout: about 3 shots a bout, a minute on the watch." in text
    assert " lose it about once a bout, a minute on the watch." in text
    assert "That is once a minute with the ball rolling." in text
    assert "How they lose it: tackled 100 %." in text
    assert "A loss: given away or out, not a shot." in text
    rows = {re.split(r"\s{2,}", line)[0]: re.split(r"\s{2,}", line)[1:] for line in details(result, game).splitlines()}
    assert rows["losses a minute"] == ["with the ball rolling", "1.0"]
    assert rows["losses and shots a minute"] == ["on the watch", "4.0"]
    assert rows["balls that end with a shot, a minute"] == ["with the ball rolling", "3.0"]
    assert "A loss is any time they give it away, ball out included; a shot is not one." in details(result, game)
