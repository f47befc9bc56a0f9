"""Nobody is played as of another age than he is, and nothing of adults is held against minors."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest

from sim.errors import InputError
from sim.game.loader import load_game
from sim.planning.block import Block
from sim.planning.session import planned
from sim.squads.ages import mixed_ages
from sim.weeks.playing import asked_of
from sim.weeks.week_file import plan_of
from tests.support.evening import SHORT, SIX, evening

TITLE, ADULTS, MINORS = "shirt,name,population\n", "amateur men", "U17 boys"
EVENINGS = [{"date": date(2026, 8, 11), "minutes": 60}]


def asked(folder: Path, populations: str, **more: object):
    rows = "".join(f"{i},P{i},{one.strip()}\n" for i, one in enumerate(populations.split(","), 1))
    (folder / "squad.csv").write_text(TITLE + rows)
    data = {"squad": "squad.csv", "games": ["tight-square"], "sizes": [1.0], "evenings": EVENINGS, **more}
    return asked_of(plan_of(data), folder)


def populations(found) -> set[str]:
    return {team.population for own in found.laid.values() for one in own for game in one.groups for team in game.teams}


def test_a_plan_plays_the_squad_as_what_it_is(tmp_path: Path):
    young = asked(tmp_path, ",".join([MINORS] * 6))
    assert populations(young) == {MINORS} and all(one.minor for one in young.members)
    assert populations(asked(tmp_path, "," * 5)) == {ADULTS}
    told = asked(tmp_path, "," * 5, population="U12")
    assert populations(told) == {"U12"} and all(one.minor for one in told.members)


@pytest.mark.parametrize(
    ("populations_", "more", "rule"),
    [
        (",".join([MINORS] * 6), {"population": "elite men"}, "population must be one of minors, as that of 1 P1 is"),
        (f"{MINORS},,,,,", {}, "the population of 2 P2 must be given where 1 P1's is U17 boys"),
        ("women,women,women,women,women,women", {"population": "U12"}, "population must be one of adults"),
        (",".join([MINORS] * 3 + ["U12"] * 3), {}, "population must be given where people are of several"),
        (",".join([MINORS] * 6), {"match_values": {"fast_metres": 400}}, "match_values.fast_metres must be left out"),
        (",,,,,", {"population": "U12", "match_values": {"fast_metres": 400}}, "match_values.fast_metres must be left"),
        (",".join([MINORS] * 6), {"bands": {"MD-4": {"fast_metres": [1, 2]}}}, 'bands."MD-4".fast_metres must be left'),
        (
            ",".join([MINORS] * 6),
            {"player": {"2": {"most_fast_metres": 80, "set_by": "the physio"}}},
            "player.2.most_fast_metres must be left out",
        ),
    ],
)
def test_no_plan_takes_minors_for_adults(tmp_path: Path, populations_: str, more: dict, rule: str):
    with pytest.raises(InputError, match=rule):
        asked(tmp_path, populations_, **more)


def of(population: str):
    return load_game("tight-square", [], population)


def test_games_of_one_plan_are_of_one_age():
    assert mixed_ages({"a": of("U12"), "b": of(MINORS)}) == [] == mixed_ages({"a": of("women"), "b": of(ADULTS)})
    assert mixed_ages({"a": of("U12"), "b": of(ADULTS)}) == [
        "b must be of minors, as a is, or population be given (got amateur men)"
    ]
    game = of("U12")
    both = game.model_copy(update={"teams": (*game.teams, of(ADULTS).teams[0])})
    assert mixed_ages({"a": both}) == ["a must have teams of one age, or population be given (got U12, amateur men)"]


def test_an_evening_does_not_play_the_same_people_as_minors_and_as_adults():
    young = replace(SHORT, changes=("teams.squad.population=U12",))
    with pytest.raises(InputError, match="blocks.b2 must be of minors, as blocks.b1 is"):
        planned(evening(young, SHORT), SIX)
    assert planned(evening(young, young), SIX).minors
    u17 = tuple(replace(one, population=MINORS) for one in SIX)
    plan = planned(evening(Block("tight-square", bouts=1), people=u17), u17)
    assert {team.population for game in plan.games for team in game.teams} == {MINORS}
