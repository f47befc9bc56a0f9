"""Progress is for people: on a terminal, on stderr, and gone at the end."""

from __future__ import annotations

import io
import sys

import pytest

from cli.progress import Progress


class Screen(io.StringIO):
    """A stderr that a person watches, or not."""

    def __init__(self, watched: bool):
        super().__init__()
        self.watched = watched

    def isatty(self) -> bool:
        return self.watched


def shown(monkeypatch: pytest.MonkeyPatch, watched: bool) -> str:
    screen = Screen(watched)
    monkeypatch.setattr(sys, "stderr", screen)
    with Progress("bouts") as progress:
        progress(4, 8)
        progress(5, 8)  # too soon after the last to be shown
    return screen.getvalue()


def test_a_watching_person_sees_how_far_it_is_and_then_an_empty_line(monkeypatch: pytest.MonkeyPatch):
    lines = shown(monkeypatch, watched=True).split("\r")
    assert [line.strip() for line in lines if line.strip()][1:] == ["4 of 8 bouts"]
    assert lines[-1] == "" and lines[-2].strip() == ""
    assert len({len(line) for line in lines[1:-1]}) == 1  # each line covers the one before


def test_a_file_or_a_pipe_gets_nothing(monkeypatch: pytest.MonkeyPatch):
    assert shown(monkeypatch, watched=False) == ""
