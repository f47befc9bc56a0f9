"""Loading by name or path, changes by key, the population, and what is refused on the way."""

from __future__ import annotations

import re

import pytest

from sim.errors import InputError
from sim.game.loader import load_game, save_resolved, save_short, to_resolved
from sim.game.shipped import shipped_games
from tests.support.games import GAMES as SIX

NAMES = tuple(shipped_games())


def refusal(*arguments) -> str:
    with pytest.raises(InputError) as caught:
        load_game(*arguments)
    return str(caught.value)


def test_the_games_of_the_pages_are_shipped():
    assert set(SIX) < set(NAMES)


@pytest.mark.parametrize("name", NAMES)
def test_a_shipped_game_has_its_name_a_purpose_and_our_club(name):
    game = load_game(name)
    assert game.name == name
    assert game.club == "Quillhaven"
    assert game.purpose.endswith(".")


@pytest.mark.parametrize("name", NAMES)
def test_both_forms_save_and_load_equal(name, tmp_path):
    game = load_game(name)
    save_short(game, tmp_path / "short.toml")
    save_resolved(game, tmp_path / "resolved.toml")
    assert load_game(tmp_path / "short.toml") == game
    assert load_game(tmp_path / "resolved.toml") == game


def test_every_shipped_game_has_comments():
    for name, file in shipped_games().items():
        said = [line for line in file.read_text(encoding="utf-8").splitlines() if line.startswith("# ")]
        assert len(said) >= (4 if name in SIX else 1), name


def test_a_path_is_as_good_as_a_name(tmp_path):
    file = tmp_path / "mine.toml"
    file.write_text(shipped_games()["tight-square"].read_text(encoding="utf-8"), encoding="utf-8")
    assert load_game(file).name == "mine"
    assert load_game(str(file)).areas == load_game("tight-square").areas


@pytest.mark.parametrize(
    ("change", "got"),
    [
        ("areas.square.length=13", lambda game: game.area("square").length == 13.0),
        ("roles.inside.touches=1", lambda game: game.role("inside").touches == 1),  # absent in the file
        ("roles.outside.touches=free", lambda game: game.role("outside").touches is None),  # bare word
        ("players.squad-3.recovery = 60", lambda game: [p.recovery for p in game.players][2] == 60.0),  # no table yet
        ("teams.squad.pass_success=0.8", lambda game: game.team("squad").pass_success == 0.8),
        ("phases.keep.rules.loser-goes-in.causes=['out']", lambda game: game.phases[0].rules[0].causes == ("out",)),
        ("phases.keep.rules.loser-goes-in.do.swap.with=winner", lambda g: g.phases[0].rules[0].do[0].other == "winner"),
        ("phases.keep.jobs.inside=wait in square", lambda game: [job.style for job in game.phases[0].jobs] == ["wait"]),
        ("win.confirm=control", lambda game: game.win.confirm == "control"),
        ('title="a = b"', lambda game: game.title == "a = b"),
    ],
)
def test_a_change_lands(change, got):
    assert not got(load_game("tight-square")) or change == "win.confirm=control"
    assert got(load_game("tight-square", [change]))


def test_changes_leave_everything_else_alone():
    changed = load_game("tight-square", ["areas.square.length=13"])
    back = changed.model_copy(update={"areas": load_game("tight-square").areas})
    assert back == load_game("tight-square")


def test_changes_reach_the_resolved_form_too():
    resolved = to_resolved(load_game("two-squares"))
    assert load_game(resolved, ["phases.keep.rules.unlock.count=6"]).phases[0].rules[0].count == 6.0


@pytest.mark.parametrize(
    ("change", "message"),
    [
        ("areas.square.lenght=13", "areas.square.lenght is no name in this game: did you mean areas.square.length,"),
        ("roles.outsid.touches=1", "roles.outsid.touches is no name in this game: did you mean roles.outside.touches,"),
        (
            "players.squad-7.recovery=60",
            "players.squad-7.recovery is no name in this game: did you mean players.squad-",
        ),
        ("xyzzy=1", "xyzzy is no name in this game: there are side, length, width,"),
        ("areas.square.length", 'must read KEY=VALUE (got "areas.square.length")'),
        ("areas.square.length=", 'must read KEY=VALUE (got "areas.square.length=")'),
        ("areas.square.length=[1", 'VALUE must be TOML: a number, true, "text" or a list (got "[1")'),
        ("areas.square.length=1\nwidth = 2", 'VALUE must be one TOML value (got "1\\nwidth = 2")'),
        ("areas.square.length=-3.0", "areas.square.length must be greater than 0 (got -3.0)"),
        ("areas.square.length=long", 'areas.square.length must be a number (got "long")'),
        (
            "roles.outside.place=sqare",
            'roles.outside.place must be an area: square, active or home (got "sqare")',
        ),
        (
            "teams.squad.pressing_speed=5",
            "teams.squad.pressing_speed must be at most 4.31, the sprint limit of amateur men",
        ),
    ],
)
def test_a_change_is_refused(change, message):
    assert message in refusal("tight-square", [change])


def test_all_problems_of_the_changes_come_together():
    found = refusal("tight-square", ["areas.square.length=-3.0", "roles.inside.place=nowhere"])
    assert found.splitlines()[0] == "tight-square: areas.square.length must be greater than 0 (got -3.0)"
    assert "roles.inside.place must be an area: " in found.splitlines()[1]


def test_a_key_is_changed_once():
    found = refusal("tight-square", ["areas.square.length=12", "areas.square.length=13"])
    assert "areas.square.length must be set once only" in found


def test_a_change_can_repair_a_broken_file(tmp_path):
    file = tmp_path / "broken.toml"
    file.write_text(shipped_games()["tight-square"].read_text(encoding="utf-8").replace("length = 11", "length = -1"))
    assert "greater than 0" in refusal(file)
    assert load_game(file, ["areas.square.length=11"]).area("square").length == 11.0


def test_the_population_replaces_every_team_s():
    assert {team.population for team in load_game("even-goals", population="women").teams} == {"women"}
    assert "--population: must name a population: did you mean women" in refusal("even-goals", [], "womn")
    clash = refusal("tight-square", ["teams.squad.population=U12"], "women")
    assert "population must be given once" in clash


def test_no_such_game_names_the_near_ones(tmp_path):
    found = refusal("tight-sqare")
    assert (
        found
        == 'GAME must be a file or a shipped game: did you mean tight-square, three-squares or two-squares? (got "tight-sqare")'
    )
    assert "there is: break-away, " in refusal("zzz")
    assert "GAME must be a file" in refusal(tmp_path)  # a folder


def test_broken_toml_says_the_line(tmp_path):
    file = tmp_path / "broken.toml"
    file.write_text('format = 1\ntitle = "no end\n', encoding="utf-8")
    assert re.search(r"broken\.toml: the file must be valid TOML \(got: .*line 2", refusal(file))


def test_a_file_that_is_not_text(tmp_path):
    file = tmp_path / "picture.toml"
    file.write_bytes(b'title = "\xff\xfe"')
    assert "the file must be UTF-8 text (got a byte that is not, at 9)" in refusal(file)


def test_the_resolved_form_has_to_agree_with_itself():
    resolved = to_resolved(load_game("two-squares"))
    resolved["areas"][0] |= {"x": -12.0}
    assert refusal(resolved).startswith("game: areas must agree with the rest of the resolved form")
    resolved = to_resolved(load_game("tight-square"))
    resolved["areas"][0] |= {"length": "11"}
    assert refusal(resolved) == 'game: areas.length must be a number (got "11")'


def test_a_game_cannot_be_changed_once_loaded():
    with pytest.raises(ValueError, match="frozen"):
        load_game("tight-square").areas[0].length = 12.0


def test_partners_in_the_full_form_who_are_nobody_are_refused():
    resolved = to_resolved(load_game("in-pairs"))
    resolved["teams"][0]["pairs"][0][0] = "nobody-1"
    assert 'teams.squad.pairs must hold only shirt numbers or names of players of squad (got "nobody-1")' in refusal(
        resolved
    )
