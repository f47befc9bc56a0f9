"""The calibration on cheap made-up worlds whose optimum is known."""

from __future__ import annotations

import json
import math

import numpy as np
import pytest

from sim import __version__, provenance
from sim.errors import InputError
from sim.evidence import calibrate as calibration
from sim.evidence import playing, screening
from sim.evidence.evaluations import SEEDS, Evaluations, engine_constants
from sim.evidence.fitting import Constant, fit_loss, profile, promising, search
from sim.evidence.screening import screen
from sim.evidence.tables import folder
from sim.evidence.targets import BAND, MEASUREMENT, STUDIES, TRACKING, shares, targets
from sim.experiments.designs import effects, plackett_burman
from sim.experiments.digests import digest_of
from sim.pitch.assumptions import BEFORE_FIT, USUAL

A = Constant("a", 10.0, 2.0, 4.0, 16.0, 10.0)
B = Constant("b", 0.5, 0.1, 0.2, 0.8, 0.5)
IDLE = Constant("idle", 1.0, 0.5, 0.0, 2.0, 1.0)
SHARES = {"x": 1.0, "y1": 0.5, "y2": 0.5}


def world(values, _seed=0):
    """Gaps of a world whose data want z(a) = 1 and z(b) = -0.5, ten times as strongly as the defaults; `idle` does nothing."""
    za, zb = (values["a"] - 10) / 2, (values["b"] - 0.5) / 0.1
    return {"x": 10 * (za - 1), "y1": 10 * (zb + 0.5), "y2": 10 * (zb + 0.5)}


def test_the_search_finds_a_known_optimum_and_the_pull_shortens_it():
    # Along each constant the loss is 100 (z - m)^2 + z^2: optimum z = 100/101 m, loss m^2 100/101.
    fit = search(world, [A, B, IDLE], SHARES, 80, [0])
    assert fit.z == pytest.approx((100 / 101, -50 / 101, 0.0), abs=0.03)
    assert fit.values["a"] == pytest.approx(10 + 2 * 100 / 101, abs=0.06)
    assert fit.loss == pytest.approx(1.25 * 100 / 101, abs=0.1)
    assert fit.loss_before == pytest.approx(100 + 25)
    assert fit.evaluations <= 80


def test_luck_in_the_gaps_does_not_lead_the_search_astray():
    # Three times in ten as much luck in every gap as lies between its edge and the middle: a search by differences of two sets goes
    # where that luck is.  The standard error of a slope over a whole design of eight is about 0.15 here, of 10.
    lottery = np.random.default_rng(5)
    for _ in range(20):
        fit = search(
            lambda v, _seed: {k: gap + lottery.normal(0.0, 0.3) for k, gap in world(v).items()},
            [A, B, IDLE],
            SHARES,
            80,
            [0],
        )
        assert fit.z[:2] == pytest.approx((100 / 101, -50 / 101), abs=0.12)


def test_the_search_stays_inside_the_limits():
    tight = Constant("a", 10.0, 2.0, 9.0, 11.0, 10.0)
    tried = []

    def watched(values, _seed):
        tried.append(values["a"])
        return world(values)

    fit = search(watched, [tight, B], SHARES, 60, [0])
    assert 9.0 <= min(tried) and max(tried) <= 11.0
    assert fit.values["a"] == pytest.approx(11.0, abs=0.02)


def test_the_profile_says_what_is_not_identified():
    fit = search(world, [A, B, IDLE], SHARES, 80, [0])
    about = profile(world, [A, B, IDLE], SHARES, fit, 0)
    assert about.not_identified == ["idle"]
    assert about.spread_left["a"] == pytest.approx(1 / math.sqrt(101), rel=1e-6)
    assert about.spread_left["idle"] == pytest.approx(1.0)
    assert [z for z, _ in about.along["a"]] == pytest.approx([fit.z[0] - 0.5, fit.z[0], fit.z[0] + 0.5])
    assert min(about.along["a"], key=lambda point: point[1])[0] == fit.z[0]


def test_two_constants_that_do_the_same_are_correlated():
    twin = Constant("b", 10.0, 2.0, 4.0, 16.0, 10.0)
    both = search(lambda v, _seed: {"x": 3 * ((v["a"] + v["b"]) / 2 - 10)}, [A, twin], {"x": 1.0}, 40, [0])
    about = profile(lambda v, _seed: {"x": 3 * ((v["a"] + v["b"]) / 2 - 10)}, [A, twin], {"x": 1.0}, both, 0)
    assert about.correlations[0][1] == pytest.approx(-9 / 10, abs=0.01)
    assert about.correlations[0][0] == pytest.approx(1.0)


def test_a_row_counts_once_however_many_parts_it_has_and_nothing_is_far_outside():
    assert fit_loss({"x": 2.0, "y1": 1.0, "y2": 3.0}, SHARES) == pytest.approx(4 + 5)
    assert fit_loss({"x": math.nan, "y1": 0.0, "y2": 0.0}, SHARES) == 25


def test_sets_are_compared_on_all_seeds_and_designs_played_on_the_first():
    asked = []

    def flattering(values, seed):
        """The first seed flatters every step up of `a`; on the others they all cost."""
        asked.append(seed)
        return {"x": (values["a"] - 12.0) * (1.0 if seed == 1 else 0.0) + 2.0 * abs(values["a"] - 10.0) * (seed > 1)}

    fit = search(flattering, [A], {"x": 1.0}, 40, [1, 2, 3, 4])
    assert fit.values["a"] == pytest.approx(10.0, abs=0.7) and fit.loss_before == pytest.approx(1.0)
    assert asked.count(2) == asked.count(3) == asked.count(4) < asked.count(1) and fit.evaluations == len(asked) <= 40


def test_the_search_begins_at_the_value_in_force_and_is_pulled_to_the_default():
    tried = []

    def watched(values, _seed):
        tried.append(values["a"])
        return world(values)

    begun = Constant("a", 10.0, 2.0, 4.0, 16.0, 13.0)
    fit = search(watched, [begun, B], SHARES, 60, [0])
    assert tried[0] == 13.0 and fit.loss_before == pytest.approx(10 * 10 * 0.5**2 + 25 + 1.5**2)
    assert fit.z[0] == pytest.approx(100 / 101, abs=0.03)


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
    loud, apt, twin = (Constant(name, 10.0, 2.0, 4.0, 16.0, 10.0) for name in ("loud", "apt", "twin"))
    middle = {"fits": 0.0, "misses": 2.0}
    slopes = {
        "loud": {"fits": 5.0, "misses": 0.5},
        "apt": {"fits": 0.0, "misses": -1.0},
        "twin": {"fits": 0.1, "misses": -0.8},
    }
    rows = {"fits": 1.0, "misses": 1.0}
    assert promising(middle, slopes, [loud, apt, twin], rows, 2) == ["apt", "twin"]
    stuck = Constant("apt", 4.0, 2.0, 4.0, 4.0, 4.0)  # at its limits there is nothing to gain
    assert promising(middle, slopes, [loud, stuck, twin], rows, 1) == ["twin"]
    edge = Constant(
        "apt", 10.0, 2.0, 4.0, 16.0, 16.0
    )  # no room above the value in force, though there is above the default
    assert promising(middle, slopes, [loud, edge, twin], rows, 1) == ["twin"]
    idle = Constant("loud", 10.0, 2.0, 4.0, 16.0, 15.0)  # far from its default: going back is no reason to be chosen
    assert promising(middle, slopes | {"loud": {"fits": 0.0, "misses": 0.0}}, [idle, twin], rows, 1) == ["twin"]


def values_at(pushes):
    """Ours for every part whose gap is what `pushes(target)` says."""
    return {one.part: one.middle + one.half * pushes(one) for one in targets()}


def is_running(one) -> bool:
    return one.about[0] in ("M01", "M02", "M03", "M04", "M05", "M06")


def is_completion(one) -> bool:
    return one.about[0] in ("M36", "M37")


def fake_play(constants, _seed=3):
    """Running follows `walk`, completion `weight_error`, bands and tracking `press_slack`; nothing else matters."""
    walk, error, slack = (constants.get(name, USUAL[name]) for name in ("walk", "weight_error", "press_slack"))
    pushes = {MEASUREMENT: 0.0, BAND: (slack - USUAL["press_slack"]) / SLACK, TRACKING: 0.0}
    return values_at(
        lambda one: (walk - 2.2) * 4 * is_running(one) + (error - 0.06) * 40 * is_completion(one) + pushes[one.kind]
    )


SLACK = next(one.spread for one in engine_constants() if one.name == "press_slack")


def test_the_screening_finds_the_constants_that_matter(tmp_path):
    constants = engine_constants()
    screened = screen(Evaluations(fake_play), constants)
    by_weight = sorted(screened, key=lambda one: -one.weight)
    assert {one.name for one in by_weight[:3]} == {"walk", "weight_error", "press_slack"}
    assert by_weight[3].weight == pytest.approx(0.0, abs=1e-9)
    (slack,) = (one for one in screened if one.name == "press_slack")
    assert slack.effects["B01"] == pytest.approx(1.0) and slack.effects["P04"] == pytest.approx(0.0, abs=1e-9)
    (tmp_path / "screening.csv").write_text(screening.as_csv(screened), encoding="utf-8")
    again = screening.read(tmp_path / "screening.csv")
    assert [one.name for one in again] == [one.name for one in screened] and len(again) == len(constants)
    assert list(again[0].effects) == [one.part for one in targets()]


def test_some_constants_can_be_screened_alone():
    tried = []

    def watched(constants, seed):
        tried.append(set(constants))
        return fake_play(constants, seed)

    constants = [one for one in engine_constants() if one.name in ("walk", "press_slack", "weight_error", "run_cap")]
    screened = screen(Evaluations(watched), constants)
    assert {one.name for one in screened} == {one.name for one in constants} == tried[0]
    assert len(tried) == len(plackett_burman(4)) + len(SEEDS)


def test_an_effect_is_that_of_a_whole_spread_also_where_there_is_less_room():
    (reach,) = (one for one in engine_constants() if one.name == "tackle_reach")
    assert reach.z_now - reach.limits[0] < 0.5, "so close to its limit that it cannot go down by a spread"

    def play(constants, _seed):
        return values_at(lambda one: (constants["tackle_reach"] - reach.now) / reach.spread)

    (found,) = screen(Evaluations(play), [reach])
    assert found.effects["B01"] == pytest.approx(1.0)


def test_the_screening_begins_with_what_would_mend_a_misfit():
    def play(constants, _seed):
        """Completion, which fits as it is, hangs on `weight_error` far more than the distances, which miss, on `walk`."""
        walk, error = constants.get("walk", 1.95), constants.get("weight_error", 0.07)
        found = values_at(lambda one: (walk - 3.0) * 2 * is_running(one) + (error - 0.07) * 200 * is_completion(one))
        del found["M07"]  # what gives nothing counts as far outside
        return found

    screened = screen(Evaluations(play), engine_constants())
    by_name = {one.name: one for one in screened}
    assert by_name["weight_error"].weight > by_name["walk"].weight
    assert screened[0].name == "walk"
    assert [one.weight for one in screened[screening.MOST :]] == sorted(
        (one.weight for one in screened[screening.MOST :]), reverse=True
    )


def test_a_calibration_refits_without_each_study_and_goes_on_from_a_checkpoint():
    constants = [one for one in engine_constants() if one.name in ("walk", "weight_error", "press_slack")]
    kept = []
    first = Evaluations(fake_play, kept.append)
    screened = screen(first, constants)
    found = calibration.calibrate(first, constants, 64, 3, screened)
    assert found.fit.loss < found.fit.loss_before
    assert found.fit.values["walk"] > USUAL["walk"] and found.fit.values["weight_error"] < 0.07
    # Without the event data nothing speaks for another weight error: it stays at its default.
    assert found.left_out["M36 M37 M38 M39"].fit.values["weight_error"] == pytest.approx(0.07, abs=0.002)
    assert set(found.left_out) == set(STUDIES)
    assert set(found.left_out[BAND].gaps) == {f"B{number:02d}" for number in range(1, 29)}
    # The table shows each published study as the fit without it has it; bands and tracking are no measurements.
    assert set(json.loads(calibration.left_out_json(found))) == set(STUDIES) - {BAND, TRACKING}
    written = json.loads(calibration.as_json(found))
    assert (written["version"], written["engine"]) == (__version__, provenance.engine())
    assert written["fit"]["loss"] == found.fit.loss
    assert written["weights"] == {"measurement": 1.0, "band": 1.0, "tracking": 1.0}
    assert written["rows"] == {"measurement": 13, "band": 28, "tracking": 10}
    (walk,) = (one for one in found.chosen if one.name == "walk")
    assert (walk.meaning, walk.before) == ("least speed of an ordinary off-ball move", USUAL["walk"])
    assert {name[:2] for name in walk.moves} == {"M0"}

    def never(_constants, _seed):
        raise AssertionError("played again what the checkpoint holds")

    again = Evaluations(never)
    assert again.resume(kept[-1])
    assert calibration.calibrate(again, constants, 64, 3, screened) == found


def test_the_fit_is_held_to_seeds_that_it_has_not_seen():
    constants = [one for one in engine_constants() if one.name == "walk"]
    seeds = []

    def watched(values, seed):
        seeds.append(seed)
        return fake_play(values)

    found = calibration.calibrate(Evaluations(watched), constants, 20, 4, studies=())
    assert found.luck.seeds == (1001, 1002, 1003, 1004)
    assert set(seeds) == {*SEEDS, *found.luck.seeds} and seeds.count(1001) == 2
    assert found.luck.difference[0] == pytest.approx(
        fit_loss(found.gaps, shares()) - fit_loss(found.gaps_before, shares())
    )


def test_a_checkpoint_of_another_engine_or_size_is_not_taken_up(monkeypatch: pytest.MonkeyPatch):
    kept = []
    Evaluations(fake_play, kept.append).gaps({"walk": 1.4})
    with monkeypatch.context() as patched:
        patched.setattr(playing, "digest", lambda: "another")
        fresh = Evaluations(fake_play)
        assert not fresh.resume(kept[-1]) and fresh.known == {}
    with monkeypatch.context() as patched:
        patched.setattr(playing, "SIZE", playing.Size(1, 1, 1, 1, 1))
        fresh = Evaluations(fake_play)
        assert not fresh.resume(kept[-1]) and fresh.known == {}
    assert Evaluations(fake_play).resume(kept[-1])


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
        signed(lambda data: data.pop("size")),
        signed(lambda data: data.update(evaluations=[1])),
        signed(lambda data: data.update(evaluations={"much": {}})),
        signed(lambda data: data.update(evaluations={'[3, {"luck": 1.0}]': {}})),
        signed(lambda data: data.update(evaluations={'[3, {"walk": "fast"}]': {}})),
        signed(lambda data: data.update(evaluations={'[3, {"walk": 1.0}]': {"M01": "good"}})),
        signed(lambda data: data.update(evaluations={'[3, {"walk": 1.0}]': {"M99": 1.0}})),
        signed(lambda data: data.update(evaluations={'["3", {"walk": 1.0}]': {"M01": 1.0}})),
        signed(lambda data: data.update(evaluations={'{"walk": 1.0}': {"M01": 1.0}})),
    ],
)  # fmt: skip
def test_a_checkpoint_is_not_believed_because_it_can_be_read(text: str):
    fresh = Evaluations(fake_play)
    with pytest.raises(
        InputError, match=r"--save: calibration.json must be as a calibration wrote it \(got one that is "
    ):
        fresh.resume(text)
    assert fresh.known == {}


def test_no_more_than_ten_constants():
    with pytest.raises(ValueError, match="at most 10"):
        calibration.calibrate(Evaluations(fake_play), engine_constants()[:11], 30, 3)


def test_a_calibration_is_pulled_to_what_the_constants_were_before_they_were_first_fitted():
    defaults = {one.name: one.default for one in engine_constants()}
    assert {name: defaults[name] for name in BEFORE_FIT} == BEFORE_FIT
    assert {name for name, value in defaults.items() if value != USUAL[name]} <= set(BEFORE_FIT)


def test_the_constants_are_those_that_the_kept_calibration_leaves_in_force():
    kept = json.loads((folder() / "results" / "fit.json").read_text(encoding="utf-8"))
    for one in kept["chosen"]:
        in_force = kept["fit"]["values"][one["name"]] if kept["verdict"]["taken"] else one["before"]
        assert USUAL[one["name"]] == pytest.approx(in_force, rel=0.006), one["name"]  # three digits
