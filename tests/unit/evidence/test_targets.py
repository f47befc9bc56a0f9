"""What a calibration sees: which rows, how far off they are, and what each counts."""

from __future__ import annotations

import math
from collections import Counter

import pytest

from sim.evidence.keepball.cells import bands
from sim.evidence.tables import mark_of, measurements, parts
from sim.evidence.targets import (
    BAND,
    MEASUREMENT,
    STUDIES,
    TRACKING,
    WEIGHTS,
    gaps_of,
    rows_by_kind,
    shares,
    targets,
)
from sim.evidence.tracking.play import rows

BY_PART = {one.part: one for one in targets()}
MEASURED = {"M01", "M02", "M03", "M01/M03", "M04", "M05", "M06", "M07", "M08", "M09", "M36", "M37", "M39"}


def test_only_fitted_rows_with_a_number_are_seen():
    assert {one.row for one in targets() if one.kind == MEASUREMENT} == MEASURED
    assert [one.part for one in targets() if one.kind == BAND] == [band.id for band in bands()]
    tracked = [one.part for one in targets() if one.kind == TRACKING]
    assert tracked == ["P04", "P09", "P10", "P12", "P17", "P18", "P19", "P20", "P21", "P22"]
    assert {row.role for row in rows() if row.id in tracked} == {"fitted"}
    marks = {part.part: mark_of(part) for part in parts()}
    assert {marks[one.part] for one in targets() if one.kind == MEASUREMENT} == {"fitted"}
    assert len(BY_PART) == len(targets()), "every part has a name of its own"


def test_running_of_professionals_in_four_a_side_is_seen_by_no_fit():
    # M14 stands far off the other figures of its kind: its rest and goals are from memory.
    assert "M14" in {one.id for one in measurements()}
    assert not any("M14" in one.about for one in targets())


@pytest.mark.parametrize(
    ("part", "inside", "edge", "beyond"),
    [
        ("M01", 87.0, 87 * 1.06, 87 * 1.12),
        ("M07", 0.46, 0.38, 0.30),
        ("B01", 11.0, 14.0, 17.0),
        ("P18", 7.75, 9.0, 10.25),
    ],
)
def test_a_gap_is_one_at_the_edge_of_inside(part: str, inside: float, edge: float, beyond: float):
    gaps = [BY_PART[part].gap(ours) for ours in (inside, edge, beyond)]
    assert [abs(gap) for gap in gaps] == pytest.approx([0.0, 1.0, 2.0], abs=1e-9)
    assert math.isnan(BY_PART[part].gap(None)) and math.isnan(gaps_of({})[part])


def test_a_row_counts_by_its_weight_however_many_parts_it_has():
    counted = shares()
    assert WEIGHTS == {MEASUREMENT: 1.0, BAND: 1.0, TRACKING: 1.0}
    assert rows_by_kind() == {MEASUREMENT: 13, BAND: 28, TRACKING: 10}
    assert sum(counted.values()) == pytest.approx(13 + 28 + 10)
    assert counted["M09 2v2"] == pytest.approx(1 / 3) and counted["B01"] == counted["P04"] == 1.0


def test_every_study_can_be_left_out_and_together_they_are_all():
    seen = Counter(part for study in STUDIES for part in shares(only=study))
    assert set(seen) == set(BY_PART) and set(seen.values()) == {1}
    for study in STUDIES:
        assert set(shares(without=study)) == set(BY_PART) - set(shares(only=study))
    assert set(shares(without="M01 M02 M03")) == set(BY_PART) - {"M01", "M02", "M03", "M01/M03"}
    assert set(shares(only=BAND)) == {band.id for band in bands()}
