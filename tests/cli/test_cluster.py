"""`--cluster`: on every command that plays many bouts, and refused in one line before the first bout."""

from __future__ import annotations

import importlib
import importlib.util
import socket
import sys
import threading
import time

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


@pytest.mark.skipif(not HAVE_IT, reason="needs the extra `cluster`")
@pytest.mark.parametrize("answer", [b"", b"HTTP/1.1 400 Bad Request\r\n\r\n" * 9])
def test_where_somebody_else_answers_it_is_one_line_and_soon(answer: bytes, monkeypatch: pytest.MonkeyPatch):
    monkeypatch.setattr("sim.experiments.cluster.ANSWER_S", 1.0)
    importlib.import_module("distributed")  # which on a busy machine takes longer than the answer
    with socket.create_server(("127.0.0.1", 0)) as one:
        stop, taken = threading.Event(), []

        def serve() -> None:
            one.settimeout(0.1)
            while not stop.is_set():
                try:
                    taken.append(one.accept()[0])
                    taken[-1].sendall(answer)
                except TimeoutError:
                    continue

        server = threading.Thread(target=serve)
        server.start()
        start = time.monotonic()
        try:
            line = refused("estimate", "--cluster", f"tcp://127.0.0.1:{one.getsockname()[1]}")
        finally:
            took = time.monotonic() - start
            stop.set()
            server.join()
            for each in taken:
                each.close()
    assert line.startswith("--cluster: must be the address of a Dask scheduler that answers") and took < 15.0


@pytest.mark.skipif(not HAVE_IT, reason="needs the extra `cluster`")
@pytest.mark.parametrize(
    "address", ["tcp://", "tcp://[::1", "inproc://1", "http://127.0.0.1:80", "tcp://127.0.0.1:99999", "tcp://h:x"]
)
def test_what_is_no_address_is_refused_at_once(address: str):
    assert refused("estimate", "--cluster", address).startswith("--cluster: must be the address of a Dask scheduler")
