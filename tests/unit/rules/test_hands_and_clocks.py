"""Who may be tackled, a keeper's hands, the clock at dead balls, where and by whom a ball comes back, wins through a gate: pairs of
tiny games that differ in one word, and the log that shows it."""

from __future__ import annotations

import pytest

from sim.errors import InputError
from sim.game.borders import BESIDE_GOAL_M
from sim.game.loader import load_game, resolve, to_short
from sim.pitch.engine import play_bout
from sim.players import draw_roster
from sim.words.rules import rules_in_words
from tests.theory.games import even, events_of, keep_ball, of_kind, one_bout, scripted


def whole(game):
    """The game, once it has gone round in the short form and been said."""
    assert resolve(to_short(game), game.name) == game and rules_in_words(game)
    return game


def freely(game, seed: int = 1) -> list[dict]:
    return events_of(play_bout(whole(game), draw_roster(game, seed, 0), seed))


# --- who may be tackled


def tackled(**role: object) -> set[str]:
    """Sides whose players are tackled in a tight square in which nobody hurries."""
    pressing = {"press": 1.0, "marking": 1.0}
    roles = {
        "field": {"side": "amber", "players": {"amber": 3}} | role,
        "hunter": {"side": "slate", "style": "free", "place": "square", "players": {"slate": 4}} | pressing,
    }
    areas = {"square": {"length": 12.0, "width": 12.0}}
    events = freely(even(seconds=45.0, roles=roles, areas=areas, hold_limit_seconds=6))
    return {each["other"].split("-")[0] for each in of_kind(events, "tackle")}


def test_nobody_tackles_whom_he_may_not():
    assert "amber" in tackled()
    assert "amber" not in tackled(tackled="never")


@pytest.mark.parametrize(
    ("word", "spared"), [("always", []), ("never", ["both"] * 2), ("after a back-pass", ["served"])]
)
def test_after_a_back_pass_only_a_ball_from_a_team_mate_may_be_tackled_for(word, spared, monkeypatch):
    # Asked as he gets it: from the server first, then from a team-mate.
    from sim.pitch import reception

    seen, spare = [], reception.spare

    def watched(bout, i, passed):
        spare(bout, i, passed)
        seen.append((passed, bool(bout.players[i].spared)))

    monkeypatch.setattr(reception, "spare", watched)
    one_bout(even(seconds=3.0, roles={"field": {"tackled": word}}), scripted())
    wanted = {"always": {}, "never": {False: True, True: True}, "after a back-pass": {False: True, True: False}}[word]
    assert dict(seen) == wanted
    assert len(spared) == sum(wanted.values())


# --- a keeper's hands


def shots(hands: bool) -> list[str]:
    game = load_game("even-goals", ["bouts.count=1", "bouts.minutes=4"])
    short = to_short(game)
    if not hands:
        for name in ("west-keeper", "east-keeper"):
            short["roles"][name]["hands"] = False
    return [
        each["kind"] for seed in range(1, 11) for each in of_kind(freely(resolve(short, "feet"), seed), "save", "block")
    ]


def test_with_feet_only_nothing_is_held():
    assert "save" in shots(hands=True)
    assert "save" not in shots(hands=False)


# --- the clock


def test_the_clock_stands_while_the_ball_is_dead():
    script = scripted(*["on", "out"] * 3)
    stopped = one_bout(whole(even(seconds=6.0, bouts={"clock": "stopped"})), script)
    dead, live = ([each["t"] for each in of_kind(stopped, kind)] for kind in ("dead", "live"))
    waited = sum(back - gone for gone, back in zip(dead, live[1:], strict=False))
    assert waited > 10.0 and stopped[-1]["t"] == pytest.approx(6.0 + waited)
    assert one_bout(even(seconds=6.0), scripted(*["on", "out"] * 3))[-1]["t"] == 6.0


def test_a_clock_that_never_runs_ends_the_bout_all_the_same():
    game = even(seconds=2.0, bouts={"clock": "stopped"}, restarts={"out": {"seconds": 60}})
    events = one_bout(game, scripted("out"))
    assert events[-1]["t"] == 8.0
    assert "a bout is over after 8 s by the watch at the latest" in " ".join(rules_in_words(game).split())


MANY = {"many": {"on": "passes", "count": 50, "do": [{"score": 1}]}}


def test_extra_time_goes_by_the_watch_whatever_the_clock_does():
    game = whole(even(seconds=3.0, rules=MANY, bouts={"clock": "stopped", "level_seconds": 20}))
    events = one_bout(game, scripted(*["on"] * 5, "out"))
    (extra,) = of_kind(events, "extra")
    assert of_kind(events, "live")[-1]["t"] > extra["t"], "the ball comes back in extra time"
    assert events[-1]["t"] == extra["t"] + 20.0


def test_a_time_that_comes_again_and_again_does_so_in_extra_time():
    bell = {"bell": {"on": "time", "count": 2, "each": True, "do": [{"reset": "passes"}]}}
    for level, rung in ((4, [2.0, 4.0, 6.0]), (0, [2.0])):
        events = one_bout(even(seconds=3.0, rules=MANY | bell, bouts={"level_seconds": level}), scripted())
        assert [each["t"] for each in of_kind(events, "rule") if each["cause"] == "bell"] == rung


# --- where and by whom a ball comes back

BESIDE_THE_POST_M = 2.0 + BESIDE_GOAL_M + 1.5
GOALS = {
    "west": {"at": "west end of square", "width": 4.0, "attacked_by": "slate"},
    "east": {"at": "east end of square", "width": 4.0, "attacked_by": "amber"},
}


@pytest.mark.parametrize(
    ("words", "x"), [({"from": "own end"}, 11.0), ({"from": "gate", "gate": "door"}, 0.0), ({"from": "server"}, None)]
)
def test_a_ball_comes_back_at_the_own_end_or_at_a_gate(words, x):
    gates = {"door": {"centre": [0, 10], "width": 2}} if "gate" in words else {}
    events = one_bout(
        whole(even(seconds=15.0, goals=GOALS, gates=gates, restarts={"out": {"to": "slate"} | words})),
        scripted("on", "out"),
    )
    out = next(each["t"] for each in of_kind(events, "dead") if each["cause"] == "out")
    live = next(each["t"] for each in of_kind(events, "live") if each["t"] > out)
    touch = next(each for each in of_kind(events, "touch") if each["t"] == live)
    at = {None: True, 11.0: abs(touch["x"] - 11.0) < 1.5 and abs(touch["y"]) < BESIDE_THE_POST_M}
    at[0.0] = abs(touch["x"]) < 1.5 and abs(touch["y"] - 10.0) < 1.5
    assert at[x]
    if x is None:
        assert abs(touch["x"] - 11.0) > 1.5


@pytest.mark.parametrize("order", [[0, 1], [1, 0]])
def test_whoever_comes_out_gets_the_ball(order):
    do = [{"swap": "loser", "with": "longest in"}, {"restart": "again"}]
    rules = {"lost": {"on": "loss", "do": [do[k] for k in order]}}
    for by in ("newcomer", None):
        again = {"again": {"to": "outside", "seconds": 1} | ({"by": by} if by else {})}
        events = one_bout(whole(keep_ball(seconds=30.0, rules=rules, restarts=again)), scripted(then="won"))
        swaps, lives = of_kind(events, "swap"), of_kind(events, "live")[1:]
        came = [swap["other"] == live["other"] for swap, live in zip(swaps, lives, strict=False)]
        assert len(came) > 5 and all(came) == (by is not None)


@pytest.mark.parametrize(("by", "who"), [("winner", "other"), ("loser", "player")])
def test_whoever_won_or_lost_it_gets_the_ball(by, who):
    again = {"again": {"to": by, "seconds": 1, "by": by}}
    rules = {"lost": {"on": "loss", "do": [{"restart": "again"}]}}
    events = one_bout(whole(even(seconds=20.0, rules=rules, restarts=again)), scripted(then="won"))
    lost, lives = of_kind(events, "loss"), of_kind(events, "live")[1:]
    assert len(lives) > 3 and all(one[who] == live["other"] for one, live in zip(lost, lives, strict=False))


def test_a_ball_that_nobody_has_won_is_anybodys():
    """After a swap: it is not the newcomer's, either."""
    again = {"again": {"to": "outside", "seconds": 1, "by": "winner"}}
    rules = {"lost": {"on": "loss", "do": [{"swap": "loser", "with": "longest in"}, {"restart": "again"}]}}
    events = one_bout(whole(keep_ball(seconds=40.0, rules=rules, restarts=again)), scripted(then="out"))
    swaps, lives = of_kind(events, "swap"), of_kind(events, "live")[1:]
    came = [swap["other"] == live["other"] for swap, live in zip(swaps, lives, strict=False)]
    assert len(came) > 5 and not all(came)


@pytest.mark.parametrize("order", [[0, 1], [1, 0]])
def test_who_is_taken_off_while_a_ball_is_waited_for_does_not_take_it(order):
    do = [{"restart": "out"}, {"swap": "longest in", "of": "holder", "with": "waiting"}]
    roles = {
        "field": {"players": {"amber": 2, "slate": 1}},
        "bench": {"side": "team", "style": "wait", "place": "square", "players": {"slate": 1}},
    }
    rules = {"out": {"on": "out", "do": [do[k] for k in order]}}
    game = whole(even(seconds=12.0, rules=rules, roles=roles, restarts={"out": {"from": "line"}}))
    events = one_bout(game, scripted("on", "out"))
    (swap,) = of_kind(events, "swap")
    assert (swap["player"], of_kind(events, "live")[1]["other"]) == ("slate-1", swap["other"])


# --- wins, contests, windows


def test_a_win_counts_when_it_goes_through_a_gate():
    gates = {"line": {"within": "square", "width": 24}}
    for gate in ("line", "any"):
        game = whole(even(seconds=40.0, gates=gates, win={"gate": gate, "confirm": "gate"}))
        events = one_bout(game, scripted("won"))
        wins, received = of_kind(events, "win"), of_kind(events, "receive")
        through = {each["t"] for each in received if each["detail"] == "line"}
        assert wins and all(each["t"] in through for each in wins)
    assert "through gate line" in rules_in_words(even(gates=gates, win={"gate": "line", "confirm": "gate"}))


@pytest.mark.parametrize(("word", "passes"), [("goes on", [1, 2]), ("starts again", [1, 1])])
def test_what_becomes_of_the_count_in_a_contest(word, passes):
    game = whole(even(seconds=8.0, win={"confirm": "hold", "seconds": 1.0, "contested": word}))
    events = one_bout(game, scripted("on", "won", "won"))
    assert len(of_kind(events, "contested")) == 1
    assert [each["passes"] for each in of_kind(events, "receive")][:2] == passes


def test_passes_of_floaters_may_not_count_in_a_window():
    joker = {"joker": {"side": "holder", "style": "free", "place": "square", "players": {"white": 1}}}
    for floaters in (True, False):
        window = {"window": 2, "of": "passes"} | ({} if floaters else {"floaters": False})
        rules = {"lost": {"on": "loss", "do": [window]}, "late": {"on": "not won back", "do": [{"score": 1}]}}
        game = whole(even(2, seconds=20.0, rules=rules, roles=joker, teams={"white": {}}))
        events = one_bout(game, scripted("on", "won"))
        opened = of_kind(events, "window")[0]["t"]
        passes = [each for each in of_kind(events, "receive") if each["t"] > opened]
        counted = [each for each in passes if floaters or "white-1" not in (each["player"], each["other"])]
        assert len(counted) < len(passes) or floaters, "no pass of a floater: the scene is wrong"
        assert of_kind(events, "score")[0]["t"] == counted[1]["t"]


@pytest.mark.parametrize(
    ("more", "told"),
    [
        (
            {"roles": {"field": {"hands": False}}},
            "roles.field.hands must be left out where nobody in the role keeps a goal (got false)",
        ),
        ({"restarts": {"out": {"from": "own end"}}}, None),
        ({"restarts": {"out": {"from": "gate"}}}, 'restarts.out.gate must be given with from = "gate" (got nothing)'),
        (
            {"restarts": {"out": {"by": "winner", "role": "field"}}},
            'restarts.out.by must be left out where role is given (got "winner")',
        ),
        ({"win": {"confirm": "gate"}}, 'win.gate must be given with confirm = "gate" (got nothing)'),
        ({"win": {"contested": "starts again"}}, 'win.contested must be left out where a win counts at once (got "starts again")'),
    ],
)  # fmt: skip
def test_what_cannot_be_played_is_refused(more, told):
    with pytest.raises(InputError) as caught:
        even(**more)
    both = [
        f'restarts.out.from must be another place, as {one} have no goal to defend (got "own end")'
        for one in ("amber", "slate")
    ]
    assert list(caught.value.problems) == ([told] if told else both)
