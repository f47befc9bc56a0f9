"""Refusals are one line each: where, what would be right, what was there; of many names the nearest are offered."""

from __future__ import annotations

import re
from itertools import pairwise
from pathlib import Path

import pytest

from sim.errors import InputError
from sim.game.loader import load_game
from sim.game.messages import unknown, written_path

INVALID = sorted((Path(__file__).resolve().parents[2] / "cases" / "invalid").glob("*.toml"))
ONE_LINE = re.compile(r"\S+( \S+)? (must|is not a key here) ?.*\((got|did you mean|there can be).*\)")
UNSAID = (
    "to the other option",
    "near:",
    "there is:",
    "by bibs (",
    " is passes",
    " is transfer",
    "assigns",
    "not a known key",
)


def problems(file: Path) -> tuple[str, ...]:
    with pytest.raises(InputError) as caught:
        load_game(file)
    return caught.value.problems


@pytest.mark.parametrize("file", INVALID, ids=lambda file: file.stem)
def test_a_refusal_is_one_line_that_says_where_what_and_what_was_there(file):
    for problem in problems(file):
        assert ONE_LINE.fullmatch(problem), problem
        assert not [words for words in UNSAID if words in problem], problem


@pytest.mark.parametrize("file", INVALID, ids=lambda file: file.stem)
def test_no_part_of_a_path_is_said_twice(file):
    for problem in problems(file):
        path = re.match(r"\S+", problem)[0].split(".")
        assert all(one != other for one, other in pairwise(path)), problem


def test_a_verb_is_said_once_and_a_name_like_its_table_is_kept():
    assert (
        written_path(("phases", "keep", "rules", "lost", "do", 0, "swap", "swap")) == "phases.keep.rules.lost.do.swap"
    )
    assert (
        written_path(("phases", "keep", "rules", "lost", "do", 0, "swap", "with"))
        == "phases.keep.rules.lost.do.swap.with"
    )
    assert written_path(("areas", "areas", "length")) == "areas.areas.length"


def test_of_few_names_all_are_offered():
    assert str(unknown("p", "an area", "nort", ["west", "east"])) == 'p must be an area: west or east (got "nort")'
    assert str(unknown("p", "a goal", "far", [])) == 'p must be a goal, and there is none (got "far")'


def test_of_many_names_the_nearest_three_are_offered():
    names = [f"square-{i}" for i in range(9)] + ["pitch", "field"]
    (near,) = re.findall(r"did you mean (.*)\?\)", str(unknown("p", "an area", "squar-1", names)))
    offered = re.split(r", | or ", near)
    assert offered[0] == "square-1" and len(offered) == 3 and set(offered) <= set(names)
    assert str(unknown("p", "an area", "zzz", names)).endswith("; there is: " + ", ".join(names) + ")")


def test_capitals_and_the_beginning_of_a_name_are_near_enough():
    names = [f"square-{i}" for i in range(9)]
    assert "did you mean square-3" in str(unknown("p", "an area", "SQUARE-3", names))
    assert "did you mean far-end-of-the-pitch?" in str(unknown("p", "an area", "far", [*names, "far-end-of-the-pitch"]))
