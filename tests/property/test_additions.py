"""For each general addition to the language two tiny files that differ in it alone, and the log that shows it.

The letters are those of the list the language was made by: (a) who changes with whom, (b) lines inside one ground, (c) where
and who in an event, (d) counts of one's own, (e) with and without the ball, (f) a window after an event, (g) how a bout ends,
(h) limits of a person, (i) where a ball comes back, (j) ladders and entries, (k) ground that changes, (l) keeper's hands and the
clock, (m) a second ball, of which there is one at a time.  A row is a file, what stands instead in the other one, and a sign that
is read from the log.
"""

from __future__ import annotations

import tomllib
from collections import Counter
from collections.abc import Callable
from itertools import pairwise
from typing import Any, NamedTuple

import pytest

from sim.game.loader import resolve
from sim.pitch.engine import play_bout
from sim.pitch.log import FIELDS, BoutLog
from sim.players import draw_roster
from tests.support.paths import player_at

BOUTS = 6
SQUARE = """
bouts.count = 1
bouts.seconds = 40
areas.square.length = 10
roles.outside.players = 4
roles.outside.style = "edge"
roles.inside.players = 2
"""
PITCH = """
bouts.count = 1
bouts.seconds = 40
areas.pitch = { length = 24, width = 18 }
roles.player.players = { amber = 4, slate = 4 }
"""
GOALS = f"""{PITCH}
goals.west = {{ at = "west end of pitch", attacked_by = "slate", other_side = true }}
"""
LOST = 'rules.lost = { on = "loss", do = [{ swap = "loser", with = "longest in" }, { restart = "start" }] }\n'
TOLD = 'rules.told = { on = "counter", counter = "on", count = 3, do = [{ score = 1 }] }\n'
BENCH = """
roles.bench = { side = "inside", style = "wait", players = 2 }
rules.more = { on = "time", count = 10, each = true, do = [{ assign = "inside", of = "all", from = "bench", count = 1 }] }
"""
Events = list[dict[str, Any]]


def count(kind: str, **asked: Any) -> Callable[[Events, BoutLog], int]:
    """How often something of a kind is in the log."""
    return lambda events, log: sum(
        one["kind"] == kind and all(one[key] == value for key, value in asked.items()) for one in events
    )


def most_swaps_at_once(events: Events, log: BoutLog) -> bool:
    """Whether any two change places in one moment with two others."""
    return max(Counter(one["t"] for one in events if one["kind"] == "swap").values(), default=0) > 1


def charged_to_the_passer(events: Events, log: BoutLog) -> bool:
    """Whether a pass that was cut out is charged to whom it was meant for."""
    meant = ""
    for one in events:
        meant = one["other"] if one["kind"] == "release" else meant
        if one["kind"] == "loss" and one["cause"] == "interception" and meant and one["player"] == meant:
            return True
    return False


def won_by_a_pass(events: Events, log: BoutLog) -> bool:
    """Whether a win comes with a pass that is received, not with the touch that got the ball."""
    received = {one["t"] for one in events if one["kind"] == "receive"}
    return any(one["kind"] == "win" and one["t"] in received for one in events)


def comes_out_of_turn(events: Events, log: BoutLog) -> bool:
    """Whether the one who won it comes out though the other has been inside for longer."""
    since: dict[str, float] = {}
    for one, after in pairwise(events):
        if one["kind"] == "job":
            since[one["player"]] = one["t"]
        if after["kind"] == "swap" and any(since[player] < since[after["other"]] for player in inside(events, after)):
            return True
    return False


def inside(events: Events, at: dict[str, Any]) -> list[str]:
    """Who is in the middle just before an event."""
    role = {one["player"]: one["cause"] for one in events if one["kind"] == "job" and one["seq"] < at["seq"]}
    return [player for player, held in role.items() if held == "inside"]


def in_the_west(events: Events, log: BoutLog) -> bool:
    """Whether two of amber are ever a step or more inside the west half."""
    amber = [i for i, player in enumerate(log.players) if player.startswith("amber")]
    return any(
        sum(player_at(log, i, 0.5 * half)[0] < -1.0 for i in amber) > 1 for half in range(2 * int(log.duration_s) - 2)
    )


def slate_in_the_west(events: Events, log: BoutLog) -> bool:
    """Whether any of slate is a step or more inside the west half."""
    slate = [i for i, player in enumerate(log.players) if player.startswith("slate")]
    return any(player_at(log, i, second + 0.5)[0] < -1.0 for i in slate for second in range(int(log.duration_s) - 1))


def told_in_the_west(events: Events, log: BoutLog) -> bool:
    """Whether the rule answers to a pass that is received in the west half."""
    return any(
        one["kind"] == "receive" and after["cause"] == "told" and one["x"] < -0.5 for one, after in pairwise(events)
    )


def told_of_a_first_touch(events: Events, log: BoutLog) -> bool:
    """Whether the rule answers to a pass that was not played with the first touch."""
    detail = ""
    for one in events:
        detail = one["detail"] if one["kind"] == "release" else detail
        if one["kind"] == "rule" and one["cause"] == "told" and detail != "first-time":
            return True
    return False


def counted_straight_back(events: Events, log: BoutLog) -> bool:
    """Whether a pass straight back to whom it came from is counted."""
    before: dict[str, str] = {}  # from whom each had the ball last
    for one, after in pairwise(events):
        if one["kind"] in ("loss", "win"):
            before = {}
        if one["kind"] == "receive":
            back = before.get(one["other"]) == one["player"]
            before = {one["player"]: one["other"]}
            if back and after["kind"] == "count":
                return True
    return False


def tackled(player: str) -> Callable[[Events, BoutLog], bool]:
    """Whether a player tackles, or is tackled."""
    return lambda events, log: any(
        one["kind"] == "tackle" and player in (one["player"], one["other"]) for one in events
    )


def touched_twice(player: str) -> Callable[[Events, BoutLog], bool]:
    """Whether a player touches the ball twice running."""
    return lambda events, log: any(
        (one["player"], after["player"]) == (player, player)
        for one, after in pairwise([one for one in events if one["kind"] in ("touch", "release", "deflect", "dead")])
        if (one["kind"], after["kind"]) == ("touch", "touch")
    )


def longer_than(seconds: float) -> Callable[[Events, BoutLog], bool]:
    """Whether the bout lasts longer."""
    return lambda events, log: log.duration_s > seconds + 1e-6


def more_than_two_balls(events: Events, log: BoutLog) -> bool:
    """Whether a third ball is played."""
    return count("live")(events, log) > 2


def won_the_ball_gets_it(events: Events, log: BoutLog) -> bool:
    """Whether a new ball goes to somebody who has not just come out."""
    out = {}
    for one in events:
        out = out | {one["t"]: one["other"]} if one["kind"] == "swap" else out
        if one["kind"] == "live" and out and one["other"] != list(out.values())[-1]:
            return True
    return False


class Pair(NamedTuple):
    """A tiny file, what in it is the addition, what stands instead, and what the log shows: with it, or only without it."""

    letter: str
    file: str
    word: str
    instead: str
    sign: Callable[[Events, BoutLog], Any]
    shows: bool = True  # False: what is seen without it is never seen with it


PAIRS = {
    "loser and partner": Pair(
        "a",
        SQUARE + LOST.replace('"loser"', '"loser and partner"') + "teams.squad.pairs = [[1, 2], [3, 4], [5, 6]]\n",
        '"loser and partner", with = "longest in" }, { restart = "start" }] }\nteams.squad.pairs = [[1, 2], [3, 4], [5, 6]]',
        '"loser", with = "longest in" }, { restart = "start" }] }',
        most_swaps_at_once,
    ),
    "with the winner": Pair("a", SQUARE + LOST, '"longest in"', '"winner"', comes_out_of_turn, shows=False),
    "who is charged": Pair(
        "a", SQUARE + 'loss.charged = "receiver"\n', '"receiver"', '"passer"', charged_to_the_passer
    ),
    "a win by passes": Pair("a", SQUARE + LOST + "win.passes = 1\n", "win.passes = 1", "", won_by_a_pass),
    "most in a half": Pair(
        "b",
        PITCH + 'zones.west = { at = "west half of pitch", most.amber = 1 }\n',
        ", most.amber = 1",
        "",
        in_the_west,
        False,
    ),
    "closed to a side": Pair(
        "b",
        PITCH + 'zones.west = { at = "west half of pitch", closed_to = ["slate"] }\n',
        ', closed_to = ["slate"]',
        "",
        slate_in_the_west,
        False,
    ),
    "received in a half": Pair(
        "c",
        PITCH
        + 'zones.east.at = "east half of pitch"\nrules.told = { on = "pass", to = "east", do = [{ score = 1 }] }\n',
        'to = "east", ',
        "",
        told_in_the_west,
        False,
    ),
    "first time": Pair(
        "c",
        PITCH + 'rules.told = { on = "pass", first_time = true, do = [{ score = 1 }] }\n',
        "first_time = true, ",
        "",
        told_of_a_first_touch,
        False,
    ),
    "not straight back": Pair(
        "d",
        SQUARE + 'counters.on = { of = "passes", not_back = true }\n' + TOLD,
        ", not_back = true",
        "",
        counted_straight_back,
        False,
    ),
    "a count by touches": Pair(
        "d",
        SQUARE
        + 'counters.on = { of = "touches" }\nrules.told = { on = "counter", counter = "on", count = 12, do = [{ score = 1 }] }\n',
        '"touches"',
        '"wins"',
        count("score"),
    ),
    "what a side aims at": Pair(
        "e",
        GOALS + 'phases.play = { aim = "keep", open = ["shoot"], aims.slate = "goal" }\n',
        ', aims.slate = "goal"',
        "",
        count("shot", side="slate"),
    ),
    "a window": Pair(
        "f",
        PITCH
        + 'rules.lost = { on = "loss", do = [{ window = 5 }] }\nrules.back = { on = "won back", do = [{ score = 1 }] }\n',
        "window = 5",
        "window = 0.01",
        count("rule", cause="back"),
    ),
    "so many balls": Pair("g", SQUARE + LOST + "bouts.balls = 2\n", "bouts.balls = 2", "", more_than_two_balls, False),
    "the attack is finished": Pair(
        "g", SQUARE + "bouts.finish_seconds = 10\n", "bouts.finish_seconds = 10", "", longer_than(40.0)
    ),
    "never tackles": Pair(
        "h",
        PITCH + "players.amber-1.tackles = false\n",
        "players.amber-1.tackles = false",
        "",
        tackled("amber-1"),
        False,
    ),
    "one touch for one": Pair(
        "h",
        SQUARE + "players.squad-1.touches = 1\n",
        "players.squad-1.touches = 1",
        "",
        touched_twice("squad-1"),
        False,
    ),
    "from a gate": Pair(
        "i",
        PITCH + 'gates.stile = { within = "pitch" }\nrestarts.out = { from = "gate", gate = "stile" }\n',
        'gates.stile = { within = "pitch" }\nrestarts.out = { from = "gate", gate = "stile" }',
        "",
        count("serve", detail="gate"),
    ),
    "who comes out gets it": Pair(
        "i",
        SQUARE + LOST + 'restarts.start.by = "newcomer"\n',
        'restarts.start.by = "newcomer"',
        "",
        won_the_ball_gets_it,
        False,
    ),
    "a ladder": Pair(
        "j",
        SQUARE + 'roles.outside.ladder = [2, 1]\nrules.lost = { on = "loss", do = [{ step = "loser" }] }\n',
        'roles.outside.ladder = [2, 1]\nrules.lost = { on = "loss", do = [{ step = "loser" }] }',
        "",
        count("step"),
    ),
    "one more every so often": Pair(
        "j",
        SQUARE + BENCH,
        "count = 10, each = true",
        "count = 90, each = true",
        lambda events, log: any(one["kind"] == "job" and one["t"] > 0 for one in events),
    ),
    "ground that shrinks": Pair(
        "k",
        SQUARE + 'rules.lost = { on = "loss", do = [{ resize = "square", by = -1, to = 6 }] }\n',
        '{ resize = "square", by = -1, to = 6 }',
        "{ score = 1 }",
        count("ground"),
    ),
    "feet only": Pair(
        "l",
        GOALS + 'roles.keeper = { place = "west", players.amber = 1, hands = false }\n',
        ", hands = false",
        "",
        count("save"),
        False,
    ),
    "the clock stands": Pair("l", SQUARE + 'bouts.clock = "stopped"\n', '"stopped"', '"running"', longer_than(41.0)),
    "a second ball": Pair(
        "m",
        PITCH + 'rules.called = { on = "time", count = 8, each = true, do = [{ restart = "out" }] }\n',
        "count = 8, each = true",
        "count = 90, each = true",
        count("dead", cause="rule"),
    ),
}


def seen(text: str, sign: Callable[[Events, BoutLog], Any]) -> list[bool]:
    """By bout whether the log shows the sign."""
    game, found = resolve(tomllib.loads(text), "tiny.toml", "tiny"), []
    for session in range(BOUTS):
        log = play_bout(game, draw_roster(game, 1, session), 1, session)
        found.append(bool(sign([dict(zip(FIELDS, row, strict=True)) for row in log.events], log)))
    return found


@pytest.mark.parametrize("name", PAIRS)
def test_two_files_that_differ_in_one_addition_differ_in_what_it_says(name: str):
    pair = PAIRS[name]
    assert pair.file.count(pair.word) == 1
    with_it, without = seen(pair.file, pair.sign), seen(pair.file.replace(pair.word, pair.instead), pair.sign)
    assert any(with_it if pair.shows else without)
    assert not any(without if pair.shows else with_it)


def test_every_letter_has_a_pair():
    assert {pair.letter for pair in PAIRS.values()} == set("abcdefghijklm")
