"""What is too large, too deep, too many or not printable is refused in one line, at once, and before anything is built from it."""

from __future__ import annotations

import json
import time
from pathlib import Path

import pytest

from sim.errors import InputError
from sim.game.loader import load_game, to_resolved, to_short
from sim.game.model import Phase, Rule
from sim.game.schema import json_schema
from sim.game.verbs import Action, Assign, ChangePhase
from sim.game.ways import ways_back

AT_ONCE_S = 20.0  # two thousand times what it takes here; what is guarded against takes minutes or all memory


def refusal(*what, **more) -> InputError:
    began = time.perf_counter()
    with pytest.raises(InputError) as caught:
        load_game(*what, **more)
    assert time.perf_counter() - began < AT_ONCE_S
    return caught.value


def written(tmp_path: Path, text: str | bytes) -> Path:
    file = tmp_path / "game.toml"
    file.write_bytes(text if isinstance(text, bytes) else text.encode())
    return file


def short(**tables) -> dict:
    return json.loads(json.dumps(to_short(load_game("even-goals")))) | tables


@pytest.mark.parametrize("side_m", [2, 150])
def test_the_bounds_themselves_are_legal(side_m: float):
    game = load_game(
        "tight-square", [f"areas.square.length={side_m}", f"areas.square.width={side_m}", "bouts.minutes=120"]
    )
    assert (game.area("square").length, game.bouts.seconds) == (side_m, 7200.0)


def test_sides_are_bounded_in_metres_whatever_the_unit():
    yards = ["units=yards", "areas.square.length={}"]
    legal = load_game("tight-square", [yards[0], yards[1].format(2.2)]).area("square").length
    assert legal == pytest.approx(2.01168)
    assert "length must be at least 2 metres (got 1.8288)" in str(
        refusal("tight-square", [yards[0], yards[1].format(2)])
    )
    assert "length must be at most 150 metres (got 150.8" in str(
        refusal("tight-square", [yards[0], yards[1].format(165)])
    )


def test_sixty_players_play_and_sixty_one_do_not():
    most = load_game("tight-square", ["roles.outside.players=57", "roles.inside.players=3"])
    assert len(most.players) == 60
    found = refusal("tight-square", ["roles.outside.players=58", "roles.inside.players=3"])
    assert found.problems == ("roles must hold at most 60 players in all (got 61)",)


@pytest.mark.parametrize("count", [61, 10_000_000_000])
def test_players_are_counted_before_they_are_listed(count: int):
    assert "must be a number of players from 1 to 60, a list of shirt numbers (0 to 99) and ids" in str(
        refusal("tight-square", [f"roles.outside.players={count}"])
    )


def test_players_are_counted_over_all_roles_and_teams_before_they_are_listed():
    roles = {f"r{k}": {"side": "team", "style": "free", "place": "active",
                       "players": {f"t{n}": 60 for n in range(200)}} for k in range(200)}  # fmt: skip
    assert "roles must hold at most 60 players in all (got 2400000)" in refusal(short(roles=roles)).problems[0]


def test_a_file_has_a_most_size(tmp_path: Path):
    file = written(tmp_path, "# " + "x" * 1_000_000)
    assert refusal(file).problems == ("the file must be at most 1 MB (got more)",)


@pytest.mark.parametrize(
    "text",
    [
        "x = " + "[" * 100_000,
        "x = " + "{a = " * 50_000,
        "x = " + "[" * 21 + "]" * 21,
        ".".join("a" * 400_000) + " = 1",
        "[" + " . ".join(["'a'"] * 150_000) + "]",
        "x = {" + ".".join("b" * 400_000) + " = 1}",
        "[" + ".".join("abcdefghijklmnopqrstuv") + "]",
    ],
    ids=[
        "lists",
        "tables",
        "one too deep",
        "dotted",
        "dotted table in quotes",
        "dotted within",
        "dotted, one too deep",
    ],
)
def test_a_file_has_a_most_depth(tmp_path: Path, text: str):
    assert refusal(written(tmp_path, text)).problems == ("the file must nest at most 20 tables and lists (got more)",)


def test_a_long_word_is_no_deep_one(tmp_path: Path):
    assert "is not a key here" in str(refusal(written(tmp_path, "a" * 900_000 + " = 1")))


def test_plain_data_that_holds_itself():
    data = short()
    data["load"] = data
    assert refusal(data).problems == ("the file must nest at most 20 tables and lists (got more)",)


@pytest.mark.parametrize("number", ["9" * 5000, "0x" + "f" * 6000, "1" * 20])
def test_a_whole_number_has_a_most_length(tmp_path: Path, number: str):
    found = str(refusal(written(tmp_path, f"format = {number}")))
    assert "of at most 15 digits (got a longer one)" in found


def test_at_most_twenty_problems_are_told(tmp_path: Path):
    found = refusal(written(tmp_path, "\n".join(f"k{k} = 1" for k in range(60))))
    lines = str(found).splitlines()
    assert len(lines) == 21
    assert lines[-1] == f"{found.source}: and {len(found.problems) - 20} more"
    assert len(str(InputError([f"a{k} must be b (got c)" for k in range(20)])).splitlines()) == 20


def test_what_is_shown_is_one_line_of_bounded_length(tmp_path: Path):
    found = str(
        refusal(written(tmp_path, '"a\\u001b[31m\\nb" = 1\ntitle = "' + "x" * 100_000 + '"\nclub = "\\u0085\\u202e"'))
    )
    assert found.isprintable() or all(line.isprintable() for line in found.splitlines())
    assert max(map(len, found.splitlines())) < 700
    assert '"a\\u001b[31m\\nb" is not a key here' in found and "\\u0085\\u202e" in found


@pytest.mark.parametrize("name", ["..\x1b[31m", "x" * 41, " x"])
def test_a_file_without_a_name_for_a_game(tmp_path: Path, name: str):
    file = tmp_path / f"{name}.toml"
    file.write_text(Path("scenarios/tight-square.toml").read_text(encoding="utf-8"), encoding="utf-8")
    assert refusal(file).problems[0].startswith("name must be given, as the name of the file will not do: ")
    assert load_game(file, ["name=mine"]).name == "mine"


def test_a_name_that_is_too_long_for_a_file():
    assert "must be a file that can be read" in str(refusal("x" * 5000))


def test_written_ids_and_names_of_files_come_back_in_both_forms(tmp_path: Path):
    file = tmp_path / "Autumn, week 3.toml"
    text = Path("scenarios/tight-square.toml").read_text(encoding="utf-8")
    file.write_text(text.replace("players = 4", 'players = ["Zoë M.", "Ada", "Bo", "Cy"]'), encoding="utf-8")
    game = load_game(file)
    assert game.name == "Autumn, week 3" and "Zoë M." in {player.id for player in game.players}
    assert load_game(to_short(game)) == game == load_game(to_resolved(game))


def test_the_schema_states_the_bounds_with_their_units():
    schema = json_schema()
    tables, text = schema["$defs"], json.dumps(schema)
    for key in ("length", "width"):
        assert "Unit: the file's. Legal: 2 to 150 m." in tables["AreaSpec"]["properties"][key]["description"]
    for table, keys in {
        "AreaSpec": ("run_off", "gap", "centre"),
        "GoalSpec": ("distance", "centre", "width", "height"),
    }.items():
        for key in keys:
            words = tables[table]["properties"][key]["description"]
            assert "Unit: the file's." in words and " m." in words.partition("Legal ")[2], key
    assert "At most 60 in all roles together" in text
    minutes = tables["BoutsSpec"]["properties"]["minutes"]
    assert "to 120" in minutes["description"] and minutes["anyOf"][0]["maximum"] == 120
    assert schema["properties"]["areas"]["maxProperties"] == 200


@pytest.mark.parametrize("odd", [1, "end", None, [], [1], 2.5])
def test_a_consequence_that_is_no_table(odd):
    data = short()
    rule = next(iter(next(phase for phase in data["phases"].values() if phase.get("rules"))["rules"].values()))
    rule["do"] = [odd]
    assert "must be a table with exactly one verb of open, close" in str(refusal(data))


def test_an_unknown_key_in_a_list_of_the_resolved_form():
    data = to_resolved(load_game("tight-square"))
    data["areas"][0]["lenght"] = 11
    assert "areas.lenght is not a key here (did you mean length" in str(refusal(data))


def test_one_table_in_two_places_is_mended_twice():
    data, splits = short(), {"metres": [5, 10, 20, 99], "seconds": [1, 2, 3, 4]}
    data["players"] = {"amber-1": {"sprint": splits}, "amber-2": {"sprint": splits}}
    found = refusal(data).problems
    assert sum("sprint.metres must be at most 60 (got 99)" in problem for problem in found) == 2


def test_phases_that_lead_back_in_countless_ways_are_walked_once():
    layers = 60  # of two phases each: two to the power of sixty ways back to the first

    def turn(*actions: Action) -> Rule:
        return Rule(name="turn", on="loss", causes=(), each=False, do=actions)

    def to(layer: int, which: int) -> Action:
        return ChangePhase(what=f"{layer}-{which}" if layer else "first")

    def phase(name: str, *rules: Rule) -> Phase:
        return Phase(name=name, aim="keep", ball_in="active", open=(), jobs=(), rules=rules)

    sent = turn(Assign(role="spare", who="all", from_role="usual", other="nearest"), to(layers, 0))
    phases = [phase("first", sent)]
    home = Assign(role="usual", who="all", from_role="spare", other="nearest")
    for layer in range(1, layers + 1):
        last = () if layer > 1 else (home,)
        phases += [
            phase(f"{layer}-{k}", turn(*last, to(layer - 1, 0)), turn(*last, to(layer - 1, 1))) for k in range(2)
        ]
    began = time.perf_counter()
    assert ways_back(phases, "first", {"usual"})[f"{layers}-0"] == {"spare": {"usual"}}
    assert time.perf_counter() - began < AT_ONCE_S
