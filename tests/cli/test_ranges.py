"""Ranges and counts are checked before anything is built from them: one line, exit code 2, at once."""

from __future__ import annotations

import time

import pytest
from typer.testing import CliRunner

from cli.app import app

AT_ONCE_S = (
    30.0  # mostly the first import of what the command needs; what is guarded against takes minutes and gigabytes
)
SWEEP, TUNE = ["sweep", "tight-square"], ["tune", "tight-square", "--target", "turnovers_per_min=3"]
COUNTS = {
    "estimate": ("--bouts", "--budget", "--seed", "--workers"),
    "compare": ("--bouts", "--seed", "--workers"),
    "tune": ("--bouts", "--budget", "--fresh", "--seed", "--workers"),
    "sweep": ("--bouts", "--seed", "--workers"),
    "adjust": ("--bouts", "--budget", "--step", "--seed", "--workers"),
    "why": ("--bouts", "--most", "--seed", "--workers"),
    "play": ("--seed",),
    "regroup": ("--players", "--bouts"),
    "rotate": ("--players", "--minutes", "--bouts", "--resting", "--seed", "--workers"),
    "evidence": ("--workers",),
    "calibrate": ("--budget", "--fresh", "--workers"),
}
NEEDED = {
    "tune": ["--knob", "side=8..9", "--target", "turnovers_per_min=3"],
    "sweep": ["--key", "side=8..9"],
    "adjust": ["--aim", "turnovers_per_min=3"],
    "compare": ["--set", "areas.square.length=9"],
    "calibrate": ["--save", "."],
}


def line(*arguments: str) -> str:
    began = time.perf_counter()
    result = CliRunner().invoke(app, list(arguments), catch_exceptions=False)
    assert time.perf_counter() - began < AT_ONCE_S
    assert (result.exit_code, result.stdout) == (2, ""), result.stderr
    (only,) = result.stderr.splitlines()
    return only


@pytest.mark.parametrize(
    ("command", "option"), [(command, option) for command, all_of in COUNTS.items() for option in all_of]
)
@pytest.mark.parametrize("value", ["-1", "2000000000000000000", "18446744073709551615", "9" * 400])
def test_a_count_beyond_all(command: str, option: str, value: str):
    game = [] if command in ("evidence", "calibrate") else ["tight-square"]
    found = line(command, *game, *NEEDED.get(command, []), option, value)
    got = value if len(value) <= 20 else "a far longer number"
    assert found.startswith(f"{option}: must be from ") and found.endswith(f"(got {got})")


def test_the_bounds_of_a_count_are_legal_and_said():
    assert line("estimate", "tight-square", "--bouts", "100001") == "--bouts: must be from 1 to 100000 (got 100001)"
    assert line("estimate", "tight-square", "--bouts", "0") == "--bouts: must be from 1 to 100000 (got 0)"
    assert "tight-sqare" in line(
        "estimate", "tight-sqare", "--bouts", "100000", "--seed", str(2**53 - 1), "--workers", "1024"
    )


SPANS = ["1..99999999999", "1..9999999999999999999999", "-99999999999..5", "1..20000:2"]


@pytest.mark.parametrize("span", SPANS)
def test_a_range_of_more_values_than_can_be_played(span: str):
    assert line(*SWEEP, "--key", f"side={span}").startswith("--key: side must have 2000 values at most (got ")
    assert line(*TUNE, "--knob", f"side={span}").startswith("--knob: side must have 40 values at most (got ")


@pytest.mark.parametrize("span", ["1..inf", "nan..5", "1..1e400", "1..1e5:nan", "1..1e5..nan"])
def test_a_range_to_nowhere(span: str):
    assert line(*SWEEP, "--key", f"side={span}").startswith("--key: side must go ")


def test_a_range_of_endless_digits():
    assert line(*TUNE, "--knob", f"side=1..{'9' * 5000}").startswith("--knob: side must go from a number to a number")


def test_combinations_are_counted_before_they_are_made():
    keys = [f"--key=areas.square.{key}=1..1000" for key in ("length", "width", "run_off")]
    assert line(*SWEEP, *keys) == "--key: must come to 2000 runs at most (got more)"
    knobs = ["--knob=areas.square.length=1..40", "--knob=areas.square.width=1..40"]
    assert line(*TUNE, *knobs) == "--knob: must have from 2 to 40 values in all (got 1600)"
    assert line(*SWEEP, "--key", "side=8..12", "--spread", "2000000000").startswith(
        "--spread: must be from 2 to 2000 points"
    )


def test_a_change_that_nests_without_end():
    found = line("check", "tight-square", "--set", "title=" + "[" * 50_000)
    assert "VALUE must be TOML" in found and len(found) < 1000
