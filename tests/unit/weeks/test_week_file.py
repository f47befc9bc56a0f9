"""The plan file: what it means, and one line for each thing that is wrong."""

from __future__ import annotations

import tomllib
from datetime import date, time

import pytest

from sim.errors import InputError
from sim.squads.squad import Person, Squad
from sim.weeks.bands import HOUSE, Band
from sim.weeks.people import members_of
from sim.weeks.plan import require_known, shares_of
from sim.weeks.week_file import EXAMPLE, plan_of, read_plan

SMALL = """
players = 12
[[evenings]]
date = 2026-08-11
minutes = 75
"""


def plan(text: str):
    return plan_of(tomllib.loads(text), "plan.toml")


def test_the_example_is_a_plan():
    found = plan(EXAMPLE)
    assert [one.day for one in found.evenings] == [date(2026, 8, 11), date(2026, 8, 13)]
    assert found.matches[0].minutes == {7: 90, 12: 30}
    assert found.match_bands["metres"] == Band(9800, 9800)
    assert found.squad == ("quillhaven-squad.csv",)


def test_what_is_left_out_is_as_the_house_has_it():
    found = plan(SMALL)
    assert found.warm_up == {"minutes": 15, "metres": 900, "fast_metres": 0, "accelerations": 0}
    assert found.match_bands == {}
    assert (found.times_a_week, found.sizes, found.pre_season) == (1, (1.0, 1.25), False)


def test_a_shorter_warm_up_is_fewer_metres():
    assert plan(SMALL + "[warm_up]\nminutes = 10").warm_up["metres"] == 600


def test_only_adult_men_are_lent_a_full_match():
    known = {
        name: plan(f'population = "{name}"\n{SMALL}').match_bands for name in ("elite men", "amateur men", "U17 boys")
    }
    assert known["elite men"]["metres"] == Band(9500, 12000)
    assert "accelerations" not in known["elite men"]
    assert known["amateur men"] == known["U17 boys"] == {}


def test_own_bands_take_the_place_of_the_house_measure_by_measure():
    found = plan(SMALL + '[bands."MD-4"]\nmetres = [50, 60]\n[[matches]]\ndate = 2026-08-15')
    shares = shares_of(found, found.evenings[0])
    assert shares["metres"] == Band(0.5, 0.6)
    assert shares["minutes"] == HOUSE["MD-4"]["minutes"]


def test_an_hour_and_a_label_of_its_own():
    text = SMALL + 'start = 19:30:00\nlabel = "MD-3"\nthemes = ["win", "goal"]'
    found = plan(text).evenings[0]
    assert (found.start, found.label, found.themes) == (time(19, 30), "MD-3", ("win", "goal"))


WRONG = {
    'players = 12\nsquad = "a.csv"': "players must be left out",
    "title = 'x'": "evenings must hold at least one evening",
    SMALL + "[[evenings]]\ndate = 2026-08-11\nminutes = 60": "2026-08-11 must have one evening or one match",
    SMALL + "[[evenings]]\ndate = 2026-08-12\nminutes = 15": "must have more minutes than the warm-up of 15",
    SMALL + "[[evenings]]\ndate = '2026-08-12'\nminutes = 60": "evenings[2].date must be a date such as 2026-08-15",
    SMALL + "[[evenings]]\nminutes = 60": "evenings[2].date must be a date",
    SMALL + "[[matches]]\ndate = 2026-08-15\nmatch_min = 45": "matches[1].match_min is no key of it",
    SMALL + "[[evenings]]\ndate = 2026-08-12\nminutes = 60\nwbgt = 60": "evenings[2].wbgt must be from 0 to 45",
    'heat_table = "heat.csv"\n'
    + SMALL: "evenings.wbgt must be given for an evening at least where there is a heat_table",
    SMALL + "[[evenings]]\ndate = 2026-08-12": "evenings[2].minutes must be given",
    SMALL + "[[evenings]]\ndate = 2026-08-12\nminutes = 600": "evenings[2].minutes must be from 1 to 240",
    SMALL + "themes = ['winning']": "evenings[1].themes must be of keep, even, together, win, pass, across and goal",
    SMALL + '[bands."MD-4"]\nheart_rate = [1, 2]': "bands.MD-4.heart_rate is no key of it",
    SMALL + '[bands."MD-4"]\nmetres = [60, 50]': "bands.MD-4.metres must have the lower number first",
    SMALL + "[bands.Tuesday]\nmetres = [50, 60]": "bands.Tuesday must be a label",
    SMALL + "[match_values]\nmiles = 6": "match_values.miles is no key of it",
    SMALL + "[[matches]]\ndate = 2026-08-15\nminutes = { 7 = 90 }": "matches.minutes must go with a squad file",
    SMALL + "[player.seven]\njoins = 2026-08-12": "player.seven must be a shirt number",
    SMALL + "[player.7]\nmost_week_minutes = 90": "player.7.set_by must say who set the limits",
    'population = "elit men"' + SMALL: "population must be a preset of players: did you mean elite men",
    "evening = 3" + SMALL: "evening is no key of it (did you mean evenings?)",
    SMALL + "[ground]\nlength = 5": "ground.length must be from 10 to 150",
    "players = 1": "players must be from 2 to 60",
}


@pytest.mark.parametrize("text", WRONG)
def test_each_wrong_thing_has_its_line(text: str):
    with pytest.raises(InputError) as refused:
        plan(text)
    assert any(WRONG[text] in problem for problem in refused.value.problems), refused.value.problems
    assert refused.value.source == "plan.toml"


def test_a_file_that_is_none(tmp_path):
    with pytest.raises(InputError, match="which is no file"):
        read_plan(tmp_path / "none.toml")
    (tmp_path / "bytes.toml").write_bytes(b"\xff\xfe")
    with pytest.raises(InputError, match="UTF-8"):
        read_plan(tmp_path / "bytes.toml")
    (tmp_path / "large.toml").write_bytes(b"#" * 1_000_001)
    with pytest.raises(InputError, match="the file must be at most 1 MB"):
        read_plan(tmp_path / "large.toml")


def test_two_files_that_name_one_player():
    squads = [Squad((Person(7, "A"),), "a.csv"), Squad((Person(7, "B"),), "b.csv")]
    with pytest.raises(InputError, match=r"b.csv must not name shirt 7 again \(got it in a.csv\)"):
        members_of(squads)


def test_somebody_of_the_squad_as_a_plan_sees_him():
    tuesday, thursday = date(2026, 8, 11), date(2026, 8, 13)
    person = Person(
        7, "Ola", limits=("no defending",), most_bouts=3, most_minutes=40, set_by="the physio", days=("tue",)
    )
    found = members_of([Squad((person, Person(9, "Bo", status="out")))])
    assert (found[0].limits.by, found[0].limits.bouts, found[0].limits.minutes) == ("the physio", 3, 40)
    assert found[0].limits.kept == {"no defending"}
    assert (found[0].there(tuesday), found[0].there(thursday)) == (True, False)
    assert found[0].can_play(thursday)  # days are days of training
    assert not found[1].there(tuesday) and not found[1].can_play(tuesday)
    reduced = members_of([Squad((Person(8, "Cy", status="reduced", set_by="the physio"),))])[0].limits
    assert reduced.reduced and not reduced.kept


def test_shirts_that_nobody_has_and_adults_thresholds_for_minors_are_refused():
    text = (
        'squad = "a.csv"' + SMALL.replace("players = 12", "") + "[[matches]]\ndate = 2026-08-15\nminutes = { 8 = 90 }\n"
    )
    found = plan(text + "[match_values]\nfast_metres = 400\n[player.9]\nmatch_values.fast_metres = 300")
    members = members_of([Squad((Person(7, "A", population="U12"),))])
    with pytest.raises(InputError) as refused:
        require_known(found, members)
    told = "\n".join(refused.value.problems)
    assert "matches of 2026-08-15.minutes must name shirts of the squad (got 8)" in told
    assert "match_values.fast_metres must be left out where minors train" in told
