"""The small screen of an estimate for games that are out of the ordinary, with results made up for them."""

from __future__ import annotations

from dataclasses import replace

import pytest

from sim.experiments.cautions import LINE
from sim.results import Replaced
from sim.words.commands import Given
from sim.words.counting import Counted, count_told, losses_a_bout
from sim.words.estimate_details import answer_in_words
from sim.words.figures import count, of_ten, percent, span, two, usual, whole
from sim.words.screen import LINES, WIDTH
from tests.support.screens import holds
from tests.unit.experiments.test_result import result_of
from tests.unit.measures.handmade import goals_game, square_game
from tests.unit.words.test_estimate_details import shooting

GAME = square_game()
GIVEN = Given("estimate", "square")


def made_up(game=GAME, cautions=(LINE,), **rows):
    """A result of the game with other rows: ``measure=(mean, low, high)`` of sessions, for the game as a whole."""
    found = result_of(game, 12, cautions=tuple(cautions))
    new = []
    for row in found.measures:
        if row.scope == "game" and row.measure in rows:
            mean, low, high = rows[row.measure]
            row = replace(row, mean=mean, session_low=low, session_high=high)
        new.append(row)
    return replace(found, measures=tuple(new))


def screen(result, game=GAME, **more) -> str:
    return answer_in_words(result, game, GIVEN, **more)


LOST = {
    "turnovers_per_clock_min": (4.2, 3.1, 5.4),
    "balls_lost_per_min": (4.7, 3.6, 5.9),
    "in_play_share": (0.9, 0.85, 0.93),
    "bout_length_s": (60.0, 60.0, 60.0),
}


def test_it_leads_with_the_count_and_what_is_usual():
    text = screen(made_up(**LOST))
    holds(text)
    assert "They lose it about 4 times a bout, a minute on the watch (usually 3 to 5)." in text
    assert "That is 4.7 times a minute with the ball rolling; it rolls for 90 % of the bout." in text
    assert "Usually: eight sessions in ten. A loss is any ball given away, out included." in text


def test_bouts_that_end_early_have_no_range_of_counts_but_of_rates():
    text = screen(made_up(**LOST | {"bout_length_s": (33.0, 20.0, 51.0)}))
    holds(text)
    assert "They lose it about 2.3 times a bout, about 33 seconds on the watch." in text
    assert "That is 4.7 times a minute with the ball rolling (usually 3.6 to 5.9)." in text


def test_what_hardly_happens_in_a_bout_is_counted_over_the_session():
    text = screen(made_up(**LOST | {"turnovers_per_clock_min": (1.5, 0.5, 2.5)}))
    holds(text)
    assert "They lose it about 3 times in both bouts on the watch (usually 1 to 5)." in text


def test_nobody_loses_it():
    nothing = (0.0, 0.0, 0.0)
    text = screen(made_up(**LOST | {"turnovers_per_clock_min": nothing, "balls_lost_per_min": nothing}))
    holds(text)
    assert "They do not lose it once in 24 bouts." in text


def test_a_ball_that_never_comes_into_play():
    text = screen(made_up(in_play_share=(0.0, 0.0, 0.0), balls_lost_per_min=(None, None, None)))
    holds(text)
    assert "The ball never came into play." in text and "They" not in text


def test_one_session_has_no_range_and_says_nothing_of_what_is_usual():
    rows = {name: (mean, None, None) for name, (mean, _, _) in LOST.items()}
    result = made_up(**rows)
    bare = replace(result, measures=tuple(replace(row, session_low=None, session_high=None) for row in result.measures))
    text = screen(bare)
    holds(text)
    assert "sually" not in text and "They lose it about 4 times a bout, a minute on the watch." in text


def test_minors_are_neither_named_nor_ranked():
    """The same figures: clear between grown-ups, and not told of children."""
    young = GAME.model_copy(update={"teams": tuple(one.model_copy(update={"population": "U12"}) for one in GAME.teams)})
    result = made_up(**LOST)
    clear = tuple(
        replace(row, mean=0.8 if row.scope == "player:p1" else 0.2, low=0.1 + 0.6 * (row.scope == "player:p1"),
                high=0.3 + 0.6 * (row.scope == "player:p1"))
        if row.measure == "defending_share" and row.scope.startswith("player:") else row
        for row in result.measures
    )  # fmt: skip
    result = replace(result, measures=clear)
    assert "P1 is in the middle most, 80 % with the ball rolling" in screen(result)
    told_of = screen(result, young) + screen(result, young, details=True).split("Each player in all")[0]
    assert "most:" not in told_of and "defends most" not in told_of and "in the middle most" not in told_of
    assert not any(f"{one.id} " in told_of.lower() for one in young.players)
    assert "On the night one player may " in told_of


def test_roles_that_nothing_changes_have_no_word_on_who_defends_how_long():
    phases = tuple(
        phase.model_copy(update={"rules": tuple(
            rule.model_copy(update={"do": tuple(one for one in rule.do if one.verb != "swap")}) for rule in phase.rules
        )})
        for phase in GAME.phases
    )  # fmt: skip
    settled = GAME.model_copy(update={"phases": phases})
    text = screen(made_up(**LOST), settled)
    assert "On the night" not in text and "Metres a bout on the watch: " in text


def test_nobody_defends():
    text = screen(made_up(**LOST, defending_share_most=(None,) * 3, defending_share_least=(None,) * 3,
                          chance_someone_defends_over_60=(None,) * 3))  # fmt: skip
    holds(text)
    assert "On the night" not in text


def test_a_break_away_game_counts_break_aways_and_goals():
    rows = {
        "break_aways_per_bout": (7.5, 6.6, 8.3),
        "goals_per_bout": (0.67, 0.25, 1.25),
        "shots_per_bout": (5.4, 4.8, 6.2),
    }
    game = goals_game()
    game = game.model_copy(update={"family": "break-away", "bouts": game.bouts.model_copy(update={"count": 4})})
    result = shooting(goals_game())
    new = tuple(
        replace(row, mean=rows[row.measure][0], session_low=rows[row.measure][1], session_high=rows[row.measure][2])
        if row.scope == "game" and row.measure in rows else row
        for row in result.measures
    )  # fmt: skip
    text = answer_in_words(replace(result, measures=new), game, GIVEN)
    holds(text)
    assert "They break away about 8 times a bout, a minute on the watch (usually 7 to 8)." in text
    assert "About 3 goals in all 4 bouts on the watch (usually 1 to 5), from 22 shots." in text


def test_many_cautions_take_the_place_of_what_stands_beside_and_then_it_grows():
    many = (
        *(f"Caution {i}: it is long enough to fill a line of the screen, or nearly so, as they are." for i in range(2)),
        LINE,
    )
    text = screen(made_up(**LOST, cautions=many))
    assert len(text.splitlines()) <= LINES and all(line in " ".join(text.split()) for line in many)
    beside = [line for line in text.splitlines() if line.startswith("  ") and not line.startswith("  overload")]
    assert len(beside) == 2
    most = (*(f"Caution {i}." for i in range(20)), LINE)
    grown = screen(made_up(**LOST, cautions=most))
    assert all(line in grown.splitlines() for line in most) and len(grown.splitlines()) > LINES


def test_assumptions_of_the_user_s_own_and_rules_that_never_came_up_are_told():
    result = made_up(**LOST)
    result = replace(
        result,
        provenance=replace(result.provenance, assumptions=(Replaced("tackle_win", "1", 0.4, 0.5),)),
        measures=tuple(
            replace(row, mean=0.0) if row.measure == "rule_fired_per_bout" and "a point" in row.definition else row
            for row in result.measures
        ),
    )
    text = screen(result)
    assert "Played with assumptions of your own: tackle_win = 0.5 (ours: 0.4)." in text
    assert "Never came up in 24 bouts: loser goes in, a point." in text
    assert text.splitlines()[-1] == LINE


def test_names_of_any_length_are_whole():
    name = "Maximilian-Alexander-von-Hohenfels-zu-Langenburg"
    players = tuple(one.model_copy(update={"id": name}) if one.id == "p1" else one for one in GAME.players)
    game = GAME.model_copy(update={"players": players, "title": "A " + "very " * 20 + "long title"})
    result = made_up(**LOST)
    rows = tuple(
        replace(row, scope=row.scope.replace("player:p1", f"player:{name}"), mean=0.9, low=0.8, high=1.0, session_low=0.8,
                session_high=1.0) if row.scope == "player:p1" and row.measure == "defending_share"
        else replace(row, scope=row.scope.replace("player:p1", f"player:{name}")) for row in result.measures
    )  # fmt: skip
    text = screen(replace(result, measures=rows), game)
    assert name in text and "very long title" in " ".join(text.split())
    assert all(len(line) <= WIDTH for line in text.splitlines())


def test_losses_are_counted_from_the_rate_where_shots_are_told_apart():
    """One loss and three shots in the one bout: no shot is counted among the losses."""
    game = goals_game()
    found = losses_a_bout(shooting(game), game)
    assert found is not None and found.mean == pytest.approx(1.0) and found.low is None


def test_counts_as_they_are_said():
    result = made_up(**LOST)
    assert count_told(Counted(4.4, 2.5, 6.5), result, GAME) == "about 4 a bout, a minute on the watch (usually 3 to 7)"
    assert count_told(Counted(4.4, 4.0, 4.4), result, GAME, brief=True) == "about 4 a bout on the watch (usually 4)"
    assert (
        count_told(Counted(0.6, 0.0, 1.0), result, GAME)
        == "about 1.2 in both bouts, two minutes on the watch (usually 0 to 2)"
    )
    assert [count(x) for x in (0, 0.44, 1.0, 1.74, 2.49, 2.5, 9.5, 117.4)] == [
        "0",
        "0.44",
        "1",
        "1.7",
        "2.5",
        "3",
        "10",
        "120",
    ]
    assert [whole(x) for x in (0.5, 1.5, 99.4)] == ["1", "2", "99"]
    assert (
        usual(None, 1.0) == ""
        and usual(1.0, 1.0, count) == " (usually 1)"
        and span(0.2, 0.5, lambda x: f"{x}") == "0.2 to 0.5"
    )
    assert [of_ten(x) for x in (0.0, 0.04, 0.1, 0.72, 0.96)] == [
        "hardly ever", "hardly ever", "about once in 10", "about 7 times in 10", "nearly every time",
    ]  # fmt: skip


def test_what_is_usual_is_not_said_twice():
    assert usual(258.0, 262.0, two, 260.0) == "" and usual(0.5, 0.5, percent, 0.5) == ""
    assert usual(258.0, 271.0, two, 260.0) == " (usually 260 to 270)" and usual(1.0, 1.0, count, 1.2) == " (usually 1)"
