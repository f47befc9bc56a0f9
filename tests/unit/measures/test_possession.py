"""Possession, exposure and ball events, counted on the fingers from a bout made by hand (see `square_bout`)."""

from __future__ import annotations

import pytest

from sim.measures.event_reducer import reduce_events
from sim.measures.possession import PassRun
from tests.unit.measures.handmade import Bout, goals_game, grids_game, square_bout, square_game


@pytest.fixture
def seen():
    return reduce_events(square_game(), square_bout())


def test_pass_runs(seen):
    assert seen.possessions.runs == [
        PassRun("outside", 3, 10, 7, 2, "interception", False),
        PassRun("outside", 21, 30, 9, 0, "out", False),
        PassRun("outside", 36, 60, 24, 3, "", True),
    ]


def test_a_side_that_hands_the_ball_over_at_once_has_had_no_possession():
    bout = Bout(square_game())
    bout(2, "live", side="outside", other="p1")
    bout(3, "possession", "p1", side="outside")
    bout(10, "loss", "p1", "p5", side="outside", cause="interception")
    bout(10, "possession", "p5", side="inside")
    bout.job(10, "p1", "inside")
    bout.job(10, "p5", "outside")
    bout(10, "possession", "p5", side="outside")
    runs = reduce_events(square_game(), bout.log()).possessions.runs
    assert [(run.side, run.start_s, run.end_s) for run in runs] == [("outside", 3, 10), ("outside", 10, 60)]


def test_both_clocks(seen):
    assert seen.exposure.clock == (10 - 2) + (30 - 20) + (60 - 35)
    for times in seen.exposure.times:
        assert sum(role[0] for role in times) == 60
        assert sum(role[1] for role in times) == seen.exposure.clock


def test_who_defended_how_long(seen):
    defended = [sum(role[2] for role in times) for times in seen.exposure.times]
    assert defended == [35, 25, 0, 0, 8, 18]
    assert sum(defended) == 2 * seen.exposure.clock  # two are inside at any time


def test_a_spell_goes_on_through_a_dead_ball_until_the_player_comes_out(seen):
    spells = [(s.player, s.start_s, s.end_s, s.seconds, s.cut) for s in seen.exposure.spells]
    assert spells == [(4, 2, 10, 8, False), (5, 2, 30, 18, False), (0, 20, 60, 35, True), (1, 35, 60, 25, True)]


def test_counts(seen):
    totals = seen.totals
    assert (totals["turnovers"], totals["turnovers: out"], totals["turnovers: interception"]) == (2, 1, 1)
    assert (totals["wins"], totals["outs"], totals["thresholds"], totals["points"]) == (1, 1, 1, 1.0)
    assert seen.reached == {("passes", 3.0, "outside"): 1}
    assert seen.by_side["points", "outside"] == 1.0


def ball_events_of(seen, player, role):
    from sim.measures.ball_events import BALL_EVENTS

    return dict(zip(BALL_EVENTS, seen.ball_events.counts[player][role], strict=True))


def test_deeds_of_a_player(seen):
    p1 = ball_events_of(seen, 0, 0)
    assert (p1["touches"], p1["passes"], p1["completed"], p1["losses"]) == (4, 2, 1, 1)
    assert (p1["timed_releases"], p1["on_ball_s"]) == (2, (4 - 3) + (8 - 6))
    assert ball_events_of(seen, 1, 0)["on_ball_s"] == 0  # a first-time pass
    assert ball_events_of(seen, 4, 1)["wins"] == 1  # in the role he had when he won it


def test_a_pass_on_its_way_at_the_end_is_not_counted(seen):
    assert (ball_events_of(seen, 2, 0)["passes"], ball_events_of(seen, 2, 0)["completed"]) == (1, 1)


def test_a_loss_told_after_the_winners_control_still_ends_the_possession():
    bout = Bout(goals_game())
    bout(1, "live", side="amber")
    bout(2, "possession", "a1", side="amber")
    bout(5, "possession", "s1", side="slate")
    bout(5, "loss", "a1", "s1", side="amber", cause="tackle")
    runs = reduce_events(goals_game(), bout.log(20)).possessions.runs
    assert [(run.side, run.cause, run.cut) for run in runs] == [("amber", "tackle", False), ("slate", "", True)]


def runs_around_a_dead_ball(cause):
    bout = Bout(goals_game())
    bout(1, "live", side="amber")
    bout(2, "possession", "a1", side="amber")
    bout(5, "dead", cause=cause)
    bout(9, "live", side="amber")
    bout(10, "possession", "a2", side="amber")
    bout(14, "loss", "a2", side="amber", cause="misplaced")
    return reduce_events(goals_game(), bout.log(20)).possessions.runs


def test_a_possession_goes_on_through_a_ball_that_is_out_and_comes_back_to_the_same_side():
    assert runs_around_a_dead_ball("out") == [PassRun("amber", 2, 14, 8, 0, "misplaced", False)]


@pytest.mark.parametrize("cause", ["rule", "goal"])
def test_a_rule_that_stops_play_ends_the_run_as_it_ends_the_count_of_the_game(cause):
    """As in `sim.pitch.restarts`: passes are counted from 0 after any dead ball but one that is out and stays with the side."""
    first, second = runs_around_a_dead_ball(cause)
    assert first == PassRun("amber", 2, 5, 3, 0, "", True)
    assert second == PassRun("amber", 10, 14, 4, 0, "misplaced", False)


def test_keepers_and_floaters_never_defend_and_a_loose_ball_is_nobodys():
    bout = Bout(goals_game())
    bout(0, "live", side="amber")
    bout(1, "possession", "a1", side="amber")
    bout(5, "loss", "a1", side="amber", cause="miscontrol")
    bout(7, "possession", "s1", side="slate")
    log = bout.log(10)
    defended = {
        p: sum(r[2] for r in t)
        for p, t in zip(log.players, reduce_events(goals_game(), log).exposure.times, strict=True)
    }
    assert defended == {"a1": 3, "a2": 3, "ak": 0, "s1": 5, "s2": 5, "sk": 0, "w1": 0}
    assert reduce_events(goals_game(), log).exposure.ever_able == [True, True, False, True, True, False, False]


def test_waiting_is_not_defending():
    bout = Bout(goals_game())
    bout.job(0, "s2", "field", style="wait")
    bout(0, "live", side="amber")
    log = bout.log(10)
    assert [sum(r[2] for r in t) for t in reduce_events(goals_game(), log).exposure.times][3:5] == [10, 0]


def test_whoever_stays_in_another_grid_does_not_defend():
    game = grids_game()
    bout = Bout(game)
    bout.job(0, "s1", "chaser")
    bout(0, "live", side="amber")
    bout(1, "possession", "a1", side="amber")
    bout(6, "loss", "a1", "s1", side="amber", cause="interception")
    bout(6, "possession", "s1", side="slate")
    bout.job(6, "s1", "home")
    bout.area = "slate-grid"
    bout(7, "transfer", "s2", side="slate", detail="amber-grid>slate-grid")
    bout.job(8, "a3", "chaser")
    log = bout.log(10)
    seen = reduce_events(game, log)
    defended = {p: sum(r[2] for r in t) for p, t in zip(log.players, seen.exposure.times, strict=True)}
    # s1 chases for 6 s; from 6 to 7 the ball of slate is still in amber's grid, where all of amber are at home.
    assert defended == {"a1": 1, "a2": 1, "a3": 3, "s1": 6, "s2": 0, "s3": 0}
    assert seen.totals["transfers"] == 1


def test_shots_goals_transfers_and_breaks_are_counted():
    bout = Bout(goals_game())
    bout(0, "live", side="amber")
    bout(1, "possession", "a1", side="amber")
    bout(2, "touch", "a1", side="amber")
    bout(3, "release", "a1", "a2", side="amber", detail="transfer")
    bout(4, "touch", "a2", side="amber")
    bout(4, "receive", "a2", "a1", side="amber")
    bout(4, "unlock", side="amber", cause="shoot")
    bout(5, "break", "a2", side="amber")
    bout(6, "shot", "a2", side="amber", value=9.0)
    bout(6.5, "goal", "sk", side="amber")
    bout(6.5, "loss", "a2", side="amber", cause="shot")
    bout(7, "release", "a1", "a2", side="amber", detail="pass")
    bout(7.5, "receive", "a2", "a1", side="amber")
    bout(7.6, "release", "a1", "a2", side="amber", detail="transfer")
    bout(8, "loss", "a1", side="amber", cause="misplaced")
    seen = reduce_events(goals_game(), bout.log(10))
    assert (ball_events_of(seen, 0, 0)["transfer_tries"], ball_events_of(seen, 0, 0)["transfers_made"]) == (2, 1)
    assert (ball_events_of(seen, 1, 0)["shots"], ball_events_of(seen, 1, 0)["goals"]) == (1, 1)
    assert (seen.totals["break_aways"], seen.totals["unlocks"], seen.by_side["break_aways", "amber"]) == (1, 1, 1)


def test_passes_of_a_floater_count_and_those_of_a_win_not_yet_confirmed_do_not():
    bout = Bout(goals_game())
    bout(0, "live", side="amber")
    bout(1, "possession", "a1", side="amber")
    bout(2, "receive", "w1", "a1", side="amber")
    bout(3, "receive", "a2", "w1", side="amber")
    bout(5, "touch", "s1", side="amber")  # slate has it, the win is not confirmed: the side is still amber
    bout(6, "receive", "s2", "s1", side="amber")
    bout(7, "loss", "a2", "s1", side="amber", cause="tackle")
    bout(7, "possession", "s1", side="slate")
    runs = reduce_events(goals_game(), bout.log(10)).possessions.runs
    assert [(run.side, run.passes) for run in runs] == [("amber", 2), ("slate", 0)]


def test_a_pass_on_its_way_is_left_out_also_when_the_whistle_makes_the_ball_dead():
    bout = Bout(goals_game())
    bout(0, "live", side="amber")
    bout(1, "touch", "a1", side="amber")
    bout(2, "release", "a1", "a2", side="amber", detail="transfer")
    bout(3, "dead", side="amber", cause="end")
    a1 = ball_events_of(reduce_events(goals_game(), bout.log(3)), 0, 0)
    assert (a1["passes"], a1["transfer_tries"]) == (0, 0)


def test_only_a_time_on_the_ball_with_a_beginning_is_timed():
    bout = Bout(goals_game())
    bout(4, "release", "a1", "a2", side="amber", detail="pass")
    bout(5, "dead", side="amber", cause="out")
    a1 = ball_events_of(reduce_events(goals_game(), bout.log(10)), 0, 0)
    assert (a1["passes"], a1["timed_releases"]) == (1, 0)
