"""Rows of the evidence say what they are before their code, fit a screen, and keep every figure."""

from __future__ import annotations

import re

import pytest

from sim.evidence import reference_table, tables
from sim.words.evidence import evidence_in_words, evidence_screen
from sim.words.evidence_rows import MEASURES, PEOPLE, QUANTITIES, subject_and_code, subject_of


def line_of(part: str):
    return next(line for line in reference_table.shipped_table()[0] if line.part == part)


@pytest.mark.parametrize(
    ("part", "said"),
    [
        ("M05", "metres a minute, youth, 4 v 4 no goalkeepers, 150 m2 a player (M05)"),
        ("M09 2v2", "longest run above 18 km/h, youth, 2 v 2 (M09 2v2)"),
        ("M01/M03", "metres a minute, youth, M01 over M03 (M01/M03)"),
        ("M04-M06", "metres a minute, youth, M04 to M06 together (M04-M06)"),
        ("K02", "Smaller square: more losses a minute: losses a minute (K02)"),
    ],
)
def test_what_a_row_is_about_stands_before_its_code(part: str, said: str):
    assert subject_and_code(line_of(part)) == said


def test_everything_that_is_measured_has_plain_words():
    measured = tables.measurements()
    assert {one.quantity for one in measured} == set(QUANTITIES)
    assert {one.population for one in measured} == set(PEOPLE)
    assert {one for row in tables.directions() for one in row.measure.split(">")} == set(MEASURES)


def test_no_two_rows_of_measurements_say_the_same():
    said = [subject_of(line) for line in reference_table.shipped_table()[0] if line.kind == "measurement"]
    assert len(set(said)) == len(said)


def figures(text: str) -> list[str]:
    return re.findall(r"-?\d+(?:\.\d+)?(?: \(-?[\d.]+ to -?[\d.]+\))?", text)


@pytest.mark.parametrize("width", [60, 80, 120])
def test_a_terminal_gets_all_of_it_within_its_width(width: int):
    lines, misses = reference_table.shipped_table()[0], reference_table.known_misses()
    whole, narrow = evidence_in_words(lines, misses, "full"), evidence_in_words(lines, misses, "full", width)
    assert max(map(len, narrow.splitlines())) <= width
    flat = " ".join(narrow.split())
    for line in lines:
        assert " ".join(subject_and_code(line).split()) in flat
        assert line.verdict in flat
    assert len(figures(flat)) >= len(figures(whole)) > 1000


def test_the_screen_names_no_figure_that_is_made_of_others():
    text = evidence_screen(reference_table.shipped_table()[0], "kept").text()
    assert text.count("Furthest off: ") == 1
    assert " together" not in text and " over M" not in text


def test_an_evidence_without_misses_says_nothing_is_off():
    lines = [line for line in reference_table.shipped_table()[0] if line.verdict != "outside"]
    screen = evidence_screen(lines, "small")
    assert screen.beside == [] and screen.doing[-1] == "  overload evidence --sessions small --details"
    assert subject_of(lines[0]) not in screen.text()
