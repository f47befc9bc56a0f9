"""Whether a player defends is a matter of the job he has in the phase, not of the one his role began with."""

from __future__ import annotations

import pytest

from sim.game.loader import load_game
from sim.measures.event_reducer import reduce_events
from sim.pitch.engine import play_bout
from sim.players import draw_roster

FREE = 'phases.break.jobs={ builder = "wait in middle", hunter = "free in pitch" }'


@pytest.fixture(scope="module")
def played():
    """The shipped game, in which one of three hunters waits while the others break away, and a bout of it."""
    game = load_game("break-away", ["bouts.minutes=6"])
    return game, play_bout(game, draw_roster(game, 1, 0), 1, 0)


def defended_s(game, log) -> float:
    """Seconds of play in which hunters defended."""
    number = log.roles.index("hunter")
    return sum(times[number][2] for times in reduce_events(game, log).exposure.times)


def in_breaks_s(log) -> float:
    """Seconds of play of the break-aways in which the builders had the ball."""
    total, since = 0.0, None
    for t, _, kind, *_, phase, _, _ in log.events:
        if since is not None and (phase != "break" or kind in ("dead", "loss")):
            total, since = total + t - since, None
        elif kind == "phase" and phase == "break":
            since = t
    return total


def test_who_keeps_to_a_zone_defends_wherever_in_that_area_the_ball_is():
    game = load_game("locked-thirds", ["bouts.minutes=1"])
    log = play_bout(game, draw_roster(game, 1, 0), 1, 0)
    seen = reduce_events(game, log).exposure
    by_team = {team: [] for team in ("amber", "slate")}
    for player, team, times in zip(log.players, log.teams, seen.times, strict=True):
        if player != f"{team}-1":  # in goal
            by_team[team].append(sum(one[2] for one in times))
    assert all(one == pytest.approx(of_team[0]) for of_team in by_team.values() for one in of_team)
    assert all(of_team[0] > 0.2 * seen.clock for of_team in by_team.values())


def test_who_waits_in_a_phase_does_not_defend_in_it(played):
    game, log = played
    free = load_game("break-away", ["bouts.minutes=6", FREE])
    assert defended_s(free, log) - defended_s(game, log) == pytest.approx(in_breaks_s(log), rel=0.2)
    assert in_breaks_s(log) > 30.0


def test_who_stops_waiting_in_a_phase_defends_in_it():
    game = load_game("break-away", ["bouts.minutes=6", 'phases.keep.jobs={ hunter = "wait in middle" }', FREE])
    log = play_bout(game, draw_roster(game, 1, 0), 1, 0)
    assert in_breaks_s(log) > 30.0
    assert defended_s(game, log) == pytest.approx(in_breaks_s(log))
