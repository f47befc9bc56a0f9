"""An estimate led by what the coach cares about: points, dead time, metres, time in the middle, the wait between two transfers."""

from __future__ import annotations

from dataclasses import replace

import pandas as pd
import pytest

from sim.evidence.keepball.levels import lost_beside
from sim.evidence.tables import folder
from sim.experiments.cautions import LINE, NO_FIGURES
from sim.experiments.everyday import target_of
from sim.experiments.key_measures import aims_of
from sim.experiments.ranges import values_of
from sim.game.loader import load_game
from sim.words.commands import Given
from sim.words.estimate_beside import between_transfers, can_score, enough_passes, go_without
from sim.words.estimate_details import answer_in_words
from sim.words.next_steps import after_estimate, passes_to_try, sooner_back
from sim.words.screen import whole_commands
from sim.words.what_would_change import what_would_change
from tests.support.screens import holds
from tests.unit.words.test_estimate_screen import GAME, GIVEN, LOST, made_up

POINTS, ROLLING, METRES = ("points_per_min", "game"), ("in_play_share", "game"), ("distance_per_min", "game")
MOST, ACROSS = ("defending_share_most", "game"), ("transfers_per_min", "game")


def led(result, key, game=GAME) -> str:
    text = answer_in_words(result, game, GIVEN, asked=key)
    holds(text)
    return " ".join(whole_commands(text).split())


def without(none: float, short: dict[int, float], result=None):
    """So large a share of bouts without a point, and so large a share without a run of so many passes."""
    found = made_up(**LOST) if result is None else result
    rows = [row for row in found.measures if row.measure != "bouts_without_run"]
    (pattern,) = [row for row in found.rows("bouts_without_run") if row.scope == "role:outside"][:1]
    rows = [
        replace(row, mean=none) if (row.measure, row.scope) == ("bouts_without_point", "role:outside") else row
        for row in rows
    ]
    rows += [replace(pattern, mean=mean, definition=f"passes: {passes}; ...") for passes, mean in short.items()]
    return replace(found, measures=tuple(rows))


def test_points_lead_with_how_many_bouts_go_without():
    text = led(without(0.1, {1: 0.0, 2: 0.05, 3: 0.1}), POINTS)
    assert (
        text.index("Points a bout on the watch: ")
        < text.index("Bouts without a point: outside 10 %")
        < text.index("They lose it")
    )
    assert "ask for" not in text


def test_where_more_than_one_bout_in_four_goes_without_a_smaller_number_is_read_off_the_longest_runs():
    found = without(0.4, {1: 0.0, 2: 0.2, 3: 0.4})
    assert enough_passes(found, GAME) == 2
    text = led(found, POINTS)
    assert text.count("ask for two instead") == 1
    assert "Bouts without a point: outside 40 %" in text
    assert "More than one bout in four: ask for two instead, by the longest runs of these bouts." in text
    assert "overload compare square --change passes=2 --measure points" in text
    assert "ask for two instead" in " ".join(answer_in_words(found, GAME, GIVEN).split()), (
        "not only where it was asked for"
    )


def test_where_no_number_of_passes_would_do_none_is_named():
    found = without(0.9, {1: 0.5, 2: 0.7, 3: 0.9})
    assert enough_passes(found, GAME) is None
    assert [line for line in go_without(found, GAME) if "ask for" in line] == []
    assert go_without(without(0.25, {1: 0.0}), GAME) == [], "one in four is not more than that"


def test_dead_time_leads_with_one_evenings_range_and_asks_for_a_quick_server():
    text = led(made_up(**LOST), ROLLING)
    assert "The ball is dead for 10 % of a bout (usually 7 to 15): about 6 s of a minute on the watch." in text
    assert (
        "--bundle 'a quick server: restarts.start.seconds=2; restarts.out.seconds=2' --measure rolling"
        in whole_commands(text)
    )


def test_a_server_who_has_balls_enough_and_is_quick_is_not_proposed():
    quick = load_game("tight-square", changes=["supply.balls=6", "restarts.start.seconds=2", "restarts.out.seconds=2"])
    assert sooner_back(quick) == []
    assert sooner_back(load_game("tight-square", changes=["supply.balls=2"]))[0] == "supply.balls=6"
    assert "only fewer losses" in after_estimate(made_up(**LOST), quick, GIVEN, ROLLING)[0]


def test_metres_lead_by_the_whole_bout_and_the_evening_then_by_the_role():
    text = led(
        made_up(**LOST, total_distance_m=(117.0, 108.0, 124.0), session_distance_m=(234.0, 220.0, 250.0)), METRES
    )
    told = [
        "They run about 120 m each in a bout, a minute on the watch (usually 110 to 120).",
        "In all two bouts about 230 m each (usually 220 to 250).",
        "Metres a minute on the watch: ",
        "They lose it",
        "What would change it: your own devices' metres, or players unlike the elite men drawn here.",
    ]
    assert [one for one in told if one not in text] == []
    assert sorted(told, key=text.index) == told


def test_who_is_in_how_long_leads_with_the_chance_of_more_than_sixty_per_cent():
    rows = LOST | {
        "defending_share_most": (0.54, 0.4, 0.7), "defending_share_least": (0.13, 0.0, 0.2),
        "chance_someone_defends_over_60": (0.2, None, None),
    }  # fmt: skip
    usual = "On the night one player may be in for 54 % of the rolling time, another 13 %"
    wide = usual.replace("time,", "time (usually 40 to 70),")
    text = led(made_up(**rows), MOST)
    assert f"{wide}; somebody over 60 % about 2 evenings in 10." in text and text.count("On the night") == 1
    assert f"{usual}." in " ".join(answer_in_words(made_up(**rows), GAME, GIVEN).split()), (
        "seldom: not worth a word unasked"
    )
    often = rows | {"chance_someone_defends_over_60": (0.4, None, None)}
    assert f"{usual}; somebody over 60 % about 4 evenings in 10." in " ".join(
        answer_in_words(made_up(**often), GAME, GIVEN).split()
    )


def test_the_wait_between_two_transfers():
    result = made_up(**LOST)
    pattern = result.row("bout_length_s")

    def waiting(**seconds):
        rows = [replace(pattern, measure=f"between_transfers_{name}_s", mean=mean) for name, mean in seconds.items()]
        return between_transfers(replace(result, measures=(*result.measures, *rows)))

    told = "From one to the next about 25 s on the watch: one in five within 15 s"
    assert waiting(p20=13.0, median=26.0, p80=57.0) == f"{told}, one in five over 55 s."
    assert waiting(p20=13.0, median=26.0, p80=None) == f"{told}."
    assert waiting(p20=13.0, median=None, p80=None) == ""
    assert between_transfers(result) == "", "one square has none"


def test_the_number_of_passes_for_a_wish_has_to_be_played():
    game = load_game("two-squares")
    assert passes_to_try(game) == "2..6" and passes_to_try(load_game("tight-square")) == ""
    first, command = after_estimate(made_up(**LOST), game, Given("estimate", "two-squares"), ACROSS)
    assert "it has to be played" in first and command.startswith(
        "  overload tune two-squares --knob passes=2..6 --target "
    )
    knob, target = command.partition("--knob passes=")[2].split(" --target ")
    assert values_of(knob, "passes", "--knob", 20).listed == ("2", "3", "4", "5", "6")
    assert target_of(target, game, aims_of(game))[:2] == ACROSS


def test_who_can_score_is_read_off_the_rules():
    assert can_score(GAME, "outside") and not can_score(GAME, "inside")
    even = load_game("even-keep-ball")
    assert can_score(even, "amber") and can_score(even, "slate")


@pytest.mark.parametrize(
    "key", [POINTS, METRES, MOST, ("pass_run_median", "game"), ("energy", "game"), ("distance_per_min", "role:inside")]
)
def test_what_is_proposed_can_be_asked(key):
    *_, command = after_estimate(without(0.1, {1: 0.0, 3: 0.1}), GAME, GIVEN, key)
    name, word = command.partition("--aim ")[2].rsplit("=", 1)
    assert target_of(f"{name}={word}", GAME, aims_of(GAME), "--aim", ("more", "less"))[2] == (
        "less" if key == MOST else "more"
    )


@pytest.mark.parametrize(
    "key",
    [
        ("energy", "game"),
        ("touches_per_min", "role:inside"),
        ("shots_per_bout", "game"),
        ("defending_share", "role:inside"),
    ],
)
def test_any_other_measure_leads_in_a_sentence(key):
    text = led(made_up(**LOST), key)
    assert "They lose it" in text or "lose it" in text
    assert len(text.partition(";")[2].partition(".")[0]) > 20


def test_what_would_change_it_is_what_is_known_of_better_players_or_nothing():
    result = made_up(cautions=(NO_FIGURES, LINE), **LOST)
    amateurs = GAME.model_copy(
        update={"teams": tuple(one.model_copy(update={"population": "amateur men"}) for one in GAME.teams)}
    )
    panel = pd.read_csv(folder() / "results" / "panel.csv").pivot(
        index=["numbers", "side_m", "touches"], columns="population", values="lost_of_100"
    )
    fewer = 100 * (1 - (panel["elite men"] / panel["amateur men"]).median())
    said = f"Own counts would change it, or better players: elite men lose {fewer:.0f} % fewer passes."
    assert what_would_change(result, amateurs) == said and 10 < fewer < 60
    assert what_would_change(result, GAME) == "", "there is nobody better in the kept squares"
    assert what_would_change(result, amateurs, POINTS) == ""


@pytest.mark.parametrize("ratio", [None, 1.05, 1.0, 0.999])
def test_nobody_loses_less_than_nothing_fewer(monkeypatch, ratio):
    amateurs = GAME.model_copy(
        update={"teams": tuple(one.model_copy(update={"population": "amateur men"}) for one in GAME.teams)}
    )
    monkeypatch.setattr("sim.words.what_would_change.lost_beside", lambda *_: ratio)
    assert what_would_change(made_up(cautions=(NO_FIGURES, LINE), **LOST), amateurs) == ""


def test_squares_in_which_nothing_is_lost_are_left_out_of_the_panel(monkeypatch, tmp_path):
    (tmp_path / "results").mkdir()
    rows = ["population,numbers,side_m,touches,lost_of_100", "a,4,8,1,0", "b,4,8,1,2", "a,4,9,1,4", "b,4,9,1,3"]
    (tmp_path / "results" / "panel.csv").write_text("\n".join(rows), encoding="utf-8")
    monkeypatch.setattr("sim.evidence.keepball.levels.folder", lambda: tmp_path)
    assert lost_beside.__wrapped__("a", "b") == 0.75
