"""The list: as the file says at first, then everybody in turn, keepers apart, teams apart."""

from __future__ import annotations

from collections import Counter
from math import gcd

import pytest

from sim.rules.rotation import places_a_bout, starting_roles
from tests.theory.games import even, keep_ball

ON = {"bouts": {"rotate": "list"}}


def inside_by_bout(game, count: int) -> list[list[str]]:
    ids = [player.id for player in game.players]
    return [[ids[i] for i, role in enumerate(starting_roles(game, b)) if role == "inside"] for b in range(count)]


def test_without_rotation_every_bout_starts_as_written():
    game = keep_ball()
    assert starting_roles(game, 0) == starting_roles(game, 3) == [player.role for player in game.players]


def test_a_pair_of_defenders_is_followed_by_the_next_two_of_the_list():
    assert inside_by_bout(keep_ball(**ON), 4) == [
        ["squad-5", "squad-6"],
        ["squad-1", "squad-2"],
        ["squad-3", "squad-4"],
        ["squad-5", "squad-6"],
    ]
    assert inside_by_bout(keep_ball(4, 1, **ON), 3) == [["squad-5"], ["squad-1"], ["squad-2"]]


def test_numbers_scattered_over_the_roles_are_fair_as_well():
    # Two of six, whose numbers do not follow each other: the list goes role by role.
    game = keep_ball(roles={"outside": {"players": [2, 4, 5, 6]}, "inside": {"players": [1, 3]}}, **ON)
    inside = inside_by_bout(game, 3)
    assert inside[0] == ["squad-1", "squad-3"]
    assert sorted(sum(inside, [])) == [f"squad-{number}" for number in range(1, 7)]


def test_ten_players_stand_in_order_of_their_numbers_not_of_their_names():
    game = keep_ball(8, 2, **ON)  # ids sort as squad-1, squad-10, squad-2, ...
    assert inside_by_bout(game, 2) == [["squad-10", "squad-9"], ["squad-1", "squad-2"]]


def test_keepers_stay_in_goal():
    game = even(
        4,
        roles={
            "wing": {"side": "team", "style": "edge", "place": "square", "players": {"amber": 2, "slate": 2}},
            "keeper-w": {"side": "team", "style": "goal", "place": "west", "players": {"amber": 1}},
            "keeper-e": {"side": "team", "style": "goal", "place": "east", "players": {"slate": 1}},
        },
        goals={
            "west": {"at": "west end of square", "width": 4.0, "attacked_by": "slate"},
            "east": {"at": "east end of square", "width": 4.0, "attacked_by": "amber"},
        },
        **ON,
    )
    ids = [player.id for player in game.players]
    for bout in range(7):
        roles = dict(zip(ids, starting_roles(game, bout), strict=True))
        assert (roles["amber-7"], roles["slate-7"]) == ("keeper-w", "keeper-e")
        for team in ("amber", "slate"):
            assert Counter(roles[one] for one in ids if one.startswith(team))["wing"] == 2, "teams rotate by themselves"


def test_a_role_that_keeps_goal_in_some_phase_stays_too():
    game = keep_ball(
        4,
        2,
        roles={"sweeper": {"side": "inside", "style": "free", "place": "square", "players": 1}},
        goals={"net": {"at": "west end of square", "width": 3.0}},
        phases={"keep": {"jobs": {"sweeper": "goal at net"}}},
        **ON,
    )
    assert {starting_roles(game, bout)[6] for bout in range(6)} == {"sweeper"}


@pytest.mark.parametrize(
    "counts", [(4, 1), (4, 2), (5, 2), (3, 3), (2, 4), (4, 6, 6), (2, 4, 6), (3, 2, 1), (2, 2, 2), (5,)]
)
def test_everybody_has_every_role_equally_often_and_no_sooner_than_must_be(counts):
    written = [str(k) for k, count in enumerate(counts) for _ in range(count)]
    n, step = len(written), places_a_bout(written)
    needed = n // gcd(*counts)
    had = [Counter() for _ in written]
    for bout in range(needed):
        for place in range(n):
            had[place][written[(place - step * bout) % n]] += 1
        even_by_now = all(one == had[0] for one in had) and len(counts) > 1
        assert even_by_now == (bout == needed - 1 and len(counts) > 1)
