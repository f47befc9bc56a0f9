"""Several areas in whole bouts: who may be played to, what a transfer is, and which lines are out."""

from __future__ import annotations

import math

import numpy as np
import pytest

from sim.pitch.assignment import assign, assign_start
from sim.pitch.bout_parts import Crossing
from sim.pitch.contact import touched_between
from sim.pitch.engine import begin, play_bout, race
from sim.pitch.flight import stops_between
from sim.pitch.possession import carried_over
from sim.pitch.release import cross
from sim.pitch.state import NEVER, Bout
from sim.players import draw_roster
from tests.support.games import mirrored, plain
from tests.support.scene import Scene
from tests.support.several_areas import CORNER, HALVES, game_of, halves, inside, log_of, logs_of

ROUNDING_M = 1e-6
REACH_M = 1.2  # a player controls a ball this far off at most: where he stands is not quite where the ball was


def with_a_bench(**more):
    """Halves with a gap, and a bench beside them where two wait."""
    short = halves(gap=4.0, **more)
    short["areas"]["bench"] = {"length": 4, "width": 4, "beside": "west", "on": "south", "gap": 1}
    short["roles"]["sub"] = {"side": "team", "style": "wait", "place": "bench", "players": {"amber": 1, "slate": 1}}
    return short


def test_nobody_plays_to_one_who_waits():
    waiting = {player.id for player in game_of(with_a_bench()).players if player.role == "sub"}
    receivers = [e.other for log in logs_of(with_a_bench()) for e in log if e.kind in ("release", "live")]
    touching = {e.player for log in logs_of(with_a_bench()) for e in log if e.kind in ("touch", "receive")}
    assert len(receivers) > 100
    assert not waiting & set(receivers) and not waiting & touching


def test_a_restart_is_never_given_to_one_who_waits():
    """All of slate wait from the start: a ball that is theirs stays with the server until the whistle."""
    short = halves(restarts={"theirs": {"to": "slate", "seconds": 0}})
    short["phases"]["play"]["rules"] = {"three": {"on": "passes", "count": 3, "do": [{"restart": "theirs"}]}}
    for name in ("west", "east"):
        short["roles"][name]["players"] = {"amber": 2}
    short["roles"]["idle"] = {"side": "team", "style": "wait", "place": "west", "players": {"slate": 3}}
    (log,) = logs_of(short, 1)
    served = [e.t for e in log if e.kind == "serve" and e.side == "slate"]
    assert served
    assert not [e for e in log if e.kind in ("live", "touch") and e.t > served[0]]
    assert log[-1].kind == "end"


THIRDS = {
    "pitch": {"length": 36, "width": 24},
    **{name: {"length": 12, "width": 24, "centre": [x, 0]} for name, x in (("west", -12), ("middle", 0), ("east", 12))},
}


def thirds():
    short = halves(areas=dict(THIRDS))
    short["start"] = {"side": "amber", "area": "pitch"}
    role = {"side": "team", "style": "free", "players": {"amber": 2, "slate": 1}}
    short["roles"] = {name: role | {"place": name} for name in ("west", "middle", "east")}
    short["phases"] = {"play": {"ball_in": "pitch"}}
    return short


def test_players_in_zones_of_a_pitch_are_played_to_like_anybody():
    """And such a pass is no transfer."""
    roles = {player.id: player.role for player in game_of(thirds()).players}
    passes = [e for log in logs_of(thirds()) for e in log if e.kind == "receive"]
    between = [e for e in passes if roles[e.player] != roles[e.other]]
    minutes = 4 * 90 / 60
    assert len(passes) > 8 * minutes and len(between) > 2 * minutes
    assert not [e for log in logs_of(thirds()) for e in log if e.kind == "transfer" or e.detail == "transfer"]


SCORED = {"across": {"on": "transfer", "do": [{"score": 1, "to": "holder"}]}}


@pytest.mark.parametrize("gap", [0.0, 5.0])
def test_a_transfer_is_the_side_s_that_played_it(gap):
    """An opponent who cuts it out has not been played to, and no rule of the transfer answers."""
    short = halves(gap=gap, slate=3, phases={"play": {"open": ["transfer"], "rules": SCORED}})
    transfers, cut_out = 0, 0
    for log in logs_of(short, 48):
        played, lost = None, False
        for event in log:
            if event.kind == "release":
                played, lost = event, False
            elif event.kind in ("loss", "live"):
                cut_out += played is not None and played.detail == "transfer" and event.cause == "interception"
                lost = True
            elif event.kind == "transfer":
                transfers += 1
                assert not lost and played.detail == "transfer"
                assert played.side == event.side
                start, end = event.detail.split(">")
                assert played.area == start and event.area == end
        assert sum(e.kind == "score" for e in log) == sum(e.kind == "transfer" for e in log)
    assert transfers > 20 and cut_out > 3


def test_a_new_ball_is_no_transfer():
    """After a pass across has been cut out, the ball that is served next scores nothing."""
    rules = SCORED | {"lost": {"on": "loss", "do": [{"restart": "again"}]}}
    phases = {"play": {"open": ["transfer"], "rules": rules}}
    short = halves(gap=5.0, slate=4, level="U12", phases=phases, restarts={"again": {"to": "amber"}})
    cut_out = 0
    for log in logs_of(short, 100):
        last = None
        for event in log:
            if event.kind in ("release", "live"):
                last = event
            cut_out += event.kind == "loss" and last.detail == "transfer" and event.cause == "interception"
            assert event.kind != "transfer" or last.kind == "release", event.t
    assert cut_out > 3


@pytest.mark.parametrize("words", [{"from": "west"}, {"to": "west"}, {"from": "east", "to": "west"}])
def test_a_transfer_from_where_to_where(words):
    """The rule answers to these transfers and no others; without the words it answers to all."""
    of_these, of_all = (
        logs_of(halves(phases={"play": {"open": ["transfer"], "rules": {"across": SCORED["across"] | more}}}))
        for more in (words, {})
    )
    asked = (words.get("from"), words.get("to"))
    fits, others = 0, 0
    for log, all_score in zip(of_these, of_all, strict=True):
        for event, after in zip(log, log[1:], strict=False):
            if event.kind == "transfer":
                fit = all(want in (None, there) for want, there in zip(asked, event.detail.split(">"), strict=True))
                assert (after.kind == "rule") is fit
                fits, others = fits + fit, others + (not fit)
        assert sum(e.kind == "score" for e in log) < sum(e.kind == "score" for e in all_score)
    assert fits > 5 and others > 5


def outs(logs):
    return [(e.x, e.y) for log in logs for e in log if e.kind == "out"]


def on_the_line_between(x: float, y: float) -> bool:
    """On the line that the two halves share (x = 0), not at its ends."""
    return abs(x) < ROUNDING_M and abs(y) < 8.0 - ROUNDING_M


CLOSED = {"play": {}}  # no pass across is allowed: what crosses the line has gone astray


def test_the_line_between_touching_areas_is_not_out():
    """Whoever gets there first has it, play goes on there, and nothing has been played across."""
    logs = logs_of(halves(phases=CLOSED), 80)
    assert len(outs(logs)) > 10 and not any(on_the_line_between(*place) for place in outs(logs))
    moved = [e for log in logs for e in log if e.kind == "area"]
    assert len(moved) > 3
    for e in moved:
        assert e.detail.endswith(f">{e.area}") and not e.detail.startswith(e.area)
    assert not [e for log in logs for e in log if e.kind == "transfer"]


def test_out_makes_the_line_between_touching_areas_out():
    """The word `out` taken away, other bouts are played."""
    logs = logs_of(halves(phases=CLOSED, between_areas="out"), 40)
    assert sum(on_the_line_between(*place) for place in outs(logs)) > 3
    assert not [e for log in logs for e in log if e.kind == "area"]
    assert logs != logs_of(halves(phases=CLOSED), 8)


def test_where_the_phase_says_where_the_ball_is_played_it_stays_there():
    logs = logs_of(halves(phases={"play": {"ball_in": "west"}}), 8)
    assert not any(on_the_line_between(*place) for place in outs(logs))
    assert {e.area for log in logs for e in log} == {"west"}


def test_a_new_ball_comes_where_the_phase_says_the_ball_is_played():
    """Also when a pass across has been cut out over there; once one has arrived, over there."""
    rules = {"lost": {"on": "loss", "do": [{"restart": "again"}]}}
    phases = {"play": {"ball_in": "west", "open": ["transfer"], "rules": rules}}
    short = halves(gap=5.0, slate=4, level="U12", phases=phases, restarts={"again": {"to": "amber"}})
    moved, cut_out = 0, 0
    for log in logs_of(short, 100):
        across = False
        for event, after in zip(log, log[1:], strict=False):
            across = across or event.kind == "transfer"
            cut_out += event.kind == "area" and event.area == "east"
            if after.kind == "live" and not across:
                assert after.area == "west"
            moved += after.kind == "live" and after.area == "east"
    assert cut_out > 2 and moved > 2


def test_the_outer_border_of_an_l_is_its_own_and_not_the_box_around_it():
    short = halves(areas={name: dict(area) for name, area in CORNER.items()})
    logs = logs_of(short, 8)
    found = outs(logs)
    game = game_of(short)
    (west, south, east, north), (wide, low, far, high) = game.area("west").bounds, game.area("east").bounds
    assert len(found) > 10
    corner, slack = 0, 0.5
    for x, y in found:
        in_west, in_east = (inside(short, name, x, y, slack) for name in ("west", "east"))
        assert in_west or in_east  # nowhere beyond the line, but for a pass from a foot over it
        deep = min(east - x, x - west, y - south, north - y) > 1e-3 or min(far - x, x - wide, y - low, high - y) > 1e-3
        between = abs(x - east) < 1e-3 and low + 1e-3 < y < high - 1e-3
        assert not deep and not between
        corner += (abs(x - east) < 1e-3 and y > high - 1e-3) or (abs(y - high) < 1e-3 and x > east - 1e-3)
    assert corner > 0  # some went out over the inner lines of the L
    touches = [(e.x, e.y) for log in logs for e in log if e.kind == "receive"]
    assert all(any(inside(short, name, x, y, REACH_M) for name in ("west", "east")) for x, y in touches)


def test_between_areas_apart_a_ball_touched_or_stopped_is_out():
    """With `out` nobody has or touches it on the ground between; with the word taken away some do."""
    apart = {"gap": 8.0, "slate": 3}
    strict, first = logs_of(halves(between_areas="out", **apart), 120), logs_of(halves(**apart), 120)

    def between(log, kinds):  # clear of both areas
        return [e for e in log if e.kind in kinds and abs(e.x) < 4.0 - REACH_M]

    touches = ("touch", "receive", "deflect", "release")
    assert sum(len(between(log, touches)) for log in first) > 2
    assert not [e for log in strict for e in between(log, touches)]
    assert sum(len(between(log, ("out",))) for log in strict) > 2
    assert strict != first


def crossing(between: str) -> Bout:
    """A bout in which a pass has just been struck from the middle of west towards east, 10 m of ground between them."""
    game = game_of(halves(gap=10.0, between_areas=between))
    bout = Bout(game, draw_roster(game, 1, 0), 1, 0, 0, lambda *_: (-1, NEVER, NEVER))  # nobody gets to it
    assign_start(bout)
    cross(bout, "east")
    Scene(bout).rolling(at=(-12.0, 0.0), angle=0.0, speed=0.0, deceleration=1.0)
    return bout


@pytest.mark.parametrize(
    ("between", "metres", "after"), [("out", 12.0, "out"), ("first", 12.0, ""), ("out", 20.0, ""), ("out", 5.0, "")]
)
def test_a_ball_that_comes_to_rest(between, metres, after):
    """On the ground between it is out where that is said; not so inside either area."""
    bout = crossing(between)
    Scene(bout).ball["launch_speed"] = math.sqrt(2.0 * metres)
    stops = stops_between(bout)
    assert stops == (pytest.approx(math.sqrt(2.0 * metres)) if after else NEVER)


@pytest.mark.parametrize(
    ("between", "x", "out", "area"),
    [
        ("out", 0.0, True, "west"),  # touched between: out, and it was still west's
        ("out", 9.0, False, "east"),  # touched where it was meant to go
        ("out", -7.0, False, "west"),  # before it had left
        ("first", 0.0, False, "east"),  # whoever is first there has it: only then is it west's again
    ],
)
def test_a_touch_on_the_way_across(between, x, out, area):
    bout = crossing(between)
    Scene(bout).ball["x"] = x
    assert touched_between(bout, 0.0, 0, x, 0.0) is out
    assert any(event[2] == "out" for event in bout.events) is out
    assert bout.standing.area == area


def home_zones(gap: float = 0.0):
    """A field with a zone at each end, the home of whoever attacks it; two of each side may go there."""
    areas = {
        "field": {"length": 22, "width": 18},
        "west-zone": {"length": 6, "width": 18, "beside": "field", "on": "west", "gap": gap},
        "east-zone": {"length": 6, "width": 18, "beside": "field", "on": "east", "gap": gap},
    }
    short = halves(areas=areas)
    short["start"] = {"side": "amber", "area": "field"}
    short["teams"] = {"amber": {"home": "east-zone"}, "slate": {"home": "west-zone"}}
    short["roles"] = {
        "player": {"side": "team", "style": "free", "place": "field", "players": {"amber": 4, "slate": 4}},
        "runner": {"side": "team", "style": "free", "place": "home"},
    }
    back = {"assign": "player", "of": "all", "from": "runner"}
    short["phases"] = {
        "play": {
            "aim": "home",
            "rules": {
                "go": {
                    "on": "passes",
                    "count": 1,
                    "do": [{"assign": "runner", "of": "holder", "from": "player", "count": 2}],
                },
                "scored": {"on": "home", "do": [{"score": 1, "to": "holder"}, back, {"restart": "middle"}]},
                "lost": {"on": "loss", "do": [back]},
            },
        }
    }
    short["restarts"] = {"middle": {"to": "other", "area": "field"}, "out": {"to": "other", "area": "field"}}
    return short


def test_a_ball_dribbled_home_is_home():
    """It has not been played across, but it has been brought home."""
    logs = logs_of(home_zones(), 16)
    carried = 0
    for log in logs:
        for event, after in zip(log, log[1:], strict=False):
            if event.kind == "area" and event.area == {"amber": "east-zone", "slate": "west-zone"}[event.side]:
                carried += after.kind == "rule"
    assert carried > 2


def test_who_wins_it_at_home_has_it_home_and_nothing_was_played_across():
    short = halves(gap=5.0)
    short["teams"] = {"amber": {"home": "west"}, "slate": {"home": "east"}}
    short["phases"] = {
        "play": {"aim": "home", "open": ["transfer"], "rules": {"there": {"on": "home", "do": [{"score": 1}]}}}
    }
    won = 0
    for log in logs_of(short, 12):
        for k, event in enumerate(log):
            if event.kind == "win" and event.area == {"amber": "west", "slate": "east"}[event.side]:
                after = [e.kind for e in log[k : k + 6] if e.t == event.t]
                assert "score" in after and "transfer" not in after
                won += 1
    assert won > 5


@pytest.mark.parametrize(
    "short", [halves(areas=dict(CORNER)), halves(gap=6.0, between_areas="out")], ids=["corner", "out"]
)
@pytest.mark.parametrize("frame", [(-1, 1), (1, -1)])
def test_a_mirrored_bout_is_exactly_that(short, frame):
    game = game_of(short)
    roster = draw_roster(game, 3, 0)
    one, image = play_bout(game, roster, 3), play_bout(mirrored(game, *frame), roster, 3, frame=frame)
    events, paths = plain(one)
    seen, mirrored_paths = plain(image, *frame)
    assert events == seen
    assert np.array_equal(paths, mirrored_paths)


def test_a_phase_that_moves_the_game_while_the_ball_is_on_its_way_voids_the_crossing():
    game = game_of(halves(gap=5.0))
    bout = Bout(game, draw_roster(game, 1, 0), 1, 0, 0, race)
    assign_start(bout)
    cross(bout, "east")
    assert bout.possession.crossing == Crossing("west", "east") and bout.standing.area == "east"
    bout.standing.area = "west"  # as a phase with `ball_in` does
    assign(bout)
    assert bout.possession.crossing is None


def test_a_ball_carried_over_the_line_is_out():
    """Only who came by it over the line (in a keeper's place, or as the rules move the game) may have it there."""
    game = game_of(halves(areas={"west": dict(HALVES["west"]), "east": HALVES["east"] | {"gap": 10.0}}))
    bout = Bout(game, draw_roster(game, 1, 0), 1, 0, 0, race)
    begin(bout)
    while bout.holder() < 0:
        bout.clock.env.step()
    i = bout.holder()
    west, _, east, _ = game.area("west").bounds
    for beyond, gone in ((0.5, False), (2.0, True)):
        Scene(bout).put_one(i, (east + beyond, 0.0), bout.now)
        carried_over(bout, i)
        assert any(event[2] == "out" for event in bout.events) is gone
    out = next(event for event in bout.events if event[2] == "out")
    assert (out[3], out[9], out[10]) == (bout.ids[i], east, 0.0)
    assert any(event[2] == "loss" and event[3] == bout.ids[i] and event[6] == "out" for event in bout.events)


def test_while_a_win_waits_to_be_confirmed_a_pass_across_is_no_transfer_yet():
    """The ball is in the other area all the same, and the first pass across after that counts."""
    short = halves(
        slate=3, phases={"play": {"open": ["transfer"], "rules": SCORED}}, win={"confirm": "passes", "passes": 2}
    )
    waiting, transfers = 0, 0
    for log in logs_of(short, 8):
        released = log[0]
        sides = {e.player: e.side for e in log if e.kind == "job"}
        for event in log:
            if event.kind == "transfer":
                transfers += 1
                assert sides[event.player] == event.side
            if event.kind == "receive" and sides[event.player] != event.side:  # a pass of those whose win waits
                waiting += event.area != released.area
            released = event if event.kind == "release" else released
    assert waiting > 3 and transfers > 20


def test_same_seed_same_bout():
    game = game_of(halves(areas=dict(CORNER)))
    assert repr(log_of(game, 5)) == repr(log_of(game, 5))
