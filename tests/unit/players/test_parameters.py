"""The table of assumptions: sound rows only, frozen, and in step with the modules below it."""

from __future__ import annotations

import math
from dataclasses import FrozenInstanceError, replace

import numpy as np
import pytest

from sim import ball, turning
from sim.errors import InputError
from sim.parameters import PROVENANCES, TABLE, Parameter, defaults, problems, table

SOUND = Parameter("grip_mps2", 6.0, "m/s2", 0.5, 4.0, 8.0, "judgement", "how hard boots hold")


def test_a_sound_row_has_no_problems():
    assert problems(SOUND) == []
    assert table([SOUND])["grip_mps2"] is SOUND


@pytest.mark.parametrize(
    ("change", "message"),
    [
        ({"unit": ""}, "parameters.grip_mps2.unit must be given, 1 for a pure number (got '')"),
        ({"value": 3.0}, "parameters.grip_mps2.value must be between 4.0 and 8.0, its low and high (got 3.0)"),
        ({"value": 9.0}, "parameters.grip_mps2.value must be between 4.0 and 8.0, its low and high (got 9.0)"),
        ({"value": math.nan}, "parameters.grip_mps2.value must be a finite number (got nan)"),
        ({"high": math.inf}, "parameters.grip_mps2.high must be a finite number (got inf)"),
        ({"spread": -0.1}, "parameters.grip_mps2.spread must be 0 or more (got -0.1)"),
        ({"note": ""}, "parameters.grip_mps2.note must say what the constant is and rests on (got '')"),
        (
            {"provenance": "hearsay"},
            "parameters.grip_mps2.provenance must be one of published, open data, house default, judgement"
            " (got 'hearsay')",
        ),
    ],
)
def test_a_row_that_is_not_sound_is_refused(change, message):
    with pytest.raises(InputError) as caught:
        table([replace(SOUND, **change)])
    assert message in caught.value.problems


def test_all_faults_of_a_table_are_told_together():
    with pytest.raises(InputError) as caught:
        table([replace(SOUND, unit=""), replace(SOUND, spread=-1.0)])
    assert len(caught.value.problems) == 3  # two rows, and the name twice
    assert "parameters.grip_mps2 must stand in the table once (got it twice)" in caught.value.problems


def test_the_table_is_sound_and_frozen():
    assert [problem for row in TABLE.values() for problem in problems(row)] == []
    assert {row.provenance for row in TABLE.values()} <= set(PROVENANCES)
    with pytest.raises(TypeError):
        TABLE["grip_mps2"] = SOUND
    with pytest.raises(TypeError):
        defaults()["turn_plant_most_s"] = 0.0
    with pytest.raises(FrozenInstanceError):
        TABLE["turn_plant_most_s"].value = 0.0


def test_defaults_are_the_values():
    assert dict(defaults()) == {name: row.value for name, row in TABLE.items()}


def test_pass_speed_law_goes_through_the_medians_it_names():
    # Medians of ground passes, three professional matches (StatsBomb open data), at the middle of each length class.
    value = defaults()
    length = np.array([7.5, 12.5, 17.5, 25.0])
    law = (
        value["pass_speed_base_mps"]
        + value["pass_speed_slope_per_s"] * length
        - value["pass_speed_bend_per_ms"] * length**2
    )
    assert law == pytest.approx([9.6, 11.5, 13.4, 14.9], rel=0.035)


def test_the_modules_below_the_table_agree_with_it():
    value = defaults()
    assert turning.TOTAL_ACCELERATION == value["acceleration_limit_mps2"]
    assert (turning.PLANT_LEAST_S, turning.PLANT_MOST_S) == (value["turn_plant_least_s"], value["turn_plant_most_s"])
    assert turning.PLANT_FULL_MPS == value["turn_plant_full_mps"]
    # A cut by 60 degrees from 4 m/s, with nothing else to cap the speed kept.
    kept = turning.cut(
        turning.State(0.0, 0.0, 4.0, 0.0), 0.5, math.sqrt(0.75), turning.Limits(9.2, 1 / 1.15, 4.5), 99.0
    )[0]
    assert kept == pytest.approx(4.0 * math.cos(math.radians(30)) ** value["turn_speed_exponent"], rel=1e-12)
    for length in (5.0, 20.0, 40.0):
        d = min(length, value["pass_speed_level_from_m"])
        law = (
            value["pass_speed_base_mps"] + value["pass_speed_slope_per_s"] * d - value["pass_speed_bend_per_ms"] * d * d
        )
        assert ball.mean_pass_speed(length) == pytest.approx(value["pass_speed_tracked_share"] * law, rel=1e-12)
