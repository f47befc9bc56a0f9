"""What a calibration says: on one screen, and in tables with weights, reasons, luck and refits."""

from __future__ import annotations

import pytest

from sim.evidence.calibrate import Calibration, Refit, chosen_of
from sim.evidence.evaluations import engine_constants
from sim.evidence.fitting import Fit, Profile
from sim.evidence.luck import Losses, Luck
from sim.evidence.screening import Screened
from sim.evidence.targets import BAND, targets
from sim.words import calibration

KNOWN = {one.name: one for one in engine_constants()}
NAMES = ("walk", "run_cap", "press_slack")
SCREENED = (Screened("walk", 2.5, {"M01": 2.0, "B21": -1.5, "P04": 0.25, "M02": 0.0}),)


def losses(bands: int, *of_seed: float) -> Losses:
    """All of it of rows of tracking."""
    return Losses({"measurement": (0.0,) * len(of_seed), "band": (0.0,) * len(of_seed), "tracking": of_seed}, bands)


def found_with(bands: int = 27, *fitted: float) -> Calibration:
    """A calibration of three constants, before 9, 10 and 11 on the fresh seeds."""
    values = {"walk": KNOWN["walk"].now, "run_cap": KNOWN["run_cap"].low, "press_slack": 12.25}
    fit = Fit(values, (0.2, -1.5, 0.7), 5.25, 1.0, 9.5, 110)
    along = {"walk": [(-1.0, 15.2), (1.0, 7.0)], "run_cap": [(0.0, 5.0)], "press_slack": [(-1.0, 5.0), (1.0, 123.4)]}
    about_it = Profile(along, dict.fromkeys(NAMES, 0.5), [[1.0] * 3] * 3, ["walk"])
    before = {one.part: 2.0 for one in targets()}
    after = before | {one.part: 0.1 for one in targets() if one.kind != BAND} | {"M02": float("nan")}
    luck = Luck((1001, 1002, 1003), losses(27, 9.0, 10.0, 11.0), losses(bands, *(fitted or (5.0, 6.0, 7.0))), 28)
    left_out = {BAND: Refit(fit, {part: 3.0 for part in before})}
    return Calibration(
        chosen_of([KNOWN[name] for name in NAMES], SCREENED), fit, before, after, about_it, left_out, luck
    )


def test_the_screen_fits_and_proposes_only():
    lines = calibration.calibration_screen(found_with(), "overload calibrate --save here --details").text().splitlines()
    assert len(lines) <= 14 and max(map(len, lines)) <= 80
    text = " ".join(line.strip() for line in lines)
    assert "from 9.50 to 5.25 (110 sets of values tried)" in text
    assert "On 3 fresh seeds it changes by -4.00, standard error 0.00; bands inside 27 of 28, before 27." in text
    assert "By the rule set beforehand they are taken." in text
    assert "Moved most: press_slack to 12.25, run_cap to" in text
    assert "cannot tell what is right for: walk." in text and "Still off: 28 of 58 figures." in text
    assert "  overload calibrate --save here --details" in lines


@pytest.mark.parametrize(
    ("found", "said"),
    [
        (found_with(27), "So the fitted values are taken."),
        (found_with(26), "So the fitted values are not taken: fewer bands are inside."),
        (found_with(28, 2.0, 11.0, 12.0), "So the fitted values are not taken: the difference is not clear of luck."),
    ],
)
def test_the_rule_is_told_and_followed(found: Calibration, said: str):
    text = calibration.calibration_in_words(found)
    assert said in text and calibration.RULE in text
    assert ("By the rule set beforehand they are taken." in calibration.calibration_screen(found, "").text()) == (
        "not taken" not in said
    )


def test_weights_reasons_luck_and_refits_stand_in_the_details():
    text = calibration.calibration_in_words(found_with())
    assert "  published measurements  13  1\n  bands of keep-ball      28  1\n  rows of tracking        10  1\n" in text
    assert "  walk (m/s): " in text and "; moves M01 +2.00, B21 -1.50, P04 +0.25\n" in text
    assert "; named by hand; not screened\n" in text
    assert "on 3 fresh seeds, 1001 to 1003" in text
    assert "rows of tracking         10.00    (1.00)    6.00    (1.00)       -4.00   (0.00)" in text
    assert "Bands inside on the mean of these seeds: 27 of 28, before 27." in text
    assert "  without the bands: 112.00, 112.00, 252.00; walk " in text


def test_the_tables_stand_in_columns():
    text = calibration.calibration_in_words(found_with())
    assert "  -1.50  0.50\n" in text and "  +0.20  0.50  not identified\n" in text
    assert "\n  walk         -1.00: 15.20    +1.00: 7.00\n" in text
    assert "\n  M01        +2.00  +0.10\n  M02        +2.00      -\n" in text
