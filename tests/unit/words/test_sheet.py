"""The assistant's sheet in words: its numbers are the game's, every rule stands on it, and nothing has to be guessed."""

from __future__ import annotations

import re
from pathlib import Path
from types import SimpleNamespace

import pytest
from hypothesis import given, reject, settings

from sim.errors import InputError
from sim.experiments.cautions import LINE
from sim.game.equipment import equipment_of
from sim.game.having import sides_having
from sim.game.loader import load_game, resolve, to_short
from sim.game.model import Game
from sim.own_counts.columns import columns_of, counts_of
from sim.words.by_hand import column_name, definitions
from sim.words.diagram_words import PACE_M
from sim.words.ground_words import as_drawn
from sim.words.losses import LOSS, NO_SHOT
from sim.words.points import STROKES, in_strokes
from sim.words.rule_heads import rule_head
from sim.words.sheet import Sheet, cautions, sheet_of
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
    assert "2 for the keepers" in lines(sheet_of(load_game("keeper-to-keeper"), VERSION), "Carry out")
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
    both = " Both sides together." if len(sides_having(game)) > 1 else ""
    assert dict(definitions(game))["losses"] == (NO_SHOT if game.goals else LOSS) + both
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


def test_points_have_a_line_for_each_side_that_can_score_and_who_cannot_is_told():
    both = [f"Points, in strokes: amber {STROKES}, slate {STROKES}", "Level at the end is a draw."]
    assert in_strokes(load_game("waves")) == both
    assert in_strokes(load_game("tight-square")) == []
    assert in_strokes(load_game("two-squares")) == [
        f"Points, in strokes: outside players {STROKES}",
        "The chasers cannot score: they win it to come out.",
    ]
    assert in_strokes(load_game("hunt-in-turn")) == [
        f"Points, in strokes: inside players {STROKES}",
        "The outside players cannot score.",
    ]


def test_points_a_bout_begins_with_stand_where_they_are_counted():
    assert in_strokes(load_game("keep-or-score"))[0] == f"Points, in strokes: amber (from 1) {STROKES}, slate {STROKES}"


def test_who_lost_it_and_by_which_clock_are_told():
    lost = "A lost pass is charged to the last of the side to touch it"
    assert lost in lines(sheet_of(load_game("two-squares"), VERSION), "Rules")
    assert lost not in lines(sheet_of(load_game("waves"), VERSION), "Rules")
    called = sheet_of(load_game("second-ball"), VERSION)
    assert "Every 30 s on the watch: new ball" in lines(called, "Rules")
    assert "while a new one is on its way, nothing brings another" in lines(called, "How a ball comes back")
    assert "after 8 s of this stage" in lines(sheet_of(load_game("break-away"), VERSION), "Rules")
    assert "everything that is counted starts again, the seconds too" in text(sheet_of(load_game("one-more"), VERSION))
    stopped = sheet_of(load_game("waves", ["bouts.clock=stopped"]), VERSION)
    assert "The clock stands while the ball is dead" in lines(stopped, "Time on the watch")


def test_what_a_level_score_is_stands_where_points_are_counted():
    _, level = in_strokes(load_game("waves", ["bouts.level_seconds=30"]))
    assert level == "Level when time is up: the next point wins, within 30 s; then it's a draw."


def test_stages_are_explained_and_stand_for_both_sides():
    rules = lines(sheet_of(load_game("keeper-to-keeper"), VERSION), "Rules")
    assert rules.startswith(
        'Two stages, "right" and "left", the same one for both sides; every bout begins with "right".'
    )
    assert 'Stage "left": The side with the ball keeps it.' in rules
    assert "stage" not in lines(sheet_of(load_game("waves"), VERSION), "Rules").lower()


def test_where_a_target_may_get_it_is_said():
    sheet = sheet_of(load_game("keeper-to-keeper"), VERSION)
    assert "it counts wherever that one gets it" in lines(sheet, "Who starts where")
    assert "up to its line, and reaches over that for a ball" in lines(sheet, "How a ball comes back")
    assert "closed to players, not to the left-keeper" in lines(sheet, "Lay out")


def test_what_follows_a_ball_played_across_too_early_is_said():
    rules = lines(sheet_of(load_game("two-squares"), VERSION), "Rules")
    assert "Played across too early it is out, and lost like any ball put over the line." in rules
    rules = lines(sheet_of(load_game("three-strips"), VERSION), "Rules")
    assert "A ball played across too early brings no point: play goes on with it" in rules
    for name in ("home-grids", "end-to-end", "eight-balls"):
        assert "too early" not in text(sheet_of(load_game(name), VERSION))


def test_the_only_ones_who_can_come_are_named_and_nobody_has_to_remember_who_was_longest():
    sheet = sheet_of(load_game("three-strips"), VERSION)
    assert "the team of whoever lost it swap with the middle players, number for number" in lines(sheet, "Rules")
    assert "longest" not in text(sheet)
    assert "swaps with the one who has been in longest" in text(sheet_of(load_game("two-squares"), VERSION))
    alone = load_game("tight-square", ["roles.inside.players=1"])
    assert "Lose it: whoever lost it swaps with the inside player;" in lines(sheet_of(alone, VERSION), "Rules")
    short = to_short(load_game("three-strips"))
    short["teams"]["grey"] = short["teams"]["white"]
    short["roles"]["sent-in"]["players"], short["roles"]["blocker"]["players"] = {"grey": 4}, {"white": 4}
    three = resolve(short, "four-colours")
    assert "with the team who have been in longest" in lines(sheet_of(three, VERSION), "Rules")


def test_where_a_win_stops_play_that_is_said_and_nothing_of_a_ball_they_never_have():
    rules = lines(sheet_of(load_game("three-strips"), VERSION), "Rules")
    assert "The ball is won when an opponent has it under control; then play stops." in rules
    assert "If the middle players lose it" not in rules
    assert "then play stops" not in lines(sheet_of(load_game("waves"), VERSION), "Rules")


def test_what_ends_a_window_and_what_does_not_is_said():
    rules = lines(sheet_of(load_game("win-it-back"), VERSION), "Rules")
    assert "Won back is a ball won like any other, and one that the others put out or lose in another way." in rules
    assert "it is not won back: the new ball comes, the time runs on, and when it is up they have failed" in rules


def test_who_goes_off_need_not_be_who_lost_it():
    rules = lines(sheet_of(load_game("waves"), VERSION), "Rules")
    assert "of the players of the side that lost it the one nearest the ball (who lost it or not) becomes" in rules
    assert "of the side that gets it (who has waited longest; at first any of them) becomes a player" in rules
    assert "A shot an opponent turns aside, also a keeper, is not over yet" in rules


def test_what_holds_of_every_role_is_said_once():
    who = lines(sheet_of(load_game("locked-thirds"), VERSION), "Who starts where")
    assert (
        who.count("with their own team") == 1 == who.count("free touches") == who.count("Nobody begins in these roles")
    )
    assert "2 amber-back players (amber 2 and 3): anywhere in the left zone." in who
    assert "1 amber-front player (amber 7):" in who
    who = lines(sheet_of(load_game("two-squares"), VERSION), "Who starts where")
    assert who.count("three touches") == 2 and "Everybody" not in who


def test_what_follows_a_shot_is_not_called_a_loss_and_who_puts_it_out_without_having_had_it_has_not_lost_it():
    sheet = sheet_of(load_game("waves"), VERSION)
    rules, back = lines(sheet, "Rules"), lines(sheet, "How a ball comes back")
    assert "After a goal, a saved shot or a missed shot what follows a loss follows, too" in rules
    assert "counts as losing" not in text(sheet)
    assert "Off a side that has not won it, that is no loss." in back
    touched = sheet_of(load_game("waves", ["win.confirm=touch"]), VERSION)
    assert "Off a side" not in lines(touched, "How a ball comes back")
    assert "(whoever has just come on, else anybody of theirs)" in back


def test_of_a_ground_in_zones_it_is_said_who_moves_where_the_ball_comes_in_and_what_a_full_zone_does():
    sheet = sheet_of(load_game("locked-thirds"), VERSION)
    rules, back = lines(sheet, "Rules"), lines(sheet, "How a ball comes back")
    assert "becomes an amber-up player (else nobody)" in rules
    assert "Passes by keepers and to them bring what a pass brings like any other." in rules
    assert "to whoever of them has room, in any zone, own half first" in back
    assert (
        "Who may not go into a zone (it is full), or must not leave one, waits at its line, in a new role too" in back
    )
    assert "(it is closed to him)" in lines(sheet_of(load_game("keeper-to-keeper"), VERSION), "How a ball comes back")
    assert "in any zone" not in text(sheet_of(load_game("waves"), VERSION))


def test_a_touch_too_many_is_told_where_touches_are_limited():
    often = "or takes a touch too many: then it is lost"
    assert often in text(sheet_of(load_game("two-squares"), VERSION))
    assert often not in text(sheet_of(load_game("waves"), VERSION))


def test_keepers_who_play_with_both_sides_are_told_when_the_ball_is_loose_and_among_themselves():
    sheet = sheet_of(load_game("keeper-to-keeper"), VERSION)
    who = lines(sheet, "Who starts where")
    assert (
        "a loose ball is still that of the side that had it. Straight from one of them to another brings nothing."
        in who
    )
    assert "across the left end of the field, inside it;" in lines(sheet, "Lay out")


def test_areas_that_touch_have_free_ground_round_all_of_them_and_what_is_closed_can_be_earned_again():
    strips = sheet_of(load_game("three-strips"), VERSION)
    assert "Keep 3 m (4 paces) free all round all of them together." in lines(strips, "Lay out")
    assert "no more playing across until it is earned again" in lines(strips, "Rules")
    assert "2 sent-in players (white 3 and 4)" in lines(strips, "Who starts where")
    squares = lines(sheet_of(load_game("two-squares"), VERSION), "Rules")
    assert "the right area, beyond the 2 m round each, is in play only while" in squares
    out = sheet_of(load_game("two-squares", ["areas.west.out=line", "areas.east.out=line"]), VERSION)
    assert "beyond the" not in lines(out, "Rules")


def test_a_win_is_defined_however_it_is_confirmed():
    for how, counted in (("touch", "touches a ball of the other's"), ("control", "has it under control")):
        found = dict(definitions(load_game("waves", [f"win.confirm={how}"])))
        assert counted in found["wins"]


def test_a_sheet_has_no_word_of_ranges_and_nothing_twice_of_reduced_load():
    found = (
        "Only 5 sessions played: take the ranges as rough.",
        "On reduced load: player 1. Nothing more.",
        "Count.",
        LINE,
    )
    assert cautions(SimpleNamespace(cautions=found)) == ("Count.", LINE)
