"""Cost, reserve and heart against published worked examples: checks C-6, C-7 and C-1.11, C-1.12.

Expected figures are computed from the named formulas; where a check is against a measured value its source stands beside it.
C-7.13 to C-7.15 (field tests) belong to the profiles.
"""

from __future__ import annotations

import math

import pytest
from scipy.integrate import quad

from sim import energy
from sim.energy import GRASS, GRAVITY, OXYGEN_J_PER_ML
from sim.pitch.fatigue import equivalent_speed as tiring_speed

pytestmark = pytest.mark.theory

ACCELERATIONS = (-2.0, -1.0, 0.0, 1.0, 2.0, 3.0, 5.0)


def old(a):
    return energy.running_cost_2005(a / GRAVITY)


def new(a):
    return energy.running_cost(a / GRAVITY)


def test_the_cost_of_2005_at_seven_accelerations():
    """C-6.1: di Prampero et al. 2005, J Exp Biol 208:2809; Minetti et al. 2002."""
    expected = (1.846, 2.145, 3.600, 6.053, 9.323, 13.390, 25.958)
    assert [old(a) for a in ACCELERATIONS] == pytest.approx(expected, abs=2e-3)


def test_grass_costs_more():
    """C-6.2: Osgnach et al. 2010, Med Sci Sports Exerc 42:170."""
    assert [GRASS * old(a) for a in (0, 1, 2, 3)] == pytest.approx((4.644, 7.808, 12.027, 17.273), abs=2e-3)


def test_the_high_power_cut_is_the_high_speed_cut():
    """C-6.3: 19.8 km/h on grass is the 25.5 W/kg of Osgnach et al. 2010 and Martin-Garcia et al. 2020."""
    power = GRASS * old(0) * 5.5
    assert power == pytest.approx(25.54, abs=0.05)
    assert abs(power - 25.5) < 0.1


def test_steady_speeds_of_round_powers():
    """C-6.4: from the same formula."""
    speeds = [power / (GRASS * old(0)) for power in (10, 20, 35)]
    assert speeds == pytest.approx((2.153, 4.307, 7.537), abs=2e-3)


def test_the_cost_of_2018_at_seven_accelerations():
    """C-6.5: Minetti & Pavei 2018, J Exp Biol 221:jeb182303."""
    expected = (1.995, 1.816, 3.600, 6.454, 9.844, 13.740, 23.123)
    assert [new(a) for a in ACCELERATIONS] == pytest.approx(expected, abs=2e-3)


def test_a_hard_start_separates_the_two_formulas():
    """C-6.6: published peak cost of sprinters 43.8 (SD 10.4), di Prampero et al. 2005; the later formula lies below it."""
    assert old(6.42) == pytest.approx(44.38, abs=0.02) and abs(old(6.42) - 43.8) < 10.4
    assert new(6.42) == pytest.approx(31.21, abs=0.02)


def test_the_weight_carried_when_speeding_up():
    """C-6.7: equivalent slope 0.643, di Prampero et al. 2005."""
    assert energy.heavier(0.643) == pytest.approx(1.1889, abs=1e-4)


def test_walking_on_the_flat():
    """C-6.8: table of di Prampero & Osgnach 2018, Int J Sports Med 39:581-587."""
    costs = [energy.walking_cost(0.0, v) for v in (1.0, 1.4, 1.8)]
    assert costs == pytest.approx((2.020, 2.268, 2.659), abs=1e-3)


def test_the_walking_table_is_linear_between_its_slopes_and_exact_on_them():
    """Same table: at slope 0.4 and 1 m/s the row gives 21.66, at 0.15 the mean of 5.03 and 8.54 (EM apart)."""
    assert energy.walking_cost(0.4, 1.0) == pytest.approx(21.66 * energy.heavier(0.4), abs=1e-9)
    assert energy.walking_cost(-0.3, 1.0) == pytest.approx(2.48 * energy.heavier(0.3), abs=1e-9)
    assert energy.walking_cost(0.15, 1.0) == pytest.approx((5.03 + 8.54) / 2 * energy.heavier(0.15), abs=1e-9)


def test_where_walking_turns_into_running():
    """C-6.9: di Prampero & Osgnach 2018."""
    assert energy.switch_speed(0.0) == pytest.approx(2.270, abs=1e-3)
    assert energy.switch_speed(0.1) == pytest.approx(1.951, abs=1e-3)


def test_walkers_pay_the_table_and_runners_the_formula():
    """Same paper; nobody walks above 2.5 m/s, nor beyond the slopes of the table."""
    assert energy.metabolic_power(1.4, 0.0) == pytest.approx(1.4 * 2.268, abs=1e-3)
    assert energy.metabolic_power(3.0, 0.0) == pytest.approx(10.8)
    assert energy.metabolic_power(2.3, 0.0) == pytest.approx(2.3 * 3.6)
    assert energy.switch_speed(-2.94 / GRAVITY) > 2.55
    assert energy.metabolic_power(2.53, -2.94) == pytest.approx(2.53 * new(-2.94))
    assert energy.metabolic_power(1.0, 5.0) == pytest.approx(new(5.0))
    assert energy.metabolic_power(1.0, -5.0) == pytest.approx(new(-5.0))
    assert energy.metabolic_power(0.0, 3.0) == 0.0


def test_oxygen_of_a_steady_run():
    """C-6.10: 3 m/s on grass; 20.9 J/mL from memory."""
    power = GRASS * old(0) * 3.0
    assert power == pytest.approx(13.93, abs=0.005)
    assert energy.oxygen(power) == pytest.approx(40.0, abs=0.05)


def sprint(vmax, tau, metres=30.0):
    """(seconds, speed, acceleration) of a mono-exponential sprint over so many metres."""
    from scipy.optimize import brentq

    def gone(t):
        return vmax * (t - tau * (1 - math.exp(-t / tau)))

    seconds = brentq(lambda t: gone(t) - metres, 0.1, 60)
    return seconds, lambda t: vmax * (1 - math.exp(-t / tau)), lambda t: vmax / tau * math.exp(-t / tau)


def test_energy_of_a_thirty_metre_sprint():
    """C-6.11: the formulas of 2005 over a sprint of 9.2 m/s, 1.15 s."""
    seconds, v, a = sprint(9.2, 1.15)
    joules = quad(lambda t: old(a(t)) * v(t), 0, seconds)[0]
    peak = max(old(a(0.001 * n)) * v(0.001 * n) for n in range(int(1000 * seconds)))
    assert joules == pytest.approx(245.7, rel=0.003)
    assert joules / 30 == pytest.approx(8.19, rel=0.003)
    assert joules / seconds == pytest.approx(56.0, rel=0.003)
    assert peak == pytest.approx(89.7, rel=0.003)


def test_mean_cost_of_a_sprint_is_over_time():
    """C-6.12: 9.46 m/s and 1.42 s (the latter from memory); published mean 10.7 (SD 0.59), di Prampero et al. 2005."""
    seconds, _, a = sprint(9.46, 1.42)
    mean = quad(lambda t: old(a(t)), 0, seconds)[0] / seconds
    assert mean == pytest.approx(11.1, abs=0.1)
    assert abs(mean - 10.7) < 0.59


def test_a_match_as_a_sanity_check():
    """C-6.13: 61.12 kJ/kg over 10 950 m (Osgnach et al. 2010): between steady running on grass and at 1 m/s2."""
    mean = 61_120 / 10_950
    assert mean == pytest.approx(5.58, abs=0.01)
    assert GRASS * old(0) < mean < GRASS * old(1)


def test_the_cost_of_a_turn():
    """C-1.11: Hatamoto et al. 2014, PLoS ONE.  C-1.12: 0.55 (0.09) at 5.4 km/h, Hatamoto 2013, OAJSM."""
    assert [energy.turn_cost(v) for v in (5.4, 8.0)] == pytest.approx((0.578, 1.028), abs=1e-3)
    joules = [OXYGEN_J_PER_ML * energy.turn_cost(v) for v in (5.4, 8.0)]
    assert joules == pytest.approx((12.07, 21.49), abs=0.01)
    assert abs(energy.turn_cost(5.4) - 0.55) < 0.09


@pytest.mark.parametrize("v", [0.3, 0.6, 1.0, 1.4, 1.8, 2.1])
def test_the_cheap_equivalent_speed_is_near_the_table_on_the_flat(v):
    """Our own fit to the table of 2018: within 0.3 J/kg/m where people walk, exact where they run."""
    assert abs(3.6 * energy.equivalent_speed(v, 0.0) / v - energy.walking_cost(0.0, v)) <= 0.3


@pytest.mark.parametrize("along", [-6.0, -2.0, -0.5, 0.0, 0.5, 2.0, 6.0])
def test_the_cheap_equivalent_speed_is_exact_for_runners_and_never_negative(along):
    for n in range(301):
        v = 0.03 * n
        speed = energy.equivalent_speed(v, along)
        assert speed >= 0.0
        if v > 2.5:
            assert speed == pytest.approx(energy.metabolic_power(v, along) / 3.6, rel=1e-12)
            assert speed == pytest.approx(tiring_speed(v, along), rel=1e-12)


def test_the_time_constants_of_2012():
    """C-7.1: Skiba et al. 2012, Med Sci Sports Exerc 44:1526 (cycling watts)."""
    found = [energy.time_constant_2012(below) for below in (0, 50, 100, 150, 200)]
    assert found == pytest.approx((862.0, 647.2, 516.9, 437.8, 389.9), abs=0.1)


def test_two_minutes_above_critical_power_and_back():
    """C-7.2, C-7.3: differential form, Skiba et al. 2015, Med Sci Sports Exerc 47:2433; Skiba & Clarke 2021."""
    left = energy.balance_after(20_000, 20_000, 250, 350, 120)
    assert left == pytest.approx(8000, abs=1e-6)
    back = [energy.balance_after(left, 20_000, 250, 100, s) for s in (30, 60, 120)]
    assert back == pytest.approx((10_417.8, 12_348.5, 15_121.2), abs=0.1)


def test_recovery_with_the_time_constant_of_2012():
    """C-7.4: a plain exponential from 8000 J with 437.8 s, not the full integral."""
    tau = energy.time_constant_2012(150)
    back = [energy.follow(8000, 20_000, tau, s) for s in (30, 60, 120)]
    assert back == pytest.approx((8794.7, 9536.8, 10_876.7), abs=0.1)


def test_a_runner_above_critical_speed_and_back():
    """C-7.5 to C-7.7: the differential form with speeds."""
    left = energy.balance_after(200, 200, 4.0, 6.0, 40)
    assert left == pytest.approx(120, abs=1e-6)
    assert energy.balance_after(200, 200, 4.0, 6.0, 100) == energy.balance_after(200, 200, 4.0, 6.0, 130) == 0.0
    assert energy.balance_after(200, 200, 4.0, 6.0, 99.9) == pytest.approx(0.2, abs=1e-6)
    back = [energy.balance_after(left, 200, 4.0, 1.5, s) for s in (15, 30, 60, 120)]
    assert back == pytest.approx((133.68, 145.02, 162.21, 182.15), abs=0.01)
    tau = 200 / (4.0 - 1.5)
    assert (tau, tau * math.log(2)) == pytest.approx((80.0, 55.45), abs=0.01)
    assert energy.balance_after(0, 200, 4.0, 1.5, 55.45) == pytest.approx(100, abs=0.01)


def test_repeated_efforts_settle():
    """C-7.8, C-7.9: 15 s at 5.5 and 15 s at 2.0 m/s in turn; never exhausted."""
    balance, after = 200.0, []
    for _ in range(200):
        balance = energy.balance_after(energy.balance_after(balance, 200, 4.0, 5.5, 15), 200, 4.0, 2.0, 15)
        after.append(balance)
    assert after[:5] == pytest.approx((180.63, 163.97, 149.62, 137.27, 126.64), abs=0.01)
    k = math.exp(-0.15)
    assert after[-1] == pytest.approx(200 - 22.5 * k / (1 - k), abs=0.01)
    assert after[-1] == pytest.approx(60.97, abs=0.01)


def test_two_speeds_of_recovery():
    """C-7.10: Chorley et al. 2022, Eur J Appl Physiol 122.  C-7.11: half-time 57 s, Bogdanis 1995 (from memory)."""
    shares = [energy.recovered_share(s) for s in (30, 60, 180, 300)]
    assert shares == pytest.approx((0.4179, 0.5463, 0.6897, 0.7723), abs=1e-3)
    assert [energy.phosphate_share(s) for s in (30, 60, 180)] == pytest.approx((0.306, 0.518, 0.888), abs=1e-3)


def test_the_heart_after_hard_work():
    """C-7.12: from 180 towards 100 with 52.5 s (J Sports Sci Med 10:369): 54.5 beats less after a minute."""
    assert 180 - energy.follow(180, 100, 52.5, 60) == pytest.approx(54.5, abs=0.1)


def test_cutting_a_recovery_in_two_changes_nothing():
    """C-7.16: differential form."""
    half = energy.balance_after(8000, 20_000, 250, 100, 30)
    assert energy.balance_after(half, 20_000, 250, 100, 30) == pytest.approx(
        energy.balance_after(8000, 20_000, 250, 100, 60), abs=1e-9
    )


def test_the_full_integral_form():
    """C-7.17: Skiba et al. 2012; also against the integral itself, by quadrature."""
    tau = 437.83
    left = energy.integral_balance(20_000, 250, tau, [(350, 120), (100, 60)])
    assert left == pytest.approx(10_848.2, abs=1)
    spent = quad(lambda u: 100 * math.exp(-(180 - u) / tau), 0, 120)[0]
    assert left == pytest.approx(20_000 - spent, abs=1e-6)
