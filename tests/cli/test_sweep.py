"""`overload sweep`: a killed one ends the same as an uninterrupted one, and what it refuses."""

from __future__ import annotations

import signal
import subprocess
import sys
from pathlib import Path

import pytest
from typer.testing import CliRunner

from cli.app import app

ROOT = Path(__file__).resolve().parents[2]
SHORT = ["tight-square", "--set", "bouts.minutes=0.2", "--set", "bouts.count=1", "--workers", "1"]
ASKED = [*SHORT, "--key", "side=8..10", "--key", "touches=1,2", "--bouts", "30"]


ENDED_BY_THE_SECOND = """
import os, runpy, signal
from cli import files

class Keeper(files.Keeper):
    times = 0

    def __call__(self, data):
        super().__call__(data)
        self.times += 1
        if self.times == 2:
            os.kill(os.getpid(), signal.SIGKILL)

files.Keeper = Keeper
runpy.run_module("cli", run_name="__main__")
"""
"""`overload`, killed as soon as it has kept what is finished for the second time."""


def ask(*arguments: str) -> str:
    result = CliRunner().invoke(app, ["sweep", *arguments], catch_exceptions=False)
    assert result.exit_code == 0, result.stderr
    return result.stdout


@pytest.mark.slow
def test_a_killed_sweep_resumed_equals_an_uninterrupted_one(tmp_path: Path):
    killed, whole = tmp_path / "killed.csv", tmp_path / "whole.csv"
    line = [sys.executable, "-c", ENDED_BY_THE_SECOND, "sweep", *ASKED, "--save", str(killed)]
    assert subprocess.run(line, cwd=ROOT, stdout=subprocess.DEVNULL).returncode == -signal.SIGKILL
    assert "6 of 6 runs" in ask(*ASKED, "--save", str(whole))
    part = killed.read_text(encoding="utf-8")
    assert 0 < len(part) < len(whole.read_text(encoding="utf-8")), "killed before its end"
    ask(*ASKED, "--save", str(killed))
    assert killed.read_bytes() == whole.read_bytes()


@pytest.mark.slow
def test_points_spread_over_the_space():
    text = ask(
        *SHORT, "--key", "side=8..14", "--key", "restarts.start.seconds=2.0..8.0", "--spread", "3", "--bouts", "4"
    )
    assert "3 of 3 runs" in text and "To keep all measures of all runs: --save FILE." in text


@pytest.mark.parametrize(
    ("arguments", "line"),
    [
        (["--key", "side"], "--key: must read KEY=A,B,C or KEY=FROM..TO, such as touches=1,2,3 or side=8..14 (got 'side')"),
        (["--key", "side=8.0..9.5"], "--key: side must be whole numbers or a list, or else --spread N (got a range)"),
        (["--key", "side=9", "--spread", "1"], "--spread: must be from 2 to 2000 points (got 1)"),
        (["--key", "side=9", "--save", "nowhere/x.csv"], "--save: folder 'nowhere' must exist (got 'nowhere/x.csv')"),
        (["--key", "side=9", "--table", "x.xlsx"], "--table: must end in .csv or .parquet (got 'x.xlsx')"),
        (["--key", "side=9", "--table", "a.csv", "--save", "a.csv"],
         "--table: must be another file than that of --save (got 'a.csv' for both)"),
        (["--key", "bouts.seconds=0"], "tight-square: bouts.seconds must be greater than 0 (got 0)"),
        (["--key", "side=9", "--save", "README.md"], "--save: must be a table of a sweep over side (got another)"),
    ],
)  # fmt: skip
def test_refusals(arguments, line, monkeypatch):
    monkeypatch.chdir(ROOT)
    result = CliRunner().invoke(app, ["sweep", *SHORT, *arguments], catch_exceptions=False)
    assert (result.exit_code, result.stdout) == (2, "")
    assert result.stderr.splitlines() == [line]


def test_parquet_without_its_extra_is_refused(monkeypatch, tmp_path):
    monkeypatch.setitem(sys.modules, "pyarrow", None)
    arguments = ["sweep", *SHORT, "--key", "side=9", "--table", str(tmp_path / "x.parquet")]
    result = CliRunner().invoke(app, arguments, catch_exceptions=False)
    assert (result.exit_code, result.stdout) == (2, "")
    assert result.stderr == (
        "--table: must have the extra: pip install 'quillhaven-overload[parquet]' (got no pyarrow here)\n"
    )


@pytest.mark.slow
@pytest.mark.parametrize("suffix", [".csv", ".parquet"])
def test_the_table_once_more(tmp_path: Path, suffix: str):
    if suffix == ".parquet":
        pytest.importorskip("pyarrow", reason="needs the extra `parquet`")
    save, table = tmp_path / "kept.csv", tmp_path / f"table{suffix}"
    ask(*SHORT, "--key", "side=9,10", "--bouts", "4", "--save", str(save), "--table", str(table))
    data = table.read_bytes()
    assert data.startswith(b"PAR1") if suffix == ".parquet" else data == save.read_bytes()
