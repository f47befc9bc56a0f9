"""The evidence table kept with the program: fresh, explained, and what a smaller run gives again.

Sources stand in the table's own rows.  The smaller size plays a sixth of the sessions (at least six an arm), fixed before the
first run; a number may lie four joint standard errors from the kept one.  Here a sample of the lines is played, eight sessions of
each condition, chosen before it was first looked at: every evidence game is in it, and lines that hang on different things
(metres and bands of speed, the heart, passes and their speed, tackles, losses, touches, support, roles that change).
`python -m tests.evidence.test_kept_table` plays all lines in the smaller size, for about three minutes on two cores.
"""

from __future__ import annotations

import sys

import pytest

from sim.evidence import reference_table, table, tables
from tests.support.evidence import disagreements, unexpected

pytestmark = pytest.mark.evidence
PARTS = ("M04", "M07", "M09 2v2", "M12 14.5-19.9", "M20", "M29 2v2", "M35 10-15 50%", "M36 5-10", "M38 q50")
ROWS = ("D02", "D07", "D10", "D35", "K10", "K31", "K40", "K50", "T04", "T07", "T12")
SESSIONS = 8  # of each condition of the sample


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


def sampled():
    """The parts and directions of the sample."""
    parts = tuple(part for part in tables.parts() if part.part in PARTS)
    return parts, tuple(row for row in tables.directions() if row.row in ROWS)


def test_the_sample_has_every_evidence_game():
    parts, rows = sampled()
    assert (len(parts), len(rows)) == (len(PARTS), len(ROWS))
    played = {part.game for part in parts} | {game for row in rows for game in (row.game_a, row.game_b)}
    files = {file.stem for file in (tables.folder() / "games").glob("*.toml")}
    assert played == files - {"small-goals"}  # of the bands of keep-ball


@pytest.mark.slow
def test_a_sample_played_again_agrees_with_the_kept_table(monkeypatch: pytest.MonkeyPatch):
    lines, _ = reference_table.shipped_table()
    parts, rows = sampled()
    monkeypatch.setattr(tables, "parts", lambda: parts)
    monkeypatch.setattr(tables, "directions", lambda: rows)
    monkeypatch.setattr(table, "sessions_of", lambda full, size: SESSIONS)
    fresh = table.compare("small", workers=1)
    kept = [line for line in lines if line.part in (*PARTS, *ROWS)]
    assert disagreements(fresh, kept) == []


if __name__ == "__main__":
    whole = table.compare("small", left_out=reference_table.left_out_fits())
    found = disagreements(whole, reference_table.shipped_table()[0])
    sys.exit("\n".join(found) or 0)
