"""Who changes places with whom, windows, ladders and entries, as the log shows them: with the word, and without it."""

from __future__ import annotations

import pytest

from sim.errors import InputError
from sim.game.loader import resolve, to_short
from sim.game.model import Game
from sim.words.rules import rules_in_words
from tests.theory.games import even, keep_ball, of_kind, one_bout, opponents, scripted

FREE = {"outside": {"style": "free"}}
NEW = {"restart": "start"}
WON = ["on", "won"] * 12


def swap(who: str, other: str, on: str = "loss", **words) -> dict:
    guards = {key: words.pop(key) for key in ("by", "count", "each") if key in words}
    return {"on": on, **guards, "do": [{"swap": who, "with": other, **words}, NEW]}


def squad(*script: str, rules: dict, seconds: float = 30.0, roles: dict | None = None, **more) -> list[dict]:
    game = keep_ball(4, 2, seconds=seconds, delay=1.0, rules=rules, roles=FREE | (roles or {}), **more)
    assert resolve(to_short(game), game.name) == game
    assert rules_in_words(game)
    return one_bout(game, scripted(*script))


def swapped(events: list[dict]) -> list[tuple[str, str]]:
    return [(each["player"], each["other"]) for each in of_kind(events, "swap")]


def three_teams(who: str = "loser's team", other: str = "winner", **more) -> dict:
    return {
        "teams": {"amber": {}, "slate": {}, "white": {}},
        "roles": {
            "outside": {"style": "free", "players": {"amber": 2, "slate": 2}},
            "inside": {"players": {"white": 2}},
        },
        "phases": {"keep": {"rules": {"lost": swap(who, other, **more)}}},
    }


def of_teams(tables: dict, *script: str) -> list[dict]:
    game = keep_ball(seconds=30.0, delay=1.0, rules={"lost": swap("loser", "winner")}, **{})
    short = to_short(game)
    short.pop("players", None)
    for key in ("teams", "phases"):
        short[key] = tables[key]
    del short["areas"]["square"]["out"]
    for name, table in tables["roles"].items():
        short["roles"][name] |= table
    game = resolve(short, "three")
    assert resolve(to_short(game), "three") == game
    return one_bout(game, scripted(*script))


def test_the_team_of_the_loser_changes_with_the_team_of_the_winner_number_for_number():
    events = of_teams(three_teams(), *WON)
    losses = of_kind(events, "loss")
    assert len(losses) > 3
    for each in losses:
        team, other = each["player"].split("-")[0], each["other"].split("-")[0]
        at_once = [(one["player"], one["other"]) for one in of_kind(events, "swap") if one["t"] == each["t"]]
        assert at_once == [(f"{team}-{n}", f"{other}-{n}") for n in (1, 2)]


def test_without_the_team_one_goes_in_alone():
    alone = of_teams(three_teams("loser"), *WON)
    assert len(of_kind(alone, "swap")) == len(of_kind(alone, "loss")) > 3


@pytest.mark.parametrize("on", ["loss", "win", "wins", "out", "time", "passes"])
def test_the_next_on_the_list_comes_out_in_turn_on_any_event(on):
    script = ["on", "out"] * 12 if on == "out" else ["on", "on"] * 30 if on in ("time", "passes") else WON
    words: dict = (
        {"count": 1, "each": True} if on in ("wins", "passes") else {"count": 3, "each": True} if on == "time" else {}
    )
    who = ("longest in", {"of": "holder"}) if on in ("time", "passes") else ("loser", {})
    events = squad(*script, rules={"change": swap(who[0], "next on the list", on, **who[1], **words)})
    comers = [other for _, other in swapped(events)]
    assert len(comers) > 3 and comers[:2] == ["squad-5", "squad-6"]
    last = {one: k for k, one in enumerate(comers[:2])}
    for k, one in enumerate(comers[2:], 2):  # nobody comes out again before all the others inside have
        assert k - last.get(one, -9) >= 2, comers
        last[one] = k


def test_the_winner_comes_out_or_the_longest_in():
    winner, longest = (squad(*WON, rules={"lost": swap("loser", other)}) for other in ("winner", "longest in"))
    assert swapped(winner) == [(each["player"], each["other"]) for each in of_kind(winner, "loss")]
    assert swapped(longest) != [(each["player"], each["other"]) for each in of_kind(longest, "loss")]


def test_who_waits_comes_in_and_who_was_named_too():
    bench = {"bench": {"side": "outside", "style": "wait", "place": "square", "players": 2}}
    waiting = swapped(squad(*WON, roles=bench, rules={"lost": swap("loser", "waiting")}))
    assert [other for _, other in waiting[:2]] == ["squad-7", "squad-8"] and len(waiting) > 3
    assert waiting[2][1] == waiting[0][0]  # who went out first has waited longest
    named = swapped(squad(*WON, roles=bench, rules={"lost": swap("loser", "next on the list", **{"from": "bench"})}))
    assert [other for _, other in named[:2]] == ["squad-7", "squad-8"]
    inside = swapped(squad(*WON, roles=bench, rules={"lost": swap("loser", "next on the list")}))
    assert [other for _, other in inside[:2]] == ["squad-5", "squad-6"]


def test_several_roles_may_be_named_and_theirs_come_on_one_list():
    bench = {"side": "outside", "style": "wait", "place": "square", "players": 1}
    roles = {"bench": bench, "wall": bench | {"side": "inside"}}

    def comers(*named: str) -> list[str]:
        lost = swap("loser", "next on the list", **{"from": named[0] if len(named) == 1 else list(named)})
        return [other for _, other in swapped(squad(*WON, roles=roles, rules={"lost": lost}))]

    both = comers("bench", "wall")
    assert both[:2] == ["squad-7", "squad-8"] and len(both) > 3
    assert comers("wall", "bench") == both
    assert comers("bench")[:2] != both[:2] and comers("wall")[:2] != both[:2]
    game = keep_ball(
        4, 2, roles=FREE | roles, rules={"lost": swap("loser", "next on the list", **{"from": ["bench", "wall"]})}
    )
    assert "with the next on the list among the bench players and wall players" in " ".join(
        rules_in_words(game).split()
    )
    assert Game.model_validate_json(game.model_dump_json()) == game


def test_players_of_two_bibs_change_with_their_own_bench():
    bench = {"bench": {"side": "team", "style": "wait", "place": "square", "players": {"amber": 1, "slate": 1}}}
    rules = {"lost": {"on": "loss", "do": [{"swap": "loser", "with": "waiting"}]}}
    found = swapped(one_bout(even(roles=bench, rules=rules, bouts={"roles": "start anew"}), scripted(*WON)))
    assert len(found) > 3 and all(one.split("-")[0] == other.split("-")[0] for one, other in found)


def charged(loss: dict, *script: str, **more) -> list[dict]:
    return squad(*script, rules={"lost": {"on": "loss", "do": [NEW]}}, loss=loss, **more)


def test_a_lost_pass_is_charged_to_whom_the_file_says():
    for events, whose in ((charged({"charged": "receiver"}, *WON), "other"), (charged({}, *WON), "player")):
        passes = [each for each in events if each["kind"] in ("release", "loss")]
        pairs = [(one, two) for one, two in zip(passes, passes[1:], strict=False) if two["kind"] == "loss"]
        assert len(pairs) > 3 and all(two["player"] == one[whose] for one, two in pairs)


def test_a_loss_of_a_floater_is_charged_to_the_last_of_the_side_only_where_that_is_said():
    helper = {"helper": {"side": "holder", "style": "free", "place": "square", "players": 4}}
    floaters = {f"squad-{n}" for n in (7, 8, 9, 10)}
    usual = charged({}, *WON, roles=helper, seconds=60.0)
    said = charged({"floater": "last team-mate"}, *WON, roles=helper, seconds=60.0)
    assert floaters & {each["player"] for each in of_kind(usual, "loss")}
    assert not floaters & {each["player"] for each in of_kind(said, "loss")}


WINDOW = {
    "lost": {"on": "loss", "do": [{"window": 5}]},
    "back": {"on": "won back", "do": [{"score": 1, "to": "winner"}]},
    "late": {"on": "not won back", "do": [{"swap": "loser", "with": "longest in"}, NEW]},
}


def fired(events: list[dict], name: str) -> list[dict]:
    return [each for each in of_kind(events, "rule") if each["cause"] == name]


def test_a_ball_won_back_in_time_is_a_point_and_nobody_swaps():
    events = squad("on", "won", "won", rules=WINDOW, seconds=8.0)
    first, second = of_kind(events, "loss")
    (back,) = fired(events, "back")
    assert (back["t"], back["side"]) == (second["t"], first["side"]) and of_kind(events, "score")
    late = squad("on", "won", "won", rules=WINDOW, seconds=20.0)
    (missed,) = fired(late, "late")  # those who lost it in their turn
    assert missed["t"] == pytest.approx(second["t"] + 5.0) and missed["side"] == second["side"]
    assert swapped(late)[0][0] == second["player"]


def test_put_out_by_those_who_lost_it_is_not_won_back_and_the_time_runs_on():
    left = iter(("on", "won", "off"))

    def outcome(bout, t):
        if (word := next(left, "on")) != "off":
            return scripted(word)(bout, t)
        bout.touched(opponents(bout)[0])  # one of those who have lost it gets a foot to it
        return scripted("out")(bout, t)

    game = keep_ball(4, 2, seconds=20.0, delay=1.0, rules=WINDOW, roles=FREE)
    events = one_bout(game, outcome)
    (loss,), (out,), (late,) = of_kind(events, "loss"), of_kind(events, "out"), fired(events, "late")
    assert out["t"] < loss["t"] + 5.0 == pytest.approx(late["t"]) and not fired(events, "back")
    assert "the time runs on" in " ".join(rules_in_words(game).split())


def test_a_window_of_passes_closes_with_the_last_of_them():
    rules = WINDOW | {"lost": {"on": "loss", "do": [{"window": 3, "of": "passes"}]}}
    events = squad("on", "won", rules=rules, seconds=12.0)
    (loss,), late = of_kind(events, "loss"), fired(events, "late")[0]
    passes = [each for each in of_kind(events, "receive") if loss["t"] < each["t"] <= late["t"]]
    assert len(passes) == 3 and passes[-1]["t"] == late["t"]


def test_a_window_still_open_at_the_whistle_or_in_another_phase_counts_for_nothing():
    events = squad("on", "won", rules=WINDOW, seconds=5.0)
    assert of_kind(events, "window") and not fired(events, "late") and not fired(events, "back")
    turn = {"turn": {"on": "passes", "count": 2, "do": [{"phase": "then"}]}}
    phases = {"then": {"rules": {"over": {"on": "time", "count": 60, "do": [{"phase": "keep"}]}}}}
    events = squad("on", "won", rules=WINDOW | turn, phases=phases, seconds=20.0)
    assert of_kind(events, "phase") and of_kind(events, "window") and not fired(events, "late")


LADDER = {
    "step": {"on": "loss", "by": "outside", "do": [{"step": "loser"}, NEW]},
    "defend": {"on": "loss", "by": "outside", "last_step": True, "do": [{"swap": "loser", "with": "longest in"}]},
}


def test_free_then_two_then_one_then_he_defends():
    events = squad(*["won"] * 40, rules=LADDER, roles={"outside": {"style": "free", "ladder": [2, 1]}}, seconds=60.0)
    lost: dict[str, int] = {}
    for each in events:
        if each["kind"] == "loss":
            lost[each["player"]] = lost.get(each["player"], 0) + 1
        if each["kind"] == "step":
            assert each["value"] == {1: 2, 2: 1}[lost[each["player"]]]
        if each["kind"] == "swap":
            assert lost.pop(each["player"]) == 3
    assert of_kind(events, "swap") and len(of_kind(events, "step")) > 4
    plain = squad(*["won"] * 40, rules={"lost": {"on": "loss", "do": [NEW]}}, seconds=60.0)
    assert not of_kind(plain, "step")


def test_a_whole_side_goes_down_and_everybody_is_back_at_the_top():
    rules = {
        "step": {"on": "loss", "by": "outside", "do": [{"step": "side"}, NEW]},
        "up": {"on": "passes", "count": 3, "do": [{"reset": "steps"}]},
    }
    events = squad(
        "won", "on", "on", "on", rules=rules, roles={"outside": {"style": "free", "ladder": [2]}}, seconds=9.0
    )
    assert [each["value"] for each in of_kind(events, "step")] == [2.0] * 4 + [0.0] * 4


def test_one_more_comes_from_the_bench_every_so_often():
    bench = {"bench": {"side": "inside", "style": "wait", "place": "square", "players": 3}}
    enter = {"assign": "inside", "of": "all", "from": "bench", "count": 1, "choose": "next on the list"}
    rules = {"enter": {"on": "time", "count": 4, "each": True, "do": [enter]}}
    entered = lambda events: [  # noqa: E731
        (each["t"], each["player"]) for each in of_kind(events, "job") if each["cause"] == "inside" and each["t"] > 0
    ]
    assert entered(squad(rules=rules, roles=bench, seconds=15.0)) == [
        (4.0, "squad-7"),
        (8.0, "squad-8"),
        (12.0, "squad-9"),
    ]
    once = {"enter": rules["enter"] | {"each": False}}
    assert entered(squad(rules=once, roles=bench, seconds=15.0)) == [(4.0, "squad-7")]


def test_a_touch_wins_it_only_where_that_is_said():
    rules = {"lost": {"on": "loss", "do": [NEW]}}
    loose = {"steal_control": 0.0, "touch_chance": 1.0}

    def first_loss(**win: str) -> tuple[dict | None, dict]:
        game = keep_ball(4, 2, seconds=6.0, rules=rules, roles=FREE, win=win)
        events = one_bout(game, scripted("on", "won", then="on"), **loose)
        return next(iter(of_kind(events, "loss")), None), of_kind(events, "deflect")[0]

    lost, touch = first_loss(confirm="touch")
    assert lost is not None and (lost["t"], lost["other"]) == (touch["t"], touch["player"])
    lost, touch = first_loss(confirm="control")
    assert lost is None or lost["t"] > touch["t"]


REFUSED = {
    "swap of the longest in without a side": {"lost": swap("longest in", "winner")},
    "loser of a pass": {"lost": swap("loser", "longest in", "passes", count=2)},
    "winner of a ball out": {"lost": swap("loser", "winner", "out")},
    "winner with the winner": {"lost": swap("winner", "winner")},
    "nobody waits": {"lost": swap("loser", "waiting")},
    "no such role": {"lost": swap("loser", "longest in", **{"from": "wall"})},
    "a team and one alone": {"lost": swap("loser's team", "winner"), "put": swap("loser", "winner", "out")},
    "a window that nothing follows": {"lost": {"on": "loss", "do": [{"window": 5}]}},
    "nothing opens a window": {"back": {"on": "won back", "do": [NEW]}},
    "a window without a loss": WINDOW | {"lost": {"on": "out", "do": [{"window": 5}]}},
    "half a pass": WINDOW | {"lost": {"on": "loss", "do": [{"window": 2.5, "of": "passes"}]}},
    "a step without a ladder": {"lost": {"on": "loss", "do": [{"step": "loser"}]}},
    "a foot without a ladder": {"lost": {"on": "loss", "last_step": True, "do": [NEW]}},
}


@pytest.mark.parametrize("rules", REFUSED.values(), ids=REFUSED)
def test_what_cannot_be_played_is_refused(rules):
    with pytest.raises(InputError, match=r"phases\.keep\.rules"):
        keep_ball(rules=rules)


@pytest.mark.parametrize(("touches", "ladder"), [(2, [2]), (2, [3]), ("free", [1, 2]), ("free", [11])])
def test_a_ladder_that_does_not_lead_down_is_refused(touches, ladder):
    with pytest.raises(InputError, match=r"roles\.outside\.ladder"):
        keep_ball(rules=LADDER, roles={"outside": {"touches": touches, "ladder": ladder}})
