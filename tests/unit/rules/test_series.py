"""What the next bout has of the one before: the ball, the points, the team that has won; and when no other follows."""

from __future__ import annotations

import pytest

from sim.errors import InputError
from sim.experiments.sessions import bout_of, session_bouts
from sim.game.loader import resolve, to_short
from sim.rules.between import as_written
from sim.rules.series import Series, Whistle, after, teams_on
from sim.words.rules import rules_in_words
from tests.theory.games import even, merged, of_kind
from tests.theory.games import events_of as events_in

POINT = {"point": {"on": "passes", "count": 5, "do": [{"score": 1}]}}


def game_of(count: int = 4, **bouts: object):
    game = even(3, seconds=6.0, rules=POINT, bouts={"count": count} | bouts)
    assert resolve(to_short(game), game.name) == game
    return game


def three_teams(more: dict | None = None, **bouts: object):
    """Amber against slate for two sides, white waits; `more` goes into the tables of the file."""
    style = {"style": "free", "place": "square"}
    short = to_short(even(3, seconds=6.0, rules=POINT, bouts={"count": 6}))
    short["teams"] = {name: {} for name in ("amber", "slate", "white")}
    short["roles"] = {
        "west": style | {"side": "west", "players": {"amber": 2}},
        "east": style | {"side": "east", "players": {"slate": 2}},
        "off": {"side": "west", "style": "wait", "place": "square", "players": {"white": 2}},
    }
    short["start"]["side"] = "west"
    del short["restarts"]
    return resolve(merged(merged(short, {"bouts": bouts}), more or {}), "three")


def played_through(game, *results: tuple[float, float], holder: str = "") -> list[Series]:
    """The series after bouts with these points for the side that starts and for the other."""
    sides = sorted({game.start_side, *(("amber", "slate") if game.start_side == "amber" else ("west", "east"))})
    other = next(side for side in sides if side != game.start_side)
    found = [Series(0, game, as_written(game, 0))]
    for own, theirs in results:
        held = found[-1].held
        points = ((game.start_side, own), (other, theirs))
        found.append(after(game, found[-1], Whistle(game.start_phase, held, points, holder or game.start_side)))
    return found


def begun(found: list[Series]) -> list[str]:
    return [one.game.start_side for one in found]


def test_the_first_ball():
    results = [(1, 0), (0, 2), (1, 1)]
    wanted = {
        "start": ["amber"] * 4,
        "in turn": ["amber", "slate", "amber", "slate"],
        "winner": ["amber", "amber", "slate", "slate"],
        "loser": ["amber", "slate", "amber", "amber"],
    }
    for word, sides in wanted.items():
        assert begun(played_through(game_of(first_ball=word), *results)) == sides
    assert begun(played_through(game_of(first_ball="holder"), *results, holder="slate")) == ["amber", *["slate"] * 3]


def test_points_go_on_from_bout_to_bout():
    for word, points in (("carry on", (("amber", 3), ("slate", 1))), ("start anew", ())):
        assert played_through(game_of(points=word), (3, 1))[1].game.start_points == points


def test_who_has_won_is_told_by_the_points_of_that_bout_where_they_carry_on():
    found = played_through(game_of(points="carry on", first_ball="winner", best_of=True), (3, 1), (3, 3), (4, 5))
    assert begun(found) == ["amber", "amber", "slate", "slate"]
    assert dict(found[-1].won) == {"amber": 1, "slate": 2}


def test_best_of_is_over_when_it_is_decided_and_draws_count_for_nobody():
    game = game_of(5, best_of=True)
    assert [one.over for one in played_through(game, (1, 0), (1, 1), (2, 0), (1, 0))] == [False] * 4 + [True]
    assert [one.over for one in played_through(game_of(5), *[(1, 0)] * 4)] == [False] * 5
    assert "Best of five: it is over when a side has won three" in " ".join(rules_in_words(game).split())


def sides(one: Series) -> dict[str, str]:
    return teams_on(one.game, one.held)


def test_the_winner_stays_on():
    found = played_through(three_teams(stays="winner"), (1, 0), (1, 0), (1, 1), (0, 1))
    assert [sides(one) for one in found] == [
        {"amber": "west", "slate": "east"},
        {"amber": "west", "white": "east"},
        {"amber": "west", "slate": "east"},
        {"amber": "west", "slate": "east"},
        {"white": "west", "slate": "east"},
    ]
    assert sides(played_through(three_teams(), (1, 0))[1]) == {"amber": "west", "slate": "east"}


def test_nobody_stays_longer_than_he_may():
    found = played_through(three_teams(stays="winner", longest_stay=2), (1, 0), (1, 0), (1, 0))
    assert [sides(one) for one in found] == [
        {"amber": "west", "slate": "east"},
        {"amber": "west", "white": "east"},
        {"slate": "west", "white": "east"},
        {"slate": "west", "amber": "east"},
    ]


def test_after_a_draw_the_team_longest_on_leaves():
    found = played_through(three_teams(stays="winner", tie="longest on"), (1, 0), (1, 1))
    assert [sides(one) for one in found][1:] == [
        {"amber": "west", "white": "east"},
        {"slate": "west", "white": "east"},
    ]


def test_the_bouts_of_a_session_are_played_so():
    # Whoever has two passes in a row first wins a bout, and who has won two ends the session.
    soon = {"point": POINT["point"] | {"count": 2}}
    series = {"count": 3, "best_of": True, "first_to": 1, "first_ball": "loser"}
    game = even(3, seconds=60.0, rules=soon, bouts=series)
    logs = list(session_bouts(game, 1, 0))
    winners = [of_kind(events_in(log), "score")[0]["side"] for log in logs]
    assert len(logs) == (2 if winners[0] == winners[1] else 3)
    for before, log in zip(winners, logs[1:], strict=False):
        (first, *_) = of_kind(events_in(log), "serve")
        assert first["side"] == {"amber": "slate", "slate": "amber"}[before]
    if len(logs) == 2:
        with pytest.raises(InputError, match="must be at most 2, as nobody plays on after that one"):
            bout_of(game, 1, 0, 2)


@pytest.mark.parametrize(
    ("bouts", "told"),
    [
        ({"longest_stay": 2}, 'bouts.longest_stay must be left out unless stays = "winner" (got 2)'),
        ({"tie": "nobody"}, 'bouts.tie must be left out unless stays = "winner" (got "nobody")'),
        (
            {"points": "carry on", "first_to": 3},
            'bouts.points must be "start anew" with first_to, or a bout would be over as it begins (got "carry on")',
        ),
        (
            {"stays": "winner"},
            'bouts.stays must be left out where roles.field.side = "team": name the two sides, which teams take in turn '
            '(got "winner")',
        ),
    ],
)
def test_what_cannot_be_kept_is_refused(bouts, told):
    with pytest.raises(InputError) as caught:
        game_of(**bouts)
    assert list(caught.value.problems) == [told]


WHOLE = "as bouts.stays has teams change whole"


def ruled(*do: dict, on: str = "loss") -> dict:
    """A rule that does so."""
    return {"phases": {"keep": {"rules": {"change": {"on": on, "do": list(do)}}}}}


def by_turns() -> dict:
    """A second phase, in which the first side waits."""
    go = lambda name: {"bell": {"on": "time", "count": 2, "do": [{"phase": name}]}}  # noqa: E731
    return {
        "phases": {"keep": {"rules": go("rest")}, "rest": {"jobs": {"west": "wait in square"}, "rules": go("keep")}}
    }


@pytest.mark.parametrize(
    ("more", "told"),
    [
        (ruled({"swap": "loser", "with": "longest in"}),
         f'phases.keep.rules.change.do.swap must be of a team, {WHOLE} (got "loser")'),
        (ruled({"swap": "longest in", "of": "holder", "with": "waiting"}),
         f'phases.keep.rules.change.do.swap must be of a team, {WHOLE} (got "longest in")'),
        (ruled({"assign": "west", "of": "all", "from": "off", "count": 1}),
         f'phases.keep.rules.change.do.assign must bring nobody in or out, {WHOLE} (got "off to west")'),
        ({"players": {"amber-1": {"most_bouts": 2}}},
         f"players.amber-1.most_bouts must be left out, {WHOLE} (got 2)"),
        ({"players": {"white-2": {"most_minutes": 1.5}}},
         f"players.white-2.most_minutes must be left out, {WHOLE} (got 1.5)"),
        (merged(by_turns(), ruled({"swap": "team longest in", "of": "other", "with": "waiting"})),
         f'phases.keep.rules.change.do.swap must be left out where roles.west keeps a goal or waits in one phase only, '
         f'{WHOLE} (got "team longest in")'),
        ({"bouts": {"points": "carry on"}},
         'bouts.points must be "start anew" with stays (got "carry on")'),
    ],
    ids=["single", "waiting", "assign", "bouts", "minutes", "phase", "points"],
)  # fmt: skip
def test_what_would_split_a_team_that_may_stay_is_refused(more, told):
    with pytest.raises(InputError) as caught:
        three_teams(more, stays="winner")
    assert list(caught.value.problems) == [told]


def test_teams_may_change_whole_where_the_winner_stays():
    game = three_teams(ruled({"swap": "team longest in", "of": "other", "with": "waiting"}), stays="winner")
    held, roles = as_written(game, 0), {"west": "off", "off": "west"}
    swapped = tuple(one._replace(role=roles.get(one.role, one.role)) for one in held)
    points = (("west", 0.0), ("east", 1.0))
    found = after(game, Series(0, game, held), Whistle(game.start_phase, swapped, points, "west"))
    assert teams_on(game, swapped) == {"white": "west", "slate": "east"}
    assert sides(found) == {"amber": "west", "slate": "east"}


def test_without_points_nobody_wins():
    with pytest.raises(InputError) as caught:
        even(bouts={"count": 3, "first_ball": "loser"})
    told = 'bouts.first_ball must go with a rule that gives points, { score = 1 } (got "loser")'
    assert list(caught.value.problems) == [told]
