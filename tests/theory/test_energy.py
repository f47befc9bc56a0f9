"""Cost, reserve and heart against published worked examples: checks C-6 and C-7.

Expected figures are computed from the named formulas; where a check is against a measured value its source stands beside it.
C-7.13 to C-7.15 (field tests) belong to the profiles.
"""

from __future__ import annotations

import math

import pytest

from sim import energy
from sim.energy import GRAVITY
from sim.pitch.fatigue import balance_after as engine_balance_after

pytestmark = pytest.mark.theory

ACCELERATIONS = (-2.0, -1.0, 0.0, 1.0, 2.0, 3.0, 5.0)


def cost(a):
    return energy.running_cost(a / GRAVITY)


def test_the_cost_of_2018_at_seven_accelerations():
    """C-6.5: Minetti & Pavei 2018, J Exp Biol 221:jeb182303."""
    expected = (1.995, 1.816, 3.600, 6.454, 9.844, 13.740, 23.123)
    assert [cost(a) for a in ACCELERATIONS] == pytest.approx(expected, abs=2e-3)


def test_the_cost_of_a_hard_start():
    """C-6.6: same formula; below the 43.8 (SD 10.4) of sprinters by the polynomial of di Prampero et al. 2005."""
    assert cost(6.42) == pytest.approx(31.21, abs=0.02)


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
    assert energy.metabolic_power(2.53, -2.94) == pytest.approx(2.53 * cost(-2.94))
    assert energy.metabolic_power(1.0, 5.0) == pytest.approx(cost(5.0))
    assert energy.metabolic_power(1.0, -5.0) == pytest.approx(cost(-5.0))
    assert energy.metabolic_power(0.0, 3.0) == 0.0


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


def balance_after(balance, full, critical, load, seconds):
    """The engine's law of the reserve, for a player who comes back as fast as was published: half of it in full / critical
    times ln 2.  Units go together: (W, J) or (m/s, m)."""
    return engine_balance_after(balance, full, critical, math.log(2) * full / critical, load, seconds)


def test_two_minutes_above_critical_power_and_back():
    """C-7.2, C-7.3: differential form, Skiba et al. 2015, Med Sci Sports Exerc 47:2433; Skiba & Clarke 2021."""
    left = balance_after(20_000, 20_000, 250, 350, 120)
    assert left == pytest.approx(8000, abs=1e-6)
    back = [balance_after(left, 20_000, 250, 100, s) for s in (30, 60, 120)]
    assert back == pytest.approx((10_417.8, 12_348.5, 15_121.2), abs=0.1)


def test_a_runner_above_critical_speed_and_back():
    """C-7.5 to C-7.7: the differential form with speeds."""
    left = balance_after(200, 200, 4.0, 6.0, 40)
    assert left == pytest.approx(120, abs=1e-6)
    assert balance_after(200, 200, 4.0, 6.0, 100) == balance_after(200, 200, 4.0, 6.0, 130) == 0.0
    assert balance_after(200, 200, 4.0, 6.0, 99.9) == pytest.approx(0.2, abs=1e-6)
    back = [balance_after(left, 200, 4.0, 1.5, s) for s in (15, 30, 60, 120)]
    assert back == pytest.approx((133.68, 145.02, 162.21, 182.15), abs=0.01)
    tau = 200 / (4.0 - 1.5)
    assert (tau, tau * math.log(2)) == pytest.approx((80.0, 55.45), abs=0.01)
    assert balance_after(0, 200, 4.0, 1.5, 55.45) == pytest.approx(100, abs=0.01)


def test_repeated_efforts_settle():
    """C-7.8, C-7.9: 15 s at 5.5 and 15 s at 2.0 m/s in turn; never exhausted."""
    balance, after = 200.0, []
    for _ in range(200):
        balance = balance_after(balance_after(balance, 200, 4.0, 5.5, 15), 200, 4.0, 2.0, 15)
        after.append(balance)
    assert after[:5] == pytest.approx((180.63, 163.97, 149.62, 137.27, 126.64), abs=0.01)
    k = math.exp(-0.15)
    assert after[-1] == pytest.approx(200 - 22.5 * k / (1 - k), abs=0.01)
    assert after[-1] == pytest.approx(60.97, abs=0.01)


def test_the_heart_after_hard_work():
    """C-7.12: from 180 towards 100 with 52.5 s (J Sports Sci Med 10:369): 54.5 beats less after a minute."""
    assert 180 - energy.follow(180, 100, 52.5, 60) == pytest.approx(54.5, abs=0.1)


def test_cutting_a_recovery_in_two_changes_nothing():
    """C-7.16: differential form."""
    half = balance_after(8000, 20_000, 250, 100, 30)
    assert balance_after(half, 20_000, 250, 100, 30) == pytest.approx(
        balance_after(8000, 20_000, 250, 100, 60), abs=1e-9
    )
