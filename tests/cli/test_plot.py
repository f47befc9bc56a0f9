"""`--plot`: refused before the first bout, both files or none, said on stderr, the same bytes each time, the numbers beside."""

from __future__ import annotations

import io
import shlex
from pathlib import Path

import pandas as pd
import pytest
from typer.testing import CliRunner

import cli.estimate
import sim.experiments.adjust
import sim.experiments.compare
import sim.experiments.replicate
import sim.experiments.sweep
import sim.experiments.tune
import sim.experiments.why  # noqa: F401  (all loaded before a test puts something in place of what they share)
from cli.app import app
from sim.experiments.replicate import replicate
from sim.experiments.tables import session_tables
from sim.game.loader import load_game
from sim.plots import pages
from sim.plots.bout_frames import of_runs

SHORT = ["--set", "bouts.minutes=0.5", "--set", "bouts.count=1", "--workers", "1"]
ASKED = {
    "play": ["play", "tight-square", *SHORT[:-2]],
    "estimate": ["estimate", "tight-square", *SHORT, "--bouts", "4"],
    "compare": ["compare", "tight-square", *SHORT, "--bouts", "4", "--change", "areas.square.length=9"],
    "tune": ["tune", "tight-square", *SHORT, *"--knob side=10..11 --target turnovers_per_min=3 --budget 20 --fresh 5".split(),
             "--bouts", "5"],
    "sweep": ["sweep", "tight-square", *SHORT, "--bouts", "2", "--key", "side=9,11"],
    "adjust": ["adjust", "tight-square", *SHORT, "--aim", "turnovers_per_min=more", "--bouts", "2"],
    "why": ["why", "tight-square", *SHORT, "--measure", "turnovers_per_min", "--bouts", "1"],
}  # fmt: skip
QUICK = [name for name in ASKED if name != "why"]  # that one plays two hundred runs: the walk of test_caution draws it


@pytest.fixture
def nothing_is_played(monkeypatch: pytest.MonkeyPatch, tmp_path: Path):
    def play(*_args, **_kwargs):
        raise AssertionError("a bout was played before the input was refused")

    for place in ("replicate", "compare", "tune", "adjust", "sweep", "why"):
        name = "play_missing" if place in ("compare", "tune", "adjust") else "play_batches"
        monkeypatch.setattr(f"sim.experiments.{place}.{name}", play)
    monkeypatch.setattr("sim.play", play)
    monkeypatch.chdir(tmp_path)


def run(*arguments: str):
    return CliRunner().invoke(app, list(arguments), catch_exceptions=False)


def refused(*arguments: str) -> str:
    result = run(*arguments)
    assert (result.exit_code, result.stdout) == (2, "")
    assert [path for path in Path().iterdir() if path.is_file()] == []
    return result.stderr.strip()


@pytest.mark.parametrize("command", ASKED)
@pytest.mark.parametrize("name", ["picture.gif", "picture", "picture.csv"])
def test_another_suffix_is_refused(command: str, name: str, nothing_is_played):
    assert refused(*ASKED[command], "--plot", name) == f"--plot: must end in .png, .svg or .pdf (got '{name}')"


@pytest.mark.parametrize("command", ASKED)
def test_a_place_that_cannot_be_written_is_refused(command: str, nothing_is_played):
    assert (
        refused(*ASKED[command], "--plot", "nowhere/p.png")
        == "--plot: folder 'nowhere' must exist (got 'nowhere/p.png')"
    )
    Path("p.csv").mkdir()
    assert refused(*ASKED[command], "--plot", "p.svg") == "--plot: must name a file, not a folder (got 'p.csv')"


@pytest.mark.parametrize(
    ("command", "other"),
    [
        ("play", "--events"),
        ("estimate", "--json"),
        ("compare", "--json"),
        ("tune", "--json"),
        ("adjust", "--json"),
        ("why", "--json"),
    ],
)
def test_the_numbers_do_not_fall_on_another_file_of_ours(command: str, other: str, nothing_is_played):
    said = refused(*ASKED[command], "--plot", "p.png", other, "p.csv")
    assert said == "--plot: must be another file: 'p.csv' is written by another option (got 'p.png')"


def test_the_numbers_of_a_sweep_s_picture_go_beside_its_table(tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    """One stem for both is what anybody types; the numbers have a name of their own then."""
    monkeypatch.chdir(tmp_path)
    asked = [*ASKED["sweep"], "--save", "p.csv", "--plot", "p.svg"]
    result = CliRunner().invoke(app, asked, catch_exceptions=False)
    assert result.exit_code == 0 and "p.numbers.csv" in result.stderr
    assert {one.name for one in Path().iterdir()} == {"p.csv", "p.svg", "p.numbers.csv"}
    table = Path("p.csv").read_bytes()
    assert table.startswith(b"side,") and b",mean,low,high,session_low," in table
    assert CliRunner().invoke(app, asked, catch_exceptions=False).exit_code == 0, (
        "the table is the sweep's own, and goes on"
    )
    assert Path("p.csv").read_bytes() == table
    both = run(*ASKED["sweep"], "--save", "p.csv", "--table", "p.numbers.csv", "--plot", "p.svg")
    assert both.exit_code == 2
    assert (
        both.stderr.strip()
        == "--plot: must be another file: 'p.numbers.csv' is written by another option (got 'p.svg')"
    )


def test_the_tables_of_an_estimate_are_left_alone(nothing_is_played):
    Path("t").mkdir()
    said = refused(*ASKED["estimate"], "--plot", "t/player.png", "--tables", "t")
    assert said == "--plot: must be another file: 't/player.csv' is written by another option (got 't/player.png')"


@pytest.mark.parametrize(
    ("arguments", "line"),
    [
        (["estimate", "--picture", "metres"], "--picture: must go with --plot (got 'metres' without)"),
        (["estimate", "--picture", "art", "--plot", "p.png"],
         "--picture: must be one of: defending, metres, passes (got 'art')"),
        (["sweep", "--measure", "in_play_share"], "--measure: must go with --plot (got 'in_play_share' without)"),
        (["sweep", "--key", "touches=1,2", "--key", "restarts.start.seconds=2,3", "--plot", "p.png"],
         "--plot: must go with one key or two (got 3)"),
    ],
)  # fmt: skip
def test_what_does_not_go_together_is_refused(arguments: list[str], line: str, nothing_is_played):
    command, *more = arguments
    assert refused(*ASKED[command], *more) == line


@pytest.mark.parametrize("command", ["compare", "sweep"])
def test_a_measure_that_is_not_there_is_refused(command: str, nothing_is_played):
    said = refused(*ASKED[command], "--plot", "p.png", "--measure", "goals_per_bout")
    assert (
        said == '--measure: must be something that can happen in this game: there are no goals (got "goals_per_bout")'
    )


def commands_of_the_readme() -> list[list[str]]:
    text = (Path(__file__).resolve().parents[2] / "cli" / "README.md").read_text(encoding="utf-8")
    block = text.split("<!-- pictures -->\n```sh\n")[1].split("```")[0]
    return [shlex.split(line, comments=True)[1:] for line in block.splitlines()]


@pytest.mark.parametrize("arguments", commands_of_the_readme(), ids=" ".join)
def test_the_commands_of_the_readme_are_accepted(arguments: list[str], nothing_is_played):
    with pytest.raises(AssertionError, match="a bout was played"):
        run(*arguments, *([] if arguments[0] == "play" else ["--workers", "1"]))


def test_the_readme_shows_every_picture_of_an_estimate_and_every_command_that_draws():
    shown = commands_of_the_readme()
    assert {arguments[0] for arguments in shown} == set(ASKED)
    assert {arguments[arguments.index("--picture") + 1] for arguments in shown if "--picture" in arguments} == {
        *pages.PICTURES[1:]
    }


@pytest.mark.slow
@pytest.mark.parametrize("command", QUICK)
def test_a_picture_and_its_numbers_beside_it_twice_the_same(command: str, tmp_path: Path):
    plain = run(*ASKED[command])
    files = []
    for name in ("one.png", "two.png"):
        place = tmp_path / name
        result = run(*ASKED[command], "--plot", str(place))
        assert result.exit_code == 0 and result.stdout == plain.stdout, "the answer itself does not change"
        table = place.with_suffix(".csv")
        assert result.stderr == f"Picture: {place}; the numbers in it: {table}\n"
        files.append((place.read_bytes(), table.read_bytes()))
    assert files[0] == files[1]
    assert files[0][0].startswith(b"\x89PNG") and len(pd.read_csv(io.BytesIO(files[0][1]))) > 0
    assert len(list(tmp_path.iterdir())) == 4


@pytest.mark.slow
@pytest.mark.parametrize("picture", pages.PICTURES)
def test_every_picture_of_an_estimate(picture: str, tmp_path: Path):
    place = tmp_path / "P.SVG"
    result = run(*ASKED["estimate"], "--plot", str(place), "--picture", picture)
    assert result.exit_code == 0 and place.read_bytes().startswith(b"<?xml")


@pytest.mark.slow
def test_sessions_that_are_extended_are_drawn_too(tmp_path: Path):
    kept, place = tmp_path / "kept.npz", tmp_path / "p.png"
    run(*ASKED["estimate"], "--save", str(kept))
    result = run(*ASKED["estimate"], "--extend", str(kept), "--plot", str(place), "--picture", "passes")
    assert result.exit_code == 0
    game = load_game("tight-square", ["bouts.minutes=0.5", "bouts.count=1"])
    expected = of_runs(replicate(game, 8, 1, workers=1).sessions, game)
    pd.testing.assert_frame_equal(pd.read_csv(place.with_suffix(".csv")), expected)


def test_nothing_is_written_where_drawing_fails(tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    def broken(*_args):
        raise ZeroDivisionError("broken on purpose")

    monkeypatch.setattr("sim.plots.page.picture", broken)
    with pytest.raises(ZeroDivisionError):
        run(*ASKED["play"], "--plot", str(tmp_path / "p.png"))
    assert list(tmp_path.iterdir()) == []


@pytest.mark.slow
def test_where_nothing_happened_there_is_no_picture_and_it_says_so(tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    from sim.plots import frames

    monkeypatch.setattr(frames, "of_sweep", lambda *_: pd.DataFrame())
    result = run(*ASKED["sweep"], "--plot", str(tmp_path / "p.png"))
    assert result.exit_code == 0 and result.stderr.startswith("No picture: ")
    assert list(tmp_path.iterdir()) == []


def test_the_light_door_and_the_heavy_room_name_the_same_pictures():
    assert cli.estimate.PICTURES == pages.PICTURES


@pytest.mark.slow
def test_the_tables_that_are_left_alone_are_all_there_are():
    game = load_game("tight-square", ["bouts.minutes=0.2", "bouts.count=1"])
    assert set(cli.estimate.TABLES) == set(session_tables(game, bouts=1))
