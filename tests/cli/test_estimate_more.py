"""`overload estimate` that goes on: to a precision, and from one day to the next."""

from __future__ import annotations

import shlex
from pathlib import Path

import pytest
from typer.testing import CliRunner

from cli.app import app

SHORT = ["tight-square", "--set", "bouts.minutes=0.2", "--set", "bouts.count=2", "--workers", "1"]


def ask(*arguments: str) -> str:
    result = CliRunner().invoke(app, ["estimate", *arguments], catch_exceptions=False)
    assert result.exit_code == 0, result.stderr
    return result.stdout


def refused(*arguments: str) -> list[str]:
    result = CliRunner().invoke(app, ["estimate", *arguments], catch_exceptions=False)
    assert (result.exit_code, result.stdout) == (2, "")
    return result.stderr.splitlines()


@pytest.mark.slow
def test_today_and_tomorrow_equal_both_at_once(tmp_path: Path):
    kept = str(tmp_path / "kept.npz")
    ask(*SHORT, "--bouts", "6", "--save", kept)
    both = ask(*SHORT, "--bouts", "6", "--extend", kept, "--json", "-")
    assert both == ask(*SHORT, "--bouts", "12", "--json", "-")
    ask(*SHORT, "--bouts", "6", "--extend", kept, "--save", kept)
    assert ask(*SHORT, "--bouts", "2", "--extend", kept, "--json", "-") == ask(*SHORT, "--bouts", "14", "--json", "-")
    (line,) = refused("tight-square", "--bouts", "6", "--extend", kept)
    assert line == "--extend: must be of the same game, with the same changes and players (got another bouts)"
    (line,) = refused(*SHORT, "--seed", "2", "--extend", kept)
    assert line == "--extend: must have the same --seed (got 1 there, 2 here)"


@pytest.mark.slow
@pytest.mark.parametrize("save", [True, False])
def test_what_was_stopped_says_how_to_go_on_and_then_equals_the_whole(tmp_path, monkeypatch, save: bool):
    kept = str(tmp_path / "kept.npz")

    def stop(_self, done: int, wanted: int) -> None:
        if done == 4:
            raise KeyboardInterrupt

    with monkeypatch.context() as patched:
        patched.setattr("cli.progress.Progress.__call__", stop)
        asked = ["estimate", *SHORT, "--bouts", "11", *(["--save", kept] if save else [])]
        stopped = CliRunner().invoke(app, asked, catch_exceptions=False)
    assert stopped.exit_code == 0 and "Stopped early: 2 of 6 sessions were finished." in stopped.stdout
    if not save:
        assert stopped.stderr == (
            "Stopped. What is finished is in the answer; to be able to go on another time: --save FILE.\n"
        )
        return
    command = "overload estimate tight-square --set bouts.minutes=0.2 --set bouts.count=2"
    line = f"  {command} --workers 1 --save {kept} --bouts 11\n"
    assert stopped.stderr == f"Stopped. To go on:\n{line}"
    whole = ask(*shlex.split(line)[2:], "--json", "-")
    assert whole == ask(*SHORT, "--bouts", "11", "--json", "-")


def test_what_somebody_cares_about_leads():
    usual, cared = (ask(*SHORT, "--bouts", "4", *more).splitlines() for more in ((), ("--measure", "rolling")))
    usual, cared = ([line for line in lines[1:] if line] for lines in (usual, cared))
    assert usual[0].startswith("They lose it") and cared[0].startswith("The ball is dead for ")
    assert any(line.startswith("  They lose it") for line in cared)


@pytest.mark.slow
def test_a_precision_is_met_or_the_budget_said():
    text = " ".join(ask(*SHORT, "--bouts", "2", "--precision", "20%", "--measure", "passes_per_min").split())
    assert "As precise as asked: passes to within 20 %, after 20 sessions." in text
    text = " ".join(ask(*SHORT, "--bouts", "2", "--precision", "0.1%", "--budget", "50").split())
    assert "Not as precise as asked: losses only within" in text and "the budget of 50 bouts is spent" in text


@pytest.mark.parametrize(
    ("arguments", "line"),
    [
        (["--precision", "much"], "--precision: must be a share between 0 and 100 %, such as 5% (got 'much')"),
        (
            ["--measure", "goals"],
            '--measure: must be something that can happen in this game: there are no goals (got "goals")',
        ),
        (["--budget", "9"], "--budget: must go with --precision (got 9 without)"),
        (
            ["--extend", "nowhere.npz"],
            "--extend: must be a file that --save wrote (got 'nowhere.npz', which is no file)",
        ),
        (["--save", "nowhere/kept.npz"], "--save: folder 'nowhere' must exist (got 'nowhere/kept.npz')"),
    ],
)
def test_refusals(arguments, line):
    assert refused(*SHORT, *arguments) == [line]
