"""From fitness tests to profiles: the published conversions, the fit to splits, and what a roster makes of them."""

from __future__ import annotations

import math

import numpy as np
import pytest

from sim.errors import InputError
from sim.fitness import (
    critical_speed_of,
    fit_sprint,
    oxygen_of_intermittent_run,
    oxygen_of_shuttle,
    sprint_time,
)
from sim.game.loader import load_game
from sim.players import draw_roster, sprint_limit, typical_roster
from sim.populations import KINDS, POPULATIONS

# Splits of 140 women at a professional try-out: Vescovi 2012, J Sci Med Sport 15:474-478.
METRES = (5.0, 10.0, 20.0, 35.0)
SECONDS = (1.192, 2.000, 3.396, 5.385)

SPLITS = "players.squad-1.sprint={ metres = [5, 10, 20, 35], seconds = [1.192, 2.0, 3.396, 5.385] }"
RUN = "players.squad-1.intermittent_run=1800"
TRAITS = tuple(kind.name for kind in KINDS)


def drawn(
    changes: list[str], trait: str, sessions: int = 400, player: str = "squad-1", preset: str = "women"
) -> np.ndarray:
    game = load_game("tight-square", changes, preset)
    return np.array([getattr(draw_roster(game, 1, session)[player], trait) for session in range(sessions)])


# Sprints


def test_splits_with_an_estimated_offset():
    # C-1.6, derived from the published splits: 7.69 m/s, 1.10 s, 0.27 s, each +/- 0.02; no split 0.005 s off.
    fit = fit_sprint(METRES, SECONDS, None)
    assert fit.vmax_mps == pytest.approx(7.69, abs=0.02)
    assert fit.tau_s == pytest.approx(1.10, abs=0.02)
    assert fit.offset_s == pytest.approx(0.27, abs=0.02)
    assert fit.worst_s < 0.005


def test_splits_without_an_offset_show_the_bias():
    # C-1.7, derived: 7.39 m/s and 0.66 s +/- 0.02.  The direction of the bias: Vescovi & Jovanovic 2021, Front Sports Act
    # Living 3:629694.
    fit = fit_sprint(METRES, SECONDS, 0.0)
    assert fit.vmax_mps == pytest.approx(7.39, abs=0.02)
    assert fit.tau_s == pytest.approx(0.66, abs=0.02)
    assert fit.offset_s == 0.0


def test_splits_with_the_usual_offset():
    # C-1.8, derived: 7.74 m/s and 1.17 s +/- 0.02; inside the observed peak 7.58 +/- 0.39 m/s (Vescovi 2012).
    fit = fit_sprint(METRES, SECONDS, 0.3)
    assert fit.vmax_mps == pytest.approx(7.74, abs=0.02)
    assert fit.tau_s == pytest.approx(1.17, abs=0.02)
    assert abs(fit.vmax_mps - 7.58) <= 0.39


@pytest.mark.parametrize(
    ("vmax", "tau", "expected"), [(9.2, 1.15, (1.332, 2.042, 3.256, 4.385)), (7.9, 1.10, (1.434, 2.220, 3.590, 4.884))]
)
def test_the_closed_form_of_a_sprint(vmax, tau, expected):
    # C-1.1 and C-1.2, derived from the mono-exponential model: t(5, 10, 20, 30) +/- 0.001 s.
    for distance, time in zip((5, 10, 20, 30), expected, strict=True):
        assert sprint_time(distance, vmax, tau) == pytest.approx(time, abs=0.001)


@pytest.mark.parametrize(
    ("vmax", "tau", "late"), [(4.2, 1.7, 0.0), (6.5, 1.1, 0.3), (9.2, 1.15, 0.55), (10.8, 0.75, 0.1)]
)
def test_a_fit_finds_the_sprint_that_made_the_splits(vmax, tau, late):
    # Both ways round, for splits with no error at all (derived).
    metres = (5.0, 10.0, 20.0, 30.0, 40.0)
    seconds = tuple(sprint_time(d, vmax, tau) - late for d in metres)
    for given in (late, None):
        fit = fit_sprint(metres, seconds, given)
        assert (fit.vmax_mps, fit.tau_s, fit.offset_s) == pytest.approx((vmax, tau, late), abs=1e-5)
        assert fit.worst_s < 1e-6


# Endurance


def test_oxygen_uptake_of_the_intermittent_run():
    # C-7.13 (Bangsbo, Iaia & Krustrup 2008, Sports Med 38:37-51; coefficients from memory), +/- 0.005 mL/kg/min.
    found = [oxygen_of_intermittent_run(metres) for metres in (1000, 1600, 2000, 2400)]
    assert found == pytest.approx([44.80, 49.84, 53.20, 56.56], abs=0.005)


def test_oxygen_uptake_of_the_shuttle_test():
    # C-7.15 (Buchheit 2008; from memory), +/- 0.001 mL/kg/min.
    assert oxygen_of_shuttle(19.5, 25, 75, female=False) == pytest.approx(53.600, abs=0.001)
    assert oxygen_of_shuttle(17.5, 25, 62, female=True) == pytest.approx(46.924, abs=0.001)
    assert oxygen_of_shuttle(18.0, 16, 65, female=False) == pytest.approx(47.390, abs=0.001)


def test_critical_speed_by_hand():
    # 53.2 / 3.5 = 15.2 km/h (Leger; from memory), of which 0.88 (judgement) is 13.376 km/h or 3.7156 m/s.
    assert critical_speed_of(53.2, 0.88) == pytest.approx(3.7156, abs=1e-4)


# Rosters


def test_a_sprint_test_is_exact_and_shifts_no_other_draw():
    plain = draw_roster(load_game("tight-square", [], "women"), 1, 5)
    told = draw_roster(load_game("tight-square", [SPLITS], "women"), 1, 5)
    fit = fit_sprint(METRES, SECONDS, 0.3)
    assert (told["squad-1"].vmax_mps, told["squad-1"].tau_s) == (fit.vmax_mps, fit.tau_s)
    for trait in set(TRAITS) - {"vmax_mps", "tau_s", "pressing_speed_mps"}:
        assert getattr(told["squad-1"], trait) == getattr(plain["squad-1"], trait)
    assert {i: p for i, p in told.items() if i != "squad-1"} == {i: p for i, p in plain.items() if i != "squad-1"}
    assert set(drawn([SPLITS], "vmax_mps", 30)) == {fit.vmax_mps}


def test_typical_players_take_their_tests():
    profile = typical_roster(load_game("tight-square", [SPLITS, RUN], "women"))["squad-1"]
    fit = fit_sprint(METRES, SECONDS, 0.3)
    assert (profile.vmax_mps, profile.tau_s) == (fit.vmax_mps, fit.tau_s)
    assert profile.critical_speed_mps == pytest.approx(0.88 * (0.0084 * 1800 + 36.4) / 3.5 / 3.6)
    assert profile.reserve_m == POPULATIONS["women"].traits["reserve_m"].mean


@pytest.mark.parametrize(
    "test", [RUN, 'players.squad-1.shuttle={ speed_kmh = 19, age = 25, weight_kg = 70, sex = "male" }']
)
def test_an_endurance_test_is_drawn_give_or_take_ten_per_cent(test):
    # 400 draws: the mean within 4 standard errors (2 %), the spread within 15 % (4 of its standard errors).
    oxygen = 0.0084 * 1800 + 36.4 if test == RUN else oxygen_of_shuttle(19, 25, 70, female=False)
    value = 0.88 * oxygen / 3.5 / 3.6
    found = drawn([test], "critical_speed_mps", preset="amateur men")
    assert found.mean() == pytest.approx(value, rel=0.02)
    assert found.std(ddof=1) == pytest.approx(0.10 * value, rel=0.15)
    plain = drawn([], "critical_speed_mps", 5, preset="amateur men")
    assert np.all(found[:5] != plain)


@pytest.mark.parametrize("preset", POPULATIONS)
def test_slow_and_fast_sprinters_press_at_the_share_of_their_sprint_their_population_does(preset):
    # A sprinter too slow for the population's pressing speed must still be drawn, and can run what is drawn.
    for vmax, tau in ((5.0, 1.6), (10.5, 1.0)):
        seconds = [round(sprint_time(d, vmax, tau) - 0.3, 4) for d in (10, 20, 30)]
        change = f"players.squad-1.sprint={{ metres = [10, 20, 30], seconds = {seconds} }}"
        found = drawn([change], "pressing_speed_mps", 60, preset=preset)
        traits = POPULATIONS[preset].traits
        typical = sprint_limit(traits["vmax_mps"].mean, traits["tau_s"].mean)
        own = sprint_limit(vmax, tau)
        assert found.max() <= own + 1e-3
        # Redrawing above the limit pulls the mean down by less than 4 %; the legal range (2.0 to 5.5) cuts the rest.
        aim = traits["pressing_speed_mps"].mean * own / typical
        if 2.3 < aim < 5.2:
            assert found.mean() == pytest.approx(aim, rel=0.04)
        typical_one = typical_roster(load_game("tight-square", [change], preset))["squad-1"]
        assert typical_one.pressing_speed_mps == pytest.approx(aim, rel=1e-3)


def test_a_written_pressing_speed_is_held_against_the_own_sprint():
    limit = sprint_limit(*(getattr(fit_sprint(METRES, SECONDS, 0.3), name) for name in ("vmax_mps", "tau_s")))
    floor = math.floor(100 * limit) / 100
    assert load_game("tight-square", [SPLITS, f"players.squad-1.pressing_speed={floor}"], "elite men")
    with pytest.raises(InputError, match="the sprint limit of their own splits"):
        load_game("tight-square", [SPLITS, f"players.squad-1.pressing_speed={floor + 0.01}"], "elite men")


def test_only_the_formula_with_age_serves_older_minors():
    shuttle = 'players.squad-1.shuttle={ speed_kmh = 18, age = 16, weight_kg = 65, sex = "male" }'
    assert load_game("tight-square", [shuttle], "U17 boys")
    for changes, preset in (([RUN], "U17 boys"), ([RUN], "U12"), ([shuttle], "U12"), ([shuttle], "women")):
        with pytest.raises(InputError, match=r"players\.squad-1\."):
            load_game("tight-square", changes, preset)
    for preset in ("U12", "U17 boys"):
        assert load_game("tight-square", [SPLITS], preset)
