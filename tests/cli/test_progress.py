"""Progress is for people: on a terminal, on stderr, and gone at the end."""

from __future__ import annotations

import io
import os
import subprocess
import sys
from pathlib import Path
from types import SimpleNamespace

import pytest

from cli import progress as progress_module
from cli.progress import WIDEST, Progress
from sim import compiled
from sim.words.world import left_in_words, ready_in_words, speed_in_words

ROOT = Path(__file__).resolve().parents[2]


class Screen(io.StringIO):
    """A stderr that a person watches, or not."""

    def __init__(self, watched: bool, encoding: str = "utf-8"):
        super().__init__()
        self.watched, self.named = watched, encoding

    @property
    def encoding(self) -> str:
        return self.named

    def isatty(self) -> bool:
        return self.watched


def shown(monkeypatch: pytest.MonkeyPatch, watched: bool, encoding: str = "utf-8", noun: str = "bouts") -> str:
    screen = Screen(watched, encoding)
    monkeypatch.setattr(sys, "stderr", screen)
    watch = [100.0]
    monkeypatch.setattr(progress_module, "time", SimpleNamespace(monotonic=lambda: watch[0]))
    with Progress(noun) as progress:
        for done in (2, 4, 6):
            progress(done, 8)
            watch[0] += 1.0
    return screen.getvalue()


def lines_of(text: str) -> list[str]:
    return [line.strip() for line in text.split("\r") if line.strip()]


def test_a_watching_person_sees_how_far_it_is_and_then_an_empty_line(monkeypatch: pytest.MonkeyPatch):
    text = shown(monkeypatch, watched=True)
    first, second, _, third = lines_of(text)
    assert first == ready_in_words(compiled.is_complete())
    assert "━" in second and second.endswith(" 2 of 8 bouts")
    assert " 6 of 8 bouts " in third and third.endswith(" 2 a second, 1 s left")
    lines = text.split("\r")
    assert lines[-1] == "" and lines[-2].strip() == ""
    assert len(lines[-2]) == max(len(line) for line in lines) <= WIDEST  # the last covers all before it


def test_lines_come_at_most_ten_times_a_second(monkeypatch: pytest.MonkeyPatch):
    screen = Screen(True)
    monkeypatch.setattr(sys, "stderr", screen)
    watch = [100.0]
    monkeypatch.setattr(progress_module, "time", SimpleNamespace(monotonic=lambda: watch[0]))
    with Progress("bouts") as progress:
        for done, passed_s in ((4, 0.0), (5, 0.09), (6, 0.02)):  # the second is too soon after the first to be shown
            watch[0] += passed_s
            progress(done, 8)
    assert [one in screen.getvalue() for one in ("4 of 8", "5 of 8", "6 of 8")] == [True, False, True]


def test_a_narrow_set_of_characters_has_no_bar(monkeypatch: pytest.MonkeyPatch):
    text = shown(monkeypatch, watched=True, encoding="ascii", noun="{odd} [bold]bouts")
    assert text.isascii() and "?" not in text
    assert lines_of(text)[1].startswith("2 of 8 {odd} ")


def test_a_file_or_a_pipe_gets_nothing(monkeypatch: pytest.MonkeyPatch):
    assert shown(monkeypatch, watched=False) == ""


def test_the_first_run_on_a_machine_says_what_takes_so_long(monkeypatch: pytest.MonkeyPatch, tmp_path: Path):
    monkeypatch.setattr(compiled.config, "CACHE_DIR", str(tmp_path))
    assert "first run on this machine" in lines_of(shown(monkeypatch, watched=True))[0]
    compiled.set_complete()
    assert lines_of(shown(monkeypatch, watched=True))[0] == "Starting"


def test_what_is_not_known_yet_is_not_said():
    assert [speed_in_words(one) for one in (None, 0.0, 0.5, 34.6)] == ["", "", "30 a minute", "35 a second"]
    told = [left_in_words(one) for one in (None, 0.0, 99.0, 150.0, 9000.0)]
    assert told == ["", "0 s left", "99 s left", "2 min left", "2 h left"]


CODE = """
import sys, time
from cli.progress import Progress
with Progress("bouts") as progress:
    for done in range(3):
        progress(done, 2)
        time.sleep(0.11)
assert ("rich.progress" in sys.modules) is sys.stderr.isatty()
"""


@pytest.mark.skipif(not hasattr(os, "openpty"), reason="needs a terminal of Unix")
@pytest.mark.parametrize(("told", "wide"), [(40, 39), (0, WIDEST)])
def test_a_real_terminal_has_it_in_one_row_however_wide_it_says_it_is(told: int, wide: int):
    import pty
    import termios

    ours, theirs = pty.openpty()
    termios.tcsetwinsize(theirs, (24, told))
    done = subprocess.Popen([sys.executable, "-c", CODE], cwd=ROOT, stderr=theirs)
    os.close(theirs)
    seen = b""
    try:
        while more := os.read(ours, 4096):
            seen += more
    except OSError:
        pass  # the other end is closed
    os.close(ours)
    assert done.wait() == 0
    lines = seen.decode().split("\r")
    assert max(map(len, lines)) <= wide
    assert "Starting" in seen.decode() or "Getting ready" in seen.decode()
    assert " of 2 bouts" in seen.decode() and "\n" not in seen.decode() and "\x1b" not in seen.decode()
    assert lines[-2] == " " * max(map(len, lines)) and lines[-1] == ""


def test_nothing_heavy_is_loaded_where_nobody_watches():
    done = subprocess.run([sys.executable, "-c", CODE], cwd=ROOT, capture_output=True, text=True, check=True)
    assert (done.stdout, done.stderr) == ("", "")
