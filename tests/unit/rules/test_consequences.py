"""Every verb, on a desk: who changes places with whom, who scores, what begins again."""

from __future__ import annotations

import pytest

from sim.game.verbs import KINDS
from sim.rules.choosing import side_named
from sim.rules.consequences import VERBS
from sim.rules.guards import RuleEvent
from tests.theory.games import even, keep_ball
from tests.unit.rules.desk import Desk

LOSS = RuleEvent("loss", "outside", 1, 5, "interception")  # squad-2 lost it to squad-6


@pytest.fixture
def desk():
    """4v2: squad-1 to squad-4 outside, squad-5 in for longer than squad-6."""
    one = Desk(keep_ball())
    one.standing.since = [0.0, 0.0, 0.0, 0.0, 3.0, 7.0]
    return one


PAIR_IN = {"lost": {"on": "loss", "do": [{"swap": "loser and partner", "with": "longest in"}, {"restart": "start"}]}}


@pytest.fixture
def paired():
    """4v4 in pairs that no numbers give away: 1-3, 2-4 outside, 5-8, 6-7 inside; 6 in first, then 5 and 8, then 7."""
    one = Desk(keep_ball(4, 4, rules=PAIR_IN, teams={"squad": {"pairs": [[1, 3], [2, 4], [5, 8], [7, 6]]}}))
    one.standing.since = [0.0] * 4 + [3.0, 1.0, 7.0, 3.0]
    return one


def test_every_verb_of_the_language_is_here():
    assert set(VERBS) == set(KINDS)


def test_names_of_sides(desk):
    desk.standing.side = "inside"
    words = {word: side_named(desk.standing, word, LOSS) for word in ("holder", "other", "winner", "loser", "outside")}
    assert words == {
        "holder": "inside",
        "other": "outside",
        "winner": "inside",
        "loser": "outside",
        "outside": "outside",
    }


@pytest.mark.parametrize("kind", ["win", "wins"])
def test_a_win_is_the_winners_even_if_the_next_ball_is_not(desk, kind):
    # The rules of the loss have already had the ball served to the other side.
    desk.standing.side = "outside"
    event = RuleEvent(kind, "inside", 5, 1)
    assert side_named(desk.standing, "holder", event) == "inside"
    assert side_named(desk.standing, "other", event) == "outside"


@pytest.mark.parametrize("kind", ["out", "goal", "save", "miss"])
def test_who_put_it_out_or_shot_has_lost_it(desk, kind):
    desk.standing.side = "outside"
    event = RuleEvent(kind, "outside", 1, -1)
    assert [side_named(desk.standing, word, event) for word in ("winner", "loser")] == ["inside", "outside"]
    assert side_named(desk.standing, "holder", event) == ("inside" if kind == "out" else "outside")


def test_whoever_wins_has_not_lost_it(desk):
    event = RuleEvent("win", "inside", 5, 1)
    assert [side_named(desk.standing, word, event) for word in ("winner", "loser")] == ["inside", "outside"]


def test_open_is_told_once_and_close_takes_it_back(desk):
    desk.do("open", LOSS, what="transfer")
    desk.do("open", LOSS, what="transfer")
    assert desk.standing.open == {"transfer"}
    assert desk.noted("unlock") == [{"cause": "transfer"}]
    desk.do("close", LOSS, what="transfer")
    assert desk.standing.open == set()
    desk.do("close", LOSS, what="transfer")  # closing what is closed is no error


def test_score_adds_up_by_side(desk):
    desk.do("score", LOSS, to="winner", value=2.0)
    desk.do("score", LOSS, to="inside", value=0.5)
    desk.do("score", LOSS, to="loser", value=1.0)
    assert desk.standing.score == {"inside": 2.5, "outside": 1.0}
    assert [(each["side"], each["value"]) for each in desk.noted("score")] == [
        ("inside", 2.0),
        ("inside", 0.5),
        ("outside", 1.0),
    ]


def test_the_longest_in_comes_out_for_the_loser(desk):
    desk.do("swap", LOSS, who="loser", other="longest in")
    assert desk.ids("inside") == ["squad-2", "squad-6"]
    assert desk.standing.since[1] == desk.standing.since[4] == desk.now
    assert desk.noted("swap") == [{"player": 1, "other": 4}]
    assert ("roles", (1, 4)) in desk.did


def test_starters_that_have_been_in_equally_long_are_picked_by_lot(desk):
    desk.standing.since = [0.0] * 6
    desk.lot = lambda i: -i
    desk.do("swap", LOSS, who="loser", other="longest in")
    assert desk.ids("inside") == ["squad-2", "squad-5"]


def test_the_winner_comes_out_and_without_one_the_longest_in(desk):
    desk.do("swap", LOSS, who="loser", other="winner")
    assert desk.ids("inside") == ["squad-2", "squad-5"]
    desk.do("swap", RuleEvent("loss", "outside", 0, -1, "out"), who="loser", other="winner")
    assert desk.ids("inside") == ["squad-1", "squad-2"]


def test_loser_and_partner_go_in_for_the_pair_that_has_been_in_longest_together(paired):
    # squad-6 has been in longest, but with squad-7 only since 7 s: the pair since 3 s comes out.
    paired.do("swap", LOSS, who="loser and partner", other="longest in")
    assert paired.ids("inside") == ["squad-2", "squad-4", "squad-6", "squad-7"]
    assert [(each["player"], each["other"]) for each in paired.noted("swap")] == [(1, 4), (3, 7)]


def test_the_pair_of_the_winner_comes_out_and_without_a_winner_the_longest(paired):
    paired.do("swap", RuleEvent("loss", "outside", 1, 6, "tackle"), who="loser and partner", other="winner")
    assert paired.ids("inside") == ["squad-2", "squad-4", "squad-5", "squad-8"]
    paired.do("swap", RuleEvent("loss", "outside", 0, -1, "out"), who="loser and partner", other="winner")
    assert paired.ids("inside") == ["squad-1", "squad-2", "squad-3", "squad-4"]


@pytest.mark.parametrize("split", [(3, "inside"), (7, "outside")])
def test_two_who_are_no_pair_never_change_as_one(paired, split):
    # Nobody goes in while the loser's partner is in already; no half of a pair comes out.
    paired.standing.give_role(*split, 9.0)
    before = list(paired.standing.role)
    paired.do("swap", LOSS, who="loser and partner", other="longest in")
    inside = paired.ids("inside")
    assert (paired.standing.role == before) if split[0] == 3 else (inside == ["squad-2", "squad-4", "squad-5"])


@pytest.fixture
def odd():
    """6v3 in pairs 1-2, 3-4, 5-6, 7-8, and 9 without a partner: 8 in first, then 9, then 7."""
    alone = {"swap": "loser and partner", "with": "longest in", "alone": True}
    teams = {"squad": {"pairs": [[1, 2], [3, 4], [5, 6], [7, 8]]}}
    one = Desk(keep_ball(6, 3, rules={"lost": {"on": "loss", "do": [alone, {"restart": "start"}]}}, teams=teams))
    one.standing.since = [0.0] * 6 + [7.0, 3.0, 5.0]
    return one


def test_the_odd_one_comes_out_in_turn_and_whose_partner_is_in_already_goes_alone(odd):
    odd.do("swap", LOSS, who="loser and partner", other="longest in", alone=True)
    assert [(each["player"], each["other"]) for each in odd.noted("swap")] == [
        (1, 7),
        (0, 8),
    ]  # 7 is left, 8 and 9 are out
    odd.do("swap", RuleEvent("loss", "outside", 7, 0, "tackle"), who="loser and partner", other="winner", alone=True)
    assert odd.ids("inside") == ["squad-2", "squad-7", "squad-8"]
    odd.do("swap", RuleEvent("loss", "outside", 8, -1, "out"), who="loser and partner", other="winner", alone=True)
    assert odd.ids("inside") == ["squad-2", "squad-8", "squad-9"]


def test_without_the_word_the_one_with_no_partner_never_comes_out(odd):
    odd.do("swap", LOSS, who="loser and partner", other="longest in")
    assert odd.ids("inside") == ["squad-1", "squad-2", "squad-9"]


def never(**roles: list[str]) -> Desk:
    players = {f"squad-{name[1:]}": {"never": value} for name, value in roles.items()}
    one = Desk(keep_ball(players=players))
    one.standing.since = [0.0, 1.0, 2.0, 3.0, 3.0, 7.0]
    return one


def test_who_may_never_take_a_role_is_not_chosen_and_somebody_else_is():
    words = {"who": "longest in", "of": "holder", "other": "longest in"}
    desk = never(_1=["inside"], _5=["outside"])
    desk.do("swap", RuleEvent("passes", "outside", 1), **words)
    assert [(each["player"], each["other"]) for each in desk.noted("swap")] == [(1, 5)]
    free = never()
    free.do("swap", RuleEvent("passes", "outside", 1), **words)
    assert [(each["player"], each["other"]) for each in free.noted("swap")] == [(0, 4)]


def test_the_winner_who_may_never_come_out_stays_and_the_longest_in_comes():
    desk = never(_6=["outside"])
    desk.do("swap", LOSS, who="loser", other="winner")
    assert desk.ids("inside") == ["squad-2", "squad-6"]


def test_the_loser_who_may_never_go_in_stays_and_nobody_changes():
    desk = never(_2=["inside"])
    before = list(desk.standing.role)
    desk.do("swap", LOSS, who="loser", other="winner")
    assert desk.standing.role == before


def test_nobody_swaps_for_a_floater_or_for_nobody():
    # E3: the side loses the ball, but the floater does not go in.
    game = keep_ball(roles={"joker": {"side": "holder", "style": "free", "place": "square", "players": 1}})
    desk = Desk(game)
    floater = desk.number("squad-7")
    before = list(desk.standing.role)
    desk.do("swap", RuleEvent("loss", "outside", floater, desk.number("squad-5")), who="loser", other="longest in")
    desk.do("swap", RuleEvent("loss", "outside", -1, -1, "out"), who="loser", other="longest in")
    assert desk.standing.role == before
    assert desk.noted("swap") == []


def test_keepers_and_those_who_wait_do_not_come_out():
    game = keep_ball(
        roles={
            "bench": {"side": "inside", "style": "wait", "place": "square", "players": 1},
            "keeper": {"side": "inside", "style": "goal", "place": "net", "players": 1},
        },
        goals={"net": {"at": "west end of square", "width": 3.0}},
    )
    desk = Desk(game)
    desk.standing.since = [0.0] * 4 + [5.0, 6.0] + [0.0] * 2
    desk.do("swap", RuleEvent("loss", "outside", 0, -1, "out"), who="loser", other="longest in")
    assert desk.ids("outside") == ["squad-2", "squad-3", "squad-4", "squad-5"]
    assert (desk.ids("bench"), desk.ids("keeper")) == (["squad-7"], ["squad-8"])


def test_a_loser_who_defends_already_stays_in_when_nobody_can_come_out(desk):
    # E24: the side inside has lost the ball it had won: the loser changes with the one longest on the other side.
    desk.standing.since = [4.0, 1.0, 2.0, 3.0, 0.0, 0.0]
    desk.do("swap", RuleEvent("loss", "inside", 4, 0), who="loser", other="longest in")
    assert desk.ids("inside") == ["squad-2", "squad-6"]


def test_trade_gives_every_player_the_role_of_his_number_on_the_other_side():
    game = even(
        2,
        roles={"target": {"side": "team", "style": "edge", "place": "square", "players": {"amber": [9], "slate": [9]}}},
    )
    desk = Desk(game)
    desk.standing.give_role(desk.number("amber-1"), "target", 2.0)
    desk.do("trade", RuleEvent("loss", "amber", 0, 3), what="roles")
    assert desk.ids("target") == ["amber-9", "slate-1", "slate-9"]


def hunters(count: int = 4):
    return even(
        count,
        teams={"amber": {"home": "square"}, "slate": {"home": "square"}},
        roles={"chaser": {"side": "team", "style": "free", "place": "square"}},
        rules={"go": {"on": "win", "do": [{"assign": "chaser", "of": "other"}]}},
    )


@pytest.mark.parametrize(
    ("words", "expected"),
    [
        ({"who": "other", "count": 2, "other": "nearest"}, ["slate-1", "slate-2"]),
        ({"who": "holder", "count": 1, "other": "nearest"}, ["amber-1"]),
        ({"who": "other", "count": 2, "other": "longest in"}, ["slate-2", "slate-4"]),
        ({"who": "holder", "count": 2, "other": "passer and receiver"}, ["amber-3", "amber-4"]),
        ({"who": "holder", "other": "passer and receiver"}, ["amber-3", "amber-4"]),
        ({"who": "holder", "count": 1, "other": "passer and receiver"}, ["amber-4"]),
        ({"who": "other", "count": 2, "other": "passer and receiver"}, []),
        ({"who": "holder", "count": 2, "other": "passer and receiver", "from_role": "chaser"}, []),
        ({"who": "other", "other": "nearest"}, ["slate-1", "slate-2", "slate-3", "slate-4"]),
        ({"who": "all", "count": 5, "other": "nearest"}, ["amber-1", "amber-2", "amber-3", "amber-4", "slate-1"]),
        ({"who": "other", "count": 2, "other": "nearest", "from_role": "chaser"}, []),
    ],
)
def test_assign_picks_by_side_role_number_and_order(words, expected):
    desk = Desk(hunters())
    desk.standing.since = [0.0] * 4 + [9.0, 3.0, 8.0, 5.0]
    desk.pair = (3, 2)
    desk.do("assign", RuleEvent("win", "amber", 0), role="chaser", **words)
    assert desk.ids("chaser") == expected


def test_the_nearest_is_never_the_one_who_has_the_ball():
    for who, count, expected in [
        ("holder", 1, ["amber-2"]),
        ("all", 2, ["amber-2", "amber-3"]),
        ("holder", 4, ["amber-2", "amber-3", "amber-4"]),
        ("holder", None, ["amber-1", "amber-2", "amber-3", "amber-4"]),
        ("other", 1, ["slate-1"]),
    ]:
        desk = Desk(hunters())
        desk.carrier = 0
        desk.do("assign", RuleEvent("win", "amber", 0), role="chaser", who=who, count=count, other="nearest")
        assert desk.ids("chaser") == expected


def test_assign_only_tells_of_changes():
    desk = Desk(hunters())
    desk.standing.give_role(4, "chaser", 1.0)
    desk.do("assign", RuleEvent("win", "amber", 0), role="chaser", who="other", count=2, other="nearest")
    assert desk.standing.since[4] == 1.0
    assert desk.did == [("roles", (5,))]


def test_phase_restart_reset_and_end():
    game = keep_ball(
        rules={
            "lost": {"on": "loss", "do": [{"restart": "start"}, {"phase": "hunt"}]},
            "three": {"on": "wins", "count": 3, "do": [{"reset": "wins"}]},
            "four": {"on": "passes", "count": 4, "do": [{"reset": "passes"}]},
        },
        phases={"hunt": {"rules": {"over": {"on": "time", "count": 5, "do": [{"end": "bout"}]}}}},
    )
    desk = Desk(game)
    desk.standing.passes, desk.standing.wins = 4, {"inside": 3}
    desk.standing.fired = {("three", "inside"), ("four", "outside")}
    desk.do("reset", LOSS, what="wins")
    assert (desk.standing.passes, desk.standing.wins, desk.standing.fired) == (4, {}, {("four", "outside")})
    desk.do("reset", LOSS, what="passes")
    assert (desk.standing.passes, desk.standing.fired) == (0, set())
    desk.do("restart", LOSS, what="start")
    desk.do("phase", LOSS, what="hunt")
    desk.do("end", LOSS)
    assert desk.standing.phase.name == "hunt"
    assert desk.did == [("restart", "start"), ("stop",)]
