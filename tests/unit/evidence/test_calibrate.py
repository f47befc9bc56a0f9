"""The calibration on cheap made-up worlds whose optimum is known."""

from __future__ import annotations

import json
import math

import numpy as np
import pytest

from sim.errors import InputError
from sim.evidence import calibrate as calibration
from sim.evidence.calibrate import Evaluations, loss_rows, scale_of, screen
from sim.evidence.fitting import Constant, fit_loss, profile, promising, search
from sim.evidence.tables import folder, mark_of, measurements, rows_of
from sim.experiments.designs import effects, plackett_burman
from sim.experiments.digests import digest_of
from sim.pitch.assumptions import BEFORE_FIT, USUAL

A = Constant("a", 10.0, 2.0, 4.0, 16.0)
B = Constant("b", 0.5, 0.1, 0.2, 0.8)
IDLE = Constant("idle", 1.0, 0.5, 0.0, 2.0)
ROWS = {"X": ["x"], "Y": ["y1", "y2"]}


def world(values):
    """Gaps of a world whose data want z(a) = 1 and z(b) = -0.5, ten times as strongly as the defaults; `idle` does nothing."""
    za, zb = (values["a"] - 10) / 2, (values["b"] - 0.5) / 0.1
    return {"x": 10 * (za - 1), "y1": 10 * (zb + 0.5), "y2": 10 * (zb + 0.5)}


def test_the_search_finds_a_known_optimum_and_the_pull_shortens_it():
    # Along each constant the loss is 100 (z - m)^2 + z^2: optimum z = 100/101 m, loss m^2 100/101.
    fit = search(world, [A, B, IDLE], ROWS, 80)
    assert fit.z == pytest.approx((100 / 101, -50 / 101, 0.0), abs=0.03)
    assert fit.values["a"] == pytest.approx(10 + 2 * 100 / 101, abs=0.06)
    assert fit.loss == pytest.approx(1.25 * 100 / 101, abs=0.1)
    assert fit.loss_default == pytest.approx(100 + 25)
    assert fit.evaluations <= 80


def test_luck_in_the_gaps_does_not_lead_the_search_astray():
    # Three times in ten as much luck in every gap as lies between its edge and the middle: a search by differences of two sets goes
    # where that luck is.  The standard error of a slope over a whole design of eight is about 0.15 here, of 10.
    lottery = np.random.default_rng(5)
    for _ in range(20):
        fit = search(
            lambda v: {k: gap + lottery.normal(0.0, 0.3) for k, gap in world(v).items()}, [A, B, IDLE], ROWS, 80
        )
        assert fit.z[:2] == pytest.approx((100 / 101, -50 / 101), abs=0.12)


def test_the_search_stays_inside_the_limits():
    tight = Constant("a", 10.0, 2.0, 9.0, 11.0)
    tried = []

    def watched(values):
        tried.append(values["a"])
        return world(values)

    fit = search(watched, [tight, B], ROWS, 60)
    assert 9.0 <= min(tried) and max(tried) <= 11.0
    assert fit.values["a"] == pytest.approx(11.0, abs=0.02)


def test_the_profile_says_what_is_not_identified():
    fit = search(world, [A, B, IDLE], ROWS, 80)
    about = profile(world, [A, B, IDLE], ROWS, fit)
    assert about.not_identified == ["idle"]
    assert about.spread_left["a"] == pytest.approx(1 / math.sqrt(101), rel=1e-6)
    assert about.spread_left["idle"] == pytest.approx(1.0)
    assert [z for z, _ in about.along["a"]] == pytest.approx([fit.z[0] - 0.5, fit.z[0], fit.z[0] + 0.5])
    assert min(about.along["a"], key=lambda point: point[1])[0] == fit.z[0]


def test_two_constants_that_do_the_same_are_correlated():
    twin = Constant("b", 10.0, 2.0, 4.0, 16.0)
    both = search(lambda v: {"x": 3 * ((v["a"] + v["b"]) / 2 - 10)}, [A, twin], {"X": ["x"]}, 40)
    about = profile(lambda v: {"x": 3 * ((v["a"] + v["b"]) / 2 - 10)}, [A, twin], {"X": ["x"]}, both)
    assert about.correlations[0][1] == pytest.approx(-9 / 10, abs=0.01)
    assert about.correlations[0][0] == pytest.approx(1.0)


def test_a_row_counts_once_however_many_parts_it_has_and_nothing_is_far_outside():
    assert fit_loss({"x": 2.0, "y1": 1.0, "y2": 3.0}, ROWS) == 4 + 5
    assert fit_loss({"x": math.nan, "y1": 0.0, "y2": 0.0}, ROWS) == 25


@pytest.mark.parametrize("factors", [3, 8, 20, 70, 71, 79, 90])
def test_columns_of_the_screening_design_are_balanced_and_orthogonal(factors: int):
    design = plackett_burman(factors)
    assert design.shape[1] == factors
    assert (design.T @ design == len(design) * np.eye(factors)).all()
    assert (design.sum(axis=0) == 0).all()


def test_effects_of_a_straight_world_are_its_slopes():
    design = plackett_burman(7)
    slopes = np.array([[3.0, 0.0], [0.0, -1.0], *[[0.0, 0.0]] * 5])
    assert effects(design, design @ slopes + 5.0) == pytest.approx(slopes)


def test_what_promises_most_is_what_mends_a_misfit_not_what_moves_most():
    loud, apt, twin = (Constant(name, 10.0, 2.0, 4.0, 16.0) for name in ("loud", "apt", "twin"))
    middle = {"fits": 0.0, "misses": 2.0}
    slopes = {
        "loud": {"fits": 5.0, "misses": 0.5},
        "apt": {"fits": 0.0, "misses": -1.0},
        "twin": {"fits": 0.1, "misses": -0.8},
    }
    rows = {"fits": ["fits"], "misses": ["misses"]}
    assert promising(middle, slopes, [loud, apt, twin], rows, 2) == ["apt", "twin"]
    stuck = Constant("apt", 4.0, 2.0, 4.0, 4.0)  # at its limits there is nothing to gain
    assert promising(middle, slopes, [loud, stuck, twin], rows, 1) == ["twin"]


def fake_play(constants):
    """Distance follows `walk`, completion `weight_error`; nothing else matters."""
    rows = [part for part in calibration.fitted_parts() if scale_of(part) is not None]
    walk, error = constants.get("walk", 1.4), constants.get("weight_error", 0.07)
    found = {}
    for part in rows:
        published, size = scale_of(part)
        push = (walk - 1.5) * 4 if part.measure == "distance_per_min" else 0.0
        push += (error - 0.06) * 40 if part.measure.startswith("completion") else 0.0
        found[part.part] = published + size * push
    return found


def test_the_screening_finds_the_constants_that_matter():
    constants = calibration.engine_constants()
    screened = screen(Evaluations(fake_play), constants)
    assert {one.name for one in screened[:2]} == {"walk", "weight_error"}
    assert screened[2].weight == pytest.approx(0.0, abs=1e-9)
    text = calibration.screening_csv(screened)
    assert text.splitlines()[0].startswith("constant,weight,")
    assert len(text.splitlines()) == len(constants) + 1


def test_the_screening_begins_with_what_would_mend_a_misfit():
    def play(constants):
        """Completion, which fits as it is, hangs on `weight_error` far more than the distances, which miss, on `walk`."""
        walk, error = constants.get("walk", 1.4), constants.get("weight_error", 0.07)
        found = {}
        for part in calibration.fitted_parts():
            if scale_of(part) is not None and part.part != "M07":  # what gives nothing counts as far outside
                published, size = scale_of(part)
                push = (walk - 2.0) * 2 if part.measure == "distance_per_min" else 0.0
                push += (error - 0.07) * 200 if part.measure.startswith("completion") else 0.0
                found[part.part] = published + size * push
        return found

    screened = screen(Evaluations(play), calibration.engine_constants())
    by_name = {one.name: one for one in screened}
    assert by_name["weight_error"].weight > by_name["walk"].weight
    assert screened[0].name == "walk"
    assert [one.weight for one in screened[calibration.MOST :]] == sorted(
        (one.weight for one in screened[calibration.MOST :]), reverse=True
    )


def test_a_calibration_refits_without_each_study_and_goes_on_from_a_checkpoint():
    constants = [one for one in calibration.engine_constants() if one.name in ("walk", "weight_error")]
    kept = []
    first = Evaluations(fake_play, kept.append)
    found = calibration.calibrate(first, constants, 30)
    assert found.fit.loss < found.fit.loss_default
    assert found.fit.values["walk"] > 1.4 and found.fit.values["weight_error"] < 0.07
    # Without the event data nothing speaks for another weight error: it stays at its default.
    assert found.left_out["M36 M37 M38 M39"].values["weight_error"] == pytest.approx(0.07, abs=0.002)
    assert set(json.loads(calibration.left_out_json(found))) == set(calibration.STUDIES)
    assert json.loads(calibration.as_json(found))["fit"]["loss"] == found.fit.loss

    def never(_constants):
        raise AssertionError("played again what the checkpoint holds")

    again = Evaluations(never)
    assert again.resume(kept[-1])
    assert calibration.calibrate(again, constants, 30) == found


def test_a_checkpoint_of_another_engine_is_not_taken_up(monkeypatch: pytest.MonkeyPatch):
    kept = []
    Evaluations(fake_play, kept.append).gaps({"walk": 1.4})
    monkeypatch.setattr(calibration, "digest", lambda: "another")
    fresh = Evaluations(fake_play)
    assert not fresh.resume(kept[-1]) and fresh.known == {}


def signed(change) -> str:
    """A checkpoint with something changed on purpose, and the checksum reckoned anew."""
    kept = []
    Evaluations(fake_play, kept.append).gaps({"walk": 1.4})
    data = json.loads(kept[-1])
    data.pop("check")
    change(data)
    return json.dumps(data | {"check": digest_of(data)})


@pytest.mark.parametrize(
    "text",
    [
        "", "{", "[]", "7", "{}", "[" * 100_000, '{"digest": "x"}',
        signed(lambda data: None).replace("1.4", "1.5"),
        signed(lambda data: data.pop("sessions")),
        signed(lambda data: data.update(evaluations=[1])),
        signed(lambda data: data.update(evaluations={"much": {}})),
        signed(lambda data: data.update(evaluations={'{"luck": 1.0}': {}})),
        signed(lambda data: data.update(evaluations={'{"walk": "fast"}': {}})),
        signed(lambda data: data.update(evaluations={'{"walk": 1.0}': {"M01": "good"}})),
        signed(lambda data: data.update(evaluations={'{"walk": 1.0}': {"M99": 1.0}})),
    ],
)  # fmt: skip
def test_a_checkpoint_is_not_believed_because_it_can_be_read(text: str):
    fresh = Evaluations(fake_play)
    with pytest.raises(
        InputError, match=r"--save: calibration.json must be as a calibration wrote it \(got one that is "
    ):
        fresh.resume(text)
    assert fresh.known == {}


def test_only_fitted_rows_with_a_number_are_in_the_loss():
    rows = loss_rows()
    assert set(rows) == {"M01", "M02", "M03", "M01/M03", "M04", "M05", "M06", "M07", "M08", "M09", "M36", "M37", "M39"}
    assert {mark_of(part) for part in calibration.fitted_parts()} == {"fitted"}
    assert set(loss_rows("M01 M02 M03".split())) == set(rows) - {"M01", "M02", "M03", "M01/M03"}
    studies = {number for study in calibration.STUDIES for number in study.split()}
    assert studies == {number for part in calibration.fitted_parts() for number in calibration.rows_of(part)}


def test_no_more_than_eight_constants():
    with pytest.raises(ValueError, match="at most 8"):
        calibration.calibrate(Evaluations(fake_play), calibration.engine_constants()[:9], 30)


SET_SINCE = ("lane_doubt", "move_cost", "keeper_reach")  # by hand, to bands and tracking, after that fit


def test_a_new_calibration_is_pulled_to_what_the_constants_were_before_the_first_fit():
    kept = json.loads((folder() / "results" / "fit.json").read_text())["fit"]["values"]
    defaults = {one.name: one.default for one in calibration.engine_constants()}
    assert set(BEFORE_FIT) == set(kept)
    for name, value in kept.items():
        assert defaults[name] == BEFORE_FIT[name]
        if name not in SET_SINCE:
            assert USUAL[name] == pytest.approx(value, rel=0.006)  # three digits of the kept fit


def test_running_of_professionals_in_four_a_side_is_seen_by_no_fit():
    # M14 stands far off the other figures of its kind: its rest and goals are from memory.
    assert "M14" in {one.id for one in measurements()}
    assert "M14" not in {number for part in calibration.fitted_parts() for number in rows_of(part)}
