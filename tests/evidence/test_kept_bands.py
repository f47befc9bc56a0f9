"""The kept tables of bands, tracking and the panel: fresh, explained, and printed on the page of the evidence as they are.

`python tests/evidence/test_kept_bands.py` writes the kept panel into that page.
"""

from __future__ import annotations

import json
from importlib import import_module
from pathlib import Path

import pytest

from cli.evidence_parts import known_misses
from sim.evidence import banded
from sim.evidence.keepball import panel
from sim.evidence.tables import folder
from sim.words.keepball import panel_in_words

pytestmark = pytest.mark.evidence
MAKERS = {"bands": "keepball.play", "tracking": "tracking.play", "panel": "keepball.panel"}
TABLES = ("bands", "tracking")
PAGE = folder() / "README.md"
BEGIN, END = "<!-- panel -->\n```text\n", "```\n"


@pytest.mark.parametrize("name", MAKERS)
def test_the_kept_tables_are_of_this_engine(name: str):
    meta = json.loads((folder() / "results" / f"{name}.json").read_text(encoding="utf-8"))
    now = import_module(f"sim.evidence.{MAKERS[name]}").digest()
    assert meta["digest"] == now, (
        f"play it again: overload evidence --part {name} --sessions full --save sim/evidence/results"
    )


@pytest.mark.parametrize("name", TABLES)
def test_every_row_outside_is_known_with_its_reason_and_no_hit_goes_unnoticed(name: str):
    kept, known = banded.kept(name), known_misses(name)
    assert kept is not None
    assert [miss.row for miss in known] == [line.row for line in kept.lines if not line.inside]
    assert [miss.row for miss in known if not (miss.reason and miss.date)] == []


def test_kept_tables_hold_every_row():
    from sim.evidence.keepball.cells import bands
    from sim.evidence.tracking.play import rows

    assert [line.row for line in banded.kept("bands").lines] == [band.id for band in bands()]
    assert [line.row for line in banded.kept("tracking").lines] == [row.id for row in rows()]
    assert len(panel.kept_rows()) == len(panel.squares())


def with_the_panel(page: str) -> str:
    """The page with the kept panel in its place."""
    before, _, rest = page.partition(BEGIN)
    _, _, after = rest.partition(END)
    return f"{before}{BEGIN}{panel_in_words(panel.kept_rows())}\n{END}{after}"


def test_the_page_prints_the_kept_panel():
    page = PAGE.read_text(encoding="utf-8")
    assert BEGIN in page and page == with_the_panel(page)


def test_tables_read_back_as_written(tmp_path: Path):
    lines = banded.kept("bands").lines
    (tmp_path / "bands.csv").write_text(banded.as_csv(lines), encoding="utf-8")
    assert banded.as_csv(banded.read_lines(tmp_path / "bands.csv")) == banded.as_csv(lines)


if __name__ == "__main__":
    PAGE.write_text(with_the_panel(PAGE.read_text(encoding="utf-8")), encoding="utf-8")
