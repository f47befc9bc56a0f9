"""The six presets: complete, inside the legal ranges, and where the sources say."""

from __future__ import annotations

from dataclasses import fields

import pytest

from sim.errors import InputError
from sim.parameters import PROVENANCES
from sim.players import Profile, sprint_limit
from sim.populations import KEY_ABILITIES, KINDS, POPULATIONS, population

ALL = [(name, trait) for name, preset in POPULATIONS.items() for trait in preset.traits.values()]
IDS = [f"{name}-{trait.kind.name}" for name, trait in ALL]


def mean(name: str, trait: str) -> float:
    return POPULATIONS[name].traits[trait].mean


def test_six_presets_with_every_field_of_a_profile():
    assert tuple(POPULATIONS) == ("elite men", "amateur men", "U17 boys", "women", "U12", "mixed adults")
    wanted = {field.name for field in fields(Profile)} - {"drive"}
    assert {kind.name for kind in KINDS} == wanted
    for preset in POPULATIONS.values():
        assert set(preset.traits) == wanted
    assert set(KEY_ABILITIES.values()) <= wanted


@pytest.mark.parametrize(("name", "trait"), ALL, ids=IDS)
def test_every_number_is_legal_and_has_a_provenance(name, trait):
    assert trait.kind.unit
    assert trait.kind.low < trait.mean < trait.kind.high
    assert trait.spread > 0
    assert trait.ignorance > 0 or (trait.kind.name == "duel" and trait.ignorance == 0)
    assert {trait.mean_from, trait.spread_from, trait.ignorance_from} <= set(PROVENANCES)
    assert trait.kind.shape in ("normal", "lognormal", "misses")
    # Two thirds of players must be legal without drawing again, or the stated mean would not be theirs.
    assert trait.kind.low < trait.mean - trait.spread and trait.mean + trait.spread < trait.kind.high


def test_legal_ranges_of_what_a_coach_can_write():
    # Definition of the three headline values in the design: 0.50-0.995, from 2.0 m/s, 20-180 s.
    legal = {kind.name: (kind.low, kind.high) for kind in KINDS}
    assert legal["pass_success"] == (0.50, 0.999)
    assert legal["recovery_s"] == (20.0, 180.0)
    assert legal["pressing_speed_mps"][0] == 2.0


@pytest.mark.parametrize(
    ("name", "ranges"),
    [
        # From memory (medium): elite and sub-elite men, academy U17-U19; sprint constants and braking.
        ("elite men", {"vmax_mps": (8.9, 9.5), "tau_s": (1.10, 1.25), "brake_mps2": (4.0, 4.8)}),
        ("amateur men", {"vmax_mps": (8.4, 8.9), "tau_s": (1.15, 1.30), "brake_mps2": (4.0, 4.8)}),
        ("U17 boys", {"vmax_mps": (8.2, 8.9), "tau_s": (1.10, 1.25)}),
        # Vescovi 2012, J Sci Med Sport 15:474-478: peak speed of 140 women 27.3 +/- 1.4 km/h.
        ("women", {"vmax_mps": (25.9 / 3.6, 28.7 / 3.6), "tau_s": (1.00, 1.20)}),
        # From memory (medium to low): critical speed in a straight line and D'.
        ("elite men", {"critical_speed_mps": (3.9, 4.4), "reserve_m": (150, 250)}),
        ("women", {"critical_speed_mps": (3.4, 3.9), "reserve_m": (120, 200)}),
        ("U17 boys", {"critical_speed_mps": (3.5, 4.1), "reserve_m": (120, 200)}),
        # Kirby et al. 2019, Med Sci Sports Exerc 51:308: 3.22 m/s in shuttles, 17 % low.
        ("amateur men", {"critical_speed_mps": (0.97 * 3.22 / 0.83, 1.03 * 3.22 / 0.83)}),
    ],
)
def test_means_lie_where_the_sources_say(name, ranges):
    for trait, (low, high) in ranges.items():
        assert low <= mean(name, trait) <= high, trait


def test_recovery_is_the_half_time_of_the_published_curve():
    # Chorley et al. 2022, Eur J Appl Physiol 122: .5067 (1 - e^(-t/21.5)) + .4933 (1 - e^(-t/388)) is one half at 45 s.
    from math import exp

    assert 0.5067 * (1 - exp(-45 / 21.5)) + 0.4933 * (1 - exp(-45 / 388)) == pytest.approx(0.5, abs=0.01)
    assert {mean(name, "recovery_s") for name in POPULATIONS} == {45.0}


def test_typical_pass_success_lies_in_its_words():
    for preset in POPULATIONS.values():
        low, high = (float(word) for word in preset.pass_success_words.split("-"))
        trait = preset.traits["pass_success"]
        assert low < trait.mean < high
        assert high <= trait.kind.high


def test_populations_stand_in_the_order_everybody_expects():
    # Common practice, no source.
    better = [("elite men", "amateur men"), ("elite men", "women"), ("amateur men", "U12"), ("women", "mixed adults")]
    for one, other in better:
        assert mean(one, "pass_success") > mean(other, "pass_success")
        assert mean(one, "first_touch") < mean(other, "first_touch")
        assert mean(one, "composure") > mean(other, "composure")
        assert mean(one, "pressing_speed_mps") > mean(other, "pressing_speed_mps")


def test_nobody_typically_presses_faster_than_they_can_sprint():
    for name in POPULATIONS:
        limit = sprint_limit(mean(name, "vmax_mps"), mean(name, "tau_s"))
        assert 0.75 * limit < mean(name, "pressing_speed_mps") < 0.95 * limit


def test_who_is_a_minor_and_who_was_never_measured():
    assert {name for name, preset in POPULATIONS.items() if preset.minors} == {"U17 boys", "U12"}
    assert {name for name, preset in POPULATIONS.items() if not preset.measured} == {"U12", "mixed adults"}


def test_an_unknown_population_is_refused():
    assert population("women") is POPULATIONS["women"]
    with pytest.raises(InputError) as caught:
        population("giants")
    assert caught.value.problems == (
        "population must be one of elite men, amateur men, U17 boys, women, U12, mixed adults (got 'giants')",
    )
