"""The schema for editors: it knows every key, says what it means, and gives the legal ranges that loading enforces."""

from __future__ import annotations

import json

import pytest

from sim.errors import InputError
from sim.game.loader import load_game, save_short
from sim.game.schema import FILE, FIRST_LINE, as_text, json_schema
from sim.game.shipped import shipped_games
from sim.populations import POPULATIONS


def test_every_key_is_described_and_no_other_is_allowed():
    schema = json_schema()
    tables = [schema, *schema["$defs"].values()]
    assert len(tables) > 20
    for table in tables:
        assert table["additionalProperties"] is False
        for key, value in table["properties"].items():
            assert len(value["description"]) > 10, key


@pytest.mark.parametrize("table", ["TeamSpec", "PlayerSpec"])
@pytest.mark.parametrize(
    ("key", "low", "high"), [("pass_success", 0.5, 0.999), ("pressing_speed", 2, 5.5), ("recovery", 20, 180)]
)
def test_headline_values_have_meaning_unit_range_and_what_is_typical(table, key, low, high):
    # Legal ranges: the definition of the three headline parameters in the model notes, section 8.
    value = json_schema()["$defs"][table]["properties"][key]
    number = next(one for one in value["anyOf"] if one["type"] == "number")
    assert (number["minimum"], number["maximum"]) == (low, high)
    assert "Unit:" in value["description"]
    for population in POPULATIONS:
        assert f"{population} " in value["description"].partition("Typical:")[2]


@pytest.mark.parametrize(("key", "legal", "beyond"), [
    ("pass_success", 0.5, 0.4999), ("pass_success", 0.999, 0.9991), ("pressing_speed", 2.0, 1.99), ("recovery", 20, 19.9),
    ("recovery", 180, 180.1),
])  # fmt: skip
def test_ranges_hold_on_loading_with_both_ends_legal(key, legal, beyond):
    assert getattr(load_game("tight-square", [f"teams.squad.{key}={legal}"]).team("squad"), key) == legal
    with pytest.raises(InputError, match=rf"teams\.squad\.{key} must be at (least|most)"):
        load_game("tight-square", [f"teams.squad.{key}={beyond}"])


def test_the_schema_is_plain_json():
    assert json.loads(json.dumps(json_schema())) == json_schema()


def test_the_schema_beside_the_shipped_games_is_that_of_the_program():
    """Written anew with `overload schema > scenarios/game.schema.json`."""
    beside = next(iter(shipped_games().values())).parent / FILE
    assert beside.read_text(encoding="utf-8") == as_text() + "\n"
    assert FILE.removesuffix(".json") not in shipped_games() and FILE not in shipped_games()


@pytest.mark.parametrize("name", sorted(shipped_games()))
def test_a_shipped_game_begins_with_the_line_that_editors_read(name):
    file = shipped_games()[name]
    assert file.read_text(encoding="utf-8").splitlines()[0] == FIRST_LINE
    assert (file.parent / FIRST_LINE.removeprefix("#:schema ")).is_file()  # found from where the game lies


def test_a_written_game_begins_with_the_line_that_editors_read(tmp_path):
    save_short(load_game("two-squares"), tmp_path / "mine.toml")
    assert (tmp_path / "mine.toml").read_text(encoding="utf-8").startswith(f"{FIRST_LINE}\n\nformat = 1\n")
    assert load_game(tmp_path / "mine.toml") == load_game("two-squares")
