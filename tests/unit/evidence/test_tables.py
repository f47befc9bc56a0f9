"""The evidence tables: marks that cannot move, every row playable, nothing named that is not there."""

from __future__ import annotations

import hashlib

import pytest

from sim.evidence import tables
from sim.game.loader import load_game

# Marks were given before the first run and never change; whoever needs another list has to change this line and say why.
MARKS = "c73dd08c4965f9ac7a22fb99545b2ce81cac7d2891a82f3b374dd6ea05ff1932"
# Instructions a role can be given; until the engine knows them, rows that use them are not played.


def test_the_list_of_marks_never_changes():
    text = "\n".join(f"{one.id} {one.mark} {one.value} {one.source}" for one in tables.measurements())
    assert hashlib.sha256(text.encode()).hexdigest() == MARKS


def test_at_least_a_third_is_predicted_and_marks_are_known():
    marks = [one.mark for one in tables.measurements()]
    assert set(marks) == set(tables.MARKS)
    assert 3 * marks.count("predicted") >= len(marks)


def study(source: str) -> str:
    """First authors and year: Hill-Haas is written in two ways."""
    return source.replace(", Dawson, Coutts & Rowsell", "").replace(" et al.", "")[:14]


@pytest.mark.parametrize("name", sorted({study(one.source) for one in tables.measurements() if one.mark == "fitted"}))
def test_a_fitted_study_is_fitted_as_a_whole(name: str):
    # The open event data is one source of two studies: ball speeds went into the launch law (input), the rest is fitted.
    marks = {(one.mark, one.id) for one in tables.measurements() if study(one.source) == name}
    assert {mark for mark, number in marks if number != "M35"} == {"fitted"}


def test_every_measurement_has_a_plan():
    planned = {number for part in tables.parts() for number in tables.rows_of(part)}
    assert planned == {one.id for one in tables.measurements()}


def test_names_are_given_once_and_rules_are_known():
    names = [part.part for part in tables.parts()] + [one.row for one in tables.directions()]
    assert len(names) == len(set(names))
    assert {part.rule for part in tables.parts()} <= set(tables.RULES)
    assert {one.sign for one in tables.directions()} <= set(tables.SIGNS)
    assert {one.strength for one in tables.directions()} <= set(tables.STRENGTHS)
    assert {part.rule_from for part in tables.parts()} <= {"issue", "house"}
    assert {tables.mark_of(part) for part in tables.parts()} == set(tables.MARKS)


def test_parts_that_point_to_others_point_to_something():
    names = {part.part for part in tables.parts()} | {one.row for one in tables.directions()}
    for part in tables.parts():
        kind, colon, rest = part.measure.partition(":")
        if kind in ("ratio", "order", "range_over_mean"):
            assert set(rest.split(",")) <= names, part.part
        elif kind == "direction":
            assert set(rest.split("+")) <= names, part.part
        else:
            assert bool(part.game) == (part.rule != "not played"), part.part


def conditions():
    for part in tables.parts():
        if part.game:
            yield part.part, part.game, part.changes, part.population
    for row in tables.directions():
        yield f"{row.row} A", row.game_a, row.changes_a, row.population
        yield f"{row.row} B", row.game_b, row.changes_b, row.population


@pytest.mark.parametrize(("name", "game", "changes", "population"), list(conditions()), ids=lambda one: str(one)[:30])
def test_every_game_can_be_loaded(name: str, game: str, changes: tuple[str, ...], population: str):
    changes = tuple(change for change in changes if "=" in change)
    file = tables.folder() / "games" / f"{game}.toml"
    assert load_game(file, changes, population).players
