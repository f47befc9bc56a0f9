"""`adjust` and `why` on one small screen for every shipped game, every caution on it; and a card that goes on from its file."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from typer.testing import CliRunner

from cli.app import app
from sim.experiments.cautions import LINE
from sim.game.loader import load_game
from sim.words.screen import COMMAND
from tests.support.games import GAMES as SIX
from tests.support.screens import holds

SHORT = ["--set", "bouts.minutes=0.4", "--set", "bouts.count=2", "--workers", "1"]
SHORTEST = ["--set", "bouts.minutes=0.2", "--set", "bouts.count=1", "--workers", "1"]
AIMS = {
    "break-away": "break_aways_per_bout=more",
    "even-goals": "goals_per_bout=2",
    "two-squares": "transfers_per_min=more",
    "home-grids": "distance_per_min.home=less",
    "even-keep-ball": "turnovers=2",
    "tight-square": "wins=more",
}


def ask(*arguments: str) -> str:
    result = CliRunner().invoke(app, list(arguments), catch_exceptions=False)
    assert result.exit_code == 0, result.stderr
    return result.stdout


def fits(text: str, answer: dict) -> None:
    """A small screen with everything on it that must be said."""
    holds(text)
    running = " ".join(text.split())
    assert all(" ".join(caution.split()) in running for caution in answer["cautions"])
    assert any(line.startswith(COMMAND) for line in text.splitlines()) or "Try next" not in text


@pytest.mark.slow
@pytest.mark.parametrize("name", SIX)
def test_the_card_of_every_shipped_game_fits(name: str, tmp_path: Path):
    file = tmp_path / "card.json"
    whole = ask("adjust", name, "--aim", AIMS[name], *SHORT, "--bouts", "4", "--details", "--json", str(file))
    text = whole[: whole.index(LINE) + len(LINE)]
    fits(text, json.loads(file.read_text(encoding="utf-8")))
    assert whole.rstrip().endswith(LINE) and whole.count("\n") > text.count("\n") + 15


def test_without_details_a_card_is_its_screen_alone():
    asked = ["adjust", "tight-square", "--aim", "wins=more", *SHORTEST, "--bouts", "2"]
    whole = ask(*asked, "--details")
    assert ask(*asked) == whole[: whole.index(LINE) + len(LINE)] + "\n"


@pytest.mark.slow
@pytest.mark.parametrize("name", ["tight-square", "even-goals"])
def test_what_matters_fits(name: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    """Two games: each takes 256 runs, and a few for every lever.  Every measure of all games is held, on made-up results, in
    `unit/words/test_grass`."""
    monkeypatch.setattr("sim.experiments.why.TURNS", 4)
    file, game = tmp_path / "why.json", load_game(name)
    measure = "goals_per_bout" if game.goals else "turnovers_per_min"
    text = ask("why", name, "--measure", measure, *SHORTEST, "--bouts", "1", "--json", str(file))
    fits(text, json.loads(file.read_text(encoding="utf-8")))


@pytest.mark.slow
def test_a_card_goes_on_from_the_file_it_was_kept_in(tmp_path: Path):
    """Stopped after some sessions, the printed command ends it; nothing that lies in the file is played again."""
    file = tmp_path / "our card.sessions"
    asked = ["adjust", "tight-square", "--aim", "wins=more", *SHORT, "--bouts", "8"]
    whole = ask(*asked, "--json", "-")
    with pytest.MonkeyPatch.context() as patched:

        def stop(_self, done: int, wanted: int) -> None:
            if done >= 60:
                raise KeyboardInterrupt

        patched.setattr("cli.progress.Progress.__call__", stop)
        result = CliRunner().invoke(app, [*asked, "--save", str(file)], catch_exceptions=False)
    assert result.exit_code == 0 and "Stopped early" in result.stdout and "Stopped. To go on:" in result.stderr
    assert "--bouts 8" in result.stderr and "--save" in result.stderr and file.exists()
    assert ask(*asked, "--save", str(file), "--json", "-") == whole
    with pytest.MonkeyPatch.context() as patched:

        def play(*_arguments, **_more):
            raise AssertionError("a session in the file was played again")

        patched.setattr("sim.experiments.drawer.play_batches", play)
        assert ask(*asked, "--save", str(file), "--json", "-") == whole
