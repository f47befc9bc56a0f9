"""`overload sheet`: refused before the first bout; whole or not at all; from a card, from play or without; the same each time."""

from __future__ import annotations

import io
import json
import re
from html import unescape
from pathlib import Path

import pytest
import tomli_w
from pypdf import PdfReader
from typer.testing import CliRunner

import sim.experiments.adjust  # noqa: F401  (loaded before a test puts something in its place)
from cli.app import app
from sim.experiments.adjust import triggers_of
from sim.experiments.card_file import read_card
from sim.experiments.cautions import ROUGH
from sim.game.loader import load_game
from sim.words.listing import number_word
from sim.words.sheet_triggers import NOT_PLAYED
from tests.unit.report.test_sheet import crowd

SHORT = ["--set", "bouts.minutes=0.5", "--set", "bouts.count=1"]
AIM = ["--aim", "turnovers_per_min=more", "--bouts", "4", "--workers", "1"]


def run(*arguments: str):
    return CliRunner().invoke(app, list(arguments), catch_exceptions=False)


def text(file: Path) -> str:
    if file.suffix.lower() == ".pdf":
        pages = PdfReader(io.BytesIO(file.read_bytes())).pages
        return " ".join(" ".join(page.extract_text() for page in pages).split())
    return " ".join(re.sub(r"<[^>]+>", " ", file.read_text(encoding="utf-8")).split())


@pytest.fixture
def nothing_is_played(monkeypatch: pytest.MonkeyPatch, tmp_path: Path):
    def play(*_args, **_kwargs):
        raise AssertionError("a bout was played before the input was refused")

    monkeypatch.setattr("sim.experiments.adjust.play_missing", play)
    monkeypatch.chdir(tmp_path)
    Path("folder.pdf").mkdir()


@pytest.mark.parametrize(
    ("arguments", "line"),
    [
        (["--out", "s.doc"], "--out: must end in .pdf or .html (got 's.doc')"),
        (["--out", "s"], "--out: must end in .pdf or .html (got 's')"),
        (["--out", "nowhere/s.pdf"], "--out: folder 'nowhere' must exist (got 'nowhere/s.pdf')"),
        (["--out", "folder.pdf"], "--out: must name a file, not a folder (got 'folder.pdf')"),
        (["--out", "s.pdf", "--explain", "16"], "--explain: must be from 0 to 15 (got 16)"),
        (["--out", "s.pdf", "--drinks", "-1"], "--drinks: must be from 0 to 15 (got -1)"),
        (["--out", "s.pdf", "--bouts", "0"], "--bouts: must be from 1 to 100000 (got 0)"),
        (
            ["--out", "s.pdf", "--quick", "--bouts", "4"],
            "--bouts: must be left out with --quick, which plays nothing (got '4')",
        ),
        (
            ["--out", "s.pdf", "--quick", "--card", "c"],
            "--card: must be left out with --quick, which plays nothing (got 'c')",
        ),
        (
            ["--out", "s.pdf", "--card", "c", "--bouts", "4"],
            "--bouts: must be left out with --card, which has been played (got 4)",
        ),
        (
            ["--out", "s.pdf", "--card", "c"],
            "--card: must be a file that `overload adjust --json` wrote (got 'c', which is no file)",
        ),
    ],
)
def test_what_cannot_be_is_refused_before_the_first_bout(arguments: list[str], line: str, nothing_is_played):
    result = run("sheet", "tight-square", *arguments)
    assert (result.exit_code, result.stdout, result.stderr.strip()) == (2, "", line)
    assert [one.name for one in Path().iterdir()] == ["folder.pdf"]


def test_a_crowd_gets_as_many_sides_as_it_takes(nothing_is_played):
    Path("crowd.toml").write_text(tomli_w.dumps(crowd(60, 40)), encoding="utf-8")
    result = run("sheet", "crowd.toml", "--quick", "--out", "s.pdf")
    sides = len(PdfReader("s.pdf").pages)
    assert sides > 2 and result.stderr == f"The sheet: s.pdf ({number_word(sides)} sides of A4)\n"


@pytest.mark.parametrize("suffix", ["pdf", "html", "PDF"])
def test_quick_is_written_without_a_bout_and_said_on_stderr(suffix: str, nothing_is_played):
    place = Path(f"s.{suffix}")
    result = run("sheet", "tight-square", "--quick", "--out", str(place))
    assert (result.exit_code, result.stdout, result.stderr) == (0, "", f"The sheet: {place} (two sides of A4)\n")
    if suffix == "html":
        assert NOT_PLAYED in text(place)
    else:
        assert place.read_bytes().startswith(b"%PDF")
        assert " ".join(NOT_PLAYED.split()[:3]) in text(place)


def test_the_clock_and_the_changes_asked_for_stand_on_it(nothing_is_played):
    asked = ["--explain", "3", "--drinks", "4", "--set", "side=12", "--set", "bouts.count=2"]
    assert run("sheet", "tight-square", "--quick", "--out", "s.html", *asked).exit_code == 0
    found = text(Path("s.html"))
    assert "0:00 explain, 3:00 bout 1, 5:00 drinks, 9:00 bout 2, 11:00 end." in found
    assert "12 x 12 m = 16 x 16 paces" in found and "with side=12 and bouts.count=2" in found


@pytest.fixture(scope="module")
def card(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A card as the program writes it."""
    place = tmp_path_factory.mktemp("card") / "card.json"
    assert run("adjust", "tight-square", *SHORT, *AIM, "--json", str(place)).exit_code == 0
    return place


def test_a_card_is_printed_as_its_json_has_it(card: Path, tmp_path: Path):
    sheet = tmp_path / "s.html"
    assert run("sheet", "tight-square", *SHORT, "--card", str(card), "--out", str(sheet)).exit_code == 0
    changes = tuple(SHORT[1::2])
    found, said = read_card(card, load_game("tight-square", changes), changes, None), text(sheet)
    kept = [line for line in found.cautions if not line.endswith(ROUGH)]
    assert len(kept) < len(found.cautions) and "take the ranges" not in said
    assert all(" ".join(line.split()) in unescape(said) for line in kept)
    for one in triggers_of(found.mean, found.spells, found.effects):
        if any(each.moves and not each.refusals for each in found.effects):
            assert ("Too easy" if one.below else "Too hard") in said
    first = sheet.read_bytes()
    assert run("sheet", "tight-square", *SHORT, "--card", str(card), "--out", str(sheet)).exit_code == 0
    assert sheet.read_bytes() == first


def test_played_it_says_what_the_card_says(card: Path, tmp_path: Path):
    played, read = tmp_path / "a.html", tmp_path / "b.html"
    assert run("sheet", "tight-square", *SHORT, *AIM[2:], "--out", str(played)).exit_code == 0
    assert run("sheet", "tight-square", *SHORT, "--card", str(card), "--out", str(read)).exit_code == 0
    assert played.read_bytes() == read.read_bytes()


def test_a_card_of_something_else_is_refused(card: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    monkeypatch.chdir(tmp_path)
    whole = json.loads(card.read_text(encoding="utf-8"))
    broken = {
        "other.json": "not JSON",
        "less.json": json.dumps({key: value for key, value in whole.items() if key != "effects"}),
        "engine.json": json.dumps(whole | {"provenance": whole["provenance"] | {"engine": "another"}}),
        "place.json": json.dumps(whole | {"triggers": [{"below": True, "value": 1.0, "effects": [99]}]}),
        "negative.json": json.dumps(whole | {"triggers": [{"below": True, "value": 1.0, "effects": [-1]}]}),
    }
    for name, content in broken.items():
        Path(name).write_text(content, encoding="utf-8")
    for arguments in (
        ["tight-square", "--card", str(card)],  # with other bouts
        ["two-squares", *SHORT, "--card", str(card)],
        ["tight-square", *SHORT, "--population", "U12", "--card", str(card)],
        *(["tight-square", *SHORT, "--card", name] for name in broken),
    ):
        result = run("sheet", *arguments, "--out", "s.pdf")
        assert result.exit_code == 2 and result.stderr.startswith("--card: must be a "), (arguments, result.stderr)
        assert not Path("s.pdf").exists() and result.stderr.count("\n") == 1
