"""Cases at the edge of the rules, each provoked in the engine by a ball that does as it is told (`tests.theory.games.scripted`) or
by players put by hand: what holds by default, what the log is when the file says otherwise, and that `check --details` tells which.

Source of the cases and of what is usual in them: common practice, no source.  What no word of a file can change, a law of the
engine, is shown by a law put out of force.  Told elsewhere, with and without the word:

| Case | Where |
|---|---|
| a shot on its way at the whistle (E2) | `unit/pitch/test_whistle` |
| a pair without a partner (E7) | `unit/rules/test_consequences`: the odd one, with and without `alone` |
| two at the ball at once (E6) | `unit/rules/test_together`, put by hand |
| a window still open at the whistle (E9) | `unit/rules/test_changing_places` |
| offside (E13), a limit that a forced entry would break (E21) | `unit/pitch/test_zones` |
| a keeper's hands (E14) | `unit/rules/test_hands_and_clocks` |
| a foul, handball, kicking away (E26) | `unit/pitch/test_fouls` |
| a draw among three teams (E20) | `unit/rules/test_series` |
| bouts of unlike length (E27), nothing seen at all (E28), the order of sessions (E30) | `unit/measures/test_summary` |
| a number that is never reached (E29) | `cli/test_check` |
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, NamedTuple

import pytest

from sim.errors import InputError
from sim.game.loader import read_game, resolve, to_short
from sim.game.model import Game
from sim.pitch import clock, reception
from sim.pitch.contact import touched_between
from sim.words.checked import checked
from tests.property.test_play_areas import crossing
from tests.support.scene import Scene, scene
from tests.theory.games import LOST, SWAPPED, even, keep_ball, merged, of_kind, one_bout, scripted

Events = list[dict]
POINT = {"on": "passes", "count": 2, "do": [{"score": 1}]}
FREE = {"outside": {"style": "free"}}
JOKER = {"side": "holder", "style": "edge", "place": "square", "players": 1}
WAITS = {"side": "inside", "style": "wait", "place": "square", "players": 1}
HELD_1S = {"confirm": "hold", "seconds": 1.0}
NET = {"net": {"at": "west end of square", "width": 3.0}}
WHITE = JOKER | {"style": "free", "players": {"white": 1}}
STAY_IN = {name: {"never": ["outside"]} for name in ("squad-5", "squad-6")}
TIRED = {"squad-5": {"most_minutes": 0.05}}


def windowed(**words: Any) -> dict:
    """Two passes of the others close the window, and that is a point."""
    late = {"on": "not won back", "do": [{"score": 1}]}
    return {"lost": {"on": "loss", "do": [{"window": 2, "of": "passes"} | words]}, "late": late}


def colours(**more: Any) -> Game:
    """Amber and slate keep it from white; the colour of the loser goes in."""
    short = to_short(keep_ball(4, 2, delay=1.0, rules={"lost": LOST}))
    short["teams"] = {name: {} for name in ("amber", "slate", "white")}
    short["roles"]["outside"]["players"] = {"amber": 2, "slate": 2}
    short["roles"]["inside"]["players"] = {"white": 2}
    short["phases"]["keep"]["rules"]["lost"]["do"] = [{"swap": "loser's team", "with": "winner"}, {"restart": "start"}]
    short["bouts"]["seconds"] = 30.0
    return resolve(merged(short, more), "colours")


def walled(**more: Any) -> Game:
    """The only team-mate stands in another square, and passing there is closed."""
    areas = {"far": {"length": 12.0, "width": 12.0, "beside": "square", "on": "east"}}
    mate = {"mate": {"side": "outside", "style": "free", "place": "far", "players": 1}}
    short = to_short(keep_ball(1, 1, seconds=10.0, delay=2.0, areas=areas, roles=mate))
    del short["hold_limit_seconds"]
    return resolve(merged(short, more), "walled")


# What is read from the log.


def next_side(events: Events) -> str:
    """The side that gets the ball after the first dead one."""
    return of_kind(events, "serve")[1]["side"]


def all_swap(events: Events) -> bool:
    """Whether somebody goes in for every loss."""
    assert of_kind(events, "loss")
    return len(of_kind(events, "swap")) == len(of_kind(events, "loss"))


def passer_lost(events: Events) -> bool:
    """Whether every lost pass is its passer's."""
    passes = [each for each in events if each["kind"] in ("release", "loss")]
    pairs = [(one, two) for one, two in zip(passes, passes[1:], strict=False) if two["kind"] == "loss"]
    return all(one["player"] == two["player"] for one, two in pairs)


def passers_colour_goes(events: Events) -> bool:
    """Whether with every ball put out it is the passer's colour that goes in."""
    last, same = "", []
    for each in events:
        last = each["player"] if each["kind"] == "release" else last
        if each["kind"] == "loss":
            same.append(each["player"].split("-")[0] == last.split("-")[0])
    assert len(same) > 4
    return all(same)


def turned(events: Events) -> tuple[int, int]:
    """How many losses, and how many wins that were contested."""
    return len(of_kind(events, "loss")), len(of_kind(events, "contested"))


def counted(events: Events) -> list[int]:
    return [each["passes"] for each in of_kind(events, "receive")][:2]


def second_pass_closes(events: Events) -> bool:
    """Whether the window has closed with the second pass since it was opened."""
    opened, closed = of_kind(events, "window")[0]["t"], of_kind(events, "score")[0]["t"]
    return sum(opened < each["t"] <= closed for each in of_kind(events, "receive")) == 2


def all_count(events: Events) -> bool:
    return len(of_kind(events, "score")) == len(of_kind(events, "receive"))


def leaves(events: Events) -> tuple[bool, str]:
    """Whether who has had his minutes leaves with the loss, and who comes."""
    (limit,) = of_kind(events, "limit")
    return limit["t"] in {each["t"] for each in of_kind(events, "loss")}, limit["other"]


def swaps(events: Events) -> int:
    return len(of_kind(events, "swap"))


def end(events: Events) -> float:
    return events[-1]["t"]


def held(events: Events) -> float:
    """Seconds the first ball was held before it was lost."""
    return round(of_kind(events, "loss")[0]["t"] - of_kind(events, "live")[0]["t"], 6)


def waits(events: Events) -> list[float]:
    """How long each dead ball lies."""
    dead, live = of_kind(events, "dead"), of_kind(events, "live")[1:]
    return [round(back["t"] - gone["t"], 6) for gone, back in zip(dead, live, strict=False)][:4]


class Case(NamedTuple):
    """A game in which the case comes up, what happens, and what is read from the log.

    game      makes the game from the words of its file: `words` by default, `otherwise` on top where it is declared otherwise
    holds     what is read by default, and the words `check --details` has for it
    flipped   the same where it is declared otherwise; no words where only a limit is lifted
    """

    game: Callable[..., Game]
    words: dict[str, Any]
    otherwise: dict[str, Any]
    script: tuple[str, ...]
    read: Callable[[Events], Any]
    holds: tuple[Any, str]
    flipped: tuple[Any, str]
    constants: dict[str, float] = {}


def squad(**words: Any) -> Game:
    return keep_ball(4, 2, **({"seconds": 20.0, "delay": 1.0, "rules": {"lost": LOST}, "roles": FREE} | words))


WON = ("on", "won") * 6
LAST_MATE = {"loss": {"floater": "last team-mate"}}
CASES = {
    "E1 over the line off an attacker": Case(
        even, {"seconds": 8.0}, {"restarts": {"out": {"to": "same"}}}, ("on", "out"), next_side,
        ("slate", "new ball in to the side that did not touch it last"), ("amber", "to the side that touched it last"),
    ),
    "E1 over the line off a defender": Case(
        even, {"seconds": 8.0}, {"restarts": {"out": {"to": "same"}}}, ("won", "out"), next_side,
        ("amber", "new ball in to the side that did not touch it last"), ("slate", "to the side that touched it last"),
        {"steal_control": 0.0},
    ),
    "E3 a floater loses it": Case(
        keep_ball,
        {"outside": 1, "inside": 2, "seconds": 20.0, "delay": 2.0, "rules": {"lost": SWAPPED}, "roles": {"joker": JOKER}},
        LAST_MATE, ("on", "won", "won", "on", "won", "won"), all_swap,
        (False, "A floater who loses it stays where he is"), (True, "the one of the side who touched the ball last before him"),
    ),
    "E4 whose pass it was": Case(
        squad, {"rules": {"lost": SWAPPED}}, {"loss": {"charged": "receiver"}}, WON, passer_lost,
        (True, "charged to the last of the side to touch it"), (False, "is charged to the one it was meant for"),
    ),
    "E5 won, and lost again at once": Case(
        even, {"seconds": 4.0}, {"win": HELD_1S}, ("on", "won", "won"), turned,
        ((2, 0), "won when an opponent has it under control"), ((0, 1), "won when an opponent has held it for 1 s"),
    ),
    "E5 the count of who has it back": Case(
        even, {"seconds": 8.0, "win": HELD_1S}, {"win": HELD_1S | {"contested": "starts again"}}, ("on", "won", "won"), counted,
        ([1, 2], "its count of passes in a row goes on"), ([1, 1], "its count of passes in a row starts again"),
    ),
    "E8 out off two allied colours": Case(
        colours, {}, {"loss": {"charged": "receiver"}}, ("on", "out") * 8, passers_colour_goes,
        (True, "charged to the last of the side to touch it"), (False, "is charged to the one it was meant for"),
    ),
    "E10 floaters in a window": Case(
        even,
        {"players": 2, "seconds": 20.0, "teams": {"white": {}}, "roles": {"joker": WHITE}, "rules": windowed()},
        {"rules": windowed(floaters=False)},
        ("on", "won"), second_pass_closes,
        (True, "may win it back until the others have made two passes"), (False, "those from and to floaters not counted"),
    ),
    "E12 a pass straight back": Case(
        even, {"players": 2, "seconds": 5.0, "rules": {"point": {"on": "pass", "do": [{"score": 1}]}}},
        {"rules": {"point": {"on": "pass", "not_back": True, "do": [{"score": 1}]}}}, (), all_count,
        (True, "a pass straight back, a lofted one"), (False, "not straight back"),
    ),
    "E15 a keeper as support loses it": Case(
        keep_ball,
        {
            "outside": 1, "inside": 2, "seconds": 20.0, "delay": 2.0, "rules": {"lost": SWAPPED}, "goals": NET,
            "roles": {"keeper": {"side": "holder", "style": "goal", "place": "net", "players": 1}},
        },
        LAST_MATE, ("on", "won", "won", "on", "won", "won"), all_swap,
        (False, "A floater who loses it stays where he is"), (True, "the one of the side who touched the ball last before him"),
    ),
    "E16 time is up in an attack": Case(
        even, {"seconds": 4.0}, {"bouts": {"finish_seconds": 3}}, (), end,
        (4.0, "When time is up it is over, also in the middle of an attack"),
        (7.0, "the side with the ball plays on until it is lost"),
    ),
    "E17 a player has had his minutes": Case(
        squad, {"seconds": 12.0, "roles": {"bench": WAITS}, "players": TIRED},
        {"players": {"squad-5": {"most_minutes": 0.05, "restricted": True}}}, ("on",) * 5 + ("won",), leaves,
        ((True, "squad-7"), "leaves at the next dead ball"), ((False, "squad-7"), "leaves as they end"),
    ),
    "E18 one is missing from now on": Case(
        squad, {"seconds": 12.0, "players": TIRED, "roles": {"bench": {key: WAITS[key] for key in ("side", "style", "place")}}},
        {"roles": {"bench": WAITS}}, ("on",) * 5 + ("won",), leaves,
        ((True, ""), "with nobody there the side plays on with one fewer"), ((True, "squad-7"), "1 bench (player 7)"),
    ),
    "E20 level at the end": Case(
        even, {"seconds": 4.0, "rules": {"point": POINT | {"count": 12}}}, {"bouts": {"level_seconds": 2}}, (), end,
        (4.0, "Level at the end is a draw"), (6.0, "the next point wins, within 2 s"),
    ),
    "E22 nobody to pass to": Case(
        walled, {}, {"hold_limit_seconds": 2.0}, (), held,
        (6.0, "Nobody holds the ball longer than 6 s: then it is lost"),
        (2.0, "Nobody holds the ball longer than 2 s: then it is lost"),
    ),
    "E23 no ball left": Case(
        even, {"seconds": 60.0, "supply": {"balls": 3}}, {"supply": {"balls": 3, "retrieve_seconds": 0}}, ("out",) * 5, waits,
        ([4.0, 4.0, 14.0, 14.0], "Three balls ready; after that each one takes 10 s longer"), ([4.0] * 4, "Three balls ready."),
    ),
    "E24 nobody who can come": Case(
        squad, {"seconds": 8.0, "rules": {"lost": SWAPPED}, "players": STAY_IN},
        {"players": {"squad-6": {"never": []}}}, ("on", "won"), swaps,
        (0, "Where nobody can come for somebody, nobody goes"), (1, ""),
    ),
    "E25 the watch at a dead ball": Case(
        even, {"seconds": 6.0}, {"bouts": {"clock": "stopped"}}, ("on", "out"), end,
        (6.0, "The watch runs on while the ball is dead"), (10.0, "The clock stands while the ball is dead"),
    ),
}  # fmt: skip


def made(case: Case, declared: bool) -> Game:
    return case.game(**merged(case.words, case.otherwise if declared else {}))


def printed(game: Game) -> str:
    """What `check --details` has of a game, in one line."""
    return " ".join(checked(read_game(to_short(game) | {"name": game.name}), details=True).split())


@pytest.mark.parametrize("declared", [False, True], ids=["default", "otherwise"])
@pytest.mark.parametrize("name", CASES)
def test_what_holds_by_default_and_where_the_file_says_otherwise(name: str, declared: bool):
    case = CASES[name]
    assert case.holds[0] != case.flipped[0]
    wanted, said = case.flipped if declared else case.holds
    game = made(case, declared)
    assert case.read(one_bout(game, scripted(*case.script), **case.constants)) == wanted
    assert said in printed(game)
    assert declared or not case.flipped[1] or case.flipped[1] not in printed(game)


def at_once(monkeypatch: pytest.MonkeyPatch, kind: str) -> None:
    """That kind of moment comes before the ball."""
    monkeypatch.setitem(clock.PRIORITY, kind, 0)


def moment() -> float:
    """When the second pass is completed."""
    return of_kind(one_bout(even(seconds=6.0, rules={"point": POINT}), scripted()), "score")[0]["t"]


def test_e2_a_point_at_the_very_whistle_counts_and_not_if_the_whistle_came_first(monkeypatch):
    game = even(seconds=moment(), rules={"point": POINT})
    assert "so a point at the very whistle counts" in printed(game)
    assert of_kind(one_bout(game, scripted()), "score")
    at_once(monkeypatch, "whistle")
    assert not of_kind(one_bout(game, scripted()), "score")


def test_e11_the_pass_counts_before_the_defender_who_enters_with_it(monkeypatch):
    bench = {"bench": {"side": "team", "style": "wait", "place": "square", "players": {"slate": 1}}}
    enters = {"on": "time", "count": moment(), "do": [{"assign": "field", "of": "all", "from": "bench"}]}
    game = even(seconds=6.0, rules={"point": POINT, "enters": enters}, roles=bench, bouts={"roles": "start anew"})
    assert "the ball is first, then what rules have by the watch" in printed(game)

    def order() -> list[str]:
        return [each["cause"] for each in of_kind(one_bout(game, scripted()), "rule")][:2]

    assert order() == ["point", "enters"]
    at_once(monkeypatch, "timer")
    assert order() == ["enters", "point"]


@pytest.mark.parametrize(("one", "other", "first"), [(6.0, 9.0, 1), (9.0, 6.0, 2)])
def test_e6_of_two_who_go_for_it_one_has_it_the_one_who_is_there_first(one: float, other: float, first: int):
    rolling = scene().carrier(at=(0, 0)).opponent(at=(one, 1.0)).opponent(at=(other, -1.0)).rolling((0, 0), 0.0, 9.0)
    assert rolling.pursue(0.0, barred=1)[0] == first  # not the passer
    assert "the first to touch it has won it, alone" in printed(even())


def test_e7_a_pair_without_a_partner_is_refused_unless_he_may_go_alone():
    def nine(**words: Any) -> Game:
        lost = {"on": "loss", "do": [{"swap": "loser and partner", "with": "longest in"} | words, {"restart": "start"}]}
        return keep_ball(6, 3, teams={"squad": {"pairs": [[1, 2], [3, 4], [5, 6], [7, 8]]}}, rules={"lost": lost})

    with pytest.raises(InputError, match="partner"):
        nine()
    assert "(alone, if none is on the same side)" in printed(nine(alone=True))


def test_e19_a_ball_touched_between_two_grids_is_whose_who_is_there_first_unless_it_is_out():
    for between, out, said in (
        ("first", False, "whoever gets there first has it"),
        ("out", True, "it is out if anybody touches it"),
    ):
        bout = crossing(between)
        Scene(bout).ball["x"] = 0.0
        assert touched_between(bout, 0.0, 0, 0.0, 0.0) is out
        assert said in printed(bout.game)


def test_e26_fouls_are_not_played_and_no_rule_may_ask_for_one():
    assert "Fouls and handball are not played" in printed(even())
    with pytest.raises(InputError, match="rule fault"):
        even(rules={"foul": {"on": "loss", "causes": ["foul"], "do": [{"score": 1}]}})
    even(rules={"fault": {"on": "loss", "causes": ["rule fault"], "do": [{"score": 1}]}})


def test_e14_a_keeper_as_support_plays_with_his_feet_untackled_unless_the_file_says_otherwise():
    keeper = {"side": "holder", "style": "goal", "place": "net", "players": 1}
    like_anybody = {"tackled": "always", "hands": True}
    usual, other = (squad(goals=NET, roles=FREE | {"keeper": keeper | more}) for more in ({}, like_anybody))
    assert "not tackled, feet only" in printed(usual) and "Keepers are tackled" not in printed(usual)
    assert "Keepers are tackled like anybody" in printed(other) and "feet only" not in printed(other)
    for game, spared in ((usual, True), (other, False)):
        one = scene(game)
        reception.spare(one.bout, one.index("squad-7"), True)
        assert bool(one.bout.players[one.index("squad-7")].spared) is spared
        assert resolve(to_short(game), game.name) == game
