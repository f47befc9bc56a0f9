"""`overload estimate`: one small screen for every shipped game, and behind `--details` every figure there is to say."""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest
from typer.testing import CliRunner

import sim
from cli.app import app
from sim.experiments.cautions import LINE, SHORT_LINE_M, longest_line
from sim.words.clocks import CLOCKS
from sim.words.figures import percent, ranged, two
from sim.words.running_tables import OF_PLAYERS, OF_ROLES
from sim.words.screen import LINES, whole_commands
from tests.support.games import GAMES as SIX
from tests.support.screens import holds, prose

BOUTS = "12"
# Measures that were told of before there was a small screen, and still are.
OF_A_GAME = {"balls_lost_per_min", "turnovers_per_clock_min", "in_play_share", "threshold_chance", "rule_fired_per_bout",
             "session_load_estimate"}  # fmt: skip
WHERE_IT_HAPPENS = {
    "transfers_per_min",
    "break_aways_per_bout",
    "goals_per_bout",
    "shots_per_bout",
    "shot_ends_per_min",
}
OF_A_GROUP = {"time_in_role_s", "defending_share", "distance_per_min", "high_speed_distance_per_min", "touches_per_min",
              "losses_per_min", "metabolic_power", "accelerations_per_min", "decelerations_per_min", "turns_per_min",
              "mean_heart_rate_estimate", "perceived_effort_estimate"}  # fmt: skip
OF_A_PLAYER = {"total_distance_m", "session_distance_m", "high_speed_distance_m", "session_high_speed_distance_m",
               "time_defending_s", "session_time_defending_s"}  # fmt: skip
PERIOD = r"(a minute|a bout|in both bouts|in all \d+ bouts)"
COUNTED = re.compile(rf"\d.* {PERIOD}|{PERIOD}.*\d|(once|twice) {PERIOD}")
CLOCK = re.compile(r"on the watch|ball roll")


@pytest.fixture(scope="module", params=SIX)
def asked(request, tmp_path_factory) -> tuple[str, str, dict]:
    """(game, what `--details` prints, the JSON answer): the screen stands first in it."""
    file: Path = tmp_path_factory.mktemp("answer") / "answer.json"
    command = ["estimate", request.param, "--bouts", BOUTS, "--details", "--workers", "1", "--json", str(file)]
    found = CliRunner().invoke(app, command, catch_exceptions=False)
    assert found.exit_code == 0, found.stderr
    return request.param, found.stdout, json.loads(file.read_text(encoding="utf-8"))


def screen_of(text: str) -> str:
    return text[: text.index(LINE) + len(LINE)]


def sentences(text: str) -> list[str]:
    return re.split(r"(?<=[.:]) (?=[A-Z])", " ".join(" ".join(prose(text)[1:]).split()))


def test_it_is_one_small_screen(asked):
    game, text, _ = asked
    screen = screen_of(text)
    holds(screen)
    assert screen.startswith(f"{sim.load_game(game).title}: ")


def test_it_is_what_is_printed_without_details(asked):
    from sim.words.commands import Given
    from sim.words.estimate_details import answer_in_words

    game, text, answer = asked
    result = sim.Result.from_json(json.dumps(answer))
    assert answer_in_words(result, sim.load_game(game), Given("estimate", game)) == screen_of(text)


def test_no_caution_is_left_out(asked):
    _, text, answer = asked
    running = " ".join(screen_of(text).split())
    assert len(answer["cautions"]) >= 2 and all(line in running for line in answer["cautions"])


def test_every_rate_and_count_says_its_clock(asked):
    _, text, _ = asked
    screen = screen_of(text)
    told = [line for line in sentences(screen) if COUNTED.search(line) and "Nearest study" not in line]
    full = len(whole_commands(screen).splitlines()) >= LINES
    assert len(told) >= (2 if full else 3), "a count, a rate and, where there is room, metres"
    assert not [line for line in told if not CLOCK.search(line)]


def test_a_count_comes_before_the_rate_with_the_ball_rolling(asked):
    _, text, _ = asked
    screen = screen_of(text)
    assert "on the watch" in screen and screen.index("on the watch") < screen.index("ball roll")


def test_what_is_to_be_tried_is_one_command(asked):
    game, text, _ = asked
    commands = [line for line in whole_commands(screen_of(text)).splitlines() if line.startswith("  overload ")]
    assert len(commands) == 1 and commands[0].startswith(f"  overload adjust {game} --aim ")


def test_the_details_hold_every_figure_and_end_with_the_line(asked):
    """The measures of the tables, of the game as a whole, of its rules and of what is hard in it, each as it is said."""
    name, text, answer = asked
    result, game = sim.Result.from_json(json.dumps(answer)), sim.load_game(name)
    details = " ".join(text[len(screen_of(text)) :].split())
    short = longest_line(game) < SHORT_LINE_M
    columns = {measure: say for _, measure, say in (*OF_ROLES, *OF_PLAYERS)}
    groups = {f"team:{team.name}" for team in game.teams if len(game.teams) > 1}
    missing = []
    for row in result.measures:
        group = row.scope in groups or row.scope.startswith("role:")
        wanted = (
            row.scope == "game" and (row.measure in OF_A_GAME or (row.measure in WHERE_IT_HAPPENS and row.mean))
            or group and row.measure in OF_A_GROUP
            or row.scope.startswith("player:") and row.measure in OF_A_PLAYER
        )  # fmt: skip
        if not wanted or (short and "high_speed" in row.measure):
            continue
        say = columns.get(row.measure, percent if row.unit == "share" else two)
        said = ranged(row.mean, row.session_low, row.session_high, say)
        if said not in details:
            missing.append((row.measure, row.scope, said))
    assert not missing
    most, least = (result.row(f"defending_share_{end}") for end in ("most", "least"))
    assert all(ranged(row.mean, row.session_low, row.session_high, percent) in details for row in (most, least))
    assert percent(result.row("chance_someone_defends_over_60").mean) in details
    assert text.rstrip().endswith(LINE)
    assert all(clock in details for clock in CLOCKS.values())
