"""`overload regroup` and `overload games --players`: an answer on one screen, files that load, and refusals that write nothing."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from typer.testing import CliRunner

from cli.app import app
from sim.experiments.cautions import LINE
from sim.game.loader import load_game

SHORT = ["--set", "bouts.minutes=0.5", "--set", "bouts.count=1", "--workers", "1", "--bouts", "2"]


def ask(*arguments: str):
    return CliRunner().invoke(app, list(arguments), catch_exceptions=False)


@pytest.fixture(scope="module")
def asked(tmp_path_factory) -> tuple[str, Path]:
    """(the screen, the folder of files) of sixteen, one on reduced load, and two keepers."""
    folder = tmp_path_factory.mktemp("set-ups") / "new"
    found = ask(
        "regroup",
        "tight-square",
        "--players",
        "16",
        "--restricted",
        "1",
        "--keepers",
        "2",
        *SHORT,
        "--out",
        str(folder),
    )
    assert found.exit_code == 0, found.stderr
    return found.stdout, folder


@pytest.mark.slow
def test_the_screen_has_a_headline_a_table_the_limits_and_the_caution(asked):
    text, _ = asked
    first, *_ = text.splitlines()
    assert first.startswith("Lose it and go in, for 16 players (one on reduced load) and two keepers; 2")
    assert "closest to what was planned" in " ".join(text.split()) and text.rstrip().endswith(LINE)
    assert max(map(len, text.splitlines())) <= 80 or "Written" in text
    assert "room 30, defending 30, losses 25, roles 15" in text.replace("\n", " ")
    limits = (
        "Player 1 (group 1) stays on the lines, tackles nobody, isn't tackled, never an inside player. For player 1 ("
    )
    assert limits in " ".join(text.split())
    assert "One fewer:" in text


@pytest.mark.slow
def test_the_first_is_never_further_off_than_the_others(asked):
    text, _ = asked
    offs = [int(one) for one in re.findall(r"^\d .* (\d+)$", text, re.MULTILINE)]
    assert 2 <= len(offs) <= 3 and offs == sorted(offs)


@pytest.mark.slow
def test_every_set_up_is_a_game_file_and_they_differ_in_more_than_labels(asked):
    _, folder = asked
    games = {file.name: load_game(file) for file in sorted(folder.iterdir())}
    assert len(games) >= 2 and all(name.startswith("tight-square-16-") for name in games)
    numbers = {tuple(sorted(player.role for player in game.players)) for game in games.values()}
    assert len(numbers) >= 2


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (["tight-square"], "--players must be given"),
        (["tight-square", "--players", "200"], "holds 60 players at most"),
        (["tight-square", "--players", "8", "--restricted", "7"], "nobody is left to defend"),
        (["even-goals", "--players", "10"], "needs 2 in goal"),
        (["no-such-game", "--players", "10"], "must be a file or a shipped game"),
    ],
)
def test_a_refusal_is_one_line_and_nothing_is_written(arguments, said, tmp_path: Path):
    found = ask("regroup", *arguments, "--out", str(tmp_path / "new"))
    assert (found.exit_code, found.stdout) == (2, "")
    assert said in found.stderr.replace(": must", " must") and found.stderr.count("\n") == 1
    assert list(tmp_path.iterdir()) == []


def test_games_for_so_many_say_how_each_holds_them():
    text = ask("games", "--players", "14").stdout
    assert "hunt-in-turn" in text and "two groups, 12 x 12 m each" in text
    command = text.splitlines()[-1].split()
    assert command[:2] == ["overload", "regroup"] and "--players" in command


def test_the_list_of_games_does_not_send_anybody_to_itself():
    text = ask("games", "--players", "11").stdout
    assert "eights needs 12 players at least\n" in text and "overload games" not in text
