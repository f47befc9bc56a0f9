"""The world outside: full disks, pipes and devices, links, narrow consoles, long names.  One line, a sensible exit code, nothing
half written, nothing replaced that is no plain file."""

from __future__ import annotations

import errno
import json
import multiprocessing
import os
import signal
import stat
import subprocess
import sys
import tempfile
import threading
import time
from functools import cache
from pathlib import Path
from types import SimpleNamespace

import pytest
import typer
from typer.testing import CliRunner

from cli import app as app_module
from cli.app import app
from cli.console import escaped, fit, say
from cli.files import Keeper, NotWritten, require_place, write_bytes, write_together, write_whole
from cli.stops import stops
from sim.errors import InputError

ROOT = Path(__file__).resolve().parents[2]
PLAYED = ["play", "tight-square", "--set", "bouts.minutes=0.2"]
FULL = Path("/dev/full")
needs_devices = pytest.mark.skipif(not FULL.exists(), reason="needs the devices of Linux")


@cache
def loaded() -> None:
    """All that is needed to play is loaded into this process."""
    assert CliRunner().invoke(app, PLAYED).exit_code == 0


def overload(*arguments: str, out: int | None = None) -> subprocess.CompletedProcess[str]:
    """`overload` in a process with streams of its own, which begins as a copy of this one.  `out`: where its output goes in
    place of a pipe."""
    loaded()
    reader, pipe = os.pipe()
    with tempfile.TemporaryFile() as err, open(reader, encoding="utf-8") as read:
        streams = pipe if out is None else out, err.fileno()
        process = multiprocessing.get_context("fork").Process(target=begun, args=(arguments, *streams))
        process.start()
        os.close(pipe)
        stdout = read.read()
        process.join()
        err.seek(0)
        return subprocess.CompletedProcess(arguments, process.exitcode, stdout, err.read().decode())


def begun(arguments: tuple[str, ...], out: int, err: int) -> None:
    for stream, number in ((out, 1), (err, 2)):
        os.dup2(stream, number)
    sys.stdout, sys.stderr = (open(number, "w", encoding="utf-8", closefd=False) for number in (1, 2))
    app(list(arguments))


# what is written, and where


def no_room(*_args, **_more):
    raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))


def test_a_full_disk_leaves_the_old_files_and_no_part_of_the_new(tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    files = [tmp_path / f"{name}.csv" for name in "abc"]
    for one in files:
        one.write_text("old", encoding="utf-8")
    taken, real = [], os.fdopen

    def second_is_full(*args, **more):
        stream = real(*args, **more)
        taken.append(stream)
        if len(taken) == 2:
            stream.close()
            no_room()
        return stream

    monkeypatch.setattr(os, "fdopen", second_is_full)
    with pytest.raises(NotWritten, match=r"b.csv' could not be written \(No space left on device\)"):
        write_together({one: b"new" for one in files})
    assert sorted(tmp_path.iterdir()) == files and {one.read_text() for one in files} == {"old"}


@needs_devices
@pytest.mark.parametrize("option", ["--events"])
def test_a_full_device_is_one_line_after_the_answer(option: str):
    done = overload(*PLAYED, option, str(FULL))
    assert (done.returncode, done.stderr) == (1, "'/dev/full' could not be written (No space left on device)\n")
    assert "the bout is over" in done.stdout
    assert stat.S_ISCHR(FULL.stat().st_mode)


def test_an_answer_is_given_though_its_json_cannot_be_written(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys):
    from cli.files import give

    monkeypatch.setattr(tempfile, "mkstemp", no_room)
    with pytest.raises(NotWritten):
        give(str(tmp_path / "x.json"), lambda: "{}", lambda: "the answer")
    assert capsys.readouterr().out == "the answer\n"


def test_what_is_kept_on_the_way_is_tried_again(tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    keeper = Keeper(tmp_path / "kept")
    with monkeypatch.context() as full:
        full.setattr(tempfile, "mkstemp", no_room)
        keeper(b"one")
        with pytest.raises(NotWritten, match="No space left"):
            keeper.settle()
    keeper(b"two")
    keeper.settle()
    assert (tmp_path / "kept").read_bytes() == b"two"
    Keeper(None)(b"nowhere")


def test_a_device_and_a_pipe_are_written_into_and_stay(tmp_path: Path):
    pipe, got = tmp_path / "pipe", []
    os.mkfifo(pipe)
    reader = threading.Thread(target=lambda: got.append(pipe.read_bytes()))
    reader.start()
    require_place("--json", pipe)
    write_whole(pipe, "through\n")
    reader.join(5)
    assert got == [b"through\n"] and stat.S_ISFIFO(pipe.stat().st_mode) and list(tmp_path.iterdir()) == [pipe]
    before = os.stat(os.devnull).st_rdev
    write_bytes(Path(os.devnull), b"gone")
    assert os.stat(os.devnull).st_rdev == before


def test_of_a_link_the_target_changes(tmp_path: Path):
    (tmp_path / "far").mkdir()
    link, target = tmp_path / "link", tmp_path / "far" / "target"
    link.symlink_to(target)
    for text in ("new", "newer"):  # once where the target is not there yet
        write_whole(link, text)
        assert link.is_symlink() and target.read_text() == text and not target.is_symlink()
    assert [one.name for one in target.parent.iterdir()] == ["target"]
    link.unlink()
    link.symlink_to(tmp_path / "nowhere" / "target")
    with pytest.raises(InputError, match="--json: folder .*nowhere' must exist"):
        require_place("--json", link)


@needs_devices
@pytest.mark.parametrize("place", ["/dev/stdout", "/dev/fd/1", "/proc/self/fd/1"])
@pytest.mark.parametrize("through", ["pipe", "file"])
def test_the_output_itself_is_written_into(place: str, through: str, tmp_path: Path):
    kind = Path("/dev/stdout").is_symlink()
    if through == "pipe":
        text = overload(*PLAYED, "--events", place).stdout
    else:
        with (tmp_path / "out").open("w") as out:
            assert overload(*PLAYED, "--events", place, out=out.fileno()).returncode == 0
        text = (tmp_path / "out").read_text(encoding="utf-8")
    words, events = text[: text.index("t,seq,kind")], text[text.index("t,seq,kind") :]
    assert "the bout is over" in words and events.splitlines()[-1].split(",")[2] == "end"
    assert Path("/dev/stdout").is_symlink() == kind


def test_what_is_read_again_must_be_a_plain_file(tmp_path: Path):
    os.mkfifo(tmp_path / "pipe")
    with pytest.raises(InputError, match="--save: must be a plain file, because it is read again"):
        require_place("--save", tmp_path / "pipe", again=True)


@pytest.mark.parametrize("option", ["--events", "--plot"])
def test_a_name_that_is_too_long_is_refused_before_the_first_bout(option: str, tmp_path: Path):
    result = CliRunner().invoke(app, [*PLAYED, option, str(tmp_path / ("n" * 300 + ".png"))], catch_exceptions=False)
    (line,) = result.stderr.splitlines()
    assert (result.exit_code, result.stdout) == (2, "") and len(line) < 200
    assert line.startswith(f"{option}: must name a file that can be written") and "File name too long" in line


def test_a_name_as_long_as_they_may_be_is_written(tmp_path: Path):
    write_whole(tmp_path / ("n" * 255), "x")
    assert [len(one.name) for one in tmp_path.iterdir()] == [255]


@pytest.mark.parametrize("game", ["g" * 5000, "g" * 300 + ".toml"])
def test_a_game_with_a_name_that_is_too_long_is_one_line(game: str):
    result = CliRunner().invoke(app, ["check", game], catch_exceptions=False)
    assert (result.exit_code in (1, 2), result.stdout, len(result.stderr.splitlines())) == (True, "", 1)


# what people see


def test_control_characters_never_reach_the_terminal(capsys):
    say("\x1b[31mred\x1b[0m\x07\x9b2J \u202egnp\u2066 tab\there\r\nnext\x00", err=True)
    say("caf\u00e9 \u2013 \u26bd")
    out, err = capsys.readouterr()
    assert err == "?[31mred?[0m??2J ?gnp? tab\there\nnext?\n" and out == "caf\u00e9 \u2013 \u26bd\n"


@pytest.mark.parametrize("command", ["check", "play"])
def test_a_title_cannot_talk_to_the_terminal(command: str, tmp_path: Path):
    game = tmp_path / "loud.toml"
    text = (ROOT / "scenarios" / "tight-square.toml").read_text(encoding="utf-8")
    (line,) = [one for one in text.splitlines() if one.startswith("title")]
    game.write_text(text.replace(line, 'title = "\\u001b]0;owned\\u0007 \\u001b[2J"'), encoding="utf-8")
    done = overload(command, str(game))
    assert not {char for char in done.stdout + done.stderr if ord(char) < 32} - {"\n", "\t"}


@pytest.mark.parametrize("coding", ["ascii", "latin-1", "cp437"])
def test_a_console_that_cannot_print_a_character_gets_another(coding: str, tmp_path: Path):
    game = tmp_path / "far.toml"
    text = (ROOT / "scenarios" / "tight-square.toml").read_text(encoding="utf-8")
    (line,) = [one for one in text.splitlines() if one.startswith("title")]
    game.write_text(text.replace(line, 'title = "Z\u00fcrich \u2013 \u26bd"'), encoding="utf-8")
    done = subprocess.run(
        [sys.executable, "-m", "cli", "check", str(game), "--bouts", "0"],
        cwd=ROOT,
        capture_output=True,
        env=os.environ | {"PYTHONIOENCODING": coding},
    )
    assert (done.returncode, done.stderr) == (0, b"")
    assert fit("Z\u00fcrich \u2013 \u26bd", coding) in done.stdout.decode(coding)


def test_json_is_the_same_data_on_any_console():
    data = {"title": "Z\u00fcrich \u2013 \U0001f600 \x9b2J \x7f"}
    text = json.dumps(data, ensure_ascii=False)
    for coding in ("ascii", "latin-1", "utf-8"):
        found = escaped(text, coding)
        assert json.loads(found.encode(coding).decode(coding)) == data and "\x9b" not in found and "\x7f" not in found


def test_a_reader_that_leaves_is_no_drama():
    process = subprocess.Popen(
        [sys.executable, "-m", "cli", "schema"], cwd=ROOT, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True
    )
    process.stdout.close()
    err = process.stderr.read()
    process.stderr.close()
    assert (process.wait(), err) == (1, "")


# what stops a command


@pytest.mark.parametrize(("number", "code"), [(signal.SIGINT, 130), (signal.SIGTERM, 143)])
@pytest.mark.parametrize("answered", [True, False])
def test_a_stopped_command_gives_what_it_has_and_says_so_in_its_exit_code(number, code, answered, monkeypatch):
    monkeypatch.setattr(signal, "getsignal", lambda one: signal.SIG_DFL)
    monkeypatch.setattr("cli.stops.time", SimpleNamespace(monotonic=lambda: 0.0))  # all in one moment

    def stopped_on_the_way(game: str) -> None:
        try:
            os.kill(os.getpid(), number)
        except KeyboardInterrupt:
            os.kill(os.getpid(), number)  # who stops a group tells each of them twice
            if not answered:
                raise
        say("what is finished")

    stopping = typer.Typer(cls=app_module.Refusing)
    stopping.command("one")(stopped_on_the_way)
    stopping.command("other")(lambda: None)
    result = CliRunner().invoke(stopping, ["one", "x"], catch_exceptions=False)
    assert result.exit_code == code
    if answered:
        assert (result.stdout, result.stderr) == ("what is finished\n", "")
    else:
        assert (result.stdout, result.stderr) == ("", "Stopped before anything was finished: nothing to show.\n")


def test_handlers_are_put_back_and_what_was_shut_off_stays_so():
    before = signal.signal(signal.SIGTERM, signal.SIG_IGN)
    try:
        with stops() as found:
            assert signal.getsignal(signal.SIGTERM) == signal.SIG_IGN
            os.kill(os.getpid(), signal.SIGTERM)
        assert found.signal == 0
    finally:
        signal.signal(signal.SIGTERM, before)
    assert signal.getsignal(signal.SIGTERM) == before


def test_a_stop_where_an_exception_would_be_lost_comes_a_moment_later():
    from cli.stops import Stopped, loses

    seen = []
    with stops() as found:

        class Leaving:
            def __del__(self):
                os.kill(os.getpid(), signal.SIGTERM)
                seen.append(loses(sys._getframe()))

        try:
            leaving = Leaving()
            del leaving
            seen.append("went on")
            for _ in range(500):
                time.sleep(0.01)
        except KeyboardInterrupt:
            seen.append("stopped")
    assert seen == [True, "went on", "stopped"] and found.exit_code == 143
    assert not loses(sys._getframe()) and Stopped().exit_code == 130
