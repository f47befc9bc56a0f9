"""Two defenders at the ball at once, put there by hand: the first to touch it wins it, and the file says who comes out (E6)."""

from __future__ import annotations

import pytest

from sim.errors import InputError
from sim.pitch import entries, setup
from tests.theory.games import keep_ball, of_kind, one_bout

CHANGE = {"on": "loss", "do": [{"swap": "loser", "with": "winner"}, {"restart": "start"}]}
FLIGHT_S, NEVER = 0.3, 1e9
WINNER, OTHER = 5, 6  # by number: squad-6 and squad-7


def game(how: str, rule: dict = CHANGE):
    return keep_ball(5, 2, seconds=6.0, delay=1.0, rules={"lost": rule}, win={"together": how})


def at_it(apart: float, since: float = -50.0):
    """The first ball is won by one defender, 0.3 m off it, while the other, longer in, is so far off it on the other side."""

    def outcome(bout, t: float) -> tuple[int, float, float]:
        x, y, _ = entries.ball_point(bout.match, t + FLIGHT_S)
        setup.stand_one(bout.records, WINNER, x, y + 0.3)
        setup.stand_one(bout.records, OTHER, x, y - apart)
        bout.standing.since[OTHER] = since
        return WINNER, t + FLIGHT_S, NEVER

    return outcome


def came_out(how: str, apart: float = 0.3, since: float = -50.0) -> tuple[str, str]:
    """(who is said to have won the first ball, who comes out for it)."""
    events = one_bout(game(how), at_it(apart, since))
    return of_kind(events, "win")[0]["player"], of_kind(events, "swap")[0]["other"]


@pytest.mark.parametrize(("how", "since", "comes"), [
    ("first", -50.0, "squad-6"),
    ("longest in", -50.0, "squad-7"),
    ("longest in", 0.1, "squad-6"),  # the other has just come in
    ("next on the list", -50.0, "squad-6"),
])  # fmt: skip
def test_the_first_to_touch_it_wins_and_the_tie_break_says_who_comes_out(how, since, comes):
    assert came_out(how, since=since) == ("squad-6", comes)


def test_who_is_not_at_the_ball_does_not_come_out_for_it():
    assert came_out("longest in", apart=4.0) == ("squad-6", "squad-6")


def test_a_tie_break_with_nothing_to_break_is_refused():
    lost = CHANGE | {"do": [{"swap": "loser", "with": "longest in"}, {"restart": "start"}]}
    with pytest.raises(InputError, match="win.together must be left out where nobody changes places with the winner"):
        game("longest in", lost)
