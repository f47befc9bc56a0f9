"""A command line that cannot be read is one line, with where, the rule and the value; and --touches 1 is told what to write."""

from __future__ import annotations

import pytest
from typer.testing import CliRunner

from cli.app import app


@pytest.mark.parametrize("guess", ["touches", "side", "defenders"])
def test_a_name_that_can_be_set_is_no_option_and_says_so(guess):
    result = CliRunner().invoke(app, ["estimate", "tight-square", f"--{guess}", "1"])
    assert result.exit_code == 2
    assert result.stderr == f"--{guess} is not an option: write --set {guess}=VALUE\n"


@pytest.mark.parametrize(
    ("line", "said"),
    [
        ("tally tight-square --minutes 8 --losses abc", '--losses: must be a whole number (got "abc")'),
        ("tally tight-square --minutes 8 --losses 1.5", '--losses: must be a whole number (got "1.5")'),
        ("tally tight-square --minutes x", '--minutes: must be a number (got "x")'),
        ("estimate tight-square --bouts many", '--bouts: must be a whole number (got "many")'),
        ("estimate tight-square --bouts 0", "--bouts: must be from 1 to 100000 (got 0)"),
        ("play tight-square --bout 0", '--bout: must be at least 1 (got "0")'),
        ("estimate tight-square --bouts", "--bouts: must have a value (got none)"),
        ("estimate", "GAME: must be given (got nothing)"),
        ("calibrate", "--save: must be given (got nothing)"),
        ("estimate tight-square --bots 4", "--bots: must be an option of overload estimate (did you mean --bouts?)"),
        ("estimate tight-square --xyz", "--xyz: must be an option of overload estimate (see --help)"),
        ("estimate tight-square more", "overload estimate: got unexpected extra argument(s) (more)"),
        ("--nosuch", "--nosuch: must be an option of overload (see --help)"),
        ("estimat", "overload: no such command 'estimat'. Did you mean 'estimate'?"),
        ("logbook shoow", "overload logbook: no such command 'shoow'. Did you mean 'show'?"),
    ],
)
def test_what_cannot_be_read_is_one_line(line: str, said: str):
    result = CliRunner().invoke(app, line.split())
    assert (result.exit_code, result.stdout, result.stderr) == (2, "", f"{said}\n")


@pytest.mark.parametrize("line", [[], ["logbook"]])
def test_who_types_no_command_gets_the_help(line: list[str]):
    result = CliRunner().invoke(app, line)
    assert result.output.startswith("Usage:") and "Commands:" in result.output
