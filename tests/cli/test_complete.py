"""Shell completion as a shell asks for it: by environment variables; once in a process of its own, the others in this one."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest
from typer.testing import CliRunner

from cli.app import app
from cli.complete import OFFERED

ROOT = Path(__file__).resolve().parents[2]
START = "import sys; sys.argv = ['overload']; from cli.app import main; main()"


def asked(line: str) -> dict[str, str]:
    """How bash asks what could stand for the last word of a line."""
    return {"_OVERLOAD_COMPLETE": "complete_bash", "COMP_WORDS": line, "COMP_CWORD": str(line.count(" "))}


def test_a_shell_is_offered_what_could_stand_there():
    done = subprocess.run(
        [sys.executable, "-c", START],
        env=os.environ | asked("overload estimate ti") | {"PYTHONPATH": str(ROOT)},
        cwd=ROOT,
        capture_output=True,
        text=True,
    )
    assert (done.stdout, done.stderr) == ("tight-square\n", "")


@pytest.mark.parametrize(
    ("line", "found"),
    [
        ("overload estimate ti", ["tight-square"]),
        ("overload compare tight-square two", ["two-squares"]),
        ("overload estimate tight-square --population u1", ["U17 boys", "U12", "u17", "u12"]),
        ("overload estimate tight-square --set touches.", ["touches.outside=", "touches.inside="]),
        ("overload estimate 4v2 --set def", ["defenders="]),
        ("overload tune two-squares --knob side", ["side=", "side.west=", "side.east="]),
        ("overload sweep two-squares --key pas", ["passes="]),
        ("overload tune --knob tou", ["touches="]),
        ("overload adjust tight-square --aim met", ["metres.outside=", "metres.inside=", "metres="]),
        ("overload adjust tight-square --aim goa", []),
        (
            "overload why even-goals --measure goals",
            ["goals", "goals.outfield", "goals.west-keeper", "goals.east-keeper"],
        ),
        ("overload why no-such-game --measure los", ["losses"]),
    ],
)
def test_what_could_stand_there_is_offered(line, found):
    done = CliRunner().invoke(app, prog_name="overload", env=asked(line))
    assert done.stderr == ""
    assert [one for one in done.stdout.split("\n") if one] == found


def test_every_option_that_takes_a_name_offers_some():
    from typer.main import get_command

    every = {
        name
        for command in get_command(app).commands.values()
        for param in command.params
        for name in (param.name, *param.opts)
    }
    assert set(OFFERED) <= every
