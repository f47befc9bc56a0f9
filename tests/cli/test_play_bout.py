"""`overload play --bout N` is bout N of the session, with all that the players bring to it."""

from __future__ import annotations

import csv

from typer.testing import CliRunner

from cli.app import app
from sim import load_game
from sim.experiments.replicate import session_bouts
from sim.game.names import names_of
from sim.words.strip import events_as_csv

SHORT = ["bouts.minutes=0.5", "bouts.count=3"]
SET = [word for change in SHORT for word in ("--set", change)]


def test_bout_three_is_bout_three_of_the_session(tmp_path):
    file = tmp_path / "bout.csv"
    result = CliRunner().invoke(
        app, ["play", "tight-square", *SET, "--seed", "3", "--bout", "3", "--events", str(file)]
    )
    assert result.exit_code == 0 and ": bout 3, 30 s on the watch, seed 3" in result.stdout
    game = load_game("tight-square", SHORT)
    logs = list(session_bouts(game, 3, 0))
    told = file.read_text(encoding="utf-8")
    assert told == events_as_csv(logs[2], names_of(game))
    rows = csv.DictReader(told.splitlines())
    begins = {row["player"]: row["cause"] for row in rows if (row["kind"], row["t"]) == ("job", "0.0")}
    assert begins == {player: one.role for player, one in zip(logs[1].players, logs[1].held, strict=True)}


def test_a_bout_that_the_session_has_not_got_is_refused():
    result = CliRunner().invoke(app, ["play", "tight-square", *SET, "--bout", "4"])
    assert (result.exit_code, result.stdout) == (2, "")
    assert result.stderr == "--bout: a session of this game has three bouts (got 4)\n"
