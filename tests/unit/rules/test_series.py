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


def three_teams(**bouts: object):
    """Amber against slate for two sides, white waits."""
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
    return resolve(merged(short, {"bouts": bouts}), "three")


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


def test_without_points_nobody_wins():
    with pytest.raises(InputError) as caught:
        even(bouts={"count": 3, "first_ball": "loser"})
    told = 'bouts.first_ball must go with a rule that gives points, { score = 1 } (got "loser")'
    assert list(caught.value.problems) == [told]
