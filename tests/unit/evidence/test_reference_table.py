"""The table as files, and what breaks the build: on lines made by hand."""

from __future__ import annotations

import math
from dataclasses import replace

from sim.evidence import reference_table, table
from sim.evidence.reference_table import Miss
from sim.evidence.table import Line, composed, count, rows_verdicts
from sim.experiments.cautions import LINE as CAUTION
from sim.words.evidence import evidence_in_words
from sim.words.evidence_rows import subject_of
from tests.support.evidence import disagreements, unexpected

NAN = math.nan
LINE = Line(
    "M01", "M01", "measurement", "predicted", "distance", "m/min", "87", "", 90.0, 1.0, 88.0, 92.0, 95, "percent 6",
    "inside", NAN, "", 40, "A study 2001", "",
)  # fmt: skip
WRONG = replace(LINE, row="M02", part="M02", ours=120.0, verdict="outside")
TOLD = replace(LINE, row="M03", part="M03", verdict="", wanted="reported")
TURN = replace(
    LINE, row="D01", part="D01", kind="direction", mark="***", ours=-0.2, low=-0.3, high=-0.1, wanted="down 0.1"
)
LINES = [LINE, WRONG, TOLD, TURN]


def test_a_table_reads_back_as_it_was_written(tmp_path):
    (tmp_path / "evidence.csv").write_text(reference_table.as_csv(LINES), encoding="utf-8")
    again = reference_table.read_lines(tmp_path / "evidence.csv")
    assert reference_table.as_csv(again) == reference_table.as_csv(LINES)
    assert again[0].ours == 90.0 and math.isnan(again[0].left_out) and again[0].sessions == 40


def test_new_misses_and_unnoticed_hits_break_the_build():
    miss = Miss("M02", "120", "88 to 92", "because", "today")
    assert unexpected(LINES, [miss]) == []
    assert unexpected(LINES, []) == ["M02 is outside and no known miss"]
    assert unexpected(LINES, [miss, replace(miss, row="M01")]) == ["M01 is a known miss and inside"]
    assert unexpected(LINES, [miss, replace(miss, row="M03")]) == ["M03 is a known miss and has no verdict"]


def test_misses_keep_their_reasons():
    (miss,) = reference_table.misses_of(LINES, [Miss("M02", "old", "", "because", "then")])
    assert miss == Miss("M02", "120", "88 to 92", "because", "then")
    assert reference_table.misses_of(LINES, [], "today")[0].reason == ""


def test_a_fresh_run_may_differ_by_four_joint_errors():
    near = replace(LINE, ours=90.0 + 4 * math.sqrt(2) - 0.01)
    far = replace(LINE, ours=90.0 + 4 * math.sqrt(2) + 0.01)
    assert disagreements([near], [LINE]) == []
    assert len(disagreements([far], [LINE])) == 1
    assert len(disagreements([replace(LINE, ours=NAN)], [LINE])) == 1
    assert disagreements([LINE, WRONG], [LINE]) == ["the reference table has other lines"]


def test_a_row_of_several_parts_is_outside_when_one_is_and_only_verdicts_count():
    lines = [LINE, replace(LINE, part="M01 b", verdict="outside"), TOLD, TURN]
    assert rows_verdicts(lines) == {"M01": "outside", "M03": "", "D01": "inside"}
    assert count(lines, "measurement", ("predicted",)) == table.Count(0, 1)
    assert count(lines, "direction", ("***", "**")) == table.Count(1, 1)
    assert count(lines, "direction", ("trade",)) == table.Count(0, 0)


def test_lines_made_of_others():
    known = {"a": (80.0, 1.0, 9, ""), "b": (100.0, 2.0, 9, ""), "c": (NAN, NAN, 0, "")}
    ratio, error = composed("ratio:a,b", known)
    assert ratio == 0.8 and math.isclose(error, 0.8 * math.hypot(1 / 80, 2 / 100))
    assert math.isclose(composed("range_over_mean:a,b", known)[0], 20 / 90)
    assert math.isnan(composed("ratio:a,c", known)[0]) and math.isnan(composed("order:a,b", known)[0])


def test_the_digest_hears_of_the_engine_and_not_of_reasons(tmp_path, monkeypatch):
    import shutil

    top = tmp_path / "sim"
    shutil.copytree(reference_table.folder().parent, top, ignore=shutil.ignore_patterns("__pycache__"))
    monkeypatch.setattr(reference_table, "folder", lambda: top / "evidence")
    first = reference_table.digest()
    (top / "evidence" / "known_misses.csv").write_text("row\n", encoding="utf-8")
    assert reference_table.digest() == first
    for name in ("pitch/assumptions/judged.py", "evidence/games/goals.toml", "evidence/plan.csv", "populations.py"):
        with (top / name).open("a", encoding="utf-8") as file:
            file.write("\n")
        assert reference_table.digest() != first
        first = reference_table.digest()


def test_the_words_begin_with_the_predicted_rows_and_end_with_the_caution():
    text = evidence_in_words(LINES, [Miss("M02", "120", "88 to 92", "because", "today")], "full")
    assert text.startswith("Predicted measurements inside: 1 of 2.\n")
    assert "-20 (-30 to -10) %" in text and "down 10 %" in text
    assert "Without a verdict" not in text
    silent = evidence_in_words([*LINES, replace(TURN, row="D02", part="D02", verdict="", ours=NAN)])
    assert "Without a verdict in this version, and not counted: D02.\n" in silent
    (miss,) = [line.split("  ") for line in text.partition("Known misses")[2].splitlines() if "because" in line]
    assert [cell.strip() for cell in miss if cell.strip()] == [
        f"{subject_of(WRONG)} (M02)",
        "120 (88 to 92)",
        "because; today",
    ]
    assert "M01, M02, M03, D01: A study 2001" in text
    assert text.endswith(CAUTION)
