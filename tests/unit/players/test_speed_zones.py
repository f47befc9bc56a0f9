"""Which speeds are counted for whom.

Men: Martin-Garcia et al. 2020, J Sports Sci Med 19:1-9 (19.8, 25.2), lower cuts from memory; women and the shares from memory.
"""

from __future__ import annotations

import pytest

from sim.errors import InputError
from sim.game.loader import load_game
from sim.measures.thresholds import Thresholds, limits_of
from sim.populations import POPULATIONS
from sim.speed_zones import MEN, OWN, WOMEN, ZONES, chosen, minors_of, preset


def test_presets_by_population():
    assert (MEN.jog, MEN.run, MEN.high_speed, MEN.sprint) == (7.2, 14.4, 19.8, 25.2)
    assert (WOMEN.jog, WOMEN.run, WOMEN.high_speed, WOMEN.sprint) == (7.0, 13.0, 19.0, 23.0)
    assert (OWN.run, OWN.high_speed, OWN.sprint) == (0.60, 0.80, 0.90)
    expected = {"elite men": MEN, "amateur men": MEN, "women": WOMEN, "U17 boys": OWN, "U12": OWN, "mixed adults": OWN}
    assert {name: preset([name]) for name in POPULATIONS} == expected
    assert preset(["elite men", "amateur men"]) == MEN
    assert preset(["elite men", "women"]) == preset(["women", "U12"]) == OWN


def test_minors_are_those_under_eighteen():
    assert minors_of(POPULATIONS) == ["U12", "U17 boys"]


def test_what_the_file_says_goes_before_the_preset():
    assert chosen(["women"], {"run_kmh": 14.0}).run == 14.0
    assert chosen(["women"], {"run_kmh": 14.0}).sprint == 23.0
    assert chosen(["elite men"], {"sprint_share": 0.95}) == type(OWN)("share", 0.25, 0.60, 0.80, 0.95)
    assert chosen(["mixed adults"], {"sprint_kmh": 22.0}) == type(OWN)("kmh", 7.0, 13.0, 19.0, 22.0)
    assert chosen(["U12"], {"acceleration_mps2": 3.0, "sprint_kmh": None}) == OWN


def test_the_presets_rise():
    for cuts in (MEN, WOMEN, OWN):
        values = [getattr(cuts, zone) for zone in ZONES]
        assert values == sorted(set(values))


def test_a_game_counts_what_its_file_and_its_players_say():
    assert limits_of(load_game("tight-square")) == Thresholds()
    women = limits_of(load_game("tight-square", population="women"))
    assert (women.jog_kmh, women.run_kmh, women.high_speed_kmh, women.sprint_kmh) == (7.0, 13.0, 19.0, 23.0)
    minors = limits_of(load_game("tight-square", population="U12"))
    assert minors.own and (minors.run_share, minors.high_speed_share, minors.sprint_share) == (0.6, 0.8, 0.9)
    assert minors.high_speed_kmh is minors.jog_kmh is None
    assert minors.start_in_words("high_speed") == "80 % of own top speed"
    changes = ["load.sprint_kmh=24", "load.acceleration_mps2=3", "load.turn_degrees=60", "load.speed_seconds=0"]
    changed = limits_of(load_game("tight-square", changes))
    assert changed == Thresholds(sprint_kmh=24.0, change_mps2=3.0, turn_degrees=60.0, speed_min_s=0.0)
    assert changed.start_in_words("sprint") == "24 km/h"


@pytest.mark.parametrize("population", ["U12", "U17 boys"])
@pytest.mark.parametrize("key", ["jog_kmh", "run_kmh", "high_speed_kmh", "sprint_kmh"])
def test_speeds_of_adults_are_refused_for_minors_with_one_message(population, key):
    with pytest.raises(InputError) as caught:
        load_game("tight-square", [f"load.{key}=18", "load.turn_degrees=60"], population)
    (problem,) = caught.value.problems
    assert problem == (
        "load must give its speeds as shares of own top speed (such as high_speed_share) where minors play, as km/h are "
        f"those of adults (got {key} with {population})"
    )
