"""The line where players stand on it: a ball is played in the run-off by those who step back, or is out at once."""

from __future__ import annotations

import math

import pytest

from sim.evidence.tables import folder
from sim.game.loader import load_game
from sim.pitch.assumptions import constant
from sim.pitch.bout_parts import Crossing
from sim.pitch.engine import play_bout
from sim.pitch.flight import area_at
from sim.pitch.log import FIELDS, BoutLog
from sim.pitch.possession import in_play_at, locate
from sim.players import draw_roster
from tests.support.paths import ball_at
from tests.support.scene import NOBODY, Scene, in_play, scene

LINE_M, RUN_OFF_M = 5.5, 3.0  # of tight-square: from the middle to the line, and beyond it
BEYOND_M = LINE_M + 1.5
OUTSIDE, INSIDE = ("squad-1", "squad-2", "squad-3", "squad-4"), ("squad-5", "squad-6")
CORNERS = dict(zip(INSIDE, ((-4.5, 4.5), (-4.5, -4.5)), strict=True))
BOUTS = 20


def square(out: str, places: dict[str, tuple[float, float]], game: str = "tight-square") -> Scene:
    one = scene(load_game(game, [f"areas.square.out={out}"])).put(CORNERS | places)
    one.ball["passer"] = one.ball["meant_for"] = NOBODY
    return one


def to_rest(one: Scene, at: tuple[float, float], stops_at: float) -> float:
    """The ball rolls east and comes to rest at that x; returns when it crosses the east line."""
    slower = float(one.constants["ball_roll"])
    speed = math.sqrt(2.0 * slower * (stops_at - at[0]))
    one.rolling(at, 0.0, speed, slower)
    return (speed - math.sqrt(2.0 * slower * (stops_at - LINE_M))) / slower


def near_it() -> dict[str, tuple[float, float]]:
    return {"squad-1": (5.1, -3.0), "squad-2": (0.0, 5.1), "squad-3": (-5.1, 0.0), "squad-4": (0.0, -5.1)}


def test_a_ball_behind_the_line_is_played_by_the_man_on_it_and_only_with_the_run_off():
    one = square("run-off", near_it())
    crosses = to_rest(one, (4.0, 2.0), BEYOND_M)
    who, when, leaves = one.outcome()
    assert one.bout.ids[who] == "squad-1" and crosses < when < leaves
    assert one.ball_at(when)[0] > LINE_M + 0.5
    x, y, _, _ = one.where(who, when)
    bx, by, _ = one.ball_at(when)
    assert math.hypot(x - bx, y - by) <= one.constants["receiver_reach"] + 1e-3

    other = square("line", near_it())
    crosses = to_rest(other, (4.0, 2.0), BEYOND_M)
    who, _, leaves = other.outcome()
    assert who == NOBODY and leaves == pytest.approx(crosses)


def test_it_is_out_as_it_leaves_the_run_off():
    one = square("run-off", {})
    one.rolling((0.0, 0.0), 0.0, 12.0)
    who, _, leaves = one.outcome()
    assert who == NOBODY and one.ball_at(leaves)[0] == pytest.approx(LINE_M + RUN_OFF_M)


def test_nobody_comes_out_after_it_from_inside():
    west = {"squad-1": (-5.1, 1.0), "squad-2": (-5.1, 3.0), "squad-3": (-5.1, -1.0), "squad-4": (-5.1, -3.0)}
    one = square("run-off", west | {"squad-5": (3.0, 2.0)})
    to_rest(one, (5.2, 2.0), BEYOND_M)
    who, _, _ = one.outcome()
    assert one.bout.ids[who] in OUTSIDE

    one = square("run-off", west | {"squad-5": (3.0, 2.0)})
    to_rest(one, (2.9, 1.0), LINE_M + 0.3)  # but a foot over the line he still takes it
    who, _, _ = one.outcome()
    assert one.bout.ids[who] == "squad-5"


def test_a_ball_at_rest_that_nobody_on_the_line_may_play_is_out():
    one = square("run-off", near_it())
    to_rest(one, (5.2, 2.0), BEYOND_M)
    stops = float(one.ball["launch_speed"] / one.ball["roll"])
    barred = sum(1 << one.index(player) for player in OUTSIDE)
    who, _, leaves = one.outcome(0.0, barred)
    assert who == NOBODY and leaves == pytest.approx(stops)


def test_he_goes_back_to_the_line():
    one = square("run-off", near_it() | {"squad-1": (LINE_M + 2.5, 0.0)})
    one.held_by(one.index("squad-3"))
    one.think(one.index("squad-1"))
    x, y, _, _ = one.where(one.index("squad-1"), 6.0)
    assert max(abs(x), abs(y)) == pytest.approx(LINE_M - one.constants["edge_inset"], abs=0.3)


@pytest.mark.parametrize(
    ("out", "outside", "inside"),
    [("run-off", LINE_M + RUN_OFF_M + 1.0, LINE_M + 1.0), ("line", LINE_M + 1.0, LINE_M + 1.0)],
)
def test_how_far_over_the_line_a_carrier_still_has_it(out, outside, inside):
    one = square(out, {})
    for player, far in (("squad-1", outside), ("squad-5", inside)):
        i = one.index(player)
        assert in_play_at(one.bout, i, far - 0.01, 0.0) and not in_play_at(one.bout, i, far + 0.01, 0.0)


def test_while_nobody_stands_on_the_line_it_is_out_there():
    one = in_play(load_game(folder() / "games" / "break-away.toml"), 1)
    assert one.play["run_off"] == 2.0
    one.bout.standing.phase = next(phase for phase in one.bout.game.phases if phase.name != one.bout.game.start_phase)
    one.roles_changed()
    assert one.play["run_off"] == 0.0


def test_a_ball_played_across_is_in_the_run_off_of_an_area_for_those_on_its_line():
    changes = ["between_areas=out"]
    for out, beside in (("run-off", "east"), ("line", None)):
        one = scene(load_game("two-squares", [*changes, f"areas.east.out={out}"]))
        crossing, at = Crossing("west", "east"), (one.bout.game.area("east").bounds[0] - 1.5, 0.0)
        on_the_line, chaser = one.index("squad-6"), one.index("squad-11")
        assert area_at(one.bout, crossing, *at, on_the_line) == beside == area_at(one.bout, crossing, *at)
        assert area_at(one.bout, crossing, *at, chaser) is None


def test_a_pass_across_taken_in_the_run_off_has_arrived():
    one = scene(load_game("two-squares"))
    west = one.bout.game.area("east").bounds[0]
    for beyond, area in ((2.9, "east"), (3.1, "west")):
        one.bout.possession.crossing = Crossing("west", "east")
        one.bout.standing.area = "east"
        locate(one.bout, one.index("squad-6"), west - beyond, 0.0, True)
        assert one.bout.standing.area == area


# whole bouts


def logs(out: str) -> list[BoutLog]:
    game = load_game("tight-square", [f"areas.square.out={out}"])
    return [play_bout(game, draw_roster(game, seed, 0), seed) for seed in range(1, BOUTS + 1)]


@pytest.fixture(scope="module")
def bouts() -> dict[str, list[BoutLog]]:
    return {out: logs(out) for out in ("line", "run-off")}


def outs(log: BoutLog) -> list[float]:
    """How far beyond the line the ball was each time it was out (m)."""
    rows = [dict(zip(FIELDS, event, strict=True)) for event in log.events if event[2] == "out"]
    return [max(abs(row["x"]), abs(row["y"])) - LINE_M for row in rows]


def received(log: BoutLog) -> float:
    """How far beyond the line the ball was, at most, as somebody brought a pass under control (m)."""
    times = [event[0] for event in log.events if event[2] == "receive"]
    return max(max(abs(end) for end in ball_at(log, t - 1e-6)[:2]) for t in times) - LINE_M


def test_more_balls_are_out_at_the_line(bouts):
    line, run_off = (sum(len(outs(log)) for log in bouts[out]) for out in ("line", "run-off"))
    assert line > run_off > 0


def test_a_ball_is_out_where_the_game_says(bouts):
    reached = constant("over_the_line")  # what a free player still plays, and then goes out from where it lies
    assert all(-1e-6 <= far <= reached for log in bouts["line"] for far in outs(log))
    assert all(far <= RUN_OFF_M + 1e-6 for log in bouts["run-off"] for far in outs(log))
    assert any(far == pytest.approx(RUN_OFF_M, abs=1e-6) for log in bouts["run-off"] for far in outs(log))


def test_passes_are_taken_behind_the_line_up_to_where_the_game_says(bouts):
    assert 1.0 < max(received(log) for log in bouts["run-off"]) <= RUN_OFF_M
    assert max(received(log) for log in bouts["line"]) <= 0.0
