"""Game files that load, and game files that break exactly the rules they say they break.

An invalid file opens with its expected messages (``# expect:``) and, for each, the one key to change
(``# repair: KEY=VALUE`` or ``# repair: remove KEY``).
"""

from __future__ import annotations

import tomllib
from pathlib import Path

import pytest

from sim.errors import InputError
from sim.game.changes import value_of
from sim.game.loader import load_game, resolve, to_resolved, to_short

CASES = Path(__file__).resolve().parents[2] / "cases"
VALID = sorted((CASES / "valid").glob("*.toml"))
INVALID = sorted((CASES / "invalid").glob("*.toml"))


def noted(file: Path, word: str) -> list[str]:
    head = f"# {word}: "
    return [line.removeprefix(head) for line in file.read_text(encoding="utf-8").splitlines() if line.startswith(head)]


def repaired(data: dict, repair: str) -> None:
    """Set or remove one key; an item of a list goes by its verb (its first key here)."""
    removing = repair.startswith("remove ")
    key, _, value = repair.removeprefix("remove ").partition("=")
    *way, last = key.split(".")
    here = data
    for part in way:
        if isinstance(here, list):
            here = next(item for item in here if part in item)
        else:
            here = here.setdefault(part, {})
    if removing:
        del here[last]
    else:
        here[last] = value_of(value, repair)


def test_there_are_enough_rules_broken():
    assert len(INVALID) >= 25
    first = {noted(file, "expect")[0] for file in INVALID if not file.name.startswith("two-")}
    tables = {message.split(".")[0].split()[0] for message in first}
    assert {"areas", "teams", "phases", "restarts", "bouts", "units", "roles", "goals", "start", "win"} <= tables


@pytest.mark.parametrize("file", INVALID, ids=lambda file: file.stem)
def test_an_invalid_file_is_refused_with_its_messages(file):
    with pytest.raises(InputError) as caught:
        load_game(file)
    assert list(caught.value.problems) == noted(file, "expect")
    assert str(caught.value).startswith(f"{file}: ")


@pytest.mark.parametrize("file", INVALID, ids=lambda file: file.stem)
def test_repairing_the_one_key_makes_it_pass(file):
    expected, repairs = noted(file, "expect"), noted(file, "repair")
    assert len(expected) == len(repairs)
    data = tomllib.loads(file.read_text(encoding="utf-8"))
    for repair in repairs:
        repaired(data, repair)
    assert resolve(data, file.name).format == 1


@pytest.mark.parametrize("file", [file for file in INVALID if len(noted(file, "expect")) == 2], ids=lambda f: f.stem)
def test_repairing_one_of_two_leaves_the_other(file):
    expected, repairs = noted(file, "expect"), noted(file, "repair")
    for repair, left in zip(repairs, reversed(expected), strict=True):
        data = tomllib.loads(file.read_text(encoding="utf-8"))
        repaired(data, repair)
        with pytest.raises(InputError) as caught:
            resolve(data, "file")
        assert list(caught.value.problems) == [left]


@pytest.mark.parametrize("file", VALID, ids=lambda file: file.stem)
def test_a_valid_file_loads_and_comes_back_equal_in_both_forms(file):
    game = load_game(file)
    assert resolve(to_short(game), "short") == game
    assert load_game(to_resolved(game)) == game


def test_the_resolved_file_is_the_same_game_as_the_short_one():
    assert load_game(CASES / "valid" / "smallest-resolved.toml") == load_game(CASES / "valid" / "smallest.toml")
