"""`--report` and `overload report`, `compare --replay`: refused before the first bout, the same page either way."""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest

import cli.report
from cli.scenario import scenario_of
from sim.words.report_words import CANNOT, STOPPED, TOO_RARE
from tests.cli.test_plot import ASKED, nothing_is_played, refused, run

__all__ = ["nothing_is_played"]
COMMANDS = cli.report.REPORTED


@pytest.mark.parametrize("command", COMMANDS)
def test_a_page_that_cannot_be_written_is_refused_before_the_first_bout(command: str, nothing_is_played):
    asked = ASKED[command]
    assert (
        refused(*asked, "--report", "nowhere/r.html") == "--report: folder 'nowhere' must exist (got 'nowhere/r.html')"
    )
    assert refused(*asked, "--report", "r.pdf") == "--report: must end in .html (got 'r.pdf')"
    assert refused(*asked, "--report", "r.html", "--json", "r.html").startswith("--report: must be another file")
    assert (
        refused("report", *asked, "--out", "nowhere/r.html")
        == "--out: folder 'nowhere' must exist (got 'nowhere/r.html')"
    )


def test_two_pages_of_one_comparison_are_two_files(nothing_is_played):
    asked = ASKED["compare"]
    assert refused(*asked, "--replay", "r.txt") == "--replay: must end in .html (got 'r.txt')"
    assert refused(*asked, "--replay", "r.html", "--report", "r.html").startswith("--replay: must be another file")


def test_more_games_than_anybody_would_watch_are_refused(nothing_is_played):
    many = [part for side in range(8, 14) for part in ("--bundle", f"{side} m: areas.square.length={side}")]
    for option in ("--report", "--replay"):
        said = f"{option}: must go with at most 6 games, the first one included (got 7)"
        assert refused("compare", "tight-square", *many, option, "r.html") == said


def test_only_answers_that_are_reported_can_be(nothing_is_played):
    assert (
        refused("report", "play", "tight-square", "--out", "r.html")
        == "report: must be compare, tune or adjust (got play)"
    )
    assert "must be an option of overload tune" in refused(
        "report", "tune", "tight-square", "--nonsense", "--out", "r.html"
    )


@pytest.mark.parametrize("command", COMMANDS)
def test_the_page_says_what_the_command_says_whichever_way_it_is_asked_for(
    command: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
):
    monkeypatch.setattr("cli.report.what_matters", lambda *_: ["What matters."])
    for name in COMMANDS:
        monkeypatch.setattr(f"cli.{name}.what_matters", lambda *_: ["What matters."], raising=False)
    one, two, answer = (tmp_path / name for name in ("one.html", "two.html", "answer.json"))
    plain = run(*ASKED[command])
    result = run(*ASKED[command], "--report", str(one), "--json", str(answer))
    assert (result.exit_code, result.stdout) == (0, plain.stdout), "the answer itself does not change"
    assert result.stderr == f"The report is in {one}: open it in a browser, and print it from there.\n"
    assert run("report", *ASKED[command], "--out", str(two)).exit_code == 0
    assert one.read_bytes() == two.read_bytes()
    data, page = json.loads(answer.read_text()), one.read_text()
    cautions = [line for line in data["cautions"] if f"<p>{line}</p>" in page]
    assert cautions == data["cautions"]
    assert page.count('<section class="bout"') == len(re.findall(r'"title":', page)) > 0


@pytest.mark.slow
def test_a_report_says_what_matters_most(tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    monkeypatch.setattr(cli.report, "BOUTS_OF_WHY", 1)
    monkeypatch.setattr("sim.experiments.why.TURNS", 4)
    place = tmp_path / "r.html"
    shorter = [part.replace("bouts.minutes=0.5", "bouts.minutes=0.2") for part in ASKED["compare"]]
    assert run(*shorter, "--report", str(place)).exit_code == 0
    page = place.read_text()
    assert "What nobody knows for sure could put that out by" in page or "luck hides everything else" in page


def test_what_cannot_be_told_is_said(monkeypatch: pytest.MonkeyPatch):
    from sim import load_game
    from sim.assumptions import NONE
    from sim.errors import InputError

    game = load_game("tight-square")

    def ask(measure: str = "turnovers_per_min", error: BaseException | None = None) -> list[str]:
        def why(*_args, **_more):
            raise error

        if error is not None:
            monkeypatch.setattr("sim.experiments.why.why", why)
        scenario = scenario_of("tight-square", 1, None, None)
        return cli.report.what_matters(game, (measure, "game"), scenario, NONE, 1, None)

    assert ask("defending_share_most") == [CANNOT]
    assert ask(error=InputError("must come up in every run")) == [TOO_RARE]
    assert ask(error=KeyboardInterrupt()) == [STOPPED]


def test_a_comparison_is_watched_side_by_side(tmp_path: Path):
    place = tmp_path / "r.html"
    result = run(*ASKED["compare"], "--replay", str(place))
    assert result.exit_code == 0 and result.stderr == f"The replay is in {place}: open it in a browser.\n"
    page = place.read_text()
    assert page.count('<section class="bout"') == 2 and "A typical bout of each" in page
