"""The assistant's sheet in words: its numbers are the game's, every rule stands on it, and nothing has to be guessed."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from hypothesis import given, reject, settings

from sim.errors import InputError
from sim.experiments.cautions import LINE
from sim.game.equipment import equipment_of
from sim.game.loader import load_game, resolve
from sim.game.model import Game
from sim.own_counts.columns import columns_of, counts_of
from sim.words.by_hand import column_name, definitions
from sim.words.diagram_words import PACE_M
from sim.words.ground_words import as_drawn
from sim.words.losses import LOSS, NO_SHOT
from sim.words.rule_heads import rule_head
from sim.words.sheet import STROKES, Sheet, score, sheet_of
from sim.words.sheet_rules import LEAST_LINES, MORE, MOST_LINES, rule_lines
from sim.words.who import receiver
from tests.support.games import GAMES
from tests.support.games_at_random import games
from tests.support.screens import NOT_OURS, STATISTICIANS, said

CASES = sorted((Path(__file__).resolve().parents[2] / "cases" / "valid").glob("*.toml"))
VERSION = "0"


def lines(sheet: Sheet, heading: str) -> str:
    return "\n".join(line for one in sheet.sections if one.heading == heading for line in one.lines)


def text(sheet: Sheet) -> str:
    parts = [sheet.title, sheet.purpose, *(f"{one.heading}\n" + "\n".join(one.lines) for one in sheet.sections)]
    parts += [f"{name}: {what}" for name, what in sheet.counts]
    return "\n".join([*parts, *sheet.beside, *sheet.foot])


@pytest.mark.parametrize("name", GAMES)
def test_sizes_stand_in_metres_and_paces(name: str):
    game = load_game(name)
    found = lines(sheet_of(game, VERSION), "Lay out")
    for area in game.areas:
        steps = round(area.length / PACE_M), round(area.width / PACE_M)
        assert f"{area.length:g} x {area.width:g} m = {steps[0]} x {steps[1]} paces" in found
        assert f"Keep {area.run_off:g} m" in found
        assert ("play goes on in there" in found) is (area.out == "run-off")
    for goal in game.goals:
        assert re.search(
            rf"(?i){as_drawn(game)(goal.name)}\b.*{goal.width:g} m .*wide and {goal.height:g} m high", found
        )
    assert f"{100 * PACE_M:.0f} cm" in found


def test_an_area_can_be_paced_out_from_the_one_before():
    assert "8 m (11 paces) to the right of the left area, level with it" in lines(
        sheet_of(load_game("two-squares"), VERSION), "Lay out"
    )
    inside = lines(sheet_of(load_game("break-away"), VERSION), "Lay out")
    assert "18 m (24 paces) from its left and right lines and 8 m (11 paces) from its near and far lines" in inside


def test_the_run_off_is_told_area_by_area_where_it_is_not_the_same_everywhere():
    sheet = sheet_of(load_game("two-squares", ["areas.east.out=line"]), VERSION)
    found = lines(sheet, "Lay out")
    assert "Keep 2 m (3 paces) free all round the left area: play goes on in there." in found
    assert "Keep 2 m (3 paces) free all round the right area." in found
    back = lines(sheet, "How a ball comes back")
    assert "A ball over the line of the left area is out only when it leaves the 2 m around" in back
    assert "A ball over the line of the right area is out at once" in back


def test_a_game_in_yards_says_both():
    found = lines(sheet_of(load_game("tight-square", ["units=yards"]), VERSION, unit="yd"), "Lay out")
    assert "11 x 11 yd (10.1 x 10.1 m) = 13 x 13 paces" in found


@pytest.mark.parametrize("name", GAMES)
def test_the_watch_and_the_equipment_are_the_games(name: str):
    game = load_game(name)
    sheet = sheet_of(game, VERSION, explain_min=3, drinks_min=4)
    watch = lines(sheet, "Time on the watch")
    assert watch.startswith("0:00 explain, 3:00 bout 1, ") and f"bout {game.bouts.count}" in watch
    assert "3 min to explain it and 4 min for drinks at least" in watch
    needed, kit = equipment_of(game), lines(sheet, "Carry out")
    assert kit.startswith(f"{needed.cones} cones")
    assert all(f"{one.count} {one.team or 'bibs for'}" in kit for one in needed.bibs)
    assert len(sheet.tally) == 1 + game.bouts.count


def complete(game: Game) -> None:
    """No more lines than there may be; each rule by its own words, or the sheet says where."""
    found = rule_lines(game)
    assert len(found) <= MOST_LINES
    if MORE in found:
        assert found[-1] == MORE
        return
    whole = " ".join(found).lower()
    for phase in game.phases:
        for rule in phase.rules:
            assert rule_head(game, rule).lower() in whole
            for action in rule.do:
                if action.verb == "score":
                    assert ("a point" if action.value == 1 else "points") in whole
                if action.verb == "assign":
                    assert "become" in whole
                if action.verb == "swap":
                    assert "swap" in whole
                if action.verb == "restart" and game.restart(action.what).source == "server":
                    to = receiver(game, game.restart(action.what).to, rule.on)
                    assert f"new ball to {to}" in whole or f"new ball in to {to}" in whole


@pytest.mark.parametrize("name", GAMES)
def test_the_rules_of_a_shipped_game_are_whole(name: str):
    game = load_game(name)
    complete(game)
    assert LEAST_LINES <= len(rule_lines(game)) <= MOST_LINES and MORE not in rule_lines(game)


@pytest.mark.parametrize("file", CASES, ids=lambda file: file.stem)
def test_the_rules_of_other_games_are_whole_or_pointed_to(file: Path):
    complete(load_game(file))


@settings(max_examples=60)
@given(games())
def test_the_rules_of_any_game_are_whole_or_pointed_to(short):
    try:
        game = resolve(short, "random")
    except InputError:
        reject()
    complete(game)


def test_a_game_of_many_rules_says_where_to_read_on():
    game = load_game("break-away")
    more = tuple(one.model_copy(update={"name": f"{one.name}-{k}"}) for k in range(3) for one in game.phases)
    assert rule_lines(game.model_copy(update={"phases": (*game.phases, *more)}))[-1] == MORE


def test_where_nobody_scores_that_is_said():
    assert "No points are counted." in rule_lines(load_game("tight-square"))


@pytest.mark.parametrize("name", GAMES)
def test_each_count_has_its_definition_and_the_grid_its_columns(name: str):
    game = load_game(name)
    sheet = sheet_of(game, VERSION)
    assert tuple(head.replace(" ", "_") for head in sheet.tally[0]) == columns_of(game)
    assert [one for one, _ in sheet.counts] == [column_name(one) for one in counts_of(game)]
    assert dict(definitions(game))["losses"] == (NO_SHOT if game.goals else LOSS)
    minutes = f"{game.bouts.seconds / 60:g}"
    assert [row[1:4] for row in sheet.tally[1:]] == [(str(k + 1), minutes, "watch") for k in range(game.bouts.count)]


@pytest.mark.parametrize("name", GAMES)
def test_it_is_said_as_a_coach_says_it_and_ends_with_the_general_caution(name: str):
    sheet = sheet_of(load_game(name), VERSION)
    assert sheet.foot[-1] == LINE
    assert [word for word in (*STATISTICIANS, *NOT_OURS) if said(text(sheet), word)] == []


def test_who_comes_out_of_two_who_went_in_together_is_said():
    who = lines(sheet_of(load_game("tight-square"), VERSION), "Who starts where")
    assert "equally long" in who and "equally long" not in text(sheet_of(load_game("even-goals"), VERSION))


def test_players_on_reduced_load_stand_under_the_caps():
    game = load_game("tight-square")
    careful = game.model_copy(
        update={"players": (game.players[0].model_copy(update={"restricted": True}), *game.players[1:])}
    )
    assert "player 1" in lines(sheet_of(careful, VERSION), "Caps")


def test_points_have_a_line_for_each_side_and_no_line_where_nobody_scores():
    assert score(load_game("waves")) == [f"Points, in strokes: amber {STROKES}, slate {STROKES}"]
    assert score(load_game("tight-square")) == []
    (line,) = score(load_game("hunt-in-turn"))
    assert f"outside players {STROKES}" in line and f"inside players {STROKES}" in line
