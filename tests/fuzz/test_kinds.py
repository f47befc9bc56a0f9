"""Five hundred random games: nearly all of them are games, and between them they say everything that a game file can say."""

from __future__ import annotations

from functools import cache
from random import Random

from sim.errors import InputError
from sim.game.loader import resolve
from tests.fuzz.games import game
from tests.fuzz.kinds import all_kinds, kinds_of

DRAWS, SEED = 500, 5
MOST_REFUSED = 0.1


@cache
def drawn() -> tuple[dict, ...]:
    return tuple(game(Random(f"{SEED}-{number}")) for number in range(DRAWS))


@cache
def refused() -> dict[int, str]:
    """Why which of the games are none."""
    found = {}
    for number, short in enumerate(drawn()):
        try:
            resolve(short, "random")
        except InputError as error:
            found[number] = str(error)
    return found


def test_at_most_one_in_ten_is_refused():
    assert len(refused()) <= MOST_REFUSED * DRAWS, "\n".join(refused().values())


def test_those_that_are_games_say_everything_that_can_be_said():
    said = set().union(*(kinds_of(short) for number, short in enumerate(drawn()) if number not in refused()))
    assert sorted(all_kinds() - said) == []


def test_a_kind_is_seen_where_it_is_said_and_only_there():
    one = {"on": "loss", "colour": "amber", "do": ["nettle"]}
    short = {"areas": {"meadow": {"length": 5}}, "rules": {"whisper": one}, "actions": {"nettle": [{"end": "bout"}]}}
    assert {"RuleSpec.on = loss", "loss of a colour", "end after loss", "GameSpec.actions"} <= kinds_of(short)
    assert not {"win of a colour", "score after loss", "RuleSpec.on = win"} & kinds_of(short)
    short["restarts"] = {"chalk": {"to": "other", "area": "meadow"}}
    assert {"restart: a name of the file", "RestartSpec.to: other", "RestartSpec.area: an area"} <= kinds_of(short)


def test_the_same_seed_is_the_same_game():
    assert game(Random("once")) == game(Random("once")) != game(Random("again"))
