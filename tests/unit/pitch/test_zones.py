"""Lines inside one ground: pairs of small games that differ in one word about zones, or in where a side is with the ball, and the
log that shows it."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
import pytest

from sim.game.loader import resolve, to_short
from sim.game.model import Game
from sim.game.zones import Zone
from sim.pitch.arrays import SCORE
from sim.pitch.engine import play_bout
from sim.pitch.log import BoutLog
from sim.pitch.seeking import zone_sought
from sim.pitch.zone_limits import open_part
from sim.players import draw_roster
from sim.words.rules import rules_in_words
from tests.support.paths import player_at
from tests.support.scene import NEVER, scene
from tests.theory.games import events_of, merged, of_kind

STEP_S = 0.25
OVER_M = 0.6  # a foot over the line: `line_slack`, and a little for a turn at speed
PITCH = {
    "areas": {"pitch": {"length": 36, "width": 24}},
    "zones": {"west": {"at": "west third of pitch"}, "east": {"at": "east third of pitch"}},
    "roles": {"player": {"players": {"amber": 4, "slate": 4}}},
    "bouts": {"count": 1, "seconds": 40},
}


def made(**more: object) -> Game:
    return resolve(merged(PITCH, more), "made")


def played(game: Game, seed: int = 3) -> BoutLog:
    return play_bout(game, draw_roster(game, seed, 0), seed)


def inside(game: Game, log: BoutLog, zone: str, team: str, deep: float = OVER_M) -> Iterator[list[str]]:
    """Who of a team is in a zone, by more than `deep` metres, at every step."""
    west, south, east, north = game.place(zone).bounds
    for t in np.arange(0.0, log.duration_s, STEP_S):
        found = []
        for i, player in enumerate(log.players):
            x, y = player_at(log, i, float(t))
            if player.startswith(team) and west + deep < x < east - deep and south + deep < y < north - deep:
                found.append(player)
        yield found


def most_inside(game: Game, team: str, zone: str = "east", deep: float = OVER_M) -> int:
    return max(len(found) for found in inside(game, played(game), zone, team, deep))


def least_inside(game: Game, team: str, zone: str = "east") -> int:
    return min(len(found) for found in inside(game, played(game), zone, team, -OVER_M))


def test_a_least_of_nobody_says_nothing_and_comes_back_so():
    for said in ({"least": {"amber": 0}}, {"least": {"amber": 0}, "most": {"amber": 2}}):
        game = made(zones={"east": said})
        assert resolve(to_short(game), game.name) == game
    assert game.zones[1].limits and not made(zones={"east": {"least": {"amber": 0}}}).zones[1].limits


def test_nobody_goes_where_it_is_closed_to_him_and_without_the_word_they_do():
    assert most_inside(made(), "slate") > 1
    closed = made(zones={"east": {"closed_to": ["slate"]}})
    assert most_inside(closed, "slate") == 0 and most_inside(closed, "amber") > 0


def test_a_box_that_is_closed_is_gone_round():
    box = {"box": {"within": "pitch", "length": 8, "width": 8}}
    assert most_inside(made(zones=box), "slate", "box") > 0
    closed = made(zones={"box": box["box"] | {"closed_to": ["slate"]}})
    assert most_inside(closed, "slate", "box") == 0
    log = played(closed)
    sides = {x > 0 for t in (5.0, 15.0, 25.0, 35.0) for i in range(4, 8) for x, _ in [player_at(log, i, t)]}
    assert sides == {True, False}, "they are on both sides of it"


def test_one_too_many_waits_on_the_line():
    assert most_inside(made(), "slate") > 1
    assert most_inside(made(zones={"east": {"most": {"slate": 1}}}), "slate") == 1


def test_the_last_one_stays_and_where_nobody_is_the_nearest_goes_in():
    assert least_inside(made(), "amber") < 2
    assert least_inside(made(zones={"east": {"least": {"amber": 2}}}), "amber") >= 2


def test_whose_place_is_a_zone_keeps_to_it():
    roles = {"back": {"place": "west", "players": {"amber": 2}}}
    game = made(roles=roles)
    backs = [player.id for player in game.players if player.role == "back"]
    log = played(game)
    assert all(set(backs) <= set(found) for found in inside(game, log, "west", "amber", -OVER_M))
    free = made(roles={"back": {"place": "pitch", "players": {"amber": 2}}})
    assert not all(set(backs) <= set(found) for found in inside(free, played(free), "west", "amber", -OVER_M))


def test_a_ball_that_stops_where_nobody_may_go_is_out():
    """Everybody's place is the west third; the same ball in the open is fetched."""
    for place, fetched in (("west", False), ("pitch", True)):
        one = scene(made(roles={"player": {"place": place}})).rolling((-4.0, 0.0), 0.0, 4.0, 1.0)
        for i in range(8):
            one.put_one(i, (-15.0, 2.0 * i - 7.0))
        first, _, out = one.outcome()
        assert (first >= 0, out < NEVER) == (fetched, not fetched)
    said = "where it stops and nobody may go, it is out"
    locked, free = (" ".join(rules_in_words(made(roles={"player": {"place": at}})).split()) for at in ("west", "pitch"))
    assert said in locked and said not in free


def test_nobody_goes_for_a_zone_that_is_closed_to_all_roles_of_his_side():
    rules = {
        "into": {"on": "pass", "to": "east", "do": [{"score": 1}]},
        "three": {"on": "passes", "count": 3, "do": [{"open": "east"}]},
    }
    bout = scene(made(zones={"east": {"closed_to": ["player"]}}, rules=rules), begun=True).bout
    assert zone_sought(bout) is None
    bout.standing.open.add("east")
    assert zone_sought(bout) is not None


def test_offside_goes_by_a_goal_and_by_no_zone_that_is_gone_for():
    rules = {name: {"on": "pass", "to": name, "do": [{"score": 1}]} for name in ("west", "east")}
    zones = {name: {"offside": True} for name in ("west", "east")}
    for aim_at, counts in (("goal", 2), ("keep", 0)):
        phase = {"aim": aim_at, "open": ["shoot"]}
        bout = scene(made(**GOALS, zones=zones, rules=rules, phases={"play": phase}), begun=True).bout
        assert bout.play.aim == SCORE and bout.play.offside_in_use == counts


def test_a_zone_is_closed_until_a_rule_opens_it():
    rule = {"on": "passes", "count": 3, "do": [{"open": "east"}]}
    game = made(zones={"east": {"closed_to": ["slate"]}}, rules={"three": rule})
    log = played(game)
    opened = of_kind(events_of(log), "unlock")
    assert [each["cause"] for each in opened] == ["east"]
    at = int(opened[0]["t"] / STEP_S)
    found = [len(one) for one in inside(game, log, "east", "slate")]
    assert max(found[: at + 1]) == 0 < max(found[at:])


def test_passes_and_carries_tell_zones():
    rules = {
        "into": {"on": "pass", "from": "west", "do": [{"score": 1, "to": "amber"}]},
        "carried": {"on": "carry", "to": "west", "do": [{"score": 2, "to": "amber"}]},
    }
    events = events_of(played(made(rules=rules, bouts={"count": 1, "seconds": 80}), seed=5))
    scored = {each["t"]: each["value"] for each in of_kind(events, "score")}
    east_end = -6.0
    last, passed = None, set()
    for each in events:
        if each["kind"] == "release":
            last = each
        if each["kind"] == "receive" and last is not None and last["x"] < east_end:
            passed.add(each["t"])
    carried = {each["t"] for each in of_kind(events, "carry") if each["detail"] == "west"}
    assert passed and carried and set(scored) == passed | carried


def entries(game: Game, seeds: range) -> int:
    """How often slate have the ball in the west zone, and amber in the east one."""
    count = 0
    for seed in seeds:
        for each in of_kind(events_of(played(game, seed)), "receive", "touch"):
            there = {"slate": each["x"] < -12.0, "amber": each["x"] > 12.0}
            count += bool(there.get(each["side"])) and each["kind"] == "receive"
    return count


def test_the_ball_is_taken_to_a_zone_that_scores():
    """The same game in which a count begins anew instead of a point: nobody seeks that."""
    ends = {"west": {"at": "west end of pitch", "depth": 6}, "east": {"at": "east end of pitch", "depth": 6}}
    told = {"on": "pass", "to": "west", "by": "slate"}, {"on": "pass", "to": "east", "by": "amber"}
    both = [
        made(zones=ends, rules={"w": told[0] | {"do": [do]}, "e": told[1] | {"do": [do]}}, bouts={"seconds": 60})
        for do in ({"score": 1}, {"reset": "passes"})
    ]
    sought, left = (entries(game, range(24)) for game in both)
    assert sought > left


def test_with_the_ball_on_the_lines_and_without_it_inside():
    """Metres from the nearest line of the square, of those whose side has had the ball for some seconds and of the others."""

    def off_the_lines(roles: dict) -> tuple[float, float]:
        joker = {"side": "holder", "players": {"white": 2}}
        game = made(
            areas={"pitch": {"length": 24, "width": 24}}, roles={"player": roles, "joker": joker}, bouts={"seconds": 60}
        )
        log, having, others = played(game), [], []
        had = [(each["t"], each["side"]) for each in of_kind(events_of(log), "possession")]
        for (t, side), (end, _) in zip(had, [*had[1:], (log.duration_s, "")], strict=True):
            for at in np.arange(t + 4.0, end, 2.0):
                for i, player in enumerate(log.players):
                    off = 12 - max(map(abs, player_at(log, i, float(at))))
                    if not player.startswith("white"):
                        (having if player.startswith(side) else others).append(off)
        return float(np.mean(having)), float(np.mean(others))

    having, others = off_the_lines({"with_ball": "edge in pitch", "without_ball": "free in pitch"})
    assert having < 1.0 and others > 2.5
    assert off_the_lines({})[0] > 2.0


GOALS = {
    "goals": {
        "west-goal": {"at": "west end of pitch", "width": 4, "attacked_by": "slate"},
        "east-goal": {"at": "east end of pitch", "width": 4, "attacked_by": "amber"},
    }
}


def test_a_side_aims_at_what_it_is_told_to():
    def shots(aims: dict) -> set[str]:
        phase = {"aim": "keep", "open": ["shoot"], "aims": aims}
        game = made(**GOALS, phases={"play": phase}, bouts={"seconds": 120})
        return {each["side"] for each in of_kind(events_of(played(game)), "shot")}

    assert shots({}) == set()
    assert shots({"slate": "goal"}) == {"slate"}


def test_offside_counts_where_the_zone_says_so():
    """Nobody is played to whom the passer sees offside; who was, unseen, and gets the ball has lost it."""

    def ahead(strict: bool) -> tuple[int, int]:
        zones = {name: {"offside": True} for name in ("west", "east")} if strict else {}
        count = lost = 0
        for seed in range(1, 7):
            game = made(**GOALS, zones=zones, bouts={"seconds": 90})
            log = played(game, seed)
            events = events_of(log)
            lost += sum(each["cause"] == "rule fault" for each in of_kind(events, "loss"))
            releases = {each["t"]: each for each in of_kind(events, "release")}
            for each in of_kind(events, "receive"):
                struck = max(t for t in releases if t < each["t"])
                count += is_offside(log, releases[struck]["player"], each["player"], struck)
        return count, lost

    (with_it, _), (without, none) = ahead(True), ahead(False)
    assert with_it == 0 and without > 0 and none == 0


def is_offside(log: BoutLog, passer: str, receiver: str, t: float) -> bool:
    """By the definition, in the outer thirds."""
    sign = 1.0 if receiver.startswith("amber") else -1.0
    x = {one: sign * player_at(log, i, t)[0] for i, one in enumerate(log.players)}
    deeper = sum(x[one] >= x[receiver] for one in log.players if one.split("-")[0] != receiver.split("-")[0])
    return x[receiver] > 6.0 and x[receiver] > x[passer] and deeper < 2


def test_what_is_written_comes_back():
    game = made(
        **GOALS,
        zones={
            "box": {"at": "west end of pitch", "depth": 6, "width": 10, "closed_to": ["slate"], "offside": True},
            "lane": {"at": "south lane of pitch", "least": {"amber": 1}, "most": {"holder": 3}},
        },
        roles={"player": {"with_ball": "edge in pitch"}},
        phases={"play": {"aim": "keep", "aims": {"slate": "goal"}, "open": ["shoot"]}},
    )
    assert resolve(to_short(game), "made") == game
    words = rules_in_words(game)
    for said in (
        "Zone box: 6 x 10 m, at the left line of the pitch; closed to slate; offside counts in it.",
        "in it at least",
        "with the ball on the lines of the pitch and without the ball anywhere on the pitch",
        "The side with the ball keeps it, but slate go for goal.",
    ):
        assert said in " ".join(words.split())


@pytest.mark.parametrize(
    ("at", "bounds"),
    [
        ("west third of pitch", (-18, -12, -6, 12)),
        ("middle lane of pitch", (-18, -4, 18, 4)),
        ("north half of pitch", (-18, 0, 18, 12)),
    ],
)
def test_parts_of_an_area(at, bounds):
    assert made(zones={"west": {"at": at}}).place("west").bounds == pytest.approx(bounds)


def test_of_a_rectangle_is_left_what_lies_on_ones_own_side_of_a_strip():
    middle = Zone(name="m", length=4, width=24, x=0, y=0)
    assert open_part((-18, -12, 18, 12), [middle], -3.0, 0.0) == (-18, -12, -2, 12)
    assert open_part((-18, -12, 18, 12), [middle], 3.0, 0.0) == (2, -12, 18, 12)
    box = Zone(name="b", length=4, width=4, x=0, y=0)
    assert open_part((-18, -12, 18, 12), [box], 0.0, 0.0) == (-18, -12, 18, 12)
