"""Every answer that states or raises load carries the line of caution: a walk through all commands, none left out unsaid.

A new command fails here until it says how it is to be walked (`WALKS`), or why it cannot state load (`NO_LOAD`).
"""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest
from typer.testing import CliRunner

from cli.app import app
from sim.experiments.cautions import LINE
from sim.plots import look

pytestmark = pytest.mark.slow

# What an answer that states load would hold, in words or in names of measures.
LOAD = (
    "metres", "m/min", "km/h", "w/kg", "kj/kg", "metabolic", "acceleration", "deceleration", "heart rate", "effort",
    "distance", "sprint",
)  # fmt: skip
GAME = ["tight-square"]
SHORT = ["--set", "bouts.minutes=0.2", "--set", "bouts.count=1"]
WALKS: dict[str, list[list[str]]] = {
    "check": [[*GAME, "--bouts", "0"], [*GAME, *SHORT, "--bouts", "2"]],
    "play": [GAME],
    "estimate": [
        [*GAME, "--bouts", "4"],
        [*GAME, "--bouts", "4", "--details"],
        [*GAME, "--bouts", "4", "--population", "U12", "--measure", "metres"],
    ],
    "evidence": [
        ["--sessions", "kept"],
        *(["--sessions", "kept", "--part", part] for part in ("bands", "tracking", "panel")),
    ],
    "compare": [[*GAME, *SHORT, "--change", "areas.square.length=9", "--bouts", "4", "--details"]],
    "tune": [
        [
            *GAME,
            *SHORT,
            *"--knob side=10..11 --target distance_per_min.inside=90 --bouts 5 --budget 20 --fresh 5".split(),
        ]
    ],
    "adjust": [[*GAME, *SHORT, *"--aim distance_per_min.inside=less --bouts 4".split()]],
    "sweep": [[*GAME, *SHORT, "--key", "side=9,11", "--bouts", "2"]],
    "regroup": [[*GAME, *SHORT, *"--players 7 --restricted 1 --bouts 2".split()]],
    "rotate": [[*GAME, *SHORT, *"--players 7 --minutes 15".split()]],
    "why": [[*GAME, *SHORT, *"--measure distance_per_min --bouts 1".split()]],
    "tally": [[*GAME, *SHORT, *"--minutes 0.2 --losses 1 --bouts 4".split()], [*GAME, *SHORT, "--bouts", "4"]],
}
NO_LOAD = {
    "assumptions": "what goes into an answer, not an answer: constants with their sources",
    "draw": "the ground and where everybody starts, no figure of what they will do",
    "games": "names and purposes of the shipped games only",
    "import": "what the user's own devices measured; its screen ends with the line (tests/cli/test_import.py)",
    "learn": "values of a club and no load; its screen ends with the line (tests/cli/test_learn.py)",
    "plan": "evenings from a file; its screen ends with the line (tests/unit/weeks/test_plan.py)",
    "logbook": "what the user counted and put right, back and forth",
    "review": "what was counted and measured beside what was planned; ends with the line (test_tally.py, test_logbook_plan.py)",
    "session": "an evening from a file; its screen and its details end with the line (tests/cli/test_session.py)",
    "new": "a game file from numbers, nothing is played",
    "schema": "the layout of a game file for editors, no game and no figure",
    "calibrate": "an hour of play; what it prints ends with the line (below), and it states constants, not load",
}
PAGES = {
    "replay": [*GAME, *SHORT],
    "sheet": [*GAME, *SHORT, "--bouts", "2"],
    "report": ["compare", *GAME, *SHORT, "--change", "touches=1", "--bouts", "4"],
}
"""Commands whose answer is a page with figures of load."""
DRAWN = {"play", "estimate", "compare", "tune", "adjust", "sweep", "why"}
STATES_LOAD = {"estimate", "evidence", "compare", "tune", "adjust", "why"}


def commands() -> list[str]:
    alone = [command.name or command.callback.__name__ for command in app.registered_commands]
    return [*alone, *(group.name for group in app.registered_groups)]


def said(command: str, arguments: list[str]) -> str:
    result = CliRunner().invoke(app, [command, *arguments], catch_exceptions=False)
    assert result.exit_code == 0, result.stderr
    return result.stdout


def states_load(text: str) -> bool:
    return any(word in text.lower() for word in LOAD)


def test_every_command_is_walked_or_has_a_reason():
    assert sorted(commands()) == sorted([*WALKS, *NO_LOAD, *PAGES])
    assert STATES_LOAD <= set(WALKS)


@pytest.mark.parametrize("command", PAGES)
def test_a_page_ends_with_the_line(command: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    monkeypatch.setattr("cli.report.BOUTS_OF_WHY", 1)  # what matters most is on the page, of fewer bouts
    monkeypatch.setattr("sim.experiments.why.TURNS", 4)
    page = tmp_path / "page.html"
    said(command, [*PAGES[command], "--out", str(page)])
    words = re.sub(
        r"<script.*?</script>|<style.*?</style>|<[^>]+>", "", page.read_text(encoding="utf-8"), flags=re.DOTALL
    )
    assert words.strip().endswith(LINE)


@pytest.mark.parametrize(("command", "arguments"), [(name, one) for name, walks in WALKS.items() for one in walks])
def test_whoever_states_load_ends_with_the_line(
    command: str, arguments: list[str], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
):
    file, drawn = tmp_path / "answer.json", tmp_path / "answer.svg"
    has_json, has_plot = (option in said(command, ["--help"]) for option in ("--json", "--plot"))
    monkeypatch.setitem(look.SETTINGS, "svg.fonttype", "none")  # words as words, so that they can be read
    monkeypatch.setattr("sim.experiments.why.TURNS", 4)  # enough to have a line
    more = ["--json", str(file)] if has_json else []
    text = said(command, [*arguments, *more, *(["--plot", str(drawn)] if has_plot else [])])
    if command in STATES_LOAD and "panel" not in arguments:  # the panel counts losses alone
        assert states_load(text)
    if command in STATES_LOAD or states_load(text):
        assert text.rstrip().endswith(LINE)
    if has_json:
        assert json.loads(file.read_text(encoding="utf-8"))["cautions"][-1] == LINE
    assert drawn.exists() == has_plot == (command in DRAWN)
    if has_plot:
        assert LINE in drawn.read_text(encoding="utf-8")


@pytest.mark.parametrize("command", ["games", "schema"])
def test_those_left_out_are_left_out_rightly(command: str):
    figures = ("w/kg", "m/min", "heart rate")
    assert not any(word in said(command, []).lower() for word in figures)


@pytest.mark.parametrize("population", ["elite men", "U12"])
def test_the_json_on_the_output_carries_it_last(population: str):
    answer = json.loads(said("estimate", [*GAME, "--bouts", "4", "--population", population, "--json", "-"]))
    assert answer["cautions"][-1] == LINE
    assert states_load(" ".join(row["measure"] for row in answer["measures"]))


def test_the_words_of_a_calibration_end_with_it(monkeypatch: pytest.MonkeyPatch):
    from sim.words import calibration

    for part in ("chosen", "fit", "luck", "constants", "profile", "correlations", "left_out", "gaps"):
        monkeypatch.setattr(calibration, f"{part}_in_words", lambda found: "a part")
    assert calibration.calibration_in_words(None).endswith("\n" + LINE)


def test_the_words_of_an_answer_label_estimates_and_say_none_for_minors():
    adults = said("estimate", [*GAME, "--bouts", "4", "--details"])
    assert (
        "heart rate, estimate" in adults and "effort, estimate" in adults and "Load of the session, estimate" in adults
    )
    minors = said("estimate", [*GAME, "--bouts", "4", "--details", "--population", "U17 boys"])
    assert "No heart rate or effort is estimated where minors play." in minors
    assert not any(words in minors for words in ("% of maximum", "0 to 10", "Load of the session"))
