"""Roles as words: those for somebody who does something have a plural, those that say where he is have not."""

from __future__ import annotations

from collections import namedtuple

import pytest

from sim.experiments.levers import Lever
from sim.words.levers import detail
from sim.words.listing import some
from sim.words.measure_phrases import players_of_role
from sim.words.plurals import after_figure, doer, figured, names_a_doer
from sim.words.roles_taken import roles_taken
from sim.words.who import becomes, counted_in, many_of, one_of

Told = namedtuple("Told", ("kind", "player", "other", "cause"))


def job(player: str, role: str) -> Told:
    return Told("job", player, "", role)


@pytest.mark.parametrize(
    ("role", "one", "many", "four"),
    [
        ("builder", "a builder", "builders", "4 builders"),
        ("outside", "an outside player", "outside players", "4 outside"),
        ("inner", "an inner player", "inner players", "4 inner"),
        ("corner", "a corner player", "corner players", "4 corner"),
        ("centre-player", "a centre-player", "centre-players", "4 centre-players"),
        ("player", "a player", "players", "4 players"),
        ("amber", "an amber player", "amber players", "4 amber"),
    ],
)
def test_everybody_says_a_role_alike(role, one, many, four):
    assert (one_of(role), many_of(role), counted_in(role, 4), counted_in(role, 1)) == (one, many, four, f"1 {role}")
    assert (becomes(role, 1), becomes(role, 2), becomes(role, None)) == (
        f"becomes {one}",
        f"become {many}",
        f"become {many}",
    )
    assert players_of_role(role) == (f"the {many}" if role != "outside" else "the players outside")
    assert detail(Lever("defenders", 1, (role,), (3,), (4,), "", 1, ())) == four
    events = [job("A", "keen"), Told("phase", "", "", ""), job("A", role)]
    assert roles_taken(events, {"A": "Ali"}) == {2: f"Ali becomes {one}"}


@pytest.mark.parametrize(
    ("role", "one", "many", "alone", "four"),
    [
        ("chasers", "a chaser", "chasers", "1 chaser", "4 chasers"),
        ("west-keepers", "a west-keeper", "west-keepers", "1 west-keeper", "4 west-keepers"),
        ("players", "a player", "players", "1 player", "4 players"),
    ],
)
def test_a_role_that_is_named_in_the_plural_is_one_where_there_is_one(role, one, many, alone, four):
    assert (one_of(role), many_of(role), counted_in(role, 1), counted_in(role, 4)) == (one, many, alone, four)


def test_things_are_counted_alike_everywhere():
    assert [figured(1, "pace"), figured(2, "pass"), figured(0, "touch"), figured(1.5, "point")] == [
        "1 pace",
        "2 passes",
        "0 touches",
        "1.5 points",
    ]
    assert [some(1, "box"), some(2, "box"), some(2, "dash")] == ["one box", "two boxes", "two dashes"]


@pytest.mark.parametrize(
    "role", ["center", "perimeter", "border", "quarter", "interior", "exterior", "corridor", "west-corridor"]
)
def test_a_place_on_the_ground_is_nobody_who_does_something(role):
    assert not names_a_doer(role) and doer(f"{role}s") is None


def test_so_many_of_a_figure_as_it_is_written():
    assert [after_figure(one, "goal") for one in ("1", "0.93", "3")] == ["1 goal", "0.93 goals", "3 goals"]
