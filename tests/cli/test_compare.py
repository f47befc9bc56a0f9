"""`overload compare`: what it accepts, what it refuses, and that it says the same as the parts behind it."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from typer.testing import CliRunner

from cli.app import app
from cli.compare import tweaks
from sim.experiments.comparison import Compared, Comparison
from sim.game.loader import load_game
from sim.words.commands import Given, with_tweak
from sim.words.compare_details import details_of_compared
from sim.words.compare_screen import compared_on_a_screen

SIZE = ["--bouts", "8", "--seed", "3"]


def ask(*arguments: str) -> str:
    result = CliRunner().invoke(app, ["compare", *arguments], catch_exceptions=False)
    assert result.exit_code == 0, result.stderr
    return result.stdout


def found_in(text: str) -> list[Comparison]:
    data = json.loads(text)
    assert data["format"] == 5
    return [Comparison.from_json(json.dumps(one)) for one in data["comparisons"]]


def refused(*arguments: str) -> list[str]:
    result = CliRunner().invoke(app, ["compare", *arguments], catch_exceptions=False)
    assert (result.exit_code, result.stdout) == (2, "")
    return result.stderr.splitlines()


@pytest.mark.slow
def test_words_and_json_tell_the_same(tmp_path: Path):
    tweak = ["tight-square", "--change", "roles.outside.touches=1", *SIZE, "--workers", "1"]
    place = tmp_path / "found.json"
    words = ask(*tweak, "--json", str(place))
    (found,) = found_in(place.read_text(encoding="utf-8"))
    games = [load_game("tight-square"), load_game("tight-square", ["roles.outside.touches=1"])]
    options = ("--change", ["roles.outside.touches=1"]), ("--bouts", 8), ("--json", str(place)), ("--workers", 1)
    whole = Compared((found,), ())
    given = Given("compare", "tight-square", seed=3, question=options, played=games[0])
    assert words == compared_on_a_screen(whole, games, given) + "\n"
    assert ask(*tweak, "--details") == f"{words}\n{details_of_compared(whole)}\n"
    assert found.second.changes == ("roles.outside.touches=1",) and found.first.changes == ()
    assert (found.sessions, found.bouts) == (2, 8)
    text = ask(*tweak[:-1], "2", "--json", "-")
    assert json.loads(text) == json.loads(place.read_text(encoding="utf-8"))


def test_what_somebody_cares_about_leads():
    asked = ["tight-square", "--set", "bouts.minutes=0.2", "--change", "touches=1", "--bouts", "8", "--workers", "1"]
    lines = ask(*asked, "--measure", "metres.inside").splitlines()
    assert next(line for line in lines[1:] if line).startswith("With one touch the players inside run ")
    (line,) = refused(*asked, "--measure", "goals")
    assert line == '--measure: must be something that can happen in this game: there are no goals (got "goals")'


@pytest.mark.slow
def test_two_games_and_their_players():
    (found,) = found_in(ask("tight-square", "tight-square", *SIZE, "--population", "U17 boys", "--json", "-"))
    assert (found.first.population, found.population) == ("U17 boys", "U17 boys")
    assert {row.difference for row in found.rows} == {0.0}


def test_a_tweak_takes_the_place_of_a_set():
    assert with_tweak(("a=1", "b=2"), ("a=3", "c=4")) == ("b=2", "a=3", "c=4")


def test_bundles_have_names_and_several_changes():
    found = tweaks(["a=1", "b=2"], "both", ["c: x=1; y=2", "d:z=3"])
    assert found == [("both", ("a=1", "b=2")), ("c", ("x=1", "y=2")), ("d", ("z=3",))]
    assert tweaks(["a=1"], None, []) == [("changed", ("a=1",))]


def test_neither_or_both_is_refused():
    message = "compare must be given --change touches=1, say, or a second game, not both (got {})"
    assert refused("tight-square") == [message.format("neither")]
    assert refused("tight-square", "home-grids", "--change", "bouts.count=3") == [message.format("both")]


@pytest.mark.parametrize(
    ("arguments", "line"),
    [
        (["--change", "roles.outside"], '--change: must read KEY=VALUE (got "roles.outside")'),
        (
            ["--change", "roles.outside.touches=0"],
            'tight-square: roles.outside.touches must be "free" or a whole number from 1 to 10 (got 0)',
        ),
        (
            ["--change", "bouts.count=3", "--worthwhile", "turnovers_per_min"],
            "--worthwhile: must read MEASURE=SHARE, a share such as 15% (got 'turnovers_per_min')",
        ),
        (
            ["--change", "bouts.count=3", "--worthwhile", "in_play_share=200"],
            "--worthwhile in_play_share: must be a share between 0 and 100 %, such as 5% (got '200')",
        ),
        (
            ["--change", "bouts.count=3", "--worthwhile", "turnovers_per_min=0.15"],
            "--worthwhile turnovers_per_min: must say which per cent, 15 or 0.15 %? Write 15% or 0.15% (got '0.15')",
        ),
        (["--bundle", "few"], "--bundle: must read \"NAME: KEY=VALUE; KEY=VALUE\" (got 'few')"),
        (["--bundle", "few: bouts.count=0"], "tight-square: bouts.count must be at least 1 (got 0)"),
        (["--name", "few"], "--name: must go with one tweak of --change (got 'few' without)"),
        (
            ["--name", "a", "--change", "bouts.count=3", "--bundle", "a: bouts.count=2"],
            "every variant must have a name of its own (got a, a)",
        ),
        (["--change", "bouts.count=3", "--bouts", "4"], "bouts must be at least 5, for two sessions of 4 (got 4)"),
    ],
)
def test_refusals(arguments, line):
    assert refused("tight-square", *arguments) == [line]


def test_a_place_that_cannot_be_written_is_refused():
    (line,) = refused("tight-square", "--change", "bouts.count=3", "--json", "nowhere/found.json")
    assert line.startswith("--json: folder 'nowhere' must exist")
