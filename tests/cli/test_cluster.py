"""`--cluster`: on every command that plays many bouts, and refused in one line before the first bout."""

from __future__ import annotations

import importlib.util
import socket
import sys

import pytest
from typer.testing import CliRunner

from cli.app import app

ASKED = {
    "estimate": [],
    "compare": ["--change", "areas.square.length=9"],
    "tune": ["--knob", "side=9..11", "--target", "turnovers=2"],
    "sweep": ["--key", "side=9,11"],
    "why": ["--measure", "in_play_share"],
    "adjust": ["--aim", "turnovers=2"],
}
HAVE_IT = importlib.util.find_spec("distributed") is not None


def refused(command: str, *arguments: str) -> str:
    result = CliRunner().invoke(app, [command, "tight-square", *ASKED[command], *arguments], catch_exceptions=False)
    assert (result.exit_code, result.stdout) == (2, "")
    (line,) = result.stderr.splitlines()
    return line


@pytest.fixture(autouse=True)
def nothing_is_played(monkeypatch: pytest.MonkeyPatch):
    def play(*_args, **_kwargs):
        raise AssertionError("nothing may be played")

    monkeypatch.setattr("sim.pitch.engine.play_bout", play)


@pytest.mark.parametrize("command", ASKED)
def test_without_the_extra_it_says_what_to_install(command: str, monkeypatch: pytest.MonkeyPatch):
    monkeypatch.setitem(sys.modules, "distributed", None)
    assert refused(command, "--cluster", "tcp://127.0.0.1:8786") == (
        "--cluster: must have the extra: pip install 'quillhaven-overload[cluster]' (got no dask.distributed here)"
    )


def test_it_does_not_go_with_workers():
    assert refused("estimate", "--cluster", "tcp://127.0.0.1:8786", "--workers", "2") == (
        "--cluster: must go without --workers: the cluster has its own (got 2)"
    )


@pytest.mark.skipif(not HAVE_IT, reason="needs the extra `cluster`")
@pytest.mark.parametrize("address", ["tcp://127.0.0.1:{free}", "nonsense://127.0.0.1:{free}", "127.0.0.1", ""])
def test_an_address_where_nobody_answers(address: str, monkeypatch: pytest.MonkeyPatch):
    monkeypatch.setattr("sim.experiments.cluster.ANSWER_S", 0.3)
    with socket.socket() as one:  # bound and not listening: nobody answers there
        one.bind(("127.0.0.1", 0))
        whole = address.format(free=one.getsockname()[1])
        line = refused("estimate", "--cluster", whole)
    assert line.startswith("--cluster: must be the address of a Dask scheduler that answers")
    assert f"(got {whole!r}" in line
