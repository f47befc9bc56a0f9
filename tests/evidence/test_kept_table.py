"""The evidence table kept with the program: fresh, explained, and what a smaller run gives again.

Sources stand in the table's own rows.  The smaller size plays a sixth of the sessions (at least six an arm), fixed before the
first run; a number may lie four joint standard errors from the kept one.  About three minutes on two cores.
"""

from __future__ import annotations

import pytest

from sim.evidence import reference_table, table
from tests.support.evidence import disagreements, unexpected

pytestmark = pytest.mark.evidence


def test_the_kept_table_is_of_these_constants_and_this_engine():
    _, meta = reference_table.shipped_table()
    assert meta["size"] == "full"
    assert meta["digest"] == reference_table.digest(), (
        "play it again: overload evidence --sessions full --save sim/evidence/results"
    )


def test_every_miss_is_known_with_its_reason_and_no_hit_goes_unnoticed():
    lines, _ = reference_table.shipped_table()
    known = reference_table.known_misses()
    assert unexpected(lines, known) == []
    assert [miss.row for miss in known if not (miss.reason and miss.date)] == []
    said = {miss.row: (miss.value, miss.interval) for miss in reference_table.misses_of(lines, known)}
    assert {miss.row: (miss.value, miss.interval) for miss in known} == said


@pytest.mark.slow
def test_a_smaller_run_agrees_with_the_kept_table():
    lines, _ = reference_table.shipped_table()
    fresh = table.compare("small", workers=None, left_out=reference_table.left_out_fits())
    assert disagreements(fresh, lines) == []
